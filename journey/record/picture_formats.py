"""What kind of picture some bytes are, told from the bytes and never from the file's name.

It decides which formats are taken in and in which words the others are declined. It also finds the few facts
that stand in the container and not in the pixels: the primaries that a PNG or AVIF names by number, and a
PNG's Exif wherever it stands. Decoding is left to `photograph_intake`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final, Literal

PictureFormat = Literal["JPEG", "PNG", "WEBP", "AVIF"]

ACCEPTED: Final[tuple[PictureFormat, ...]] = ("JPEG", "PNG", "WEBP", "AVIF")

SUFFIXES: Final[dict[PictureFormat, tuple[str, ...]]] = {
    "JPEG": (".jpg", ".jpeg", ".jpe"),
    "PNG": (".png",),
    "WEBP": (".webp",),
    "AVIF": (".avif",),
}

_PNG_SIGNATURE: Final = b"\x89PNG\r\n\x1a\n"
_HEIF_BRANDS: Final = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1")
_AVIF_BRANDS: Final = (b"avif", b"avis")

# Kinds that people do hand over, by their first bytes; the words say what the thing is.
_DECLINED: Final[tuple[tuple[bytes, str], ...]] = (
    (b"GIF8", "a GIF"),
    (b"BM", "a BMP"),
    (b"II*\0", "a TIFF or a camera's raw file"),
    (b"MM\0*", "a TIFF or a camera's raw file"),
    (b"%!PS", "a PostScript drawing"),
    (b"\xc5\xd0\xd3\xc6", "a PostScript drawing"),
    (b"%PDF", "a PDF"),
    (b"\xff\x0a", "a JPEG XL"),
    (b"\0\0\0\x0cJXL ", "a JPEG XL"),
    (b"\0\0\0\x0cjP  ", "a JPEG 2000"),
    (b"\0\0\1\0", "an icon"),
    (b"8BPS", "a layered picture"),
)
_DRAWINGS: Final = (b"<svg", b"<?xml", b"<!doctype", b"<html")


def picture_format(data: bytes) -> PictureFormat | None:
    """The accepted format these bytes claim to be, or None."""
    if data.startswith(b"\xff\xd8\xff"):
        return "JPEG"
    if data.startswith(_PNG_SIGNATURE):
        return "PNG"
    if data[:4] == b"RIFF" and data[8:12] == b"WEBP":
        return "WEBP"
    if set(_brands(data)) & set(_AVIF_BRANDS):
        return "AVIF"
    return None


def is_heif(data: bytes) -> bool:
    """True for HEIC and its kin, which phones write; AVIF is kept apart."""
    return picture_format(data) is None and bool(set(_brands(data)) & set(_HEIF_BRANDS))


def words_for(data: bytes) -> str:
    """What bytes of no accepted format are, in words for a refusal."""
    if not data:
        return "an empty file"
    for signature, words in _DECLINED:
        if data.startswith(signature):
            return words
    if data[:256].lstrip().lower().startswith(_DRAWINGS):
        return "a drawing or a web page"
    if data[4:8] == b"ftyp":
        return "a film or another kind of container"
    return "of no known picture format"


def coding_points(data: bytes, kind: PictureFormat) -> tuple[int, int] | None:
    """Colour primaries and transfer curve by their numbers (ITU-T H.273), where the container names them.

    Returns:
        (primaries, transfer), as in (12, 13) for Display P3 with the sRGB curve; None when not named.
    """
    if kind == "PNG":
        chunk = png_chunk(data, b"cICP")
        return (chunk[0], chunk[1]) if chunk and len(chunk) == 4 else None
    if kind == "AVIF":
        at = data.find(b"colrnclx", 0, 1 << 16)
        if at >= 0 and len(data) >= at + 14:
            return int.from_bytes(data[at + 8 : at + 10]), int.from_bytes(data[at + 10 : at + 12])
    return None


def png_chunk(data: bytes, name: bytes) -> bytes | None:
    """The content of a PNG's first chunk of that name, wherever it stands."""
    return next((content for kind, content in _png_chunks(data) if kind == name), None)


def _png_chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    at = len(_PNG_SIGNATURE)
    while at + 12 <= len(data):
        size = int.from_bytes(data[at : at + 4])
        yield data[at + 4 : at + 8], data[at + 8 : at + 8 + size]
        at += 12 + size


def _brands(data: bytes) -> tuple[bytes, ...]:
    """The brands of an ISO base media file (ISO/IEC 14496-12): the major one first."""
    if data[4:8] != b"ftyp":
        return ()
    size = min(int.from_bytes(data[:4]), 256)
    return (data[8:12], *(data[at : at + 4] for at in range(16, size, 4)))
