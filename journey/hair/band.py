"""Where along the strand a service acts: roots, mid-lengths, ends, all, or a distance from the scalp.

Decides what those words mean in centimetres.  How much new growth there is, is left to ``strand``.

The trade uses the words without numbers; the numbers below are this tool's reading of them (common
practice, no source).  Hair shorter than its roots has roots only: its other bands are empty.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Self

ROOTS = "roots"
MID_LENGTHS = "mid-lengths"
ENDS = "ends"
ALL = "all"
NAMED_BANDS = (ROOTS, MID_LENGTHS, ENDS, ALL)

ROOTS_CM = 2.0
"""Roots, where there is no new growth to go by."""

LEAST_NEW_GROWTH_CM = 0.5
"""New growth shorter than this does not move the end of the roots."""

ENDS_SHARE = 0.25
"""Ends are the last quarter of the length."""


@dataclass(frozen=True, slots=True)
class Band:
    """A named band, or the stretch ``from_cm`` to ``to_cm`` counted from the scalp."""

    name: str | None = None
    from_cm: float = 0.0
    to_cm: float = math.inf

    def __post_init__(self) -> None:
        if self.name is not None and self.name not in NAMED_BANDS:
            raise ValueError(f"{self.name!r} is no band; write {', '.join(NAMED_BANDS)} or '2 cm to 8 cm'")
        if not 0 <= self.from_cm < self.to_cm:
            raise ValueError(
                f"a band runs from the scalp outwards, not from {self.from_cm!r} to {self.to_cm!r} cm"
            )

    @classmethod
    def between(cls, from_cm: float, to_cm: float = math.inf) -> Self:
        return cls(None, from_cm, to_cm)

    def span_cm(self, length_cm: float, new_growth_cm: float | None = None) -> tuple[float, float]:
        """The band on hair of this length, as (nearer, farther) cm from the scalp; equal when empty.

        ``new_growth_cm`` is the hair grown since the last service that reached the roots, ``None`` when
        there was none.

        >>> Band("roots").span_cm(30.0), Band("roots").span_cm(30.0, 3.1)
        ((0.0, 2.0), (0.0, 3.1))
        >>> Band("mid-lengths").span_cm(30.0), Band("ends").span_cm(30.0)
        ((2.0, 22.5), (22.5, 30.0))
        >>> Band("ends").span_cm(0.6)
        (0.6, 0.6)
        """
        grown = new_growth_cm is not None and new_growth_cm >= LEAST_NEW_GROWTH_CM
        roots_end = min(new_growth_cm if grown and new_growth_cm is not None else ROOTS_CM, length_cm)
        ends_start = max(roots_end, (1 - ENDS_SHARE) * length_cm)
        if self.name == ROOTS:
            return 0.0, roots_end
        if self.name == MID_LENGTHS:
            return roots_end, ends_start
        if self.name == ENDS:
            return ends_start, length_cm
        return min(self.from_cm, length_cm), min(self.to_cm, length_cm)


WHOLE_LENGTH = Band(ALL)
