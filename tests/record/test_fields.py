"""What one piece of text may say, and what the editor is told about it."""

from __future__ import annotations

import doctest
import re
from datetime import date
from typing import Annotated, Any, get_origin

import pytest
from pydantic import TypeAdapter, ValidationError

from journey import errors
from journey.quantities import Length, Mass, Minutes, Money, Peroxide, Ratio, Temperature
from journey.record import band, fields, rectangle
from journey.record.band import Band, Place
from journey.record.private import PrivateTextError, reveal
from journey.record.rectangle import Rectangle

KINDS = sorted(name for name, kind in vars(fields).items() if get_origin(kind) is Annotated)

READ: tuple[tuple[str, str, object], ...] = (
    ("Day", "2024-02-29", date(2024, 2, 29)),
    ("Key", "root-touch-up", "root-touch-up"),
    ("Key", "v1", "v1"),
    ("Hex", "#E0C48A", "#e0c48a"),
    ("Number", "12.5", 12.5),
    ("Level", "10", 10.0),
    ("Level", "8.5", 8.5),
    ("Share", "0.35", 0.35),
    ("Share", "35 %", 0.35),
    ("Share", "1", 1.0),
    ("WeeklyCount", "2.5", 2.5),
    ("WholeNumber", "048", 48),
    ("Truth", "yes", True),
    ("Truth", "no", False),
    ("Sha256", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad", "ba78…"),
    ("ShortText", " café & more ", "café & more"),
    ("NoteName", "notes/goal.md", "notes/goal.md"),
    ("PhotoFile", "IMG_20260321 (1).JPG", "IMG_20260321 (1).JPG"),
    ("Currency", "EUR", "EUR"),
    ("Region", "ES", "ES"),
    ("MarkdownText", "*Some* text\n\nand more", "*Some* text\n\nand more"),
    ("Point", "0.1  1", (0.1, 1.0)),
    ("Rect", "0 0 1 1", Rectangle(0, 0, 1, 1)),
    ("Rect", "0.7 0.7 0.3 0.3", Rectangle(0.7, 0.7, 0.3, 0.3)),
    ("BandField", "roots", Band((Place.ROOTS,))),
    ("BandField", "ends and mid-lengths", Band((Place.MID_LENGTHS, Place.ENDS))),
    ("BandField", "all", Band(tuple(Place))),
    ("BandField", "from 1/2 in to 8 cm", Band(span=Band.parse("from 1.27 cm to 8 cm").span)),
    ("LengthField", "1 1/2 in", Length(3.81)),
    ("MassField", "40 g", Mass(40)),
    ("MinutesField", "1 h 15 min", Minutes(75)),
    ("PeroxideField", "20 vol", Peroxide(6)),
    ("RatioField", "1:1.5", Ratio((1, 1.5))),
    ("TemperatureField", "190 C", Temperature(190)),
    ("TemperatureField", "190 °C", Temperature(190)),
    ("Price", "38.50", Money.parse("38.50")),
)

REFUSED: tuple[tuple[str, str], ...] = (
    ("Day", "2026-2-3"),
    ("Day", "20260203"),
    ("Day", "1899-12-31"),
    ("Key", "Crown"),
    ("Key", "crown_top"),
    ("Key", "-a"),
    ("Key", "a--b"),
    ("Key", "a" * 61),
    ("Hex", "e0c48a"),
    ("Hex", "#e0c"),
    ("Number", "1e3"),
    ("Number", "nan"),
    ("Number", "-1"),
    ("Number", "٣"),
    ("Level", "0"),
    ("Level", "10.5"),
    ("Level", "7-8"),
    ("Share", "1.01"),
    ("Share", "101 %"),
    ("Share", "35%"),
    ("WeeklyCount", "101"),
    ("WholeNumber", "2.0"),
    ("WholeNumber", "1_000"),
    ("Truth", "true"),
    ("Truth", "YES"),
    ("Sha256", "ba78"),
    ("ShortText", "two\nlines"),
    ("ShortText", "x" * 301),
    ("NoteName", "notes/../x.md"),
    ("NoteName", "/notes/x.md"),
    ("PhotoFile", "photos/x.jpg"),
    ("PhotoFile", "..\\x.jpg"),
    ("Currency", "€"),
    ("Region", "es"),
    ("PrivateDay", "14 March 1991"),
    ("MarkdownText", "notes/Goal.MD"),
    ("MarkdownText", "x" * 65_537),
    ("Point", "0.1"),
    ("Point", "0.1 1.1"),
    ("Rect", "0.8 0 0.3 0.1"),
    ("Rect", "0 0 0 1"),
    ("Rect", "-0.1 0 0.3 0.1"),
    ("BandField", "roots, ends"),
    ("BandField", "roots and roots"),
    ("BandField", "from 8 cm to 2 cm"),
    ("LengthField", "26cm"),
    ("MassField", "40"),
    ("PeroxideField", "20vol"),
    ("RatioField", "1"),
    ("TemperatureField", "190"),
    ("Price", "38,50"),
)


def adapter(kind: str) -> TypeAdapter[Any]:
    return TypeAdapter(getattr(fields, kind))


def test_every_kind_of_field_is_judged_here() -> None:
    """A new kind of field comes with a text it reads."""
    assert {kind for kind, _, _ in READ} | {"PrivateText", "PrivateDay"} == set(KINDS)


@pytest.mark.parametrize(("kind", "text", "value"), READ)
def test_text_becomes_its_value(kind: str, text: str, value: object) -> None:
    """Each kind of field reads what the trade writes."""
    found = adapter(kind).validate_python(text)
    if kind == "Sha256":
        assert found == text
    else:
        assert found == value


@pytest.mark.parametrize(("kind", "text"), REFUSED)
def test_other_text_is_refused_with_advice(kind: str, text: str) -> None:
    """What is not written as agreed is refused, and the refusal is one short line."""
    with pytest.raises(ValidationError) as caught:
        adapter(kind).validate_python(text)
    words = str(caught.value.errors()[0]["ctx"]["error"])
    assert "; write " in words
    assert "\n" not in words
    assert len(words) < 300


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("value", ["", "  ", [], {}, ["x"], {"x": "y"}, 5, None])
def test_nothing_and_groups_are_refused(kind: str, value: object) -> None:
    """A field of text holds text: not nothing, not a list, not a group, not a number."""
    if value == 5 and kind == "WholeNumber":
        return  # a value that has been parsed before
    with pytest.raises(ValidationError):
        adapter(kind).validate_python(value)


@pytest.mark.parametrize(("kind", "text", "value"), READ)
def test_editor_accepts_what_the_reader_accepts(kind: str, text: str, value: object) -> None:
    """No pattern in a schema marks as wrong what can be read."""
    schema = adapter(kind).json_schema()
    if "pattern" in schema:
        assert re.search(schema["pattern"], " ".join(text.split()))
    assert text in schema.get("enum", [text])


@pytest.mark.parametrize("kind", KINDS)
def test_examples_can_be_read(kind: str) -> None:
    """What an editor offers as an example is right."""
    for example in adapter(kind).json_schema().get("examples", ()):
        if kind != "Sha256":
            adapter(kind).validate_python(example)


def test_private_text_is_wrapped_at_once() -> None:
    """A value that identifies somebody cannot be printed from the moment it has been read."""
    name = adapter("PrivateText").validate_python("Ana Fingida")
    with pytest.raises(PrivateTextError):
        str(name)
    assert reveal(name, because="to see that it is there") == "Ana Fingida"


def test_band_is_named_or_measured_never_both() -> None:
    """A band cannot say two different things at once, nor nothing."""
    span = Band.parse("from 2 cm to 8 cm").span
    for places, measured in (((), None), ((Place.ROOTS,), span)):
        with pytest.raises(ValueError, match="either named or measured"):
            Band(places, measured)


@pytest.mark.parametrize("text", ["roots", "mid-lengths and ends", "all", "from 2 cm to 8 cm"])
def test_band_reads_its_own_text(text: str) -> None:
    """Text and value are exchangeable."""
    assert str(Band.parse(text)) == text


@pytest.mark.parametrize("module", [band, rectangle, errors])
def test_examples_in_docstrings_hold(module: Any) -> None:
    """Every example shown in the documentation of these modules comes out as shown."""
    outcome = doctest.testmod(module)
    assert outcome.attempted
    assert outcome.failed == 0
