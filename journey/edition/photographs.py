"""A photo made anew for a page: upright, in sRGB, covers solid, and not a byte of the file it came from.

It decides how a cover hides and how a picture is encoded. What must be covered was said by a person in the
record; whether the published file is clean is looked at again, by other means, in `journey.audit.images`.

A cover is one constant colour over the whole box and some way beyond. Blurs and mosaics are not offered:
faces under them are still recognised (McPherson, Shokri and Shmatikov 2016, arXiv 1609.00408; Hill et al.,
PoPETs 2016). The box is filled before any resizing, so that nothing of it enters that, and once more after it,
so that its rim is clean. A covered face is still not anonymity: hair, clothes and room remain.
"""

from __future__ import annotations

import tempfile
from collections.abc import Sequence
from math import ceil, floor
from typing import Final

import numpy as np
from PIL import Image

from journey.errors import JourneyError
from journey.record.photograph_intake import Photograph, pixel_box
from journey.record.rectangle import Rectangle
from journey.record.strict_decode import bare

COVER_COLOUR: Final = (119, 119, 119)
"""A middle grey: it says nothing of what it hides and does not pull the eye's judgement of the hair."""
GROWTH: Final = 0.30
"""A cover is made this much wider and taller than it was drawn: people draw boxes too tight."""
SMALLEST_RIM_PX: Final = 16
"""Encoders smear the surroundings into a cover: JPEG by one block of colour, 16 px, AVIF a little further."""
COVER_TOLERANCE: Final = 12
"""Of 255: how far an encoder may move the colour inside the rim; measured 0 for JPEG, 6 for AVIF."""
LONGEST_EDGE: Final = 1600
"""No picture shows a photo larger than this, in pixels of the whole photo's longer side."""

_WHOLE: Final = Rectangle(0.0, 0.0, 1.0, 1.0)

Box = tuple[int, int, int, int]
"""Left, top, right, bottom in pixels."""


class CoverNotProvedError(JourneyError):
    """A finished picture shows something inside a box that should be covered."""


def remake(
    photograph: Photograph, covers: Sequence[Rectangle], long_edge: int, *, part: Rectangle = _WHOLE
) -> Image.Image:
    """Bare sRGB pixels of a photo, or of a part of it, with its covers filled.

    The photo is decoded as small as `LONGEST_EDGE` allows, whatever part or size is asked for: then all its
    pictures share one decode, and each is the same whether or not others are made. A JPEG decoded smaller mixes
    no more than 16 x 16 of its pixels into one, and a cover is filled at least 16 decoded pixels beyond its box:
    what lies under the box is not in what is left.

    Args:
        photograph: the photo as taken in.
        covers: what to hide, in fractions of the whole upright photo.
        long_edge: pixels of the longer side at most; a picture is never blown up.
        part: what to show, in fractions of the whole upright photo.

    Raises:
        PhotographRefusedError: the photo can not be decoded whole.
        ValueError: `long_edge` is less than 1.
    """
    if long_edge < 1:
        raise ValueError(f"a long edge of {long_edge} px shows nothing")
    image = photograph.decoded(at_least=LONGEST_EDGE)
    if covers:
        image = image.copy()
        _fill(image, [_grown(cover, _WHOLE, image.size) for cover in covers])
    # Without covers the kept pixels are only read: resizing and converting make new ones.
    box = pixel_box(part, *image.size)
    size = _fitted((box[2] - box[0], box[3] - box[1]), long_edge)
    image = _resized(image, size, box)
    image = bare(photograph.to_srgb(image))
    _fill(image, [_grown(cover, part, image.size) for cover in covers])
    return image


def reduced(image: Image.Image, covers: Sequence[Rectangle], long_edge: int) -> Image.Image:
    """A smaller picture from one that `remake` made, its covers, in fractions of the picture, filled anew."""
    size = _fitted(image.size, long_edge)
    # From a picture already resized once, this filter looks the same and takes a third of the time.
    smaller = bare(image.resize(size, Image.Resampling.HAMMING))
    _fill(smaller, [_grown(cover, _WHOLE, smaller.size) for cover in covers])
    return smaller


