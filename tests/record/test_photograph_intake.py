"""What a photo may be, how it is turned upright and in which light its numbers are; the rest is refused."""

from __future__ import annotations

import io
import os
import struct
import time
import zlib
from pathlib import Path
from typing import Any

import colour
import numpy as np
import pytest
from PIL import Image, ImageCms, ImageOps

from journey.colour.spaces import decode_srgb
from journey.record import strict_decode
from journey.record.photograph_intake import (
    PhotographRefusedError,
    photograph_from,
    pixel_box,
    take_in,
)
from journey.record.rectangle import Rectangle
from journey.record.safe_files import FileRefusedError
from tests.record.profiles import (
    ADOBE_RGB_XY,
    DISPLAY_P3_XY,
    GAMMA_2_2,
    SRGB_CURVE,
    SRGB_XY,
    matrix_profile,
)

FORMATS = ("JPEG", "PNG", "WEBP", "AVIF")


def scene(width: int = 240, height: int = 160, seed: int = 5) -> Image.Image:
    """A smooth field of colours with some grain: it compresses like a photo and every corner differs."""
    rng = np.random.default_rng(seed)
    coarse = Image.fromarray(rng.integers(30, 220, (6, 8, 3), dtype=np.uint8))
    smooth = np.asarray(coarse.resize((width, height), Image.Resampling.BICUBIC)).astype(int)
    return Image.fromarray(np.clip(smooth + rng.integers(-6, 7, smooth.shape), 0, 255).astype(np.uint8))


def saved(image: Image.Image, kind: str = "JPEG", **how: Any) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, kind, **how)
    return buffer.getvalue()


def put(folder: Path, name: str, data: bytes) -> str:
    (folder / name).write_bytes(data)
    return name


def refusal(folder: Path, name: str) -> FileRefusedError:
    """The refusal: named, quick, one line, with a remedy."""
    started = time.monotonic()
    with pytest.raises(FileRefusedError) as caught:
        take_in(folder, name)
    assert time.monotonic() - started < 2
    assert len(str(caught.value).splitlines()) == 1
    assert caught.value.remedy
    return caught.value


@pytest.mark.parametrize("kind", FORMATS)
def test_each_accepted_format_comes_out_as_its_own_pixels(tmp_path: Path, kind: str) -> None:
    """What is handed out is what an ordinary decoder shows; a name that says otherwise is noted."""
    data = saved(scene(), kind)
    photo = take_in(tmp_path, put(tmp_path, "p." + kind.lower(), data))
    expected = np.asarray(Image.open(io.BytesIO(data)).convert("RGB"))
    np.testing.assert_array_equal(photo.encoded_pixels(), expected)
    assert (photo.format, photo.width, photo.height, photo.notes) == (kind, 240, 160, ())
    lying = take_in(tmp_path, put(tmp_path, "p.txt", data))
    assert any(kind in note for note in lying.notes)


@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize("orientation", range(1, 9))
def test_a_photo_stands_upright(kind: str, orientation: int) -> None:
    """The eight Exif orientations, in all formats, against Pillow's own exif_transpose."""
    exif = Image.Exif()
    exif[274] = orientation
    data = saved(scene(), kind, exif=exif)
    photo = photograph_from(data, "p." + kind.lower())
    upright = ImageOps.exif_transpose(Image.open(io.BytesIO(data))).convert("RGB")
    np.testing.assert_array_equal(photo.encoded_pixels(), np.asarray(upright))
    assert (photo.width, photo.height) == upright.size


def test_a_png_may_carry_its_orientation_behind_its_pixels() -> None:
    """The chunk may stand after the picture data; and finding it must not decode the picture."""
    exif = Image.Exif()
    exif[274] = 6
    plain = saved(scene(), "PNG")
    with_exif = saved(scene(), "PNG", exif=exif)
    at = with_exif.index(b"eXIf") - 4
    chunk = with_exif[at : at + 12 + int.from_bytes(with_exif[at : at + 4])]
    photo = photograph_from(plain[:-12] + chunk + plain[-12:], "p.png")
    assert (photo.width, photo.height) == (160, 240)


@pytest.mark.parametrize("exif", [b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x63\0\0\0\0\0\0",
                                  b"Exif\0\0II*\0\xff\xff\xff\x7f", b"Exif\0\0garbage, no more"])  # fmt: skip
