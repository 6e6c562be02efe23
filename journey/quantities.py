"""Quantities as she writes them, turned into typed values.

This module decides how a length, mass, volume, developer strength, ratio, time, temperature, price,
percentage and date may be written, and what to write instead when the text can not be read.  Whether a
value makes sense where it stands (a 40 cm fringe, a bowl of 3 kg) is left to those who use it.

Rules that hold for all of them:

* A space stands between number and unit, also before ``%`` (SI Brochure, 9th ed., 5.4.3 and 5.4.7), so
  that folders written by several hands look alike.
* The decimal mark is a point.  A comma is refused with advice rather than guessed at: ``1,500 g`` is one
  and a half grams to one reader and one and a half kilos to the next.
* ``str()`` gives the canonical text, and reading that text gives the same value back.
* ``parse(text)`` raises ``ValueError`` for what can not be read; it quotes the text and says what to write.
"""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import ClassVar, Self

from journey.hair.peroxide import percent_from_volumes, volumes_from_percent
from journey.written_numbers import (
    DECIMALS,
    NUMBER,
    plain_decimal,
    read_amount,
    read_measure,
    tidy_text,
)


def _require(condition: bool, message: str) -> None:
    if not condition:
        raise ValueError(message)


def _check_size(value: float, what: str) -> None:
    _require(math.isfinite(value) and value >= 0, f"a {what} is a number from 0 up, not {value!r}")


def _check_percent(value: float, form: str) -> None:
    in_range = math.isfinite(value) and 0 <= value <= 100
    _require(in_range, f"a percentage lies between 0 and 100, not at {value!r}; write {form}")


@dataclass(frozen=True, slots=True, order=True)
class Length:
    """A length, at home in centimetres.

    >>> Length.parse("1/2 in").cm
    1.27
    >>> str(Length.parse("20 mm"))
    '2 cm'
    """

    cm: float

    FORM: ClassVar[str] = "'2 cm', '20 mm' or '1/2 in'"
    UNITS: ClassVar[Mapping[str, float]] = {"cm": 1.0, "mm": 0.1, "in": 2.54, "inch": 2.54, "inches": 2.54}

    def __post_init__(self) -> None:
        _check_size(self.cm, "length")

    @classmethod
    def parse(cls, text: object) -> Self:
        return cls(read_measure(text, cls.UNITS, cls.FORM))

    @property
    def mm(self) -> float:
        return round(self.cm * 10, DECIMALS)

    def __str__(self) -> str:
        return f"{plain_decimal(self.cm)} cm"


@dataclass(frozen=True, slots=True, order=True)
class LengthSpan:
    """A stretch between two distances, nearer the scalp first.

    >>> LengthSpan.parse("2 cm to 8 cm").to.cm
    8.0
    """

    start: Length
    to: Length

    FORM: ClassVar[str] = "'2 cm to 8 cm'"

    def __post_init__(self) -> None:
        _require(
            self.start.cm < self.to.cm,
            f"'{self.start} to {self.to}' runs the wrong way or is empty; write the distance nearer the "
            f"scalp first: {self.FORM}",
        )

    @classmethod
    def parse(cls, text: object) -> Self:
        ends = tidy_text(text, cls.FORM).split(" to ")
        if len(ends) != 2:
            raise ValueError(f"{text!r} can not be read; write {cls.FORM}")
        return cls(Length.parse(ends[0]), Length.parse(ends[1]))

    def __str__(self) -> str:
        return f"{self.start} to {self.to}"


@dataclass(frozen=True, slots=True, order=True)
class Mass:
    """A mass, at home in grams.  An ounce is the avoirdupois ounce, 28.349523125 g exactly."""

    g: float

    FORM: ClassVar[str] = "'40 g' or '1.5 oz'"
    UNITS: ClassVar[Mapping[str, float]] = {"g": 1.0, "kg": 1000.0, "oz": 28.349523125}

    def __post_init__(self) -> None:
        _check_size(self.g, "mass")

    @classmethod
    def parse(cls, text: object) -> Self:
        return cls(read_measure(text, cls.UNITS, cls.FORM))

    def __str__(self) -> str:
        return f"{plain_decimal(self.g)} g"


