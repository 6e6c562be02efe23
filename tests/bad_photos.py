"""Photos that are none, that unpack to gigabytes, that are cut or damaged, or whose colours nobody knows."""

# ruff: noqa: E501 - a table reads best with a row a line

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable

import numpy as np
from PIL import Image, ImageCms

from tests.bad_rows import (
    PHOTO,
    Disturb,
    Row,
    changed,
    grain,
    in_png,
    png_chunk,
    png_of,
    raw,
    saved,
    written,
)


def _is(data: bytes) -> Disturb:
    return raw(PHOTO, data)


def _made(make: Callable[[], bytes]) -> Disturb:
    """Made only when it is wanted: it takes a while."""
    return lambda folder: written(folder / PHOTO, make())


def _cut(keep: float) -> Disturb:
    return changed(PHOTO, lambda data: data[: int(len(data) * keep)])


def _hole(data: bytes) -> bytes:
    at = int(len(data) * 0.4)
    return data[:at] + bytes(4096) + data[at + 4096 :]


def _bomb(name: bytes, head: bytes = b"a\0\0", size: int = 200 << 20) -> bytes:
    return in_png(grain(80, 80), name, head + zlib.compress(bytes(size), 9))


def _float_tiff() -> bytes:
    return saved(Image.fromarray(np.full((80, 80), np.nan, dtype=np.float32)), "TIFF")


def _lossless_lab() -> bytes:
    return saved(Image.new("LAB", (80, 80)), "TIFF")


def _arithmetic() -> bytes:
    """A JPEG that says it is coded in a way nobody reads: lossless, SOF3."""
    data = bytearray(saved(grain(80, 80), "JPEG"))
    data[data.index(b"\xff\xc0") + 1] = 0xC3
    return bytes(data)


def _many_scans() -> bytes:
    """A progressive JPEG of 47 megapixels with 3,000 scans of 74 bytes: half a megabyte that takes minutes."""
    data = saved(Image.new("RGB", (6_900, 6_900), (196, 120, 132)), "JPEG", progressive=True)
    scan = data[data.rindex(b"\xff\xda") : -2]
    return data[:-2] + scan * 3_000 + data[-2:]


def _junk() -> bytes:
    """20 MB that belong to nothing, before a JPEG's picture."""
    return _before_the_picture(bytes(20_000_000))


def _fill() -> bytes:
    return _before_the_picture(b"\xff" * 20_000_000)


def _empty_segments() -> bytes:
    return _before_the_picture(b"\xff\xe9\0\2" * 1_000_000)


def _before_the_picture(more: bytes) -> bytes:
    data = saved(grain(80, 80), "JPEG")
    return data[:20] + more + data[20:]


def _empty_chunks(name: bytes, content: bytes = b"") -> bytes:
    plain = saved(grain(80, 80), "PNG")
    return plain[:33] + png_chunk(name, content) * 1_000_000 + plain[33:]


def _size_in_jpeg(width: int, height: int) -> bytes:
    data = bytearray(saved(grain(80, 80), "JPEG"))
    at = data.index(b"\xff\xc0") + 5
    data[at : at + 4] = struct.pack(">HH", height, width)
    return bytes(data)


def _webp_of_size() -> bytes:
    """An extended WebP whose canvas is 16,384 pixels a side."""
    plain = saved(grain(80, 80), "WEBP")
    side = (16_383).to_bytes(3, "little")
    body = b"WEBPVP8X" + struct.pack("<I", 10) + b"\0\0\0\0" + side + side + plain[12:]
    return b"RIFF" + struct.pack("<I", len(body)) + body


def _second_header() -> bytes:
    """A PNG with two headers, the second of another size."""
    plain = saved(grain(80, 80), "PNG")
    return plain[:33] + png_chunk(b"IHDR", struct.pack(">IIBBBBB", 9000, 9000, 8, 2, 0, 0, 0)) + plain[33:]


def _short_rows() -> bytes:
    """A PNG whose data end before its rows do."""
    return png_of(900, 900, bytes(1000))


def _long_chunk() -> bytes:
    """A PNG with a chunk that claims four gigabytes."""
    plain = saved(grain(80, 80), "PNG")
    return plain[:33] + b"\xff\xff\xff\xf0tEXt" + plain[33:]


