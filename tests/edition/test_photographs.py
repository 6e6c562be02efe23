"""Published pictures are new pixels: upright, in sRGB, covers solid, and no metadata of any kind."""

from __future__ import annotations

import io
import json
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image, ImageCms, PngImagePlugin

from journey.edition import photographs
from journey.edition.photographs import (
    COVER_COLOUR,
    LONGEST_EDGE,
    CoverNotProvedError,
    encode_avif,
    encode_jpeg,
    encode_webp_lossless,
    prove_covered,
    remake,
)
from journey.record.photograph_intake import photograph_from, pixel_box
from journey.record.rectangle import Rectangle
from tests.record.profiles import DISPLAY_P3_XY, SRGB_CURVE, matrix_profile

Encode = Callable[[Image.Image], bytes]
ENCODERS: dict[str, Encode] = {"jpg": encode_jpeg, "avif": encode_avif, "webp": encode_webp_lossless}


def busy(width: int, height: int) -> Image.Image:
    """Stripes, noise and saturated blocks: as hard on a cover's rim as a picture can be."""
    rng = np.random.default_rng(3)
    pixels = rng.integers(0, 256, (height, width, 3), dtype=np.uint8)
    pixels[:, ::6] = (255, 0, 0)
    pixels[::5, :] = (0, 0, 255)
    pixels[::7, ::2] = 255
    return Image.fromarray(pixels)


def jpeg(image: Image.Image, **how: Any) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, "JPEG", quality=92, **how)
    return buffer.getvalue()


COVERS = (Rectangle(0.4, 0.3, 0.2, 0.3), Rectangle(0.0, 0.9, 0.03, 0.1), Rectangle(0.7, 0.05, 0.004, 0.004))
"""A face, a corner, and a speck."""


@pytest.mark.parametrize("form", sorted(ENCODERS))
@pytest.mark.parametrize("long_edge", [160, 480, 960, 1500])
def test_covers_are_solid_in_the_written_file(form: str, long_edge: int) -> None:
    """Decoded again, every pixel of each drawn box is the cover's colour as far as an encoder can keep it."""
    photo = photograph_from(jpeg(busy(1500, 1000)), "p.jpg")
    written = ENCODERS[form](remake(photo, COVERS, long_edge))
    prove_covered(Image.open(io.BytesIO(written)), COVERS)


def test_the_proof_sees_what_is_not_covered() -> None:
    """One bright pixel inside, a translucent cover, a mosaic, or no cover at all."""
    photo = photograph_from(jpeg(busy(600, 400)), "p.jpg")
    good = remake(photo, COVERS[:1], 600)
    bare = remake(photo, (), 600)
    speck = good.copy()
    speck.putpixel((300, 180), (119, 119, 133))
    mosaic = bare.resize((40, 30)).resize((600, 400), Image.Resampling.NEAREST)
    prove_covered(good, COVERS[:1])
    for open_picture in (speck, Image.blend(bare, good, 0.9), mosaic, bare):
        with pytest.raises(CoverNotProvedError):
            prove_covered(open_picture, COVERS[:1])


