"""What was written: one frozen model per thing in the folder, and nothing about what it means.

The reader (`journey.record.reader`) fills these from text scalars and reports every problem with file
and line; meaning is left to `journey.study`. Identifying values are `Private`: turning one into text
raises, so that no later stage prints it by accident.

The attribute texts below are also the descriptions in the JSON Schema that editors use.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from journey.record.fields import (
    BandField,
    Currency,
    Day,
    Hex,
    Key,
    LengthField,
    Level,
    MarkdownText,
    MassField,
    MinutesField,
    NoteName,
    Number,
    PeroxideField,
    PhotoFile,
    Point,
    Price,
    PrivateDay,
    PrivateText,
    RatioField,
    Rect,
    Region,
    Sha256,
    Share,
    ShortText,
    TemperatureField,
    Truth,
    WeeklyCount,
    WholeNumber,
)


class Part(BaseModel):
    """Common rules: frozen, and an unknown key is an error with its line, never dropped."""

    model_config = ConfigDict(
        frozen=True, extra="forbid", use_attribute_docstrings=True, hide_input_in_errors=True
    )


class Audience(StrEnum):
    """Who an edition is made for."""

    CLIENT = "client"
    CLASS = "class"
    ARCHIVE = "archive"


class ColourClass(StrEnum):
    """How a colour holds on hair; it decides how it fades and what takes it off."""

    DIRECT = "direct"
    ACID = "acid"
    DEMI = "demi"
    PERMANENT = "permanent"
    TEMPORARY = "temporary"


class Role(StrEnum):
    """What an ingredient does in a bowl."""

    COLOUR = "colour"
    CLEAR = "clear"
    DEVELOPER = "developer"
    LIGHTENER = "lightener"
    REMOVER = "remover"
    WATER = "water"
    ADDITIVE = "additive"


class ServiceKind(StrEnum):
    LIGHTEN = "lighten"
    DIRECT_COLOUR = "direct colour"
    DEMI = "demi"
    PERMANENT = "permanent"
    GLOSS = "gloss"
    TONER = "toner"
    COLOUR_REMOVAL = "colour removal"
    BOND_PROTECTION = "bond protection"
    TREATMENT = "treatment"
    TRIM = "trim"
    EXTENSIONS_IN = "extensions in"
    EXTENSIONS_OUT = "extensions out"


# ------------------------------------------------------------------ salon.yaml


class Stylist(Part):
    key: Key
    """Short word by which visits name the stylist; never published."""
    name: PrivateText


class SwatchColour(Part):
    """What a product gives on a test swatch: the salon's own, read like any photo."""

    on: Hex
    """Colour of the swatch before."""
    gives: Hex
    """Colour of the swatch after, undiluted, rinsed and dry."""


class Product(Part):
    """One thing that goes in a bowl, under the salon's own plain name (no brand needed)."""

    key: Key
    name: ShortText
    role: Role
    colour_class: ColourClass | None = None
    """Only for role colour."""
    peroxide: PeroxideField | None = None
    """Strength of a developer: '20 vol' or '6 %'."""
    ratio: RatioField | None = None
    """Parts of this to parts of developer, as the product's instructions say."""
    ratio_to: RatioField | None = None
    """The weakest ratio the instructions allow, when they give a range."""
    price: Price | None = None
    """Price of one pack."""
    pack: MassField | None = None
    swatch: SwatchColour | None = None
    patch_test_hours: WholeNumber | None = None
    """How long before use the product's instructions ask for a patch test."""
    metallic_salts: Truth = False