def _dynamic() -> bytes:
    plain = saved(grain(80, 80), "AVIF", quality=90)
    at = plain.index(b"colrnclx") + 8
    return plain[: at + 2] + b"\0\x10" + plain[at + 4 :]


def _grey_profile() -> bytes:
    """Inks with a profile that speaks of screens."""
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    return saved(Image.new("CMYK", (80, 80)), "JPEG", icc_profile=profile)


def _animated_gif() -> bytes:
    return saved(grain(80, 80), "GIF", save_all=True, append_images=[grain(80, 80, 4)])


def _jpeg_tail_only() -> bytes:
    return saved(grain(), "JPEG")[400:]


_GIF_HTML = b"GIF89a/*" + bytes(60) + b"*/=1;<script>window.owned=1</script>"
_ARCHIVE = b"PK\x03\x04" + bytes(60)
_XML_BOMB = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "x">]><svg xmlns="http://www.w3.org/2000/svg">&b;</svg>'

PHOTO_ROWS = (
    Row("EPS", _is(b"%!PS-Adobe-3.0 EPSF-3.0\n(x) run\n"), "PostScript", "PostScript"),
    Row("EPS with a preview", _is(b"\xc5\xd0\xd3\xc6" + bytes(60)), "PostScript", "PostScript"),
    Row("PDF", _is(b"%PDF-1.7\n%\xff\xff\n1 0 obj\n"), "a PDF", "PostScript"),
    Row("SVG", _is(b'<svg xmlns="http://www.w3.org/2000/svg"><script>x()</script></svg>'), "a drawing or a web page",
        "another format under the name of a JPEG"),
    Row("SVG with entities", _is(_XML_BOMB), "a drawing or a web page", "another format under the name of a JPEG"),
    Row("web page", _is(b"\xef\xbb\xbf<!DOCTYPE html><script>x()</script>"), "no known picture format",
        "another format under the name of a JPEG"),
    Row("TIFF", _is(saved(grain(80, 80), "TIFF")), "a TIFF", "another format under the name of a JPEG"),
    Row("BMP", _is(saved(grain(80, 80), "BMP")), "a BMP", "another format under the name of a JPEG"),
    Row("icon", _is(saved(grain(80, 80), "ICO")), "an icon", "another format under the name of a JPEG"),
    Row("GIF", _is(saved(grain(80, 80), "GIF")), "a GIF", "another format under the name of a JPEG"),
    Row("GIF that moves", _is(_animated_gif()), "a GIF", "another format under the name of a JPEG"),
    Row("GIF that is a script too", _is(_GIF_HTML), "a GIF", "another format under the name of a JPEG"),
    Row("archive", _is(_ARCHIVE), "no known picture format", "another format under the name of a JPEG"),
    Row("program", _is(b"\x7fELF" + bytes(60)), "no known picture format", "another format under the name of a JPEG"),
    Row("shell script", _is(b"#!/bin/sh\ntouch /tmp/owned\n"), "no known picture format",
        "another format under the name of a JPEG"),
    Row("JPEG XL", _is(b"\xff\x0a" + bytes(60)), "a JPEG XL", "another format under the name of a JPEG"),
    Row("film", _is(b"\0\0\0\x20ftypisom" + bytes(60)), "a film", "another format under the name of a JPEG"),
    Row("layers", _is(b"8BPS\0\1" + bytes(60)), "a layered picture", "another format under the name of a JPEG"),
    Row("HEIC", _is(b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(60)), "HEIC", "HEIC"),
    Row("20,000 squared", _is(png_of(20_000, 20_000, bytes(1000))), "megapixels", "20,000 squared"),
    Row("20,000 squared, packed whole", _made(lambda: png_of(20_000, 20_000, bytes(20_000 * 60_001 // 40))), "megapixels",
        "20,000 squared"),
    Row("12,000 squared", _is(png_of(12_000, 12_000, bytes(1000))), "megapixels", "9,400 and 12,000 squared"),
    Row("9,400 squared", _is(png_of(9_400, 9_400, bytes(1000))), "megapixels", "9,400 and 12,000 squared"),
    Row("JPEG of 60,000 squared", _is(_size_in_jpeg(60_000, 60_000)), "megapixels", "9,400 and 12,000 squared"),
    Row("WebP of 16,384 squared", _is(_webp_of_size()), "photos/back-1.jpg", "9,400 and 12,000 squared"),
    Row("two headers in a PNG", _is(_second_header()), "photos/back-1.jpg", "9,400 and 12,000 squared"),
    Row("text bomb in a PNG", _made(lambda: _bomb(b"zTXt")), "photos/back-1.jpg", "text and profile bombs"),
    Row("text bomb, international", _made(lambda: _bomb(b"iTXt", b"a\0\1\0\0\0")), "photos/back-1.jpg",
        "text and profile bombs"),
    Row("profile bomb in a PNG", _made(lambda: _bomb(b"iCCP")), "photos/back-1.jpg", "text and profile bombs"),
    Row("JPEG of 3,000 scans", _made(_many_scans), "more parts", "parts without end"),
    Row("JPEG after 20 MB of nothing", _made(_junk), "more parts", "parts without end"),
    Row("JPEG after 20 MB of filling", _made(_fill), "more parts", "parts without end"),
    Row("JPEG of a million segments", _made(_empty_segments), "more parts", "parts without end"),
    Row("PNG of a million chunks", _made(lambda: _empty_chunks(b"abCd")), "more parts", "parts without end"),
    Row("PNG of a million texts", _made(lambda: _empty_chunks(b"tEXt", b"a\0")), "more parts",
        "parts without end"),
    Row("half a photo", _cut(0.5), "damaged", "cut short"),
    Row("without its last 300 bytes", changed(PHOTO, lambda data: data[:-300]), "damaged", "cut short"),
    Row("only its first bytes", _is(b"\xff\xd8\xff\xe0"), "damaged", "cut short"),
    Row("without its beginning", _is(_jpeg_tail_only()), "no known picture format", "cut short"),
    Row("half a PNG", _is(saved(grain(), "PNG")[:60_000]), "damaged", "cut short"),
    Row("PNG that ends before its rows", _is(_short_rows()), "damaged", "cut short"),
    Row("PNG with a chunk of four gigabytes", _is(_long_chunk()), "damaged", "cut short"),
    Row("half a WebP", _is(saved(grain(), "WEBP")[:3000]), "damaged", "cut short"),
    Row("half an AVIF", _is(saved(grain(), "AVIF")[:1500]), "damaged", "cut short"),
    Row("a hole of 4 KB", changed(PHOTO, _hole), "damaged", "a hole inside"),
    Row("coded as nobody reads", _is(_arithmetic()), "damaged", "a hole inside"),
    Row("noise behind a signature", _is(b"\xff\xd8\xff" + bytes(np.random.default_rng(5).bytes(4000))), "damaged",
        "a hole inside"),
    Row("inks without a profile", _is(saved(Image.new("CMYK", (80, 80)), "JPEG")), "CMYK", "CMYK"),
    Row("inks with a screen's profile", _is(_grey_profile()), "CMYK", "CMYK"),
    Row("high dynamic range", _is(_dynamic()), "high-dynamic-range", "odd sizes and kinds of pixels"),
    Row("no byte", _is(b""), "an empty file", "odd sizes and kinds of pixels"),
    Row("one pixel", _is(saved(Image.new("RGB", (1, 1)), "PNG")), "1x1", "odd sizes and kinds of pixels"),
    Row("a strip", _is(saved(Image.new("RGB", (65_535, 64)), "PNG")), "a strip", "odd sizes and kinds of pixels"),
    Row("a JPEG without height", _is(_size_in_jpeg(80, 0)), "damaged where it begins", "odd sizes and kinds of pixels"),
    Row("one bit deep", _is(saved(Image.new("1", (80, 80)), "PNG")), "black and white",
        "odd sizes and kinds of pixels"),
    Row("LAB", _is(_lossless_lab()), "a TIFF", "odd sizes and kinds of pixels"),
    Row("numbers that are none", _is(_float_tiff()), "a TIFF", "odd sizes and kinds of pixels"),
)  # fmt: skip
