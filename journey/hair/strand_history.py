"""A zone's hair on every day followed: its strand after each operation, and the map of all days at once.

Decides which state holds on which day.  What the states are is ``strand``; the colour of what lies there is
left to the study.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Self

import numpy as np
from numpy.typing import NDArray

from journey.hair.layers import Layers
from journey.hair.strand import Segment, Strand

NO_HAIR = -1
"""Stands in a layer map past the tip."""


@dataclass(frozen=True, slots=True)
class StrandHistory:
    """States in the order of their days; of several on one day, the last holds."""

    states: tuple[Strand, ...]

    @classmethod
    def of(cls, start: Strand) -> Self:
        return cls((start,))

    def then(self, state: Strand) -> StrandHistory:
        if state.day < self.latest.day:
            raise ValueError(
                f"zone {state.zone!r}: day {state.day:g} comes after day {self.latest.day:g}, already done; "
                f"put services in the order of their days"
            )
        return StrandHistory((*self.states, state))

    @property
    def latest(self) -> Strand:
        return self.states[-1]

    def at(self, day: float) -> Strand:
        """The hair on a day, grown to it; refuses a day before the first."""
        return self._state(day).grow_to(day)

    def profile(self, day: float) -> tuple[Segment, ...]:
        """The hair on a day in cm from the scalp, scalp to tip."""
        return self._state(day).profile(day)

    def _state(self, day: float) -> Strand:
        place = bisect_right(self.states, day, key=lambda state: state.day)
        if place == 0:
            raise ValueError(f"day {day:g} lies before day {self.states[0].day:g}, where this history begins")
        return self.states[place - 1]


@dataclass(frozen=True, slots=True)
class LayerMap:
    """What lies where on many days: ``layers[index[row, column]]``, or no hair where that is -1."""

    days: NDArray[np.float64]
    """Shape (rows,)."""
    step_cm: float
    """Width of a column; column j stands for its middle, (j + 1/2) * step from the scalp."""
    index: NDArray[np.int32]
    """Shape (rows, columns)."""
    layers: tuple[Layers, ...]
    """Each once, in the order in which they are first met."""


def layer_map(history: StrandHistory, days: Iterable[float], step_cm: float = 0.1) -> LayerMap:
    """The layers on each of ``days``, sampled every ``step_cm`` from the scalp to the longest tip."""
    if not step_cm > 0:
        raise ValueError(f"the columns of a layer map have a width above 0, not {step_cm!r} cm")
    rows = [history.profile(day) for day in days]
    longest = max((row[-1].to_cm for row in rows if row), default=0.0)
    middles = (np.arange(int(np.ceil(longest / step_cm - 1e-6))) + 0.5) * step_cm
    index = np.full((len(rows), len(middles)), NO_HAIR, dtype=np.int32)
    numbers: dict[Layers, int] = {}
    for row, profile in zip(index, rows, strict=True):
        if not profile:
            continue
        known = np.array(
            [numbers.setdefault(piece.layers, len(numbers)) for piece in profile], dtype=np.int32
        )
        place = np.searchsorted([piece.to_cm for piece in profile], middles, side="right")
        inside = place < len(profile)
        row[inside] = known[place[inside]]
    return LayerMap(np.asarray(list(days), dtype=float), step_cm, index, tuple(numbers))
