"""Any tree of keys and values is a record or a list of problems that can be put right, each with its line."""

# ruff: noqa: E501 - a table of words reads best as it is

from __future__ import annotations

import re
import unicodedata

import pytest
import yaml
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pydantic import BaseModel

from journey.record.model import Consent, Identity, Journey, Salon
from journey.record.plain_text import JOINERS_IN_USE
from tests.record.folders import sound_folder
from tests.record.test_reader import problems_of

MODELS = {"salon.yaml": Salon, "identity.yaml": Identity, "consent.yaml": Consent, "journey.yaml": Journey}


def _keys(model: type[BaseModel], seen: set[type[BaseModel]]) -> set[str]:
    """Every key that may stand anywhere in a file."""
    seen.add(model)
    found = set(model.model_fields)
    for field in model.model_fields.values():
        waiting = [field.annotation]
        while waiting:
            one = waiting.pop()
            waiting += getattr(one, "__args__", ())
            if isinstance(one, type) and issubclass(one, BaseModel) and one not in seen:
                found |= _keys(one, seen)
    return found


DECEIVING = {"Cc", "Cf", "Cs", "Zl", "Zp"}
KEYS = {name: sorted(_keys(model, set())) for name, model in MODELS.items()}
WORDS = (
    "yes", "no", "", "~", "0", "-1", "1e400", ".nan", ".inf", "0x1f", "2026-03-07", "2026-02-30", "9999-12-31", "12:34",
    "24 cm", "-3 cm", "40 g", "1:2", "20 vol", "18 %", "#e0c48a", "0.1 0.2 0.3 0.4", "2 2 2 2", "crown", "all", "roots",
    "from 9 cm to 2 cm", "lighten", "after", "client", "notes/goal.md", "notes/../x.md", "/etc/passwd", "back.jpg", "9" * 400,
    "\\N", "%41", "{{ 1 }}", "<b>", "a\u0301", "\u00ad", "Ünïcödé", "x" * 301,
)  # fmt: skip


def _trees(name: str) -> st.SearchStrategy[object]:
    scalars = st.sampled_from(WORDS) | st.text(max_size=8)
    keys = st.sampled_from(KEYS[name]) | st.text(max_size=4)
    return st.recursive(
        scalars,
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(keys, inner, max_size=5),
        max_leaves=25,
    )


@st.composite
def files(draw: st.DrawFn) -> tuple[str, str]:
    name = draw(st.sampled_from(sorted(MODELS)))
    top = draw(st.dictionaries(st.sampled_from(KEYS[name]), _trees(name), min_size=1, max_size=6))
    return name, yaml.safe_dump(top, allow_unicode=True, default_flow_style=draw(st.booleans()), width=10_000)


@settings(max_examples=200, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(written=files())
def test_any_tree_is_refused_line_by_line(
    written: tuple[str, str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Each problem names a file of the folder and a line that is there, in one line without control characters."""
    name, text = written
    folder = sound_folder(tmp_path_factory.mktemp("tree"))
    (folder / name).write_text(text, encoding="utf-8")
    for problem in problems_of(folder):
        lines = (folder / problem.file).read_text(encoding="utf-8").count("\n") + 1
        assert 1 <= problem.line <= lines, problem
        assert re.fullmatch(r"[a-z/_-]+\.(yaml|md):[0-9]+:.*", str(problem)), ascii(str(problem))
        kinds = {unicodedata.category(letter) for letter in str(problem) if letter not in JOINERS_IN_USE}
        assert not kinds & DECEIVING, ascii(str(problem))
        assert len(str(problem)) < 700
