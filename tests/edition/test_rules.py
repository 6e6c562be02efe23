"""Every field of the record has exactly one rule, and the rules withhold by default."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args, get_type_hints

import pytest
from pydantic import BaseModel

from journey.edition.gate import Gate, UnruledFieldError
from journey.edition.rules import RULES, Treatment
from journey.record import model
from journey.record.fields import MarkdownText, ShortText
from journey.record.model import Audience


def _fields() -> Iterator[str]:
    for name, part in vars(model).items():
        if not (isinstance(part, type) and issubclass(part, BaseModel)) or part in (model.Part, BaseModel):
            continue
        yield from (f"{name}.{field}" for field in part.model_fields)


def _annotations() -> Iterator[tuple[str, object]]:
    """Each field with its annotation, free texts marked as such."""
    texts = {ShortText: "free text", MarkdownText: "free text"}
    for name, part in vars(model).items():
        if isinstance(part, type) and issubclass(part, model.Part):
            for field, hint in get_type_hints(part, include_extras=True).items():
                parts = [hint, *get_args(hint), *(inner for one in get_args(hint) for inner in get_args(one))]
                yield f"{name}.{field}", [texts.get(one, "") for one in parts if _hashable(one)]


def _hashable(value: object) -> bool:
    try:
        hash(value)
    except TypeError:
        return False
    return True


def test_every_field_of_the_record_has_a_rule_and_every_rule_a_field() -> None:
    """A new field reaches nobody before somebody has decided who may see it."""
    assert sorted(RULES) == sorted(_fields())


def test_nothing_that_says_who_she_is_is_ever_copied() -> None:
    """Identity feeds the filter and the audit, and no page."""
    for path, rule in RULES.items():
        if path.startswith("Identity."):
            assert {rule.client, rule.class_, rule.archive} <= {Treatment.WITHHOLD, Treatment.DERIVE}


def test_free_text_never_passes_unfiltered_to_client_or_class() -> None:
    """Only typed values and words from fixed lists may be copied as written."""
    free = [path for path, annotation in _annotations() if "free text" in repr(annotation)]
    assert len(free) > 20
    for path in free:
        assert RULES[path].client is not Treatment.SHOW
        assert RULES[path].class_ is not Treatment.SHOW


@pytest.mark.parametrize("audience", list(Audience))
def test_a_field_without_a_rule_is_refused_not_shown(audience: Audience) -> None:
    """Forgetting a rule stops the build."""
    gate = Gate(audience, clean=lambda text: text)
    with pytest.raises(UnruledFieldError):
        gate.text("Visit.diary", "words")


def test_a_withheld_text_comes_out_empty_and_a_filtered_one_filtered() -> None:
    """The gate applies the treatment of its audience."""
    gate = Gate(Audience.CLASS, clean=lambda text: text.replace("Ana", "the client"))
    assert gate.text("Visit.private_note", "Ana pays late") == ""
    assert gate.text("Visit.class_note", "Ana wanted coral") == "the client wanted coral"
