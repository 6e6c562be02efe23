"""A picture is clean when it has only the parts it needs, and not a byte after its end."""

from __future__ import annotations

import io
import struct
import zlib
from typing import Any

import numpy as np
import pytest
from PIL import Image

from journey.audit.images import picture_findings
from journey.edition.photographs import encode_avif, encode_jpeg, encode_webp_lossless
from tests.canaries import exif, picture
from tests.record.profiles import SRGB_CURVE, SRGB_XY, matrix_profile

NOISE = Image.fromarray(np.random.default_rng(2).integers(0, 256, (70, 90, 3), dtype=np.uint8))
CLEAN = {
    "jpg": encode_jpeg(NOISE),
    "avif": encode_avif(NOISE),
    "webp": encode_webp_lossless(NOISE),
    "png": picture("PNG"),
}


def with_chunk(png: bytes, name: bytes, content: bytes, *, before: bytes = b"IDAT") -> bytes:
    at = png.index(before) - 4
    chunk = struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))
    return png[:at] + chunk + png[at:]


def with_segment(jpeg: bytes, marker: int, content: bytes) -> bytes:
    return jpeg[:2] + bytes([0xFF, marker]) + (len(content) + 2).to_bytes(2) + content + jpeg[2:]


@pytest.mark.parametrize("suffix", sorted(CLEAN))
def test_what_we_write_is_clean(suffix: str) -> None:
    """Noise, which uses every code an encoder has; baseline and restart markers in JPEG too."""
    assert picture_findings(CLEAN[suffix], suffix) == ()
    hows: tuple[dict[str, int], ...] = ({"restart_marker_blocks": 2}, {"progressive": 1}, {"subsampling": 0})
    for how in hows:
        buffer = io.BytesIO()
        NOISE.save(buffer, "JPEG", **how)
        assert picture_findings(buffer.getvalue(), "jpg") == ()


@pytest.mark.parametrize("suffix", sorted(CLEAN))
@pytest.mark.parametrize("tail", [b"\0", b"<html>", CLEAN["jpg"]])
def test_a_single_byte_after_the_end_is_a_finding(suffix: str, tail: bytes) -> None:
    """A second picture, a film or one zero."""
    assert picture_findings(CLEAN[suffix] + tail, suffix)


