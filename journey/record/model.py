"""What was written: one frozen model per thing in the folder, and nothing about what it means.

The reader (`journey.record.reader`) fills these from text scalars and reports every problem with file
and line; meaning is left to `journey.study`. Identifying values are `Private`: turning one into text
raises, so that no later stage prints it by accident.

The attribute texts below (and in `parts`, `salon_model`, `person_model`, `consent_model`, `photo_model`, whose
names are given on here) are also the descriptions in the JSON Schema that editors use.
"""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

from pydantic import Field

from journey.record.assumptions import Assumptions, ClassFade, LevelColour
from journey.record.consent_model import (
    HERSELF,
    Consent,
    Grant,
    OtherPerson,
    Photographer,
    Recipient,
    Withdrawal,
    Wording,
)
from journey.record.fields import (
    BandField,
    Day,
    Key,
    LengthField,
    Level,
    MarkdownText,
    MassField,
    MinutesField,
    Number,
    PeroxideField,
    Price,
    RatioField,
    Share,
    ShortText,
    TemperatureField,
    Truth,
    WeeklyCount,
    WholeNumber,
)
from journey.record.parts import Audience, ColourClass, Part, Role, ServiceKind
from journey.record.person_model import Identity, RareTrait, TraitShown
from journey.record.photo_model import Chart, Magnified, Neutral, Patch, Photo, RulerReading
from journey.record.salon_model import Product, Salon, Stylist, SwatchColour

__all__ = [
    "HERSELF",
    "Assumptions",
    "Audience",
    "Bowl",
    "BowlLine",
    "CareOverride",
    "Chart",
    "CheckIn",
    "ClassFade",
    "ColourClass",
    "Condition",
    "Consent",
    "Grant",
    "Hair",
    "Health",
    "HeatHabit",
    "Identity",
    "Journey",
    "LevelColour",
    "LevelSeen",
    "Magnified",
    "Neutral",
    "Option",
    "OtherPerson",
    "Part",
    "Patch",
    "Photo",
    "Photographer",
    "PlannedService",
    "Product",
    "RareTrait",
    "Recipient",
    "Record",
    "Role",
    "RulerReading",
    "SafetyTest",
    "Salon",
    "Service",
    "ServiceKind",
    "Stylist",
    "SwatchColour",
    "TeachingPoint",
    "TraitShown",
    "Visit",
    "Withdrawal",
    "Wording",
    "Zone",
]


class Zone(Part):
    """A place on the head that is followed."""

    key: Key
    name: ShortText
    length: LengthField
    """Length on the day of the first visit, before its services."""
    natural_level: Level | None = None
    """Where it differs from the rest of the head."""
    clipped_to: LengthField | None = None
    """For hair that is clipped short at each visit: the length left."""
    share_of_head: Share | None = None
    """How much of all hair on the head grows here, by the stylist's eye; scales a bowl to some zones."""


class HeatHabit(Part):
    tool: ShortText
    times_a_week: WeeklyCount
    temperature: TemperatureField | None = None


class Hair(Part):
    natural_level: Level
    texture: ShortText | None = None
    density: ShortText | None = None
    porosity: Literal["low", "medium", "high"] | None = None
    """How readily it takes up water and colour."""
    growth_mm_per_month: Annotated[Number, Field(gt=0, lt=40)] | None = None
    """Her own rate when it is known otherwise; else rulers in photos, else the literature."""
    washes_a_week: WeeklyCount
    """As she tells it; counted washes of check-ins come first."""
    water: Literal["soft", "hard"] | None = None
    wash_temperature: Literal["cool", "warm", "hot"] | None = None
    swims_a_week: WeeklyCount = 0
    """In pool or sea."""
    sun_hours_a_week: WeeklyCount = 0
    heat: HeatHabit | None = None
    history: tuple[ShortText, ...] = ()
    """What was done to it before the first visit."""
    metallic_salts: Truth = False
    henna: Truth = False


class Health(Part):
    """Asked, never judged. Shown nowhere but in the archive unless she agreed to it apart."""

    age: WholeNumber | None = None
    earlier_reaction: Truth = False
    black_henna_tattoo: Truth = False
    scalp: ShortText | None = None
    pregnancy_or_medicines: Literal["asked", "not asked"] = "not asked"


class BowlLine(Part):
    product: Key
    grams: MassField
    lot: ShortText | None = None
    """As printed on the pack; kept for the archive."""


class Bowl(Part):
    lines: tuple[BowlLine, ...]
    left_over: MassField | None = None
    """What was thrown away of the mixture."""
    ratio: RatioField | None = None
    """Ratio as mixed, when it is to be checked against the grams."""
    total: MassField | None = None
    """What the scale showed in the end, when it is to be checked against the lines."""
    developer_strength: PeroxideField | None = None
    """Strength that two developers, or developer and water, were to give together: '15 vol' or '4.5 %'."""


class LevelSeen(Part):
    at: MinutesField
    """Time since the lightener went on."""
    level: Level