@dataclass(frozen=True, slots=True, order=True)
class Volume:
    """A volume, at home in millilitres.  A fluid ounce is the US one, 29.5735295625 ml exactly."""

    ml: float

    FORM: ClassVar[str] = "'60 ml', '0.2 l' or '2 fl oz'"
    UNITS: ClassVar[Mapping[str, float]] = {"ml": 1.0, "mL": 1.0, "l": 1e3, "L": 1e3, "fl oz": 29.5735295625}

    def __post_init__(self) -> None:
        _check_size(self.ml, "volume")

    @classmethod
    def parse(cls, text: object) -> Self:
        return cls(read_measure(text, cls.UNITS, cls.FORM))

    def __str__(self) -> str:
        return f"{plain_decimal(self.ml)} ml"


@dataclass(frozen=True, slots=True, order=True)
class Peroxide:
    """The strength of a developer, at home in per cent hydrogen peroxide.

    Volumes and per cent are exchanged nominally, ten volumes for three per cent, as on the bottle.

    >>> Peroxide.parse("20 vol").percent
    6.0
    >>> Peroxide.parse("12 %").volumes
    40.0
    """

    percent: float

    FORM: ClassVar[str] = "'20 vol' or '6 %'"
    UNITS: ClassVar[Mapping[str, float]] = {"%": 1.0, "vol": percent_from_volumes(1.0)}

    def __post_init__(self) -> None:
        _check_percent(self.percent, self.FORM)

    @classmethod
    def parse(cls, text: object) -> Self:
        return cls(read_measure(text, cls.UNITS, cls.FORM))

    @property
    def volumes(self) -> float:
        return round(volumes_from_percent(self.percent), DECIMALS)

    def __str__(self) -> str:
        return f"{plain_decimal(self.percent)} %"


@dataclass(frozen=True, slots=True)
class Ratio:
    """Parts of a mixture in the order they are named, colour first.

    >>> Ratio.parse("1:1.5").per_first_part
    (1.0, 1.5)
    """

    parts: tuple[float, ...]

    FORM: ClassVar[str] = "'1:2' or '1:1.5'"

    def __post_init__(self) -> None:
        _require(
            len(self.parts) >= 2 and all(math.isfinite(part) and part > 0 for part in self.parts),
            f"a ratio has two or more parts, each above 0; write {self.FORM}",
        )

    @classmethod
    def parse(cls, text: object) -> Self:
        parts = [read_amount(part.strip()) for part in tidy_text(text, cls.FORM).split(":")]
        numbers = [round(part, DECIMALS) for part in parts if part is not None]
        if len(parts) < 2 or len(numbers) < len(parts):
            raise ValueError(f"{text!r} is not a ratio; write {cls.FORM}")
        return cls(tuple(numbers))

    @property
    def per_first_part(self) -> tuple[float, ...]:
        """The same ratio with its first part made one: 2:3 and 1:1.5 agree here."""
        return tuple(round(part / self.parts[0], DECIMALS) for part in self.parts)

    @property
    def shares(self) -> tuple[float, ...]:
        """Each part as a fraction of the whole."""
        return tuple(part / math.fsum(self.parts) for part in self.parts)

    def __str__(self) -> str:
        return ":".join(plain_decimal(part) for part in self.parts)


@dataclass(frozen=True, slots=True, order=True)
class Minutes:
    """How long something was left on, at home in minutes.

    >>> Minutes.parse("1 h 15 min").minutes
    75.0
    """

    minutes: float

    FORM: ClassVar[str] = "'35 min' or '1 h 15 min'"
    UNITS: ClassVar[Mapping[str, float]] = {"min": 1.0, "h": 60.0}

    def __post_init__(self) -> None:
        _check_size(self.minutes, "time")

    @classmethod
    def parse(cls, text: object) -> Self:
        both = re.fullmatch(r"([0-9]{1,3}) h ([0-9]{1,2}) min", tidy_text(text, cls.FORM))
        if both is None:
            return cls(read_measure(text, cls.UNITS, cls.FORM))
        hours, minutes = int(both[1]), int(both[2])
        _require(minutes < 60, f"{text!r} has more than 59 minutes beside its hours; write {cls.FORM}")
        return cls(60.0 * hours + minutes)

    def __str__(self) -> str:
        hours, minutes = divmod(self.minutes, 60)
        if not hours or minutes != int(minutes):
            return f"{plain_decimal(self.minutes)} min"
        return f"{int(hours)} h" + (f" {int(minutes)} min" if minutes else "")