@pytest.mark.parametrize("suffix", sorted(CLEAN))
def test_a_cut_or_other_format_is_a_finding(suffix: str) -> None:
    """Cut anywhere, empty, or of another format than its name says."""
    data = CLEAN[suffix]
    for keep in (0, 1, 11, 40, len(data) // 2, len(data) - 1):
        assert picture_findings(data[:keep], suffix), keep
    for other in set(CLEAN) - {suffix}:
        assert picture_findings(CLEAN[other], suffix)
    assert picture_findings(data, "gif")


@pytest.mark.parametrize("marker", [*range(0xE1, 0xF0), 0xFE, 0xDC, 0xC1, 0xC9])
def test_no_other_segment_passes_in_a_jpeg(marker: int) -> None:
    """Applications' segments 1 to 15, comments, and codings that are not published."""
    assert picture_findings(with_segment(CLEAN["jpg"], marker, b"Exif\0\0x"), "jpg")


def test_a_jpegs_header_says_only_its_version() -> None:
    """A density tells the device, a thumbnail the uncovered picture."""
    dense = picture("JPEG", dpi=(300, 300))
    assert picture_findings(dense, "jpg")
    thumbnail = with_segment(CLEAN["jpg"], 0xE0, b"JFIF\0\x01\x01\0\0\x01\0\x01\x01\x01\xff\xff\xff")
    assert picture_findings(thumbnail, "jpg")
    assert picture_findings(with_segment(CLEAN["jpg"], 0xE0, b"JFXX\0\x10"), "jpg")


@pytest.mark.parametrize(
    "name", [b"tEXt", b"zTXt", b"iTXt", b"eXIf", b"iCCP", b"tIME", b"pHYs", b"prVt", b"gAMA"]
)
def test_no_other_chunk_passes_in_a_png(name: bytes) -> None:
    """Text, Exif, profiles, times, densities and private chunks."""
    assert picture_findings(with_chunk(CLEAN["png"], name, b"x"), "png")


def test_what_a_png_can_hide_in_its_pixels() -> None:
    """Rows too many, bytes behind the compressed stream, see-through pixels, a palette, false sums."""
    png = CLEAN["png"]
    start = png.index(b"IDAT") + 4
    size = int.from_bytes(png[start - 8 : start - 4])
    rows = zlib.decompress(png[start : start + size])

    def rebuilt(packed: bytes) -> bytes:
        return with_chunk(png[:33] + png[start + size + 4 :], b"IDAT", packed, before=b"IEND")

    assert picture_findings(rebuilt(zlib.compress(rows)), "png") == ()
    assert picture_findings(rebuilt(zlib.compress(rows + b"secret row")), "png")
    assert picture_findings(rebuilt(zlib.compress(rows) + b"secret"), "png")
    assert picture_findings(rebuilt(b"not packed"), "png")
    assert picture_findings(picture_of("RGBA"), "png")
    assert picture_findings(png[:40] + b"\0" + png[41:], "png")
    palette = Image.new("P", (80, 80))
    palette.putpalette([1, 2, 3, 200, 0, 0, 9, 9, 9])
    buffer = io.BytesIO()
    palette.save(buffer, "PNG")
    assert picture_findings(buffer.getvalue(), "png")


def picture_of(mode: str, **how: Any) -> bytes:
    buffer = io.BytesIO()
    NOISE.convert(mode).save(buffer, "PNG", **how)
    return buffer.getvalue()


@pytest.mark.parametrize(
    "how",
    [{"exif": exif(0x013B)}, {"xmp": b"<x/>"}, {"icc_profile": matrix_profile(SRGB_XY, SRGB_CURVE)}],
)
@pytest.mark.parametrize(("form", "suffix"), [("JPEG", "jpg"), ("WEBP", "webp"), ("AVIF", "avif")])
def test_metadata_of_any_format_is_a_finding(form: str, suffix: str, how: dict[str, Any]) -> None:
    """Exif, XMP and profiles in the containers of the three published formats."""
    assert picture_findings(picture(form, **how), suffix)


def test_animations_and_see_through_pictures_are_findings() -> None:
    """A second frame or an alpha plane holds what is not shown."""
    for form, suffix in (("WEBP", "webp"), ("AVIF", "avif")):
        moving, clear = io.BytesIO(), io.BytesIO()
        NOISE.save(moving, form, save_all=True, append_images=[NOISE.transpose(Image.Transpose.ROTATE_180)])
        see_through = NOISE.convert("RGBA")
        see_through.putalpha(7)
        see_through.save(clear, form)
        assert picture_findings(moving.getvalue(), suffix)
        assert picture_findings(clear.getvalue(), suffix)


def test_a_second_picture_inside_the_container_is_a_finding() -> None:
    """A WebP with its one chunk twice; an AVIF whose item is none of pixels."""
    webp, avif = CLEAN["webp"], CLEAN["avif"]
    twice = webp[12:] * 2
    assert picture_findings(b"RIFF" + struct.pack("<I", len(twice) + 4) + b"WEBP" + twice, "webp")
    at = avif.index(b"infe")
    assert picture_findings(avif[:at] + avif[at:].replace(b"av01", b"Exif", 1), "avif")
    assert picture_findings(avif.replace(b"Color\0", b"Ana R\0", 1), "avif")
    assert picture_findings(avif.replace(b"colrnclx\0\x01", b"colrnclx\0\x0c", 1), "avif")


def test_bytes_hidden_in_an_avifs_pixel_box_are_a_finding() -> None:
    """The box is made longer than its picture, without a byte after the end."""
    data = CLEAN["avif"]
    at = data.index(b"mdat") - 4
    size = int.from_bytes(data[at : at + 4])
    assert picture_findings(data[:at] + (size + 6).to_bytes(4) + data[at + 4 :] + b"secret", "avif")


def test_garbage_behind_each_signature_is_a_finding_and_never_an_error() -> None:
    """Whatever the bytes, the walk ends."""
    rng = np.random.default_rng(9)
    for suffix, data in CLEAN.items():
        for _ in range(60):
            broken = bytearray(data)
            for at in rng.integers(4, len(data), 4):
                broken[at] ^= int(rng.integers(1, 256))
            picture_findings(bytes(broken), suffix)
        assert picture_findings(data[:12] + rng.bytes(500), suffix)
