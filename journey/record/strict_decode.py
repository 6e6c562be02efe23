"""Bytes of a photo to bare 8-bit RGB, or an error: never to pixels that were made up for missing ones.

It decides which decoder is trusted with which format. JPEG goes through libjpeg-turbo with its warnings taken
as errors, since the usual way paints grey over a hole and says nothing. Everything raised here is a decoder's
own; giving it words is left to `photograph_intake`.
"""

from __future__ import annotations

import io
import threading
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from functools import lru_cache
from typing import Final, cast

import numpy as np
import simplejpeg  # type: ignore[import-untyped]
from numpy.typing import NDArray
from PIL import Image, ImageCms

from journey.colour.spaces import encode_srgb, linear_rgb_to_xyz, xyz_to_linear_rgb
from journey.record.embedded_profile import MatrixProfile
from journey.record.picture_formats import PictureFormat

_ROWS_AT_ONCE: Final = 256
_SMALLEST_DECODE: Final = {"min_width": 1, "min_height": 1, "min_factor": 8}
_WHITE: Final = (255, 255, 255, 255)

# Listening to warnings changes a setting of the whole process.
_listening = threading.Lock()


@contextmanager
def opened(data: bytes, kind: PictureFormat) -> Iterator[tuple[Image.Image, list[str]]]:
    """The picture's header, read by the one decoder its bytes call for, and what the decoder grumbled.

    The list fills while the context is open.
    """
    grumbles: list[str] = []
    with _listening, warnings.catch_warnings(record=True) as caught:
        warnings.simplefilter("always")
        with Image.open(io.BytesIO(data), formats=(kind,)) as image:
            try:
                yield image, grumbles
            finally:
                grumbles.extend(str(warning.message) for warning in caught)


def decode_rgb(data: bytes, kind: PictureFormat, mode: str, *, at_least: int) -> Image.Image:
    """Bare RGB pixels (CMYK stays CMYK), as stored: not yet upright, in the photo's own colour space.

    Args:
        data: the whole file.
        kind: its format.
        mode: Pillow's name for its pixels, as its header told.
        at_least: long edge in pixels that will do; 0 for all. Only JPEG takes the hint.

    Raises:
        Whatever the decoder raises for cut or damaged data.
    """
    if kind == "JPEG":
        if mode == "CMYK":
            prove_whole(data, kind)
            return _plain(_loaded(data, kind))
        return Image.fromarray(_decode_jpeg(data, at_least))
    if kind == "PNG":
        _check_sums(data)
    return _plain(_loaded(data, kind))


def prove_whole(data: bytes, kind: PictureFormat) -> None:
    """Decode all of it and keep nothing; for JPEG every coded bit is read but few pixels are made.

    Raises:
        Whatever the decoder raises for cut or damaged data.
    """
    if kind == "JPEG":
        simplejpeg.decode_jpeg(data, colorspace=_jpeg_space(data), strict=True, **_SMALLEST_DECODE)
        return
    if kind == "PNG":
        _check_sums(data)
    _loaded(data, kind)


def bare(image: Image.Image) -> Image.Image:
    """A new picture of the same pixels: no profile, Exif, comment or anything else rides along."""
    # A copy has the pixels, the palette and `info`, and nothing else of the picture it was made from.
    new = image.copy()
    new.info = {}
    return new


def to_srgb_by_littlecms(image: Image.Image, icc: bytes) -> Image.Image:
    """Through the embedded profile to 8-bit sRGB, relative colorimetric."""
    converted = ImageCms.applyTransform(image, _transform(icc, image.mode))
    return bare(cast("Image.Image", converted))


@lru_cache(maxsize=8)
def _transform(icc: bytes, mode: str) -> ImageCms.ImageCmsTransform:
    """Making one costs as much as converting a small picture; a client's phone has one profile."""
    return ImageCms.buildTransform(
        ImageCms.ImageCmsProfile(io.BytesIO(icc)),
        ImageCms.createProfile("sRGB"),
        mode,
        "RGB",
        renderingIntent=ImageCms.Intent.RELATIVE_COLORIMETRIC,
    )


def to_srgb_by_matrix(image: Image.Image, profile: MatrixProfile) -> Image.Image:
    """The same for a photo whose primaries are known but which carries no profile, a few rows at a time."""
    codes = np.asarray(image)
    out = np.empty_like(codes)
    for top in range(0, len(codes), _ROWS_AT_ONCE):
        light, primaries = profile.linear(codes[top : top + _ROWS_AT_ONCE])
        srgb = encode_srgb(xyz_to_linear_rgb(linear_rgb_to_xyz(light, primaries)))
        out[top : top + _ROWS_AT_ONCE] = np.rint(np.clip(srgb, 0, 1) * 255).astype(np.uint8)
    return Image.fromarray(out)


def littlecms_space(icc: bytes) -> str | None:
    """The kind of colour a profile speaks of ('RGB', 'CMYK', ...); None if LittleCMS can make nothing of it."""
    try:
        space = str(ImageCms.ImageCmsProfile(io.BytesIO(icc)).profile.xcolor_space).strip()
        if space in ("RGB", "CMYK"):
            _transform(icc, space)
        return space
    except (OSError, ValueError, ImageCms.PyCMSError):
        return None


def _decode_jpeg(data: bytes, at_least: int) -> NDArray[np.uint8]:
    """At a half, a quarter or an eighth where that is enough: scales between are slower than no scaling."""
    height, width, _, _ = simplejpeg.decode_jpeg_header(data)
    longest = max(height, width)
    scale = max((scale for scale in (1, 2, 4, 8) if -(-longest // scale) >= at_least), default=1)
    smallest = {"min_height": -(-height // scale), "min_width": -(-width // scale)} if at_least else {}
    return np.asarray(simplejpeg.decode_jpeg(data, colorspace="RGB", strict=True, **smallest))


def _jpeg_space(data: bytes) -> str:
    return "CMYK" if simplejpeg.decode_jpeg_header(data)[2] in ("CMYK", "YCCK") else "RGB"


def _loaded(data: bytes, kind: PictureFormat) -> Image.Image:
    with opened(data, kind) as (image, _):
        image.load()
        return image.copy()


def _check_sums(data: bytes) -> None:
    """A PNG's chunks carry checksums that loading alone does not look at."""
    with opened(data, "PNG") as (image, _):
        image.verify()


def _plain(image: Image.Image) -> Image.Image:
    """Any accepted kind of pixels as bare RGB, CMYK excepted."""
    if image.mode in ("I;16", "I;16B"):
        # Pillow's own conversion clips at 255 instead of scaling.
        grey = np.rint(np.asarray(image).astype(np.float64) / 257).astype(np.uint8)
        image = Image.fromarray(grey)
    if image.mode in ("RGBA", "LA", "PA") or "transparency" in image.info:
        # What lies under full transparency is not part of the picture and must not come out again.
        paper = Image.new("RGBA", image.size, _WHITE)
        image = Image.alpha_composite(paper, image.convert("RGBA"))
    return bare(image if image.mode in ("RGB", "CMYK") else image.convert("RGB"))
