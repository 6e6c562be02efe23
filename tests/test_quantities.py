"""Quantities as she writes them."""

from __future__ import annotations

import datetime
import string
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.quantities import (
    Length,
    LengthSpan,
    Mass,
    Minutes,
    Money,
    Percent,
    Peroxide,
    Ratio,
    Temperature,
    Volume,
    parse_date,
)

KINDS = (Length, LengthSpan, Mass, Volume, Peroxide, Ratio, Minutes, Temperature, Money, Percent)

# The inch is 2.54 cm, the avoirdupois ounce 28.349523125 g and the US fluid ounce 29.5735295625 ml exactly
# (NIST Special Publication 811, appendix B); 32 F is 0 C and 212 F is 100 C by definition of the scale.
READINGS = [
    (Length, "2 cm", "2 cm"),
    (Length, "20 mm", "2 cm"),
    (Length, "0.6 cm", "0.6 cm"),
    (Length, "1/2 in", "1.27 cm"),
    (Length, "1 1/2 inches", "3.81 cm"),
    (Length, "2\u00a0cm", "2 cm"),
    (LengthSpan, "2 cm to 80 mm", "2 cm to 8 cm"),
    (Mass, "40 g", "40 g"),
    (Mass, "1 oz", "28.349523 g"),
    (Volume, "60 ml", "60 ml"),
    (Volume, "60 mL", "60 ml"),
    (Volume, "2 fl oz", "59.147059 ml"),
    (Peroxide, "20 vol", "6 %"),
    (Peroxide, "25 vol", "7.5 %"),
    (Peroxide, "12 %", "12 %"),
    (Ratio, "1:2", "1:2"),
    (Ratio, "1 : 1.50", "1:1.5"),
    (Ratio, "1:2:0.5", "1:2:0.5"),
    (Minutes, "35 min", "35 min"),
    (Minutes, "1 h 15 min", "1 h 15 min"),
    (Minutes, "75 min", "1 h 15 min"),
    (Minutes, "2 h 5 min", "2 h 5 min"),
    (Minutes, "1.5 h", "1 h 30 min"),
    (Minutes, "2 h", "2 h"),
    (Minutes, "0.5 min", "0.5 min"),
    (Temperature, "190 C", "190 °C"),
    (Temperature, "190 °C", "190 °C"),
    (Temperature, "212 F", "100 °C"),
    (Temperature, "-4 F", "-20 °C"),
    (Money, "12.5", "12.50"),
    (Money, "0.085", "0.085"),
    (Percent, "30 %", "30 %"),
    (Percent, "0 %", "0 %"),
    (Percent, "100 %", "100 %"),
]


@pytest.mark.parametrize(("kind", "text", "canonical"), READINGS)
def test_reads_and_writes(kind, text, canonical):
    """Every way of writing has one canonical text, and that text gives the same value back."""
    value = kind.parse(text)
    assert str(value) == canonical
    assert kind.parse(canonical) == value


REFUSALS = [
    (Length, "2", "'2 cm', '20 mm' or '1/2 in'"),
    (Length, "2cm", "write '2 cm'"),
    (Length, "1/0 in", "can not be read"),
    (Length, "-2 cm", "can not be read"),
    (Length, "2 m", "'2 cm'"),
    (Length, "2,5 cm", "'2.5 cm'"),
    (Length, "", "nothing is written"),
    (Length, "1e3 cm", "can not be read"),
    (Length, "٢ cm", "can not be read"),
    (LengthSpan, "8 cm to 2 cm", "nearer the scalp first"),
    (LengthSpan, "2 to 8 cm", "has no unit"),
    (LengthSpan, "2 cm", "'2 cm to 8 cm'"),
    (Mass, "2 fl oz", "'40 g'"),
    (Mass, "1,500 g", "thousands without any mark"),
    (Volume, "2 oz", "'2 fl oz'"),
    (Peroxide, "20vol", "write '20 vol'"),
    (Peroxide, "20", "write '20 vol' or '6 %'"),
    (Peroxide, "400 vol", "between 0 and 100"),
    (Ratio, "1:0", "above 0"),
    (Ratio, "1/2", "write '1:2'"),
    (Ratio, "1:", "write '1:2'"),
    (Minutes, "35", "'35 min'"),
    (Minutes, "1 h 75 min", "more than 59 minutes"),
    (Minutes, "1 h 60 min", "more than 59 minutes"),
    (Temperature, "190", "'190 C'"),
    (Temperature, "190C", "no space"),
    (Money, "12.50 EUR", "without currency"),
    (Money, "-3", "without currency"),
    (Percent, "130 %", "between 0 and 100"),
    (Percent, "nan %", "can not be read"),
]