@pytest.mark.parametrize("growth", [None, 0.0])
def test_nothing_under_a_cover_reaches_the_picture(
    growth: float | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two photos that differ only under the cover give the same bytes, at every size, cropped or whole.

    Also when covers are not grown: what is hidden must be gone before anything is averaged.
    """
    if growth is not None:
        monkeypatch.setattr(photographs, "GROWTH", growth)
        monkeypatch.setattr(photographs, "SMALLEST_RIM_PX", 0)
    first = busy(1200, 800)
    second = first.copy()
    second.paste((255, 255, 0), (480, 240, 720, 480))
    part = Rectangle(0.3, 0.2, 0.5, 0.6)
    photos = []
    for image in (first, second):
        buffer = io.BytesIO()
        image.save(buffer, "PNG")
        photos.append(photograph_from(buffer.getvalue(), "p.png"))
    whole = Rectangle(0, 0, 1, 1)
    for long_edge, shown in ((150, whole), (600, whole), (1200, whole), (200, part), (600, part)):
        made = [remake(photo, COVERS[:1], long_edge, part=shown) for photo in photos]
        assert made[0].tobytes() == made[1].tobytes()


@pytest.mark.parametrize("long_side", [1500, 3300, 6500])
def test_a_smaller_decode_lets_nothing_out_from_under_a_cover(long_side: int) -> None:
    """JPEGs that differ only under the cover, in blocks that reach beyond it, give the same bytes.

    Decoded in full, at half and at a quarter. The cover's edges fall inside blocks of 8 and of 16 pixels.
    """
    first = busy(long_side, long_side * 2 // 3)
    cover = Rectangle(0.3003, 0.4007, 0.0811, 0.1013)
    second = first.copy()
    second.paste((255, 255, 0), pixel_box(cover, *first.size))
    photos = [photograph_from(jpeg(image), "p.jpg") for image in (first, second)]
    assert not np.array_equal(*(photo.encoded_pixels() for photo in photos))
    for part in (Rectangle(0, 0, 1, 1), Rectangle(0.25, 0.35, 0.1, 0.2)):
        made = [remake(photo, [cover], 1600, part=part) for photo in photos]
        assert made[0].tobytes() == made[1].tobytes()
        assert made[0].getextrema() != tuple((grey, grey) for grey in COVER_COLOUR)
    sizes = {max(photo.decoded(at_least=LONGEST_EDGE).size) for photo in photos}
    assert sizes == {{1500: 1500, 3300: 1650, 6500: 1625}[long_side]}


def test_a_cover_is_larger_than_it_was_drawn() -> None:
    """By 30 % of its sides in all, and by at least 16 pixels on each side."""
    photo = photograph_from(jpeg(Image.new("RGB", (1000, 1000), "white")), "p.jpg")
    pixels = np.asarray(remake(photo, [Rectangle(0.4, 0.4, 0.2, 0.2), Rectangle(0.1, 0.1, 0.01, 0.01)], 1000))
    covered = (pixels == COVER_COLOUR).all(axis=-1)
    assert covered[370:630, 370:630].all()
    assert not covered[369, 500]
    assert covered[84:126, 84:126].all()
    assert not covered[83, 100]


def test_a_part_shows_its_covers_in_their_places() -> None:
    """A crop is cut from the covered photo, and proved by the same rectangles or by its own fractions."""
    photo = photograph_from(jpeg(busy(1000, 800)), "p.jpg")
    part = Rectangle(0.35, 0.25, 0.4, 0.5)
    cut = remake(photo, COVERS[:1], 300, part=part)
    assert cut.size == (300, 300)
    prove_covered(cut, COVERS[:1], part=part)
    prove_covered(cut, [Rectangle(0.05 / 0.4, 0.05 / 0.5, 0.2 / 0.4, 0.3 / 0.5)])


def test_a_picture_is_never_blown_up_and_keeps_its_proportions() -> None:
    """Asked for more than there is, it comes at its own size."""
    photo = photograph_from(jpeg(busy(300, 200)), "p.jpg")
    assert remake(photo, (), 960).size == (300, 200)
    assert remake(photo, (), 150).size == (150, 100)
    assert remake(photo, (), 100, part=Rectangle(0, 0, 1 / 3, 1)).size == (50, 100)
    with pytest.raises(ValueError, match="long edge"):
        remake(photo, (), 0)


def test_a_smaller_decode_shows_the_same_picture() -> None:
    """Without covers a large JPEG is decoded smaller: within 1 of 255 of resizing all of it, on average."""
    rng = np.random.default_rng(1)
    coarse = Image.fromarray(rng.integers(0, 256, (40, 60, 3), dtype=np.uint8))
    data = jpeg(coarse.resize((2400, 1600), Image.Resampling.BICUBIC))
    quick = np.asarray(remake(photograph_from(data, "p.jpg"), (), 300)).astype(int)
    full = Image.open(io.BytesIO(data)).resize((300, 200), Image.Resampling.LANCZOS)
    assert np.abs(quick - np.asarray(full)).mean() < 1


def with_everything() -> dict[str, bytes]:
    """Photos that carry something in every slot their format has, each with the word CANARY."""
    image = busy(200, 140)
    exif = Image.Exif()
    exif[0x010E] = "CANARY description"
    exif[0x013B] = "CANARY artist"
    exif[0x8298] = "CANARY copyright"
    exif[0x0131] = "CANARY software"
    exif[0x9C9B] = "CANARY title".encode("utf-16-le")
    exif[0x010F] = "CANARY make"
    exif[274] = 6
    details = exif.get_ifd(0x8769)
    details[0x9286] = b"ASCII\0\0\0CANARY comment"
    details[0x927C] = b"CANARY maker note"
    details[0xA430] = "CANARY owner"
    details[0xA431] = "CANARY serial"
    details[0x9003] = "2024:09:03 10:00:00"
    place = exif.get_ifd(0x8825)
    place[1], place[2], place[3], place[4] = "N", (40.0, 24.0, 0.0), "W", (3.0, 42.0, 0.0)
    place[0x1D] = "2024:09:03"
    xmp = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'><rdf:RDF>CANARY xmp</rdf:RDF></x:xmpmeta>"
    icc = matrix_profile(DISPLAY_P3_XY, SRGB_CURVE).replace(b"\0x", b"\0X") + b"CANARY profile"
    text = PngImagePlugin.PngInfo()
    text.add_text("Comment", "CANARY text")
    text.add_text("Author", "CANARY zipped", zip=True)
    text.add_itxt("Title", "CANARY international")
    text.add(b"prVt", b"CANARY private chunk")
    made: dict[str, bytes] = {}
    slots: dict[str, dict[str, Any]] = {
        "JPEG": {
            "exif": exif,
            "xmp": xmp,
            "icc_profile": icc,
            "comment": b"CANARY comment",
            "extra": _iptc(),
        },
        "PNG": {"exif": exif, "icc_profile": icc, "pnginfo": text},
        "WEBP": {"exif": exif, "xmp": xmp, "icc_profile": icc},
        "AVIF": {"exif": exif, "xmp": xmp, "icc_profile": icc},
    }
    for form, how in slots.items():
        buffer = io.BytesIO()
        image.save(buffer, form, **how)
        made[form] = buffer.getvalue() + b"CANARY trailer"
    pair = io.BytesIO()
    image.save(pair, "MPO", save_all=True, append_images=[busy(200, 140)], comment=b"CANARY second picture")
    made["MPO"] = pair.getvalue()
    return made


def _iptc() -> bytes:
    """An APP13 segment as photo programmes write it."""
    record = b"\x1c\x02\x78\0\x0eCANARY caption"
    block = b"8BIM\x04\x04\0\0" + len(record).to_bytes(4) + record + bytes(len(record) % 2)
    content = b"Photoshop 3.0\0" + block
    return b"\xff\xed" + (len(content) + 2).to_bytes(2) + content


SOURCES = with_everything()


@pytest.mark.parametrize("source", sorted(SOURCES))
@pytest.mark.parametrize("form", sorted(ENCODERS))
def test_published_photos_carry_no_metadata(tmp_path: Path, source: str, form: str) -> None:
    """Planted in Exif, GPS, XMP, IPTC, comments, text chunks, profiles, trailers and second pictures: none
    is left, by the bytes and by exiftool, an inspector of its own."""
    assert SOURCES[source].count(b"CANARY") >= 1
    path = tmp_path / f"p.{form}"
    path.write_bytes(ENCODERS[form](remake(photograph_from(SOURCES[source], "p"), (), 120)))
    data = path.read_bytes()
    assert b"CANARY" not in data
    assert b"2024" not in data
    assert data.count(b"\xff\xd8\xff") <= 1
    assert_only_allowed_groups(path)


ALLOWED_GROUPS = {
    "SourceFile",
    "ExifTool",
    "System",
    "File",
    "Composite",
    "JFIF",
    "RIFF",
    "QuickTime",
    "Meta",
}


def assert_only_allowed_groups(path: Path) -> None:
    """What exiftool finds is the picture's own construction, without a warning."""
    run = subprocess.run(
        ["exiftool", "-json", "-a", "-G1", "-s", str(path)], capture_output=True, text=True, check=True
    )
    facts = json.loads(run.stdout)[0]
    groups = {key.partition(":")[0] for key in facts}
    assert groups <= ALLOWED_GROUPS, groups
    assert not any("Warning" in key or "Error" in key for key in facts)
    if "JFIF:JFIFVersion" in facts:
        assert (facts["JFIF:ResolutionUnit"], facts["JFIF:XResolution"]) == ("None", 1)
    if path.suffix == ".avif":
        assert facts["QuickTime:ColorProfiles"] == "nclx"


def test_the_inspector_would_notice(tmp_path: Path) -> None:
    """exiftool does see the planted groups in the sources, so its silence above means something."""
    for form in ("JPEG", "WEBP", "AVIF"):
        path = tmp_path / f"source.{form.lower()}"
        path.write_bytes(SOURCES[form])
        with pytest.raises(AssertionError):
            assert_only_allowed_groups(path)


@pytest.mark.parametrize("form", sorted(ENCODERS))
def test_the_same_pixels_give_the_same_bytes(form: str) -> None:
    """Nothing of the time or the number of threads is in a file."""
    image = busy(300, 200)
    assert ENCODERS[form](image) == ENCODERS[form](image.copy())


def test_only_plain_pixels_are_encoded() -> None:
    """A transparent picture would keep what it seems to hide."""
    for encode in ENCODERS.values():
        with pytest.raises(ValueError, match="RGB"):
            encode(busy(80, 80).convert("RGBA"))


def test_what_hangs_on_a_picture_is_not_encoded() -> None:
    """Even when somebody hands over a picture with a profile and a comment."""
    image = busy(80, 80)
    image.info.update(
        icc_profile=ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes(),
        comment=b"CANARY",
        exif=b"Exif\0\0MM\0*CANARY",
        xmp=b"CANARY",
    )
    for encode in ENCODERS.values():
        assert b"CANARY" not in encode(image)
        assert b"acsp" not in encode(image)


def test_lossless_is_lossless() -> None:
    """A raster's flat colours come back exactly."""
    image = busy(90, 70)
    assert Image.open(io.BytesIO(encode_webp_lossless(image))).convert("RGB").tobytes() == image.tobytes()


def test_a_display_p3_photo_is_shown_as_srgb_without_a_tag() -> None:
    """Its colours are converted, not renumbered by dropping the profile; flat colours within 2 of 255."""
    colours = np.array([[[200, 90, 40], [90, 160, 90]]], dtype=np.uint8)
    blocks = Image.fromarray(np.repeat(np.repeat(colours, 100, 0), 100, 1))
    buffer = io.BytesIO()
    blocks.save(buffer, "PNG", icc_profile=matrix_profile(DISPLAY_P3_XY, SRGB_CURVE))
    photo = photograph_from(buffer.getvalue(), "p.png")
    shown = np.asarray(remake(photo, (), 200)).astype(int)
    expected = np.asarray(photo.srgb_image()).astype(int)
    for at in ((50, 50), (50, 150)):
        assert np.abs(shown[at] - expected[at]).max() <= 2
        assert np.abs(shown[at] - np.asarray(blocks)[at]).max() > 5