@dataclass(frozen=True, slots=True, order=True)
class Temperature:
    """A temperature, at home in degrees Celsius.

    >>> Temperature.parse("375 F").celsius
    190.555556
    """

    celsius: float

    FORM: ClassVar[str] = "'190 C' or '375 F'"

    def __post_init__(self) -> None:
        _require(math.isfinite(self.celsius), f"a temperature is a number; write {self.FORM}")

    @classmethod
    def parse(cls, text: object) -> Self:
        tidy = tidy_text(text, cls.FORM).replace("°", "")
        found = re.fullmatch(r"([-\u2212]?)(.*?)( ?)([CF])", tidy)
        amount = read_amount(found[2]) if found else None
        if found is None or amount is None:
            raise ValueError(f"{text!r} is not a temperature; write {cls.FORM}")
        _require(bool(found[3]), f"{text!r} has no space before its unit; write {cls.FORM}")
        degrees = -amount if found[1] else amount
        return cls(round(degrees if found[4] == "C" else (degrees - 32) * 5 / 9, DECIMALS))

    @property
    def fahrenheit(self) -> float:
        return round(self.celsius * 9 / 5 + 32, DECIMALS)

    def __str__(self) -> str:
        return f"{plain_decimal(self.celsius)} °C"


@dataclass(frozen=True, slots=True, order=True)
class Money:
    """An amount of money, exact; its currency is named once, elsewhere."""

    amount: Decimal

    FORM: ClassVar[str] = "'12.50', without currency, which is named once for the salon"

    def __post_init__(self) -> None:
        _require(
            self.amount.is_finite() and self.amount >= 0,
            f"an amount of money is a number from 0 up, not {self.amount}; write {self.FORM}",
        )

    @classmethod
    def parse(cls, text: object) -> Self:
        tidy = tidy_text(text, cls.FORM)
        if re.fullmatch(NUMBER, tidy) is None:
            raise ValueError(f"{text!r} is not an amount of money; write {cls.FORM}")
        return cls(Decimal(tidy))

    def __str__(self) -> str:
        exponent = self.amount.as_tuple().exponent
        decimals = max(2, -exponent) if isinstance(exponent, int) else 2
        return f"{self.amount:.{decimals}f}"


@dataclass(frozen=True, slots=True, order=True)
class Percent:
    """A share of a whole, from 0 to 100 %."""

    percent: float

    FORM: ClassVar[str] = "'30 %', from 0 to 100"
    UNITS: ClassVar[Mapping[str, float]] = {"%": 1.0}

    def __post_init__(self) -> None:
        _check_percent(self.percent, self.FORM)

    @classmethod
    def parse(cls, text: object) -> Self:
        return cls(read_measure(text, cls.UNITS, cls.FORM))

    @property
    def fraction(self) -> float:
        return self.percent / 100

    def __str__(self) -> str:
        return f"{plain_decimal(self.percent)} %"


def parse_date(text: object) -> datetime.date:
    """A calendar day written as ISO 8601 has it, year-month-day; every other order is refused as unclear.

    >>> parse_date("2024-02-29")
    datetime.date(2024, 2, 29)
    """
    form = "year-month-day, as in '2024-03-05'"
    tidy = tidy_text(text, form)
    if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", tidy) is None:
        raise ValueError(f"{text!r} is not a date; write {form}")
    try:
        return datetime.date.fromisoformat(tidy)
    except ValueError:
        raise ValueError(f"{text!r} is not a day of the calendar; write {form}") from None
