"""The figures of an edition: what each chart, map and board draws, with its words, its table and its note.

Values are those of the study, put into weeks and sRGB hex; how they are drawn is the site's.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from journey.edition.pieces import Chip, Fact, Mark, Picture, Table, When


@dataclass(frozen=True, slots=True, kw_only=True)
class StrandRaster:
    """A zone's hair over time: one row a quarter day, one column a millimetre from the scalp."""

    key: str
    zone: str
    rgba: NDArray[np.uint8] = field(repr=False, compare=False)
    """Shape (rows, columns, 4); alpha 0 past the tip."""
    first_week: float
    rows_per_week: int
    """28: four rows a day keep the edges of services hard."""
    forecast_from: float
    """Week at which measuring ends and forecast begins."""
    last_week: float
    longest_cm: float
    marks: tuple[Mark, ...]
    follow: tuple[tuple[float, float], ...] = ()
    """(week, cm from the scalp) of one point on the hair, followed as it grows out."""
    alt: str
    title: str
    table: Table | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class FadePoint:
    week: float
    share: float
    low: float
    high: float
    hex: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FadeSegment:
    """From one colour service to the next on the same hair."""

    label: str
    points: tuple[FadePoint, ...]
    """The fitted course, a few points a week, up to the next service or the end of the forecast."""
    measured: tuple[FadePoint, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FadeSeries:
    place: str
    segments: tuple[FadeSegment, ...]
    today_text: str
    """'70 %' or 'none', the share left today."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FadeFigure:
    title: str
    alt: str
    series: tuple[FadeSeries, ...]
    marks: tuple[Mark, ...]
    today: When
    last_week: float
    refresh: tuple[float, float] | None
    """Weeks between which to come back; None when it can not be said, with the reason in `note`."""
    table: Table
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HuePoint:
    week: float
    a: float
    b: float
    hex: str


@dataclass(frozen=True, slots=True, kw_only=True)
class HueStretch:
    """One coat's way through the a*b* plane: measured stretch, then forecast."""

    label: str
    path: tuple[HuePoint, ...]
    forecast: tuple[HuePoint, ...]
    measured: tuple[HuePoint, ...]
    straight: tuple[HuePoint, ...]
    """The straight line in Lab that it is not, from the fresh colour to the base."""


@dataclass(frozen=True, slots=True, kw_only=True)
class HueFigure:
    title: str
    alt: str
    place: str
    stretches: tuple[HueStretch, ...]
    base: HuePoint
    """Where every coat is heading: the lightened hair underneath."""
    table: Table
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class GradePoint:
    when: When
    grade: float
    """ISO 105-A05 rating, 5 = no change, 1 = much."""
    grade_text: str
    delta_e: float
    distinguishable: bool
    grade_range: tuple[float, float] | None = None
    """Ratings it may be as well, lower first, the measuring error taken both ways."""
    at_least: str = "5"
    """The grade if the change were smaller by the measuring error."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GradeFigure:
    title: str
    alt: str
    series: tuple[tuple[str, tuple[GradePoint, ...]], ...]
    """(place, points) in page order."""
    table: Table
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderStep:
    level: int
    hex: str
    undertone: str
    neutraliser: str
    mark: str = ""
    """'natural', 'lightened to', 'today'... when something stands on this level."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LadderFigure:
    title: str
    alt: str
    steps: tuple[LadderStep, ...]
    notes: tuple[str, ...]
    table: Table


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalStage:
    """The colour of one place after so many removals, from little taken off to much."""

    label: str
    """'today', 'after one removal'."""
    left: str
    """'40 %' of today's colour."""
    light: Chip
    expected: Chip
    strong: Chip


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalPair:
    """One place of a removal that was done: foretold beside read."""

    place: str
    foretold: Chip
    read: Chip
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalFigure:
    title: str
    alt: str
    order: tuple[str, ...]
    """Sentences: which coat comes off first, what lies underneath."""
    rows: tuple[tuple[str, tuple[RemovalStage, ...]], ...]
    """(place, stages): today first."""
    pairs_title: str
    pairs: tuple[RemovalPair, ...]
    notes: tuple[str, ...]
    tables: tuple[Table, ...]
    """Coats after each removal; which way on; foretold against read where a removal was done."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FibreColour:
    hex: str
    name: str
    share: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FibreFigure:
    title: str
    alt: str
    when: When
    picture: Picture
    colours: tuple[FibreColour, ...]
    from_afar: Chip
    """The colour the mixture has from a metre away, computed in linear light."""
    ordinary: Chip | None
    """The same place read from an ordinary photo."""
    difference: str
    facts: tuple[Fact, ...]
