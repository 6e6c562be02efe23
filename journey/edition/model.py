"""What one audience may see: plain frozen values, already filtered, already worded.

The site receives these and nothing else, so a page can not show what was not let through. Texts marked
*Markdown* are the stylist's own words after the filter; all other texts were made by
`journey.edition.wording`. Colours are sRGB hex. Time is in weeks since the first visit (`week`), beside a
text that says it as this audience may know it: a date for the client, "week 4" for a class.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from journey.record.model import Audience


@dataclass(frozen=True, slots=True)
class When:
    """A moment, as this audience may know it."""

    text: str
    """'7 March' or 'week 0'."""
    week: float
    """Weeks since the first visit; may be negative."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chip:
    """One measured or predicted colour, with the place it belongs to."""

    place: str
    """'Crown, mid-lengths'."""
    hex: str
    name: str
    """The colour in a colourist's words."""
    keyline: bool = False
    """True when the colour nearly vanishes into the neutral ground and needs a line around it."""
    out_of_screen: bool = False
    """True when the real colour lies outside what a screen can show."""
    weak: str | None = None
    """Why the reading is weak, in words; None when it is sound."""
    numbers: str | None = None
    """'60, 44, 24 ± 4' where the audience sees numbers."""
    trace: str | None = None
    zone: str = ""
    """Key of the zone, for grouping."""
    band: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A photo, or a part of one, re-made from bare pixels with covers filled."""

    name: str
    """Neutral file stem in page order: 'p01'."""
    width: int
    """Pixels of the re-made picture at full size, after orientation and crop."""
    height: int
    alt: str
    caption: str
    source: Callable[[int], Image.Image] = field(repr=False, compare=False)
    """Called with a long edge in px; returns RGB pixels of at most that size with covers filled."""
    fingerprint: str
    """Changes whenever the picture would: a private key for caching, never published."""
    photo: str = ""
    """SHA-256 of the file it was made from, never published: pictures of one photo are made together."""
    covered: tuple[tuple[float, float, float, float], ...] = ()
    """Filled boxes in fractions of this picture, to be proved on the written file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One cell of a table: text, perhaps with a colour beside it and a key to trace it by."""

    text: str
    hex: str | None = None
    keyline: bool = False
    trace: str | None = None
    number: bool = False
    """Set right-aligned in tabular figures."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    key: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    label: str
    value: str
    trace: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A labelled moment on a raster or chart."""

    when: When
    label: str
    is_service: bool = True
    """False for check-ins and for 'today'."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class GradeFigure:
    title: str
    alt: str
    series: tuple[tuple[str, tuple[GradePoint, ...]], ...]
    """(place, points) in page order."""
    table: Table
    note: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class BowlPart:
    name: str
    grams: float
    role: str
    """Role key: colour, clear, developer, lightener, remover, water, additive."""
    extra: str = ""
    """'20 vol', a lot number in the archive, a share."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BowlCard:
    title: str
    when: When
    parts: tuple[BowlPart, ...]
    total_g: float
    facts: tuple[Fact, ...]
    """Ratio, pure colour, peroxide in the mixture, left over, cost: what this audience sees."""
    cautions: tuple[str, ...] = ()


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


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceLine:
    name: str
    where: str
    facts: tuple[Fact, ...]
    bowl: BowlCard | None = None
    seen: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One visit or home check-in on the timeline."""

    key: str
    """Neutral: 'e1'."""
    when: When
    is_visit: bool
    title: str
    words: str
    """Markdown: to her (client), for students (class), the salon's own (archive)."""
    services: tuple[ServiceLine, ...]
    pictures: tuple[Picture, ...]
    chips: tuple[Chip, ...]
    numbers: Table | None
    spans: tuple[float, float]
    """Weeks of the ribbon that belong to this entry: from it to the next one."""
    facts: tuple[Fact, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WashChoice:
    """One answer to 'if you wash your hair N times a week'."""

    washes_a_week: int
    label: str
    answer: str
    is_hers: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Refresh:
    sentence: str
    """One sentence that names the best time to come back, or says why it can not be named."""
    explain: str
    choices: tuple[WashChoice, ...]
    window: tuple[When, When] | None


@dataclass(frozen=True, slots=True)
class CareItem:
    do: str
    because: str
    gain: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class CautionLine:
    weight: str
    """'stop', 'ask' or 'mind'."""
    text: str
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionStage:
    """The predicted colour at one time, from light to strong uptake."""

    when: When
    place: str
    light: Chip
    expected: Chip
    strong: Chip


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionCard:
    key: str
    """Neutral: 'o1'."""
    title: str
    words: str
    """Markdown."""
    strip: tuple[tuple[float, str], ...]
    """(weeks from today, hex) along which the strip runs; week 0 is today's colour before, the first
    positive entry is right after the service."""
    stages: tuple[OptionStage, ...]
    facts: tuple[Fact, ...]
    minutes: int
    longest_minutes: int
    """Minutes of the longest option, so that bars share a scale."""
    steps: tuple[str, ...]
    against: tuple[CautionLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    figure: str
    question: str
    """Markdown."""
    answer: str
    """Markdown."""
    choices: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MethodNote:
    title: str
    text: str
    """Markdown, made by the tool."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChecklistItem:
    number: str
    item: str
    where: str
    """Words that say where it stands, or why it is not reported."""
    anchor: str | None
    """Id on the page, when it stands there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DataFile:
    """Numbers to download."""

    name: str
    """'readings.csv'."""
    label: str
    text: str


@dataclass(frozen=True, slots=True)
class Withheld:
    """One line of the ledger: what was not let through, how often, and why."""

    what: str
    count: int
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Edition:
    audience: Audience
    language: str
    title: str
    lead: str
    """Two or three sentences that say what happened to this hair."""
    facts: tuple[Fact, ...]
    as_of: When
    strands: tuple[StrandRaster, ...]
    """The first one hangs in the curtain and runs down the ribbon."""
    today: tuple[Chip, ...]
    today_words: tuple[str, ...]
    before_now: tuple[tuple[When, Picture], ...]
    """Same view, in order of time: first and last are shown first."""
    refresh: Refresh
    fade: FadeFigure | None
    hue: HueFigure | None
    grade: GradeFigure | None
    ladder: LadderFigure | None
    fibres: tuple[FibreFigure, ...]
    bowls: tuple[BowlCard, ...]
    contact: tuple[tuple[When, tuple[tuple[str, Picture | None, Chip | None], ...]], ...]
    """Contact sheet: for each time, (place, crop, chip) in the same order of places."""
    entries: tuple[Entry, ...]
    care: tuple[CareItem, ...]
    cautions: tuple[CautionLine, ...]
    options: tuple[OptionCard, ...]
    options_table: Table | None
    tables: tuple[Table, ...]
    """Table 1 (measured colour) first; more for class and archive."""
    questions: tuple[Question, ...]
    method: tuple[MethodNote, ...]
    checklist: tuple[ChecklistItem, ...]
    data: tuple[DataFile, ...]
    calendar: str | None
    """Text of an iCalendar file, for the client."""
    consent_lines: tuple[str, ...]
    about: tuple[str, ...]
    """Plain sentences on how the colours were read and what they can not say."""
    withheld: tuple[Withheld, ...]