class Service(Part):
    """One thing done to some of the hair. Which fields belong to which kind is checked by the reader."""

    key: Key
    kind: ServiceKind
    name: ShortText
    zones: tuple[Key, ...]
    band: BandField
    bowl: Bowl | None = None
    """What was mixed."""
    time: MinutesField | None = None
    """How long it stayed on, or how long it took."""
    heat: ShortText | None = None
    """'none', or what gave it."""
    section_width: LengthField | None = None
    """How fine the hair was parted."""
    to_level: Level | None = None
    """Level it was lifted to, or that the colour or the remover was to give."""
    level_before: Level | None = None
    """How dark the hair looked before it, colour included."""
    levels_seen: tuple[LevelSeen, ...] = ()
    """Levels while it worked, in order of time."""
    cut: LengthField | None = None
    """How much came off the ends."""
    to_length: LengthField | None = None
    """Clip to this length."""
    with_developer: Truth | None = None
    """Whether a remover was mixed with developer."""
    cross_checked: Truth | None = None
    """Saturation looked at again across the sections."""
    soaked: Truth | None = None
    """Whether a remover was kept soaking wet while it worked."""
    covered: Truth | None = None
    """Whether a remover was covered while it worked, or left open to the air."""
    leaves: Share | None = None
    """Share of the colour on the hair that a removal left, as seen by eye; a reading replaces it."""
    added_length: LengthField | None = None
    """Length of hair put in as extensions, from where it is fixed."""
    fixed_at: LengthField | None = None
    """How far from the scalp it is fixed."""
    pieces: WholeNumber | None = None
    """How many were put in."""
    added_level: Level | None = None
    """Level of the hair put in; left out, it is taken to be hers."""
    seen: ShortText | None = None
    """What the stylist saw."""


class SafetyTest(Part):
    kind: Literal["patch", "strand"]
    on: Day
    """The day it was made."""
    product: Key | None = None
    """What was tested."""
    result: Literal["clear", "reaction", "stretchy", "breaks"]


class Condition(Part):
    moment: Literal["before", "after"]
    zone: Key
    band: BandField
    elasticity_wet_percent: Annotated[Number, Field(ge=0, le=100)] | None = None
    """How far a wet strand stretches."""
    porosity: Literal["low", "medium", "high"] | None = None
    note: ShortText | None = None


class Visit(Part):
    key: Key
    date: Day
    stylist: Key
    title: ShortText
    words: MarkdownText | None = None
    """To her, in plain words: what was done and why."""
    class_note: MarkdownText | None = None
    """For students."""
    private_note: MarkdownText | None = None
    """For the salon alone."""
    tests: tuple[SafetyTest, ...] = ()
    """Skin and strand tests made before this visit, or at it."""
    services: tuple[Service, ...] = ()
    conditions: tuple[Condition, ...] = ()
    photos: tuple[Photo, ...] = ()
    chair_time: MinutesField | None = None
    """From sitting down to getting up."""
    paid: Price | None = None
    """In the salon's currency."""


class CheckIn(Part):
    key: Key
    date: Day
    """The day of the photo."""
    words: MarkdownText | None = None
    washes_since_last: WholeNumber | None = None
    """Counted by her since the last entry, when she counted."""
    photos: tuple[Photo, ...] = ()


class PlannedService(Part):
    kind: ServiceKind
    name: ShortText
    zones: tuple[Key, ...]
    band: BandField
    bowl: Bowl | None = None
    time: MinutesField
    """How long it will take."""
    to_level: Level | None = None
    level_before: Level | None = None
    """How dark the hair looks now, colour included."""
    cut: LengthField | None = None
    leaves: Share | None = None
    """Share of the colour that the removal is to leave."""
    session: WholeNumber = 1
    """In which of the option's sessions, counted from 1."""
    with_developer: Truth | None = None
    heat: ShortText | None = None


class Option(Part):
    """One way to go from today, as the stylist would offer it."""

    key: Key
    title: ShortText
    words: MarkdownText
    services: tuple[PlannedService, ...] = ()
    weeks_between: WholeNumber | None = None
    """Between one session and the next."""
    know_first: ShortText | None = None
    """What she should hear before she chooses."""


class TeachingPoint(Part):
    """A question for the room, and one good answer."""

    figure: Literal[
        "strand", "fade", "decision", "hue", "fibres", "bowls", "contact", "ladder", "removal", "grade"
    ]
    """The figure it is asked at."""
    question: MarkdownText
    answer: MarkdownText
    choices: tuple[ShortText, ...] = ()
    """For a vote: two or more, or none."""


class CareOverride(Part):
    rule: Key
    """Key of the home-care rule it replaces or, when unknown to the tool, adds."""
    do: ShortText
    because: ShortText


class AllowedSentence(Part):
    """A sentence in which a word could be somebody's name and is none, as a person decided."""

    sentence: ShortText
    """Word for word as it stands in the text."""
    because: ShortText
    by: Key
    """The stylist who decided."""


class Journey(Part):
    title: ShortText
    language: Literal["en", "es"] = "en"
    goal: MarkdownText | None = None
    summary: MarkdownText | None = None
    hair: Hair
    health: Health = Field(default_factory=Health)
    zones: tuple[Zone, ...]
    visits: tuple[Visit, ...]
    check_ins: tuple[CheckIn, ...] = ()
    options: tuple[Option, ...] = ()
    teaching: tuple[TeachingPoint, ...] = ()
    care: tuple[CareOverride, ...] = ()
    allowed_sentences: tuple[AllowedSentence, ...] = ()
    """Asked for by the text filter, for names that are also words: Rose, May, Grace."""

    @property
    def photos(self) -> tuple[Photo, ...]:
        """All of them: those of visits, then those between."""
        entries: tuple[Visit | CheckIn, ...] = (*self.visits, *self.check_ins)
        return tuple(photo for entry in entries for photo in entry.photos)


class Record(Part):
    """The whole folder, as written."""

    salon: Salon
    identity: Identity
    consent: Consent
    journey: Journey

    @property
    def last_day(self) -> date:
        """Day of the last visit or check-in: what 'today' means when nobody says otherwise."""
        days = [visit.date for visit in self.journey.visits]
        return max(days + [check_in.date for check_in in self.journey.check_ins])
