"""Walks through the bytes of a picture, part by part, and names every part that a clean one does not have.

It decides by whitelist: a part that is not on the list is a finding, whatever it may hold, and so is a single
byte after the end. What the pixels show is left to people.

Formats: JPEG, ITU-T T.81 annex B; PNG, W3C PNG third edition; WebP, RFC 9649; AVIF, ISO/IEC 14496-12 and
23008-12 with AV1 Image File Format 1.1.
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable, Iterator
from typing import Final

_JPEG_START: Final = 0xD8
_JPEG_END: Final = 0xD9
_JPEG_SCAN: Final = 0xDA
_JPEG_ALLOWED: Final = {0xC0: "SOF0", 0xC2: "SOF2", 0xC4: "DHT", 0xDB: "DQT", 0xDD: "DRI", 0xE0: "APP0"}
_PLAIN_JFIF: Final = b"JFIF\0\x01\x01\0\0\x01\0\x01\0\0"
"""Version 1.01, no unit, 1 x 1, no thumbnail."""
_PNG_SIGNATURE: Final = b"\x89PNG\r\n\x1a\n"
_PNG_ALLOWED: Final = frozenset({b"IHDR", b"sRGB", b"IDAT", b"IEND"})
"""No palette: it may keep colours that no pixel has any more."""
_WEBP_ALLOWED: Final = frozenset({b"VP8 ", b"VP8L"})
_AVIF_BOXES: Final = frozenset(
    {b"ftyp", b"meta", b"mdat", b"hdlr", b"pitm", b"iloc", b"iinf", b"infe", b"iprp", b"ipco", b"ipma"}
)
_AVIF_PROPERTIES: Final = frozenset({b"ispe", b"pixi", b"av1C", b"colr"})
_AVIF_COLOUR: Final = (b"nclx\0\x01\0\x0d\0\x06", b"nclx\0\x01\0\x0d\0\x01")
"""BT.709 primaries, sRGB curve, BT.601 or BT.709 matrix (ITU-T H.273)."""


class _Cut(Exception):  # noqa: N818 - never leaves this module
    """The file ends inside a part."""


def picture_findings(data: bytes, suffix: str) -> tuple[str, ...]:
    """What is wrong with a picture's construction, in words; nothing for a clean one.

    Args:
        data: the whole file.
        suffix: 'jpg', 'png', 'webp' or 'avif'; the bytes must be of that format.
    """
    walk = _WALKS.get(suffix)
    if walk is None:
        return (f"a picture of a kind that is not published ({suffix})",)
    try:
        return tuple(dict.fromkeys(walk(data)))
    except (_Cut, struct.error, IndexError):
        return ("cut short, or built unlike its format",)


def _jpeg(data: bytes) -> Iterator[str]:
    if data[:2] != b"\xff\xd8":
        yield "not a JPEG"
        return
    at, has_header = 2, False
    while True:
        marker = _jpeg_marker(data, at)
        at += 2
        if marker == _JPEG_END:
            break
        (size,) = struct.unpack_from(">H", data, at)
        content = _part(data, at + 2, size - 2)
        if marker == _JPEG_SCAN:
            at = _after_entropy_coded(data, at + size)
            continue
        if marker not in _JPEG_ALLOWED:
            yield f"a segment {marker:#04x}, where metadata and comments stand"
        elif marker == 0xE0:
            if content != _PLAIN_JFIF or has_header:
                yield "a header that says more than the version"
            has_header = True
        at += size
    if at != len(data):
        yield f"{len(data) - at} bytes after the end"


def _jpeg_marker(data: bytes, at: int) -> int:
    if len(data) < at + 2 or data[at] != 0xFF or data[at + 1] in (0x00, 0xFF):
        raise _Cut
    return data[at + 1]


def _after_entropy_coded(data: bytes, at: int) -> int:
    """Where coded pixels end: at the first marker that is neither a stuffed byte nor a restart."""
    while True:
        at = data.find(b"\xff", at)
        if at < 0 or at + 1 >= len(data):
            raise _Cut
        if data[at + 1] != 0x00 and not 0xD0 <= data[at + 1] <= 0xD7:
            return at
        at += 2


def _png(data: bytes) -> Iterator[str]:
    if data[:8] != _PNG_SIGNATURE:
        yield "not a PNG"
        return
    at, packed = 8, b""
    while True:
        size, name = struct.unpack_from(">I4s", data, at)
        content = _part(data, at + 8, size)
        if zlib.crc32(name + content) != struct.unpack_from(">I", data, at + 8 + size)[0]:
            yield "a wrong checksum"
        if name not in _PNG_ALLOWED:
            yield f"a chunk {name.decode('latin-1')!r}, where metadata stands"
        packed += content if name == b"IDAT" else b""
        at += 12 + size
        if name == b"IEND":
            break
    if at != len(data):
        yield f"{len(data) - at} bytes after the end"
    yield from _png_pixels(data, packed)


def _png_pixels(data: bytes, packed: bytes) -> Iterator[str]:
    """Bytes hidden behind the last row or the stream, and see-through pixels."""
    width, height, depth, kind = struct.unpack_from(">IIBB", data, 16)
    if kind in (4, 6):
        yield "see-through pixels, which keep what they hide"
    unpacker = zlib.decompressobj()
    try:
        rows = unpacker.decompress(packed)
    except zlib.error:
        yield "pixels that can not be unpacked"
        return
    if unpacker.unused_data:
        yield f"{len(unpacker.unused_data)} bytes behind the pixels"
    channels = {2: 3, 4: 2, 6: 4}.get(kind, 1)
    stride = 1 + (width * channels * depth + 7) // 8
    if not data[28] and len(rows) != stride * height:
        yield "more or fewer rows than the picture has"


def _webp(data: bytes) -> Iterator[str]:
    if data[:4] != b"RIFF" or data[8:12] != b"WEBP":
        yield "not a WebP"
        return
    (size,) = struct.unpack_from("<I", data, 4)
    if size + 8 != len(data):
        yield "a length that is not the file's: bytes after the end, or a cut"
    at, names = 12, []
    while at < min(len(data), size + 8):
        name, length = struct.unpack_from("<4sI", data, at)
        _part(data, at + 8, length)
        names.append(name)
        at += 8 + length + length % 2
    for name in names:
        if name not in _WEBP_ALLOWED:
            yield f"a chunk {name.decode('latin-1')!r}, where metadata stands"
    if len(names) != 1:
        yield "more than its one chunk of pixels"


def _avif(data: bytes) -> Iterator[str]:
    if data[4:12] != b"ftypavif":
        yield "not an AVIF"
        return
    top = list(_boxes(data, 0, len(data)))
    if [name for name, _, _ in top] != [b"ftyp", b"meta", b"mdat"]:
        yield "other boxes than type, description and pixels"
    for name, start, end in top:
        if name == b"meta":
            yield from _avif_description(data, start + 4, end)
    yield from _avif_extents(data, top)


def _avif_description(data: bytes, start: int, end: int) -> Iterator[str]:
    for name, first, last in _boxes(data, start, end):
        if name not in _AVIF_BOXES:
            yield f"a box {name.decode('latin-1')!r}, where metadata stands"
        if name == b"hdlr" and data[first:last].rstrip(b"\0") != b"\0\0\0\0\0\0\0\0pict":
            yield "a handler with a name of its own"
        if name == b"iinf":
            yield from _avif_items(data, first, last)
        if name == b"iprp":
            for inner, at, stop in _boxes(data, first, last):
                if inner == b"ipco":
                    yield from _avif_properties(data, at, stop)


def _avif_items(data: bytes, start: int, end: int) -> Iterator[str]:
    for name, first, last in _boxes(data, start + (6 if data[start] == 0 else 8), end):
        content = data[first:last]
        # Version and flags 4 bytes, item number 2, protection 2, type 4, then the name.
        if name != b"infe" or content[8:12] != b"av01":
            yield "an item that is no picture, where Exif and XMP stand"
        elif content[12:].rstrip(b"\0") not in (b"", b"Color"):
            yield "an item with a name of its own"


def _avif_properties(data: bytes, start: int, end: int) -> Iterator[str]:
    for name, first, last in _boxes(data, start, end):
        if name not in _AVIF_PROPERTIES:
            yield f"a property {name.decode('latin-1')!r}"
        if name == b"colr" and not data[first:last].startswith(_AVIF_COLOUR):
            yield "a colour profile, or other colours than sRGB's"


def _avif_extents(data: bytes, top: list[tuple[bytes, int, int]]) -> Iterator[str]:
    """The pixels' box holds the pixels and nothing before, between or behind them."""
    stretches = [(first, last) for name, first, last in top if name == b"mdat"]
    meta = next(((first, last) for name, first, last in top if name == b"meta"), None)
    if meta is None or not stretches:
        return
    location = next(((f, e) for name, f, e in _boxes(data, meta[0] + 4, meta[1]) if name == b"iloc"), None)
    if location is None:
        yield "no word of where the pixels are"
        return
    taken = sorted(_extents(data, *location))
    if sum(length for _, length in taken) != sum(last - first for first, last in stretches):
        yield "bytes in the pixels' box that belong to no pixel"