class Salon(Part):
    name: PrivateText
    address: PrivateText | None = None
    phone: PrivateText | None = None
    email: PrivateText | None = None
    handles: tuple[PrivateText, ...] = ()
    stylists: tuple[Stylist, ...]
    other_clients: tuple[PrivateText, ...] = ()
    """Names of other clients: none may occur in anything published about this one."""
    currency: Currency = "EUR"
    chair_hour: Price | None = None
    """Price of one hour in the chair."""
    units: Literal["cm", "in"] = "cm"
    products: tuple[Product, ...]
    safe_lift_per_session: WholeNumber = 3
    """Most levels to lift in one session; an assumption each salon may change."""
    refresh_from: Share = 0.6
    """Remaining share at which a refresh is first worth it."""
    refresh_until: Share = 0.35
    """Remaining share below which the colour has gone thin."""


# --------------------------------------------------------------- identity.yaml


class Identity(Part):
    """Who she is. Read only to know what to strip and to check that it is gone."""

    name: PrivateText
    nicknames: tuple[PrivateText, ...] = ()
    born: PrivateDay | None = None
    """The day, year-month-day."""
    phones: tuple[PrivateText, ...] = ()
    emails: tuple[PrivateText, ...] = ()
    addresses: tuple[PrivateText, ...] = ()
    places: tuple[PrivateText, ...] = ()
    handles: tuple[PrivateText, ...] = ()
    urls: tuple[PrivateText, ...] = ()
    workplaces: tuple[PrivateText, ...] = ()
    relatives: tuple[PrivateText, ...] = ()
    plates: tuple[PrivateText, ...] = ()
    numbers: tuple[PrivateText, ...] = ()
    """Card, file and licence numbers, device serials: anything that belongs to one person."""
    region: Region = "ES"
    """Country whose way of writing phone numbers is tried first."""


# ---------------------------------------------------------------- consent.yaml


class Wording(Part):
    """The text she agreed to, by its hash, so that it can be proved later."""

    key: Key
    language: ShortText
    note: NoteName
    """File under notes/ that holds the text."""
    sha256: Sha256
    """Hash of that file as it was when she agreed."""


class Grant(Part):
    """One yes for one edition. There is no 'all' switch."""

    edition: Audience
    given_on: Day
    method: Literal["signed", "email", "message", "in person"]
    asked_by: Key
    wording: Key
    expires_on: Day
    photos: tuple[Key, ...]
    """Photos she agreed to for this edition; a new photo is not covered by an old yes."""
    capacity: Literal["self", "guardian"] = "self"
    has_seen: Truth = False
    told_copies_cannot_be_recalled: Truth = False
    told_limits_of_anonymity: Truth = False
    health: Truth = False
    """Whether facts about health may be shown, asked apart."""


class Withdrawal(Part):
    on: Day
    edition: Audience | None = None
    photo: Key | None = None
    received_by: Key


class Consent(Part):
    wordings: tuple[Wording, ...]
    grants: tuple[Grant, ...] = ()
    withdrawals: tuple[Withdrawal, ...] = ()


# ---------------------------------------------------------------- journey.yaml


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


class HeatHabit(Part):
    tool: ShortText
    times_a_week: WeeklyCount
    temperature: TemperatureField | None = None


class Hair(Part):
    natural_level: Level
    texture: ShortText | None = None
    density: ShortText | None = None
    porosity: Literal["low", "medium", "high"] | None = None
    growth_mm_per_month: Annotated[Number, Field(gt=0, lt=40)] | None = None
    """Her own rate when it is known otherwise; else rulers in photos, else the literature."""
    washes_a_week: WeeklyCount
    water: Literal["soft", "hard"] | None = None
    wash_temperature: Literal["cool", "warm", "hot"] | None = None
    swims_a_week: WeeklyCount = 0
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


class Patch(Part):
    """A rectangle on a photo, named by where on the head and along the strand it lies."""

    zone: Key
    band: BandField
    rect: Rect


class Neutral(Part):
    rect: Rect
    reflectance: Share


class Chart(Part):
    """A 24-patch colour chart: corners clockwise from the dark skin patch, in fractions."""

    corners: Annotated[tuple[Point, ...], Field(min_length=4, max_length=4)]


