"""Editors are told the truth about the files, by schemas that another program can read."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import jsonschema
import pytest
import yaml

from journey.record.model import Part
from journey.record.nodes import plain
from journey.record.schema import SCHEMAS, schema_file, schema_text
from journey.record.yaml_reader import read_yaml
from tests.record.folders import BROKEN, DEMO, SOUND


def validator(name: str) -> Any:
    schema = json.loads(schema_file(name).read_text(encoding="utf-8"))
    return jsonschema.Draft202012Validator(schema)


def tree(folder: Path, name: str) -> object:
    top, _ = read_yaml(name, (folder / f"{name}.yaml").read_bytes())
    assert top is not None
    return plain(top)


@pytest.mark.parametrize(("name", "model"), SCHEMAS)
def test_shipped_schemas_are_up_to_date(name: str, model: type[Part]) -> None:
    """The schema in the package is the one the models make; `python -m journey.record.schema` renews it."""
    assert schema_file(name).read_text(encoding="utf-8") == schema_text(name, model)


@pytest.mark.parametrize(("name", "model"), SCHEMAS)
def test_schemas_are_json_schema(name: str, model: type[Part]) -> None:
    """An independent checker takes each for a schema of draft 2020-12."""
    jsonschema.Draft202012Validator.check_schema(json.loads(schema_text(name, model)))


@pytest.mark.parametrize("folder", [SOUND, DEMO], ids=["sound", "demo"])
@pytest.mark.parametrize("name", [name for name, _ in SCHEMAS])
def test_good_files_satisfy_the_schema(folder: Path, name: str) -> None:
    """An independent checker finds nothing wrong with files the reader accepts."""
    assert [error.message for error in validator(name).iter_errors(tree(folder, name))] == []


@pytest.mark.parametrize(
    ("case", "name"),
    [
        ("three-bad-dates", "journey"),
        ("strength-without-space", "salon"),
        ("length-without-unit", "journey"),
        ("decimal-comma", "journey"),
        ("misspelt-key", "journey"),
        ("missing-keys", "journey"),
        ("wrong-word", "consent"),
        ("list-expected", "journey"),
        ("group-expected", "journey"),
        ("nothing-written", "journey"),
        ("colour-as-comment", "salon"),
        ("level-out-of-range", "journey"),
        ("truth-in-other-words", "journey"),
        ("three-corners", "journey"),
        ("bad-key", "journey"),
        ("bad-band", "journey"),
        ("bad-ratio", "journey"),
        ("bad-hash", "consent"),
        ("text-too-long", "journey"),
    ],
)
def test_editor_marks_what_the_reader_refuses(case: str, name: str) -> None:
    """Mistakes of form are seen while typing."""
    assert list(validator(name).iter_errors(tree(BROKEN / case, name)))


@pytest.mark.parametrize("folder", [SOUND, DEMO], ids=["sound", "demo"])
@pytest.mark.parametrize("name", [name for name, _ in SCHEMAS])
def test_our_yaml_is_everybodys_yaml(folder: Path, name: str) -> None:
    """A common YAML loader that keeps scalars as text reads the same tree from the same file."""
    text = (folder / f"{name}.yaml").read_text(encoding="utf-8")
    assert yaml.load(text, Loader=yaml.BaseLoader) == tree(folder, name)
