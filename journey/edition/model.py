"""What one audience may see: plain frozen values, already filtered, already worded.

The site receives these and nothing else, so a page can not show what was not let through. Texts marked
*Markdown* are the stylist's own words after the filter; all other texts were made by
`journey.edition.wording`. Colours are sRGB hex. Time is in weeks since the first visit (`week`), beside a
text that says it as this audience may know it: a date for the client, "week 4" for a class. The small pieces
stand in `journey.edition.pieces`, what charts draw in `journey.edition.figures`; all are had from here.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from journey.edition.figures import (
    FadeFigure,
    FadePoint,
    FadeSegment,
    FadeSeries,
    FibreColour,
    FibreFigure,
    GradeFigure,
    GradePoint,
    HueFigure,
    HuePoint,
    HueStretch,
    LadderFigure,
    LadderStep,
    RemovalFigure,
    RemovalPair,
    RemovalStage,
    StrandRaster,
)
from journey.edition.pieces import Cell, Chip, Fact, Mark, Picture, Table, When
from journey.record.model import Audience

__all__ = [
    "BowlCard",
    "BowlPart",
    "CareItem",
    "CautionLine",
    "Cell",
    "ChecklistItem",
    "Chip",
    "DataFile",
    "Edition",
    "Entry",
    "Fact",
    "FadeFigure",
    "FadePoint",
    "FadeSegment",
    "FadeSeries",
    "FibreColour",
    "FibreFigure",
    "GradeFigure",
    "GradePoint",
    "HueFigure",
    "HuePoint",
    "HueStretch",
    "LadderFigure",
    "LadderStep",
    "Mark",
    "MethodNote",
    "OptionCard",
    "OptionStage",
    "Picture",
    "Question",
    "Refresh",
    "RemovalFigure",
    "RemovalPair",
    "RemovalStage",
    "ServiceLine",
    "StrandRaster",
    "Table",
    "WashChoice",
    "When",
    "Withheld",
]


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
    worked: tuple[str, ...] = ()
    """Each of them but the cost as a sum with its numbers, to be done again by hand."""
    cautions: tuple[str, ...] = ()


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
    past: bool = False
    """It lies before the colour that is on the hair today, so a small screen may fold it."""


@dataclass(frozen=True, slots=True)
class ConditionSide:
    """How one place looked and felt at one end of a visit."""

    stage: str
    pictures: tuple[Picture, ...]
    """Close up first, then magnified."""
    told: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ConditionPair:
    """Before and after one visit, side by side."""

    when: When
    place: str
    sides: tuple[ConditionSide, ConditionSide]


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
    removal: tuple[str, ...] = ()
    """Where colour is taken off first: what goes, what stays, where to look again."""


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


@dataclass(frozen=True, slots=True)
class WorkedSum:
    """One computation with this journey's numbers, a formula to a line."""

    title: str
    lines: tuple[str, ...]


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
    fields: tuple[tuple[str, int], ...] = ()
    """(field of the record, how often it is filled in), where the line is about fields: for the terminal."""


class LeavingKind(StrEnum):
    """What a person looks at before an edition is published."""

    PHOTO = "photo"
    TEXT = "text"
    """What somebody wrote, after the filter."""
    VALUES = "values"
    """All that is written in one typed field: what charts and tables are made from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaving:
    """One thing that leaves with an edition. For the salon's eyes; no page shows it."""

    kind: LeavingKind
    name: str
    """Where it stands in the record: a photo's key and part, or a field."""
    sha256: str
    """Another one whenever what leaves is another."""
    text: str = ""
    picture: Picture | None = None


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
    removal: RemovalFigure | None
    fibres: tuple[FibreFigure, ...]
    bowls: tuple[BowlCard, ...]
    contact: tuple[tuple[When, tuple[tuple[str, Picture | None, Chip | None], ...]], ...]
    """Contact sheet: for each time, (place, crop, chip) in the same order of places."""
    entries: tuple[Entry, ...]
    care: tuple[CareItem, ...]
    cautions: tuple[CautionLine, ...]
    options: tuple[OptionCard, ...]
    options_table: Table | None
    shades: tuple[str, ...]
    """Which of the salon's colours would show true over hers today, and which would turn."""
    tables: tuple[Table, ...]
    """Table 1 (measured colour) first; more for class and archive."""
    questions: tuple[Question, ...]
    method: tuple[MethodNote, ...]
    condition_pairs: tuple[ConditionPair, ...] = ()
    worked: tuple[WorkedSum, ...] = ()
    """Sums to be redone by hand; empty for the client."""
    checklist: tuple[ChecklistItem, ...]
    data: tuple[DataFile, ...]
    calendar: str | None
    """Text of an iCalendar file, for the client."""
    consent_lines: tuple[str, ...]
    about: tuple[str, ...]
    """Plain sentences on how the colours were read and what they can not say."""
    withheld: tuple[Withheld, ...]
    leaving: tuple[Leaving, ...] = ()
    """All that leaves, to be looked at and signed for."""
