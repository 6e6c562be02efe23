"""A marked patch that no colour could be read from: it is told with its reason, never left away without a word."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from journey.colour.reason import Reason
from journey.study.place import Place

MOST_SPREAD_OF_GREY = 2
"""Codes by which channels of a black-and-white photo differ after JPEG; any lamp on any hair parts them more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UnreadPatch:
    """What was marked, and why nothing came of it."""

    key: str
    entry: str
    day: date
    stage: str
    place: Place
    reason: Reason


def without_colour(encoded: NDArray[np.uint8]) -> bool:
    """Whether a picture (rows, columns, 3) is black and white, however it is coded: it has lightness only."""
    spread = encoded.max(axis=-1).astype(int) - encoded.min(axis=-1)
    return bool(spread.max() <= MOST_SPREAD_OF_GREY)
