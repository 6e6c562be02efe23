"""What there is to say of one zone's hair from root to tip: lines, coats, extensions, growth and trims.

Part of the study's results (`journey.study.model`); values carry the record's own keys and days.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date

import numpy as np
from numpy.typing import NDArray

from journey.hair.absent import Absent
from journey.hair.interval import Interval
from journey.hair.strand_history import StrandHistory

DateRange = tuple[date, date, date]
"""Fast, expected and slow growth: the earliest day first."""


@dataclass(frozen=True, slots=True)
class Line:
    """A line one can see along the strand, today."""

    cm: float
    """From the scalp, at the expected growth."""
    range_cm: tuple[float, float] | Absent
    """At slow and at fast growth."""
    reaches_tips: DateRange | Absent
    """Days on which it will be at the tips, if the hair is kept at today's length."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AddedHair:
    """Extensions in one zone, on the last day they were in."""

    put_in: date
    taken_out: date | None
    """None while they are in."""
    span_cm: tuple[float, float]
    """From the scalp."""
    level: float
    coats: tuple[tuple[str, float], ...]
    """What was laid on them, top one first, and the share of it left."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StrandStudy:
    """One zone's hair over time."""

    zone: str
    history: StrandHistory
    """After each event; days count from week 0."""
    raster: NDArray[np.uint8] = field(repr=False, compare=False)
    """sRGB and alpha (rows, columns, 4), alpha 0 past the tip; a row is a quarter day, a column a millimetre."""
    first_day: date
    forecast_from: date
    last_day: date
    follow: tuple[tuple[float, float], ...]
    """(week, cm) of one point on the hair as it grows out."""
    grown_cm: Interval
    cut_cm: float
    new_growth_cm: Interval | Absent
    added: tuple[AddedHair, ...]
    """Extensions, first to last; those taken out as they were then."""
    lines: tuple[Line, ...]
    """Scalp to tip."""
    coats_today: tuple[str, ...]
    """Names, top one first."""
    coat_shares: tuple[float, ...]
    """Share left of each, by what washing and removals took."""
    under_top: str
    """What would show if the top coat were gone."""
    colour_gone_on: date | None
    """Day the last coloured centimetre of a clipped zone was (or will be) cut off."""
    clip_takes_all: DateRange | Absent | None
    """Days from which a clip to the zone's length leaves no colour, fast growth first; None: not clipped."""
