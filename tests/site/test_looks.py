"""A written file is known for the picture that was signed, and told from it when it came out otherwise."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageDraw

from journey.cache import Cache, Shelf
from journey.edition.photographs import COVER_COLOUR, encode_avif, encode_jpeg, encode_webp_lossless
from journey.site.looks import FURTHEST, distance, look_of, look_of_file

FACE = (300, 120, 460, 330)


def scene(*, covered: bool = True) -> Image.Image:
    """Coral hair on a light ground, and a face that may be covered."""
    rng = np.random.default_rng(5)
    ground = np.full((600, 800, 3), (196, 192, 188), dtype=np.int16)
    ground[100:600, 120:520] = (196, 96, 88)
    ground += rng.integers(-14, 15, ground.shape, dtype=np.int16)
    image = Image.fromarray(ground.clip(0, 255).astype(np.uint8))
    ImageDraw.Draw(image).rectangle(FACE, fill=COVER_COLOUR if covered else (228, 190, 168))
    return image


@pytest.mark.parametrize("size", [(800, 600), (480, 360), (320, 240)])
def test_encoders_and_sizes_make_no_difference(size: tuple[int, int]) -> None:
    """AVIF, JPEG at two qualities and WebP at three sizes look alike."""
    signed = look_of(scene())
    small = scene().resize(size, Image.Resampling.LANCZOS)
    jpegs = (encode_jpeg(small), encode_jpeg(small, quality=50))
    for data in (encode_avif(small), *jpegs, encode_webp_lossless(small)):
        assert distance(signed, look_of_file(data)) <= FURTHEST // 2


def test_another_way_of_resizing_makes_no_difference() -> None:
    """The last bit of a library's arithmetic does not void a signature."""
    signed = look_of(scene())
    for way in (Image.Resampling.BILINEAR, Image.Resampling.BICUBIC, Image.Resampling.BOX):
        assert distance(signed, look_of(scene().resize((480, 360), way))) <= 2


@pytest.mark.parametrize(
    "otherwise",
    [
        lambda image: image.rotate(180),
        lambda image: image.transpose(Image.Transpose.FLIP_LEFT_RIGHT),
        lambda image: image.point(lambda value: int(255 * (value / 255) ** 0.8)),
        lambda image: image.crop((60, 60, 740, 560)),
        lambda image: Image.merge("RGB", image.split()[::-1]),
        lambda _: scene(covered=False),
    ],
    ids=["turned", "mirrored", "lighter", "cropped", "channels", "uncovered"],
)
def test_what_came_out_otherwise_is_told(otherwise: object) -> None:
    """Turned, mirrored, in another tone, otherwise cropped, or with the cover gone."""
    assert callable(otherwise)
    buffer = io.BytesIO()
    otherwise(scene()).save(buffer, "PNG")
    assert distance(look_of(scene()), look_of_file(buffer.getvalue())) > FURTHEST


def test_a_look_is_kept_for_the_very_same_file_alone(tmp_path: Path) -> None:
    """Asked twice it is the same; another file has its own."""
    shelf = Shelf(Cache.at(tmp_path / "kept"), ("a photo",))
    hidden, shown = encode_avif(scene()), encode_avif(scene(covered=False))
    assert [look_of_file(data, shelf) for data in (hidden, shown, hidden)] == [
        look_of_file(data) for data in (hidden, shown, hidden)
    ]
    assert distance(look_of_file(hidden, shelf), look_of_file(shown, shelf)) > FURTHEST


def test_a_wider_cover_is_no_difference_and_a_narrower_one_is() -> None:
    """More of the cover's grey shows nothing new; the other way round it does."""
    wider = scene()
    ImageDraw.Draw(wider).rectangle((FACE[0] - 60, FACE[1] - 60, FACE[2] + 60, FACE[3] + 60), fill=COVER_COLOUR)
    assert distance(look_of(scene()), look_of(wider)) <= FURTHEST
    assert distance(look_of(wider), look_of(scene())) > FURTHEST
