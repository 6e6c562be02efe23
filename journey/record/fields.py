"""The kinds of text a field may hold, the value each is read into, and what an editor is told about it.

Every scalar arrives here as text, because a phone number must not become an octal integer. How the text of
each kind is written is left to `journey.record.scalars` and `journey.quantities`; which field is of which
kind, to `journey.record.model`.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Annotated, Any, TypeVar

from pydantic import PlainValidator, WithJsonSchema

from journey.quantities import Length, Mass, Minutes, Money, Peroxide, Ratio, Temperature
from journey.record import scalars
from journey.record.band import Band
from journey.record.private import Private
from journey.record.rectangle import Rectangle

T = TypeVar("T")


def _schema(
    description: str, *examples: str, pattern: str | None = None, number: bool = False
) -> WithJsonSchema:
    """What an editor checks: text of one pattern, or a bare number where one is natural."""
    schema: dict[str, Any] = {"type": ["string", "number"] if number else "string"}
    if pattern is not None:
        schema["pattern"] = pattern
    schema["description"] = description
    if examples:
        schema["examples"] = list(examples)
    return WithJsonSchema(schema)


def _once(kind: type[T], parse: Callable[[object], T]) -> PlainValidator:
    """Parse text; let through what has been parsed before, so that records can be built in code too."""

    def read(value: object) -> T:
        return value if isinstance(value, kind) else parse(value)

    return PlainValidator(read)


Day = Annotated[
    date,
    _once(date, scalars.parse_day),
    _schema("A day: year-month-day.", "2026-03-07", pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"),
]
Key = Annotated[
    str,
    PlainValidator(scalars.parse_key),
    _schema("A short word, with hyphens, by which other places refer to this.", pattern=scalars.KEY_PATTERN),
]
Hex = Annotated[
    str,
    PlainValidator(scalars.parse_hex),
    _schema("An sRGB colour, in quotes.", "#e0c48a", pattern="^#[0-9a-fA-F]{6}$"),
]
Number = Annotated[
    float,
    _once(float, scalars.parse_number),
    _schema("A plain number.", "12.5", pattern=f"^{scalars.NUMBER_PATTERN}$", number=True),
]
Level = Annotated[
    float,
    _once(float, scalars.parse_level),
    _schema(
        "A level of depth from 1 (black) to 10 (lightest blonde); halves are allowed.",
        "5",
        "8.5",
        pattern=r"^([1-9](\.[05])?|10)$",
        number=True,
    ),
]
Share = Annotated[
    float,
    _once(float, scalars.parse_share),
    _schema(
        "A share of a whole, as a fraction or in per cent.",
        "0.35",
        "35 %",
        pattern=r"^([01](\.[0-9]+)?|[0-9]{1,3}(\.[0-9]+)? %)$",
        number=True,
    ),
]
WeeklyCount = Annotated[
    float,
    _once(float, scalars.parse_weekly),
    _schema("Times, or hours, in a week.", "3", "2.5", pattern=f"^{scalars.NUMBER_PATTERN}$", number=True),
]
WholeNumber = Annotated[
    int,
    _once(int, scalars.parse_whole),
    _schema("A whole number.", "3", pattern="^[0-9]{1,6}$", number=True),
]
Truth = Annotated[bool, _once(bool, scalars.parse_truth), WithJsonSchema({"enum": ["yes", "no"]})]
Sha256 = Annotated[
    str,
    PlainValidator(scalars.parse_sha256),
    _schema("What 'sha256sum' prints for the file.", "9f86d08188...", pattern="^[0-9a-f]{64}$", number=True),
]
ShortText = Annotated[
    str,
    PlainValidator(scalars.parse_short_text),
    WithJsonSchema({"type": ["string", "number"], "minLength": 1, "maxLength": scalars.SHORT_TEXT_LIMIT}),
]
NoteName = Annotated[
    str,
    PlainValidator(scalars.parse_note_name),
    _schema("A file under notes/.", "notes/consent-class.md", pattern=scalars.NOTE_PATTERN),
]
PhotoFile = Annotated[
    str,
    PlainValidator(scalars.parse_photo_file),
    _schema("Name of a file in photos/.", "v1-crown-after.jpg"),
]
Currency = Annotated[
    str,
    PlainValidator(scalars.parse_currency),
    _schema("A currency, by its three letters (ISO 4217).", "EUR", pattern="^[A-Z]{3}$"),
]
Region = Annotated[
    str,
    PlainValidator(scalars.parse_region),
    _schema("A country, by its two letters (ISO 3166).", "ES", pattern="^[A-Z]{2}$"),
]
PrivateText = Annotated[
    Private[str],
    _once(Private, scalars.parse_private_text),
    WithJsonSchema(
        {
            "type": ["string", "number"],
            "minLength": 1,
            "maxLength": scalars.SHORT_TEXT_LIMIT,
            "description": "Identifies someone: never published.",
        }
    ),
]
PrivateDay = Annotated[
    Private[str],
    _once(Private, scalars.parse_private_day),
    _schema("A day that identifies someone.", "1990-01-31", pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$"),
]
MarkdownText = Annotated[
    str,
    PlainValidator(scalars.read_markdown),
    WithJsonSchema(
        {
            "type": "string",
            "description": "Text in Markdown, or the name of a note that holds it.",
            "examples": ["notes/goal.md"],
        }
    ),
]
Point = Annotated[
    tuple[float, float],
    _once(tuple, scalars.parse_point),
    _schema("A point on a photo: 'x y' in fractions of its sides.", "0.1 0.85", pattern=r"^\S+ +\S+$"),
]
Rect = Annotated[
    Rectangle,
    _once(Rectangle, Rectangle.parse),
    _schema(
        "A rectangle on a photo: 'left top width height' in fractions of its sides, after turning upright.",
        "0.30 0.15 0.10 0.08",
        pattern=r"^\S+ +\S+ +\S+ +\S+$",
    ),
]
BandField = Annotated[
    Band,
    _once(Band, Band.parse),
    _schema(
        "A place along the strand, from scalp to tip.",
        "roots",
        "mid-lengths and ends",
        "all",
        "from 2 cm to 8 cm",
        pattern=Band.PATTERN,
    ),
]

_UNIT_NUMBER = r"([0-9]+ )?[0-9]+(\.[0-9]+|/[0-9]+)?"
LengthField = Annotated[
    Length,
    _once(Length, Length.parse),
    _schema("A length.", "26 cm", "6 mm", "1/2 in", pattern=f"^{_UNIT_NUMBER} (cm|mm|in|inch|inches)$"),
]
MassField = Annotated[
    Mass, _once(Mass, Mass.parse), _schema("A mass.", "40 g", "1.5 oz", pattern=f"^{_UNIT_NUMBER} (g|kg|oz)$")
]
MinutesField = Annotated[
    Minutes,
    _once(Minutes, Minutes.parse),
    _schema(
        "How long.", "35 min", "1 h 15 min", pattern=f"^({_UNIT_NUMBER} (min|h)|[0-9]+ h [0-9]{{1,2}} min)$"
    ),
]
PeroxideField = Annotated[
    Peroxide,
    _once(Peroxide, Peroxide.parse),
    _schema("Strength of a developer.", "20 vol", "6 %", pattern=f"^{_UNIT_NUMBER} (vol|%)$"),
]
RatioField = Annotated[
    Ratio,
    _once(Ratio, Ratio.parse),
    _schema(
        "Parts, in the order they are named.",
        "1:2",
        "1:1.5",
        pattern=f"^{scalars.NUMBER_PATTERN}(:{scalars.NUMBER_PATTERN})+$",
    ),
]
TemperatureField = Annotated[
    Temperature,
    _once(Temperature, Temperature.parse),
    _schema("A temperature.", "190 C", "375 F", pattern=r"^[0-9.]+ °?[CF]$"),
]
Price = Annotated[
    Money,
    _once(Money, Money.parse),
    _schema(
        "An amount of money in the salon's currency.",
        "38.50",
        pattern=f"^{scalars.NUMBER_PATTERN}$",
        number=True,
    ),
]
