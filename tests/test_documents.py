"""README and DEVELOPERS name only what there is."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path

import pytest

from journey.command import cli
from journey.record.yaml_reader import read_yaml

ROOT = Path(__file__).parents[1]
DOCUMENTS = [ROOT / "README.md", ROOT / "DEVELOPERS.md"]


def _named(document: Path) -> list[str]:
    prose = re.sub(r"```.*?```", "", document.read_text(encoding="utf-8"), flags=re.DOTALL)
    return re.findall(r"`([^`\n]+)`", prose)


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_path_named_is_there(document: Path) -> None:
    """A document that drifts from the tree misleads."""
    paths = [name for name in _named(document) if re.fullmatch(r"[\w.-]+(/[\w.-]+)+/?", name)]
    missing = [path for path in paths if not (ROOT / path).exists()]
    assert not missing


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_command_and_module_named_is_there(document: Path) -> None:
    """`journey X` is a command, `python -m X` a module."""
    for name in _named(document):
        if found := re.match(r"journey ([a-z]+)", name):
            assert found[1] in cli.commands, name
        if found := re.search(r"python -m ([\w.]+)", name):
            assert importlib.util.find_spec(found[1]) is not None, name


def test_the_example_of_the_readme_is_a_file_we_read() -> None:
    """No problem of form in it."""
    example = re.findall(r"```yaml\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    assert example
    for text in example:
        top, problems = read_yaml("journey.yaml", text.encode())
        assert top is not None
        assert problems == []


def test_ci_runs_the_command_that_the_readme_gives() -> None:
    """The block behind the mark is what .ci/run takes."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    block = re.search(r"<!-- test -->\n```sh\n(.*?)```", readme, re.DOTALL)
    assert block is not None
    assert "pytest" in block[1]
    assert "<!-- test -->" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")
