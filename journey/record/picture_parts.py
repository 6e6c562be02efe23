"""How many parts a picture's file is made of, counted before a decoder walks through them.

It decides how many are too many. A few hundred kilobytes can hold thousands of scans over the whole picture, or
a million chunks with nothing in them, and keep a decoder busy for minutes; no camera and no programme writes such
files. What a part holds is left to the decoders.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import islice, repeat
from typing import Final

from journey.record.picture_formats import PictureFormat

MOST_SCANS: Final = 50
"""Of a JPEG: usual progressive files have 10."""
MOST_SEGMENTS: Final = 2_000
"""Of a JPEG: a profile and extended notes may take some hundred."""
MOST_CHUNKS: Final = 20_000
"""Of a PNG: 64 MB in chunks of 4 KB are 16,384."""

_START_OF_SCAN: Final = 0xDA
_END: Final = 0xD9
_BARE: Final = frozenset({0x01, 0xFF, *range(0xD0, 0xD8)})
"""Markers without a length; a second 0xFF fills up."""
_NEXT_MARKER: Final = re.compile(rb"\xff[^\x00\xd0-\xd7]", re.DOTALL)


def has_too_many_parts(data: bytes, kind: PictureFormat) -> bool:
    """Whether a decoder would be kept busy by the parts alone. WebP and AVIF are walked by fast ones."""
    if kind == "PNG":
        return _exceeds(_png_chunks(data), MOST_CHUNKS)
    if kind == "JPEG":
        segments = _exceeds(_jpeg_markers(data), MOST_SEGMENTS)
        return segments or _exceeds((one for one in _jpeg_markers(data) if one == _START_OF_SCAN), MOST_SCANS)
    return False


def _exceeds(parts: Iterator[int], most: int) -> bool:
    return next(islice(parts, most, None), None) is not None


def _png_chunks(data: bytes) -> Iterator[int]:
    """Where each chunk begins, up to the one that ends the picture."""
    at = 8
    while at + 12 <= len(data):
        yield at
        if data[at + 4 : at + 8] == b"IEND":
            return
        at += 12 + int.from_bytes(data[at : at + 4])


def _jpeg_markers(data: bytes) -> Iterator[int]:
    """Each marker's second byte (ITU-T T.81, table B.1), up to the end of the first picture.

    Bytes before the first scan that belong to no segment come as 0 each: they are walked one by one too.
    """
    at, before_scans = 2, True
    while found := _NEXT_MARKER.search(data, at):
        if before_scans:
            yield from repeat(0, found.start() - at)
        marker = data[found.end() - 1]
        yield marker
        if marker == _END:
            return
        before_scans = before_scans and marker != _START_OF_SCAN
        # The second of two 0xFF may begin the next marker.
        at = found.end() - (marker == 0xFF)
        if marker not in _BARE:
            at += max(2, int.from_bytes(data[at : at + 2]))
    if before_scans:
        yield from repeat(0, max(0, len(data) - at))