class Magnified(Part):
    field_width_mm: Annotated[Number, Field(gt=0, lt=50)] | None = None
    magnification: Annotated[Number, Field(gt=1, lt=2000)] | None = None
    sensor_width_mm: Annotated[Number, Field(gt=0, lt=60)] | None = None
    colours: WholeNumber | None = None
    """How many strand colours the stylist sees; left out, a number is suggested."""
    zone: Key
    band: BandField


class RulerReading(Part):
    zone: Key
    new_growth: LengthField


class Photo(Part):
    key: Key
    file: PhotoFile
    """Name of a file in photos/."""
    view: ShortText
    moment: Literal["before", "lightened", "removed", "after", "home"]
    light: ShortText
    caption: ShortText | None = None
    patches: tuple[Patch, ...] = ()
    neutral: Neutral | None = None
    chart: Chart | None = None
    lamp_from: Key | None = None
    """An earlier chart photo taken under the same lamp with the same camera."""
    magnified: Magnified | None = None
    ruler: tuple[RulerReading, ...] = ()
    no_face: Truth = False
    """Said by a person who looked: nobody can be recognised by a face here."""
    covers: tuple[Rect, ...] = ()
    """Faces, tattoos, mirrors, name tags: filled solid in every published copy."""


class BowlLine(Part):
    product: Key
    grams: MassField
    lot: ShortText | None = None


class Bowl(Part):
    lines: tuple[BowlLine, ...]
    left_over: MassField | None = None
    ratio: RatioField | None = None
    """Ratio as mixed, when it is to be checked against the grams."""


class LevelSeen(Part):
    at: MinutesField
    level: Level


class Service(Part):
    """One thing done to some of the hair. Which fields belong to which kind is checked by the reader."""

    key: Key
    kind: ServiceKind
    name: ShortText
    zones: tuple[Key, ...]
    band: BandField
    bowl: Bowl | None = None
    time: MinutesField | None = None
    heat: ShortText | None = None
    section_width: LengthField | None = None
    to_level: Level | None = None
    levels_seen: tuple[LevelSeen, ...] = ()
    cut: LengthField | None = None
    to_length: LengthField | None = None
    """Clip to this length."""
    with_developer: Truth | None = None
    cross_checked: Truth | None = None
    """Saturation looked at again across the sections."""
    leaves: Share | None = None
    """Share of the colour on the hair that a removal left, as seen by eye; a reading replaces it."""
    seen: ShortText | None = None


class SafetyTest(Part):
    kind: Literal["patch", "strand"]
    on: Day
    product: Key | None = None
    result: Literal["clear", "reaction", "stretchy", "breaks"]


class Condition(Part):
    moment: Literal["before", "after"]
    zone: Key
    band: BandField
    elasticity_wet_percent: Annotated[Number, Field(ge=0, le=100)] | None = None
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
    services: tuple[Service, ...] = ()
    conditions: tuple[Condition, ...] = ()
    photos: tuple[Photo, ...] = ()
    chair_time: MinutesField | None = None
    paid: Price | None = None


class CheckIn(Part):
    key: Key
    date: Day
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
    to_level: Level | None = None
    cut: LengthField | None = None
    leaves: Share | None = None
    session: WholeNumber = 1
    with_developer: Truth | None = None
    heat: ShortText | None = None


class Option(Part):
    """One way to go from today, as the stylist would offer it."""

    key: Key
    title: ShortText
    words: MarkdownText
    services: tuple[PlannedService, ...] = ()
    weeks_between: WholeNumber | None = None
    know_first: ShortText | None = None


class TeachingPoint(Part):
    """A question for the room, and one good answer."""

    figure: Literal["strand", "fade", "decision", "hue", "fibres", "bowls", "contact", "ladder", "grade"]
    question: MarkdownText
    answer: MarkdownText
    choices: tuple[ShortText, ...] = ()


class CareOverride(Part):
    rule: Key
    """Key of the home-care rule it replaces or, when unknown to the tool, adds."""
    do: ShortText
    because: ShortText


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