def _extents(data: bytes, start: int, end: int) -> Iterator[tuple[int, int]]:
    """Offset and length of each stretch of an item location box, versions 0 and 1 (14496-12, 8.11.3)."""
    version = data[start]
    sizes = data[start + 4 : start + 6]
    offset_size, length_size, base_size = sizes[0] >> 4, sizes[0] & 15, sizes[1] >> 4
    index_size = sizes[1] & 15 if version else 0
    (count,) = struct.unpack_from(">H", data, start + 6)
    at = start + 8
    for _ in range(count):
        at += 4 + (2 if version else 0)
        base = int.from_bytes(_part(data, at, base_size))
        (extents,) = struct.unpack_from(">H", data, at + base_size)
        at += base_size + 2
        for _ in range(extents):
            at += index_size
            offset = int.from_bytes(_part(data, at, offset_size))
            length = int.from_bytes(_part(data, at + offset_size, length_size))
            yield base + offset, length
            at += offset_size + length_size
    if at > end:
        raise _Cut


def _boxes(data: bytes, start: int, end: int) -> Iterator[tuple[bytes, int, int]]:
    """Name and content of each box; a box that ends outside is a cut."""
    while start < end:
        size, name = struct.unpack_from(">I4s", data, start)
        if size < 8 or start + size > end:
            raise _Cut
        yield name, start + 8, start + size
        start += size


def _part(data: bytes, start: int, size: int) -> bytes:
    if size < 0 or start + size > len(data):
        raise _Cut
    return data[start : start + size]


_WALKS: Final[dict[str, Callable[[bytes], Iterator[str]]]] = {
    "jpg": _jpeg,
    "png": _png,
    "webp": _webp,
    "avif": _avif,
}
