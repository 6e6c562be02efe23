"""A run of hair colours along a line, as few gradient stops as the eye needs.

Decides how colours between two known moments are filled in (evenly in encoded sRGB, which neighbouring days
allow) and which stops can be left out because their neighbours already lead through them.
"""

from collections.abc import Sequence

import numpy as np

from journey.colour.difference import delta_e_2000
from journey.colour.spaces import hex_to_lab
from journey.site.charts.thinning import points_that_matter
from journey.site.charts.tokens import CARD_GREY

Stop = tuple[float, str]
"""(offset 0..1 along the gradient, '#rrggbb')."""

_VANISHING_DELTA_E_2000 = 12.0
"""Nearer to the grey ground than this, hair needs a line around it to be seen."""


def between(hex_1: str, hex_2: str, share: float) -> str:
    """The colour `share` (0..1) of the way from the first to the second, in encoded sRGB.

    >>> between("#000000", "#ff8000", 0.5)
    '#804000'
    """
    mixed = _codes(hex_1) + (_codes(hex_2) - _codes(hex_1)) * share
    return "#" + "".join(f"{int(value + 0.5):02x}" for value in mixed)


def vanishes_into_card(colours: Sequence[str]) -> bool:
    """Whether any of these colours is hard to tell from the grey the charts stand on (CIEDE2000)."""
    card = hex_to_lab(CARD_GREY)
    return any(float(delta_e_2000(hex_to_lab(c), card)) < _VANISHING_DELTA_E_2000 for c in colours)


def fewest_stops(stops: Sequence[Stop], tolerance: float = 2.0) -> tuple[Stop, ...]:
    """Leave out stops that their neighbours imply to within `tolerance` 8-bit code values.

    >>> fewest_stops([(0.0, "#000000"), (0.5, "#404040"), (1.0, "#808080")])
    ((0.0, '#000000'), (1.0, '#808080'))
    """
    if not stops:
        return ()
    offsets = [offset for offset, _ in stops]
    codes = np.array([_codes(colour) for _, colour in stops])
    return tuple(stops[i] for i in points_that_matter(offsets, codes, tolerance))


def _codes(hex_colour: str) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    return np.array([int(hex_colour[i : i + 2], 16) for i in (1, 3, 5)], dtype=np.float64)