def test_odd_exif_is_a_note(exif: bytes) -> None:
    """Orientation 99 or broken Exif: taken as upright, and said."""
    photo = photograph_from(saved(scene(), "JPEG", exif=exif), "p.jpg")
    assert (photo.width, photo.height) == (240, 160)
    assert len(photo.notes) == 1, photo.notes


def damaged(data: bytes, at: float, size: int) -> bytes:
    start = int(len(data) * at)
    return data[:start] + bytes(size) + data[start + size :]


@pytest.mark.parametrize("how", [{}, {"restart_marker_blocks": 4}, {"progressive": True}])
def test_a_cut_or_silently_damaged_jpeg_is_refused(tmp_path: Path, how: dict[str, Any]) -> None:
    """Half of it, its last 300 bytes, or 4 KB of zeros inside, which an ordinary decoder paints over in grey.

    Left out: holes in the later scans of a progressive JPEG. Zeros are valid code there; of 20 holes at
    random places in one such photo, 1 decoded without a complaint.
    """
    data = saved(scene(1200, 900), quality=90, **how)
    take_in(tmp_path, put(tmp_path, "whole.jpg", data + b"\xff\xd9<html>a tail is no damage"))
    for name, broken in (
        ("half.jpg", data[: len(data) // 2]),
        ("tail.jpg", data[:-300]),
        ("hole.jpg", damaged(data, 0.4, 4096)),
        ("early-hole.jpg", damaged(data, 0.1, 4096)),
    ):
        put(tmp_path, name, broken)
        assert "damaged" in refusal(tmp_path, name).what
        with pytest.raises(PhotographRefusedError):
            photograph_from(broken, name).srgb_image(at_least=100)
    if not how:
        Image.open(tmp_path / "hole.jpg").load()  # the ordinary decoder says nothing


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "AVIF"])
def test_a_cut_photo_of_another_format_is_refused(tmp_path: Path, kind: str) -> None:
    """Cut in half or near the end."""
    data = saved(scene(), kind)
    for keep in (0.5, 0.95):
        put(tmp_path, "cut", data[: int(len(data) * keep)])
        assert "damaged" in refusal(tmp_path, "cut").what


def test_a_png_with_a_wrong_checksum_is_refused(tmp_path: Path) -> None:
    """PNG says by its checksums that something is not as written."""
    data = bytearray(saved(scene(), "PNG"))
    data[data.index(b"IEND") - 5] ^= 1  # the last byte of the checksum before
    assert "damaged" in refusal(tmp_path, put(tmp_path, "sum.png", bytes(data))).what


def png_chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def png_of(width: int, height: int, rows: bytes, *, depth: int = 8) -> bytes:
    """A PNG in colour, built by hand."""
    header = png_chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, depth, 2, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + header + png_chunk(b"IDAT", zlib.compress(rows)) + png_chunk(b"IEND", b"")


def png_of_size(width: int, height: int) -> bytes:
    """A header that promises so many pixels, with hardly a byte behind it."""
    return png_of(width, height, bytes(1000))


@pytest.mark.parametrize("side", [7_100, 9_400, 12_000, 20_000, 60_000])
def test_more_than_50_megapixels_is_refused_by_the_header(tmp_path: Path, side: int) -> None:
    """A few hundred bytes that would unpack to gigabytes are never unpacked."""
    assert "megapixels" in refusal(tmp_path, put(tmp_path, "bomb.png", png_of_size(side, side))).what


@pytest.mark.parametrize("size", [(1, 1), (63, 300), (65_535, 64), (700, 69)])
def test_specks_and_strips_are_refused(tmp_path: Path, size: tuple[int, int]) -> None:
    """Less than 64 pixels a side, or more than ten times as long as wide."""
    assert refusal(tmp_path, put(tmp_path, "p.png", saved(Image.new("RGB", size), "PNG")))


def test_compressed_text_and_profile_bombs_are_refusals_of_that_photo(tmp_path: Path) -> None:
    """200 MB of zeros packed into a text chunk or a profile."""
    plain = saved(scene(), "PNG")
    packed = zlib.compress(bytes(200 << 20), 9)
    for name, content in ((b"zTXt", b"a\0\0" + packed), (b"iCCP", b"a\0\0" + packed)):
        chunk = png_chunk(name, content)
        put(tmp_path, "bomb.png", plain[:33] + chunk + plain[33:])
        assert isinstance(refusal(tmp_path, "bomb.png"), PhotographRefusedError)


