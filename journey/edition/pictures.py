"""Photos on their way to a page: neutral names in page order, covers filled, crops around a patch.

It decides which part of a photo is shown and what it is called; that only bare pixels leave, with covers
filled solid, is decided in `journey.edition.photographs`.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, field

from PIL import Image

from journey.edition.model import Picture
from journey.edition.photographs import LONGEST_EDGE, remake
from journey.record.intake import PhotoFolder
from journey.record.model import Photo
from journey.record.rectangle import Rectangle

CROP_TIMES_PATCH = 2.4
"""A crop shows this many times the patch's width: enough hair around it to see what was measured."""


@dataclass(frozen=True, slots=True)
class PhotoPart:
    """Where a picture's pixels come from: may be sent to another process, which opens the photo for itself."""

    photographs: PhotoFolder
    file: str
    covers: tuple[Rectangle, ...]
    part: Rectangle

    def __call__(self, long_edge: int) -> Image.Image:
        with self.photographs.opened(self.file) as photograph:
            return remake(photograph, self.covers, min(long_edge, LONGEST_EDGE), part=self.part)


@dataclass(slots=True)
class Pictures:
    """Makes each picture once, in the order the page asks for them."""

    photographs: PhotoFolder
    _made: dict[str, Picture] = field(default_factory=dict)

    def whole(self, photo: Photo, *, alt: str, caption: str) -> Picture:
        """The whole photo."""
        return self._picture(photo, Rectangle(0.0, 0.0, 1.0, 1.0), alt, caption)

    def around(self, photo: Photo, patch: Rectangle, *, alt: str, caption: str) -> Picture:
        """The square of a photo around a patch."""
        taken = self.photographs.facts(photo.file)
        return self._picture(photo, _square_around(patch, taken.width, taken.height), alt, caption)

    def all(self) -> tuple[tuple[str, Picture], ...]:
        """Each picture made so far with what it shows in the record's words: photo key, and which part."""
        return tuple(self._made.items())

    def _picture(self, photo: Photo, part: Rectangle, alt: str, caption: str) -> Picture:
        taken = self.photographs.facts(photo.file)
        key = f"{photo.key}/{part}"
        if key in self._made:
            return self._made[key]
        scale = min(1.0, LONGEST_EDGE / max(taken.width, taken.height))
        width, height = (
            max(1, round(taken.width * part.width * scale)),
            max(1, round(taken.height * part.height * scale)),
        )
        picture = Picture(
            name=f"p{len(self._made) + 1:02d}",
            width=width,
            height=height,
            alt=alt,
            caption=caption,
            source=PhotoPart(self.photographs, photo.file, tuple(photo.covers), part),
            photo=taken.sha256,
            fingerprint=_fingerprint(taken.sha256, part, photo.covers),
            covered=_covers_in(part, photo.covers),
        )
        self._made[key] = picture
        return picture


def _square_around(patch: Rectangle, width: int, height: int) -> Rectangle:
    """A square in pixels, centred on the patch and kept inside the photo."""
    side = min(CROP_TIMES_PATCH * max(patch.width * width, patch.height * height), width, height)
    wide, tall = side / width, side / height
    left = min(max(patch.left + patch.width / 2 - wide / 2, 0.0), 1.0 - wide)
    top = min(max(patch.top + patch.height / 2 - tall / 2, 0.0), 1.0 - tall)
    return Rectangle(left, top, min(wide, 1.0), min(tall, 1.0))


def _covers_in(part: Rectangle, covers: Sequence[Rectangle]) -> tuple[tuple[float, float, float, float], ...]:
    """Covers that reach into a part, in fractions of the part: left, top, width, height."""
    found = []
    for cover in covers:
        left, right = max(cover.left, part.left), min(cover.right, part.right)
        top, bottom = max(cover.top, part.top), min(cover.bottom, part.bottom)
        if left < right and top < bottom:
            found.append(
                (
                    (left - part.left) / part.width,
                    (top - part.top) / part.height,
                    (right - left) / part.width,
                    (bottom - top) / part.height,
                )
            )
    return tuple(found)


def _fingerprint(sha256: str, part: Rectangle, covers: Sequence[Rectangle]) -> str:
    said = "|".join((sha256, str(part), *(str(cover) for cover in covers)))
    return hashlib.sha256(said.encode()).hexdigest()
