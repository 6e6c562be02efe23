"""A private value never becomes text without a reason."""

from __future__ import annotations

import copy
import json
import os
import pickle
from datetime import date

import jinja2
import pytest
from pydantic import BaseModel, ConfigDict, ValidationError
from pydantic_core import PydanticSerializationError

from journey.record.private import Private, PrivateTextError, reveal

NAME = "Aurelie Vantongeren"


class Person(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid", hide_input_in_errors=True)
    name: Private[str]
    born: Private[date] | None = None


@pytest.mark.parametrize(
    "road",
    [
        str,
        lambda value: f"{value}",
        lambda value: f"{value:>20}",
        lambda value: "%s" % value,  # noqa: UP031
        "{}".format,
        bytes,
        os.fspath,
        pickle.dumps,
        lambda value: "".join(value),
        lambda value: "name: " + value,
        json.dumps,
        lambda value: jinja2.Template("{{ v }}").render(v=value),
        lambda value: jinja2.Environment(autoescape=True).from_string("{{ v }}").render(v=value),
    ],
)
def test_every_road_to_text_raises(road):  # type: ignore[no-untyped-def]
    """str, format, templates, JSON and pickle refuse, and the refusal does not carry the value."""
    with pytest.raises(TypeError) as refusal:
        road(Private(NAME))
    assert NAME not in str(refusal.value)


def test_its_picture_in_a_debugger_is_a_placeholder() -> None:
    """repr shows no letter of the value, nor does the repr of what holds it."""
    assert repr(Private(NAME)) == "<private>"
    assert NAME not in repr(Person(name=NAME))  # type: ignore[arg-type]
    assert not hasattr(Private(NAME), "__dict__")


def test_reveal_demands_a_reason() -> None:
    """The one way out gives the value back, but only to who says why."""
    assert reveal(Private(NAME), because="the text filter must know what to replace") == NAME
    with pytest.raises(ValueError, match="reason"):
        reveal(Private(NAME), because="  ")
    with pytest.raises(TypeError):
        reveal(NAME, because="it is not wrapped")  # type: ignore[arg-type]


def test_a_private_value_is_frozen_equal_by_content_and_survives_copying() -> None:
    """Records that hold private values compare and copy like any frozen record."""
    value = Private(NAME)
    with pytest.raises(AttributeError):
        value.anything = 1
    with pytest.raises(AttributeError):
        value._Private__value = "Else"
    assert value == Private(NAME) != Private("Else")
    assert hash(value) == hash(Private(NAME))
    assert value != NAME
    assert copy.deepcopy(value) == copy.copy(value) == value


def test_a_model_reads_it_as_its_inner_type_and_will_not_write_it() -> None:
    """A field `Private[date]` is typed like a date; dumping the model as JSON raises."""
    person = Person.model_validate({"name": NAME, "born": "1991-03-14"})
    assert person.born is not None
    assert reveal(person.born, because="test") == date(1991, 3, 14)
    assert Person.model_validate(person.model_dump()) == person
    assert reveal(Person.model_validate_json('{"name": "A"}').name, because="test") == "A"
    with pytest.raises(PydanticSerializationError, match="private value") as refusal:
        person.model_dump_json()
    assert NAME not in str(refusal.value)
    with pytest.raises(ValidationError) as wrong:
        Person.model_validate({"name": NAME, "born": "the day of Aurelie"})
    assert "Aurelie" not in str(wrong.value)


def test_a_schema_for_editors_shows_the_inner_type() -> None:
    """The JSON Schema describes the text to write, not the wrapping."""
    assert Person.model_json_schema()["properties"]["name"]["type"] == "string"


def test_the_refusal_is_named() -> None:
    """What escapes is told apart from other type errors."""
    with pytest.raises(PrivateTextError, match="reveal"):
        str(Private(1))
