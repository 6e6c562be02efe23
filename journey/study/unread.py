"""A marked patch or a magnified photo that no colour could be read from: told with its reason, never left away."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray
from PIL.Image import Image

from journey.colour.reason import Reason
from journey.record.model import Magnified, Patch, Photo
from journey.study.place import Place

MOST_SPREAD_OF_GREY = 2
"""Codes by which channels of a black-and-white photo differ after JPEG; any lamp on any hair parts them more."""

_SMALL_SIDE = 384
"""Pixels of the long edge that an outline is drawn from; more show it no better."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnreadPatch:
    """What was marked, and why nothing came of it."""

    key: str
    """'photo-key.zone.band', or 'photo-key.strands' of a magnified photo."""
    entry: str
    day: date
    stage: str
    place: Place
    reason: Reason


def unread(
    key: str, entry: str, day: date, photo: Photo, marked: Patch | Magnified, reason: Reason
) -> UnreadPatch:
    """A patch of a photo, or a magnified photo, that says nothing for this reason."""
    place = Place(marked.zone, str(marked.band))
    return UnreadPatch(key=key, entry=entry, day=day, stage=photo.moment, place=place, reason=reason)


def reduced_codes(image: Image) -> NDArray[np.uint8]:
    """A picture's codes (rows, columns, 3) averaged in whole blocks; its longer side has 384 to 767 of them."""
    return np.asarray(image.reduce(max(1, max(image.size) // _SMALL_SIDE)))


def without_colour(encoded: NDArray[np.uint8]) -> bool:
    """Whether a picture (rows, columns, 3) is black and white, however it is coded: it has lightness only."""
    spread = encoded.max(axis=-1).astype(int) - encoded.min(axis=-1)
    return bool(spread.max() <= MOST_SPREAD_OF_GREY)