def prove_covered(decoded: Image.Image, covers: Sequence[Rectangle], *, part: Rectangle = _WHOLE) -> None:
    """Look at a finished picture: inside each cover there must be nothing but the cover's colour.

    Args:
        decoded: the written file, opened again.
        covers: as handed to `remake`, or, with `part` left out, in fractions of this picture.
        part: as handed to `remake`.

    Raises:
        CoverNotProvedError: some pixel differs by more than an encoder explains.
    """
    pixels = np.asarray(decoded.convert("RGB")).astype(np.int16)
    for number, cover in enumerate(covers, 1):
        left, top, right, bottom = _drawn(cover, part, decoded.size)
        inside = pixels[top:bottom, left:right]
        if inside.size and int(np.abs(inside - COVER_COLOUR).max()) > COVER_TOLERANCE:
            raise CoverNotProvedError(
                f"cover {number} of a picture of {decoded.width}x{decoded.height} px does not hide what it "
                "should; the picture must not be published"
            )


def encode_jpeg(image: Image.Image, *, quality: int = 80) -> bytes:
    """A progressive JPEG with colour at half resolution. Raises ValueError unless `image` is RGB."""
    return _encoded(image, "JPEG", quality=quality, progressive=True, optimize=True, subsampling="4:2:0")


def encode_avif(image: Image.Image, *, quality: int = 58) -> bytes:
    """An AVIF. One thread, as the bytes would differ with their number. Raises ValueError unless RGB."""
    return _encoded(image, "AVIF", quality=quality, speed=9, max_threads=1)


def encode_webp_lossless(image: Image.Image) -> bytes:
    """For computed rasters, whose flat colours must not be smeared. Raises ValueError unless RGB."""
    return _encoded(image, "WEBP", lossless=True, method=4)


def _encoded(image: Image.Image, form: str, **settings: int | bool | str) -> bytes:
    if image.mode != "RGB":
        raise ValueError(f"only RGB pixels are encoded for a page, not {image.mode}")
    # Into a file that has no name and is gone with the process: into memory, a JPEG is encoded under the
    # interpreter's lock and other threads wait.
    with tempfile.TemporaryFile() as file:
        # Bare once more: a profile or comment that hangs on the picture would be written along.
        bare(image).save(file, form, **settings)
        file.seek(0)
        return file.read()


def _resized(image: Image.Image, size: tuple[int, int], box: Box) -> Image.Image:
    if size == (box[2] - box[0], box[3] - box[1]):
        return image.crop(box)
    return image.resize(size, Image.Resampling.LANCZOS, box, reducing_gap=2.0)


def _fitted(size: tuple[int, int], long_edge: int) -> tuple[int, int]:
    """The size within `long_edge`, of the same proportions, never larger.

    >>> _fitted((4000, 3000), 960), _fitted((300, 200), 960)
    ((960, 720), (300, 200))
    """
    scale = min(1.0, long_edge / max(size))
    return max(1, round(size[0] * scale)), max(1, round(size[1] * scale))


def _fill(image: Image.Image, boxes: Sequence[Box]) -> None:
    for box in boxes:
        if box[0] < box[2] and box[1] < box[3]:
            image.paste(COVER_COLOUR, box)


def _drawn(cover: Rectangle, part: Rectangle, size: tuple[int, int]) -> Box:
    """The cover as drawn, in pixels of a picture that shows `part`, rounded outwards."""
    return _clamped(_edges(cover, part, size), size)


def _grown(cover: Rectangle, part: Rectangle, size: tuple[int, int]) -> Box:
    """The cover as filled: larger by `GROWTH`, and by the rim that encoders smear."""
    left, top, right, bottom = _edges(cover, part, size)
    aside = max((right - left) * GROWTH / 2, SMALLEST_RIM_PX)
    above = max((bottom - top) * GROWTH / 2, SMALLEST_RIM_PX)
    return _clamped((left - aside, top - above, right + aside, bottom + above), size)


def _edges(cover: Rectangle, part: Rectangle, size: tuple[int, int]) -> tuple[float, float, float, float]:
    wide, tall = size[0] / part.width, size[1] / part.height
    return (
        (cover.left - part.left) * wide,
        (cover.top - part.top) * tall,
        (cover.right - part.left) * wide,
        (cover.bottom - part.top) * tall,
    )


def _clamped(edges: tuple[float, float, float, float], size: tuple[int, int]) -> Box:
    left, top, right, bottom = edges
    return (
        min(max(floor(left), 0), size[0]),
        min(max(floor(top), 0), size[1]),
        min(max(ceil(right), 0), size[0]),
        min(max(ceil(bottom), 0), size[1]),
    )