OTHER_KINDS = {
    "eps": b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 100 100\n(x) run\n",
    "svg": b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>',
    "html": b"<!DOCTYPE html><script>alert(1)</script>",
    "pdf": b"%PDF-1.7\n",
    "empty": b"",
    "text": b"dear diary",
    "gif": saved(Image.new("P", (80, 80)), "GIF"),
    "bmp": saved(Image.new("RGB", (80, 80)), "BMP"),
    "tiff": saved(Image.new("RGB", (80, 80)), "TIFF"),
    "icon": saved(Image.new("RGB", (80, 80)), "ICO"),
    "jpeg xl": b"\0\0\0\x0cJXL \r\n\x87\n" + bytes(40),
    "film": b"\0\0\0\x20ftypisom" + bytes(40),
    "heic": b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(60),
    "heif": b"\0\0\0\x18ftypmif1\0\0\0\0mif1heic" + bytes(60),
}


@pytest.mark.parametrize("kind", sorted(OTHER_KINDS))
def test_no_other_format_reaches_a_decoder(
    tmp_path: Path, kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By content, not by name: drawings, films, raw files and HEIC are declined unopened, with a way out."""
    monkeypatch.setattr(Image, "open", lambda *_, **__: pytest.fail("a decoder was tried"))
    caught = refusal(tmp_path, put(tmp_path, "photo.jpg", OTHER_KINDS[kind]))
    assert isinstance(caught, PhotographRefusedError)
    if kind.startswith("hei"):
        assert "HEIC" in caught.what
        assert "JPEG" in caught.remedy


@pytest.mark.parametrize(
    "head",
    [b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"RIFF\x40\0\0\0WEBPVP8 ", b"\0\0\0\x14ftypavif\0\0\0\0avif"],
)
def test_noise_behind_an_honest_signature_is_refused(tmp_path: Path, head: bytes) -> None:
    """Whatever the decoder makes of it, it comes out as a refusal of one line."""
    rng = np.random.default_rng(11)
    for length in (0, 1, 40, 4000):
        put(tmp_path, "noise", head + rng.bytes(length))
        assert isinstance(refusal(tmp_path, "noise"), PhotographRefusedError)


def test_kinds_of_pixels_that_mean_no_photo_are_refused(tmp_path: Path) -> None:
    """One bit deep, or CMYK that does not say which inks."""
    assert refusal(tmp_path, put(tmp_path, "1.png", saved(Image.new("1", (80, 80)), "PNG")))
    cmyk = saved(scene().convert("CMYK"), "JPEG")
    assert "CMYK" in refusal(tmp_path, put(tmp_path, "cmyk.jpg", cmyk)).what


def test_16_bit_grey_is_scaled_and_not_clipped() -> None:
    """Code 65021 of 65535 is 253 of 255; a plain conversion makes all but the darkest white."""
    data = saved(Image.fromarray(np.full((80, 90), 253 * 257, dtype=np.uint16)), "PNG")
    photo = photograph_from(data, "p.png")
    assert np.unique(photo.encoded_pixels()).tolist() == [253]
    assert any("grey" in note for note in photo.notes)


def test_16_bit_colour_keeps_its_values() -> None:
    """A PNG of 16 bits a channel, built by hand: the upper 8 bits come out."""
    row = b"\0" + struct.pack(">3H", 200 * 257, 90 * 257, 40 * 257) * 80
    photo = photograph_from(png_of(80, 80, row * 80, depth=16), "p.png")
    assert np.unique(photo.encoded_pixels().reshape(-1, 3), axis=0).tolist() == [[200, 90, 40]]


def test_what_lies_under_transparency_does_not_come_out() -> None:
    """A see-through cover hides nothing by itself; here it becomes white paper."""
    secret = np.zeros((80, 80, 4), dtype=np.uint8)
    secret[..., 0] = 200
    secret[40:, :, 3] = 255
    for kind in ("PNG", "WEBP"):
        photo = photograph_from(
            saved(
                Image.fromarray(secret), kind, **({"exact": True, "lossless": True} if kind == "WEBP" else {})
            ),
            "p." + kind.lower(),
        )
        pixels = photo.encoded_pixels()
        assert (pixels[:38] == 255).all()
        assert pixels[60, 40].tolist() == [200, 0, 0]
    palette = scene().quantize(16)
    photo = photograph_from(saved(palette, "PNG", transparency=0), "p.png")
    assert (photo.encoded_pixels()[np.asarray(palette) == 0] == 255).all()


def test_a_photo_with_more_frames_gives_its_first_with_a_note() -> None:
    """Animations and phones' picture pairs."""
    for kind, how in (("PNG", {}), ("WEBP", {"lossless": True}), ("AVIF", {}), ("MPO", {})):
        data = saved(scene(), kind, save_all=True, append_images=[scene(seed=6)], **how)
        photo = photograph_from(data, "p.x")
        assert any("first" in note for note in photo.notes), kind
        difference = photo.encoded_pixels().astype(int) - np.asarray(scene())
        assert np.abs(difference).mean() < 8, kind


def test_linear_light_of_an_untagged_photo_is_srgb() -> None:
    """Against colour-science's sRGB decoding (IEC 61966-2-1), with the clipped places marked."""
    pixels = np.asarray(scene()).copy()
    pixels[:4, :4] = 255
    pixels[-4:, -4:] = (0, 90, 90)
    photo = photograph_from(saved(Image.fromarray(pixels), "PNG"), "p.png")
    linear = photo.linear_pixels()
    assert linear.primaries == "srgb"
    np.testing.assert_allclose(linear.values, colour.models.eotf_sRGB(pixels / 255), atol=1e-9)
    assert linear.clipped[:4, :4].all()
    assert linear.clipped[-4:, -4:].all()
    assert linear.clipped.sum() < 200


def test_a_region_is_the_pixels_whose_centres_lie_in_it() -> None:
    """A rectangle in fractions of the upright photo."""
    photo = photograph_from(saved(scene(), "PNG"), "p.png")
    region = Rectangle(0.25, 0.5, 0.1, 0.25)
    np.testing.assert_array_equal(photo.encoded_pixels(region), np.asarray(scene())[80:120, 60:84])
    assert photo.linear_pixels(region).values.shape == (40, 24, 3)
    assert pixel_box(Rectangle(0.999, 0.999, 0.001, 0.001), 100, 100) == (99, 99, 100, 100)
    assert pixel_box(Rectangle(0, 0, 1, 1), 100, 50) == (0, 0, 100, 50)


def test_a_phones_display_p3_is_read_in_its_own_primaries() -> None:
    """Named by its colorants; linear values use the sRGB curve that Display P3 shares (SMPTE EG 432-1)."""
    icc = matrix_profile(DISPLAY_P3_XY, SRGB_CURVE)
    photo = photograph_from(saved(scene(), "PNG", icc_profile=icc), "p.png")
    linear = photo.linear_pixels()
    assert linear.primaries == "display-p3"
    np.testing.assert_allclose(linear.values, decode_srgb(np.asarray(scene()) / 255), atol=1e-9)
    assert photo.icc_profile == icc


def test_display_p3_is_converted_for_showing() -> None:
    """A P3 photo shown as sRGB has the colours colour-science computes, not its own numbers untagged.

    Within 2 codes: LittleCMS computes at 8 bits.
    """
    data = saved(scene(), "PNG", icc_profile=matrix_profile(DISPLAY_P3_XY, SRGB_CURVE))
    shown = np.asarray(photograph_from(data, "p.png").srgb_image()).astype(int)
    p3 = colour.RGB_COLOURSPACES["Display P3"]
    srgb = colour.RGB_COLOURSPACES["sRGB"]
    expected = colour.RGB_to_RGB(
        np.asarray(scene()) / 255, p3, srgb, apply_cctf_decoding=True, apply_cctf_encoding=True
    )
    expected = np.clip(np.rint(expected * 255), 0, 255)
    assert np.abs(shown - expected).max() <= 2
    assert np.abs(expected - np.asarray(scene())).max() > 10


def test_another_three_primaries_profile_is_computed_in_floating_point() -> None:
    """Adobe RGB (1998) by its profile: linear sRGB as colour-science has it, below 0 where sRGB ends."""
    data = saved(scene(), "PNG", icc_profile=matrix_profile(ADOBE_RGB_XY, GAMMA_2_2))
    linear = photograph_from(data, "p.png").linear_pixels()
    assert linear.primaries == "srgb"
    adobe = colour.RGB_COLOURSPACES["Adobe RGB (1998)"]
    expected = colour.RGB_to_RGB(
        np.asarray(scene()) / 255, adobe, colour.RGB_COLOURSPACES["sRGB"], apply_cctf_decoding=True
    )
    np.testing.assert_allclose(linear.values, expected, atol=2e-3)
    assert linear.values.min() < -0.01


def test_the_system_made_srgb_profile_changes_nothing() -> None:
    """A photo tagged sRGB is handed out untouched."""
    icc = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    photo = photograph_from(saved(scene(), "PNG", icc_profile=icc), "p.png")
    np.testing.assert_array_equal(np.asarray(photo.srgb_image()), np.asarray(scene()))
    assert photo.linear_pixels().primaries == "srgb"
    assert (
        photograph_from(saved(scene(), "PNG", icc_profile=matrix_profile(SRGB_XY, SRGB_CURVE)), "p.png").notes
        == ()
    )


def test_a_profile_that_can_not_be_read_is_a_note() -> None:
    """Garbage, or a profile for inks on a photo in RGB."""
    for icc in (b"not a profile" * 20, ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()):
        photo = photograph_from(saved(scene(), "JPEG", icc_profile=icc), "p.jpg")
        assert any("profile" in note for note in photo.notes)
        assert photo.linear_pixels().primaries == "srgb"


def test_primaries_named_by_number_are_honoured() -> None:
    """AVIF and PNG may name Display P3 (12) or high dynamic range (16) by H.273 numbers, not by profile."""
    plain = saved(scene(), "AVIF", quality=100, subsampling="4:4:4")
    at = plain.index(b"colrnclx") + 8
    p3 = plain[:at] + b"\0\x0c" + plain[at + 2 :]
    photo = photograph_from(p3, "p.avif")
    assert photo.linear_pixels().primaries == "display-p3"
    p3_space, srgb = colour.RGB_COLOURSPACES["Display P3"], colour.RGB_COLOURSPACES["sRGB"]
    expected = colour.RGB_to_RGB(
        photo.encoded_pixels() / 255, p3_space, srgb, apply_cctf_decoding=True, apply_cctf_encoding=True
    )
    assert np.abs(np.asarray(photo.srgb_image()) - np.clip(expected * 255, 0, 255)).max() <= 1
    with pytest.raises(PhotographRefusedError, match="dynamic"):
        photograph_from(plain[: at + 2] + b"\0\x10" + plain[at + 4 :], "p.avif")


def test_a_smaller_decode_is_made_from_fewer_pixels_but_is_the_same_photo() -> None:
    """Asked for 300 px, a JPEG is decoded at an eighth to a half, never below what was asked."""
    data = saved(scene(2000, 1500), quality=92)
    photo = photograph_from(data, "p.jpg")
    small = photo.srgb_image(at_least=300)
    assert 300 <= max(small.size) < 1000
    reference = photo.srgb_image().resize(small.size, Image.Resampling.BOX)
    assert np.abs(np.asarray(small).astype(int) - np.asarray(reference)).mean() < 2
    assert photo.srgb_image(at_least=300).size == small.size, "whatever was decoded before"


def test_many_patches_cost_one_decode(monkeypatch: pytest.MonkeyPatch) -> None:
    """The decoded photo is kept until it is let go."""
    calls = []
    real = strict_decode.decode_rgb

    def counted(*arguments: Any, **keywords: Any) -> Image.Image:
        calls.append(1)
        return real(*arguments, **keywords)

    monkeypatch.setattr(strict_decode, "decode_rgb", counted)
    photo = photograph_from(saved(scene()), "p.jpg")
    for left in (0.1, 0.2, 0.3):
        photo.linear_pixels(Rectangle(left, 0.1, 0.1, 0.1))
    assert len(calls) == 1


def test_what_is_handed_out_for_showing_is_bare() -> None:
    """No profile, Exif, text or comment hangs on the pixels."""
    exif = Image.Exif()
    exif[0x010E] = "Ana Ruiz"
    icc = matrix_profile(DISPLAY_P3_XY, SRGB_CURVE)
    for kind in FORMATS:
        photo = photograph_from(saved(scene(), kind, exif=exif, icc_profile=icc), "p")
        assert photo.srgb_image().info == {}, kind
        assert photo.decoded().info == {}, kind


def test_a_photo_can_not_be_a_pipe_or_a_link(tmp_path: Path) -> None:
    """The file rules hold for photos."""
    os.mkfifo(tmp_path / "pipe.jpg")
    (tmp_path / "link.jpg").symlink_to("/dev/zero")
    for name in ("pipe.jpg", "link.jpg", "../up.jpg", "none.jpg"):
        assert not isinstance(refusal(tmp_path, name), PhotographRefusedError)