@pytest.mark.parametrize(("kind", "text", "advice"), REFUSALS)
def test_refuses_with_advice(kind, text, advice):
    """What can not be read is refused, and the message says what to write instead."""
    with pytest.raises(ValueError, match=r"write|between") as refusal:
        kind.parse(text)
    assert advice in str(refusal.value)


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("value", [None, 3, 2.5, ["2 cm"]])
def test_refuses_what_is_not_text(kind, value):
    """Values that are not text are refused by name, never turned into text first."""
    with pytest.raises(ValueError, match="is not text"):
        kind.parse(value)


@pytest.mark.parametrize("kind", KINDS)
@given(text=st.text(alphabet=string.digits + " .,/:-%°cmgvolFhint\u00a0", max_size=20))
def test_any_text_is_read_or_refused(kind, text):
    """No text makes the reader fall over; what it reads survives being written and read again."""
    try:
        value = kind.parse(text)
    except ValueError:
        return
    assert kind.parse(str(value)) == value


@pytest.mark.parametrize(("volumes", "percent"), [(10, 3), (20, 6), (30, 9), (40, 12), (100, 30)])
def test_nominal_volumes(volumes, percent):
    """Volumes and per cent on the bottle are one strength (common practice, no source)."""
    assert Peroxide.parse(f"{volumes} vol") == Peroxide.parse(f"{percent} %")
    assert Peroxide.parse(f"{percent} %").volumes == volumes


def test_ratio_parts():
    """2:3 and 1:1.5 mix the same, though each is kept as written; shares sum to one."""
    assert Ratio.parse("2:3") != Ratio.parse("1:1.5")
    assert Ratio.parse("2:3").per_first_part == Ratio.parse("1:1.5").per_first_part == (1.0, 1.5)
    assert Ratio.parse("1:3").shares == (0.25, 0.75)


def test_units_beside_the_home_unit():
    """Values can be had in the other unit the trade uses."""
    assert Length.parse("0.6 cm").mm == 6
    assert Temperature.parse("375 F").fahrenheit == pytest.approx(375, abs=1e-5)
    assert Percent.parse("25 %").fraction == 0.25
    assert Minutes.parse("2 h 5 min").minutes == 125


@pytest.mark.parametrize(
    ("kind", "value"),
    [
        (Length, -1.0),
        (Length, float("nan")),
        (Mass, float("inf")),
        (Peroxide, 101.0),
        (Temperature, float("nan")),
        (Money, Decimal("NaN")),
        (Money, Decimal("-1")),
        (Money, Decimal("Infinity")),
    ],
)
def test_no_impossible_value_by_another_door(kind, value):
    """Building a value directly refuses what reading it from text would refuse."""
    with pytest.raises(ValueError, match=r"not|between|number"):
        kind(value)


def test_dates():
    """Dates are ISO 8601 calendar days; leap days are known, other orders refused as unclear."""
    assert parse_date("2024-02-29") == datetime.date(2024, 2, 29)
    for text in ("2023-02-29", "2024-13-01"):
        with pytest.raises(ValueError, match="not a day of the calendar"):
            parse_date(text)
    for text in ("05/03/2024", "2024-3-5", "20240305", "2024-W10-2", "5 March 2024"):
        with pytest.raises(ValueError, match="year-month-day"):
            parse_date(text)
