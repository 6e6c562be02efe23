"""Pictures with and without faces, of what ships inside scikit-image and of our own drawing.

The astronaut is a NASA portrait in the public domain; the small faces are 100 of Labeled Faces in the Wild at
25 px, grey, as scikit-image ships them with 100 patches without a face (Huang et al. 2007, via scikit-image's
`lfw_subset`). Both are used as test data only, never published.
"""

from __future__ import annotations

import functools
import io
from pathlib import Path

import numpy as np
import skimage
from numpy.typing import NDArray
from PIL import Image

from tests.demo import DEMO
from tests.record.demo_photos import drawn_photos

Pixels = NDArray[np.uint8]

ASTRONAUT_FACE = (0.348, 0.118, 0.183, 0.230)
"""Left, top, width, height, as fractions, read off by eye: chin to hairline."""
ASTRONAUT_HEAD = (0.28, 0.02, 0.32, 0.38)
"""With her hair."""
_PATCHES = "data/lfw_subset.npy"
_WITH_A_FACE = 100


@functools.cache
def astronaut() -> Image.Image:
    """512 x 512 px."""
    with Image.open(Path(skimage.__file__).parent / "data" / "astronaut.png") as picture:
        return picture.convert("RGB")


@functools.cache
def small_faces() -> tuple[Image.Image, ...]:
    """100 faces of 25 x 25 px that fill their frames."""
    return _patches()[:_WITH_A_FACE]


@functools.cache
def patches_without_a_face() -> tuple[Image.Image, ...]:
    """100 patches of 25 x 25 px; a few hold a part of a face."""
    return _patches()[_WITH_A_FACE:]


@functools.cache
def backgrounds(long_edge: int = 480) -> tuple[Image.Image, ...]:
    """The demo's photos without faces, at most `long_edge` px: backs of heads, locks, hair close up.

    Left out are the two in which a face is drawn, which the net sees.
    """
    found = []
    for fact in sorted(drawn_photos(), key=lambda fact: str(fact["file"])):
        if any("face" in cover["what"] for cover in fact.get("cover", ())):
            continue
        with Image.open(DEMO / "photos" / fact["file"]) as photo:
            photo.draft("RGB", (long_edge, long_edge))
            small = photo.convert("RGB")
        small.thumbnail((long_edge, long_edge))
        found.append(small)
    return tuple(found)


def pasted_at(
    face: Image.Image, ground: Image.Image, side: int, turn_degrees: float, seed: int
) -> tuple[Image.Image, tuple[float, float, float, float]]:
    """A face of `side` px, turned, somewhere on a ground, with hard edges; and where, as fractions."""
    turned = face.resize((side, side), Image.Resampling.BICUBIC).convert("RGBA")
    turned = turned.rotate(turn_degrees, expand=True, resample=Image.Resampling.BICUBIC)
    picture = ground.copy()
    draw = np.random.default_rng(seed)
    x = int(draw.integers(0, ground.width - turned.width))
    y = int(draw.integers(0, ground.height - turned.height))
    picture.paste(turned, (x, y), turned)
    wide, tall = ground.size
    return picture, (x / wide, y / tall, turned.width / wide, turned.height / tall)


def as_pixels(picture: Image.Image) -> Pixels:
    return np.asarray(picture.convert("RGB"))


def as_png(picture: Image.Image) -> bytes:
    buffer = io.BytesIO()
    picture.save(buffer, "PNG")
    return buffer.getvalue()


def _patches() -> tuple[Image.Image, ...]:
    grey = np.load(Path(skimage.__file__).parent / _PATCHES)
    return tuple(Image.fromarray((patch * 255).astype(np.uint8)).convert("RGB") for patch in grey)
