"""Colour profiles for tests, written byte by byte after ICC.1:2022, from published chromaticities."""

from __future__ import annotations

import struct

import numpy as np
from numpy.typing import NDArray

SRGB_XY = ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))  # IEC 61966-2-1
DISPLAY_P3_XY = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))  # SMPTE EG 432-1
ADOBE_RGB_XY = ((0.64, 0.33), (0.21, 0.71), (0.15, 0.06))  # Adobe RGB (1998), section 4.3.1
D65_XY = (0.3127, 0.3290)
D50 = np.array([0.9642, 1.0, 0.8249])

SRGB_CURVE = (3, (2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045))  # parametric, function type 3
GAMMA_2_2 = (0, (563 / 256,))  # Adobe RGB (1998), section 4.3.4.2: 2.19921875


def _xyz(x: float, y: float) -> NDArray[np.float64]:
    return np.array([x / y, 1.0, (1 - x - y) / y])


def _fixed(*values: float) -> bytes:
    return b"".join(struct.pack(">i", round(value * 65536)) for value in values)


def d50_colorants(primaries_xy: tuple[tuple[float, float], ...]) -> NDArray[np.float64]:
    """Columns: the primaries' XYZ, adapted from D65 to D50 by linear Bradford (ICC.1:2022, annex E)."""
    columns = np.array([_xyz(*xy) for xy in primaries_xy]).T
    white = _xyz(*D65_XY)
    to_xyz = columns * np.linalg.solve(columns, white)
    bradford = np.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
    adapt = np.linalg.inv(bradford) @ np.diag((bradford @ D50) / (bradford @ white)) @ bradford
    return np.asarray(adapt @ to_xyz)


def matrix_profile(
    primaries_xy: tuple[tuple[float, float], ...], curve: tuple[int, tuple[float, ...]] | bytes
) -> bytes:
    """A display profile of three primaries and one curve: parametric (type, numbers) or the tag itself."""
    colorants = d50_colorants(primaries_xy)
    if isinstance(curve, tuple):
        curve = b"para\0\0\0\0" + struct.pack(">HH", curve[0], 0) + _fixed(*curve[1])
    text = (
        b"mluc\0\0\0\0"
        + struct.pack(">II", 1, 12)
        + b"enUS"
        + struct.pack(">II", 2, 28)
        + "x".encode("utf-16-be")
    )
    contents = {
        b"desc": text,
        b"cprt": text,
        b"wtpt": b"XYZ \0\0\0\0" + _fixed(*D50),
        b"rXYZ": b"XYZ \0\0\0\0" + _fixed(*colorants[:, 0]),
        b"gXYZ": b"XYZ \0\0\0\0" + _fixed(*colorants[:, 1]),
        b"bXYZ": b"XYZ \0\0\0\0" + _fixed(*colorants[:, 2]),
        b"rTRC": curve,
        b"gTRC": curve,
        b"bTRC": curve,
    }
    table, body, offset = b"", b"", 132 + 12 * len(contents)
    for name, content in contents.items():
        table += name + struct.pack(">II", offset + len(body), len(content))
        body += content + bytes(-len(content) % 4)
    size = offset + len(body)
    header = struct.pack(">I", size) + bytes(4) + b"\x04\x40\0\0mntrRGB XYZ " + bytes(12) + b"acsp"
    header += bytes(28) + _fixed(*D50)
    return header + bytes(128 - len(header)) + struct.pack(">I", len(contents)) + table + body
