"""A Display P3 profile: a matrix and curve ICC profile (version 4) built from primaries, white and tone
curve.

Layout after ICC.1:2010 (v4.3). Primaries after SMPTE EG 432-1 with a D65 white, adapted to the profile's
D50 by the Bradford transform; the curve is that of IEC 61966-2-1. The date inside is fixed, so the bytes
are always the same.
"""

import struct

import numpy as np

from tests.demo_pictures.exposure import P3_TO_XYZ
from tests.demo_pictures.fields import Array

D50 = np.array([0.9642, 1.0, 0.8249])  # the profile connection space's white, ICC.1:2010 7.2.16
BRADFORD = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])


def _fixed(value: float) -> bytes:
    return struct.pack(">i", round(value * 65536))


def _xyz(values: Array) -> bytes:
    return b"XYZ \0\0\0\0" + b"".join(_fixed(float(v)) for v in values)


def _text(words: str) -> bytes:
    raw = words.encode("utf-16-be")
    return b"mluc\0\0\0\0" + struct.pack(">II2s2sII", 1, 12, b"en", b"US", len(raw), 28) + raw


def _curve() -> bytes:
    values = (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)
    return b"para\0\0\0\0" + struct.pack(">HH", 3, 0) + b"".join(_fixed(v) for v in values)


def display_p3_profile() -> bytes:
    """The bytes of the profile."""
    white = P3_TO_XYZ.sum(axis=1)
    adapt = np.linalg.inv(BRADFORD) @ np.diag((BRADFORD @ D50) / (BRADFORD @ white)) @ BRADFORD
    red, green, blue = (adapt @ P3_TO_XYZ).T
    chad = b"sf32\0\0\0\0" + b"".join(_fixed(float(v)) for v in adapt.ravel())
    tags = [
        (b"desc", _text("Display P3")),
        (b"cprt", _text("No copyright, use freely")),
        (b"wtpt", _xyz(D50)),
        (b"chad", chad),
        (b"rXYZ", _xyz(red)),
        (b"gXYZ", _xyz(green)),
        (b"bXYZ", _xyz(blue)),
        (b"rTRC", _curve()),
        (b"gTRC", _curve()),
        (b"bTRC", _curve()),
    ]
    table, data, offset = b"", b"", 128 + 4 + 12 * len(tags)
    for name, content in tags:
        padded = content + b"\0" * (-len(content) % 4)
        table += struct.pack(">4sII", name, offset + len(data), len(content))
        data += padded
    head = struct.pack(
        ">I4sI4s4s4s6H4s4sII4sQI",
        offset + len(data), b"\0" * 4, 0x04300000, b"mntr", b"RGB ", b"XYZ ", 2026, 1, 1, 0, 0, 0,
        b"acsp", b"\0" * 4, 0, 0, b"\0" * 4, 0, 0,
    )  # fmt: skip
    head += b"".join(_fixed(float(v)) for v in D50)
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + data
