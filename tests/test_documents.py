"""README and DEVELOPERS name only what there is."""

from __future__ import annotations

import importlib
import importlib.util
import re
import subprocess
import tomllib
from pathlib import Path

import pytest

from journey.command import cli
from journey.edition.model import Edition
from journey.edition.sign_off import why_unsigned
from journey.hair.service_rules import RULES as SERVICE_RULES
from journey.pipeline import prepare
from journey.record.form import fit
from journey.record.model import Audience, Visit
from journey.record.nodes import Listing, Mapping
from journey.record.yaml_reader import read_yaml
from journey.site.theme import load_theme
from journey.study.advising import CARE
from journey.study.cautions import CAUTIONS
from tests.demo import TODAY, studied_demo
from tests.demo_sign_off import COMMAND

ROOT = Path(__file__).parents[1]
DOCUMENTS = [ROOT / "README.md", ROOT / "DEVELOPERS.md"]
README, DEVELOPERS = (document.read_text(encoding="utf-8") for document in DOCUMENTS)


def _named(document: Path) -> list[str]:
    prose = re.sub(r"```.*?```", "", document.read_text(encoding="utf-8"), flags=re.DOTALL)
    return re.findall(r"`([^`\n]+)`", prose)


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_path_named_is_there(document: Path) -> None:
    """A document that drifts from the tree misleads."""
    paths = [name for name in _named(document) if re.fullmatch(r"[\w.-]+(/[\w.-]+)+/?|[\w.-]+/", name)]
    assert paths
    missing = [path for path in paths if not (ROOT / path).exists()]
    assert not missing


def test_every_list_named_stands_in_the_module_named_with_it() -> None:
    """`NAME` in `path` is a name in that module."""
    found = re.findall(r"`([A-Z_]+)` in `(journey/[\w/]+)(?:\.py)?`", " ".join(DEVELOPERS.split()))
    assert found
    for name, path in found:
        assert hasattr(importlib.import_module(path.replace("/", ".")), name), name


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_command_and_module_named_is_there(document: Path) -> None:
    """`journey X` is a command, `python -m X` a module."""
    for name in _named(document):
        if found := re.match(r"journey ([a-z]+)", name):
            assert found[1] in cli.commands, name
        if found := re.search(r"python -m ([\w.]+)", name):
            assert importlib.util.find_spec(found[1]) is not None, name


def test_the_example_of_the_readme_is_a_visit_we_read() -> None:
    """Neither a problem of form in it nor one of type."""
    example = re.findall(r"```yaml\n(.*?)```", README, re.DOTALL)
    assert len(example) == 1
    top, problems = read_yaml("journey.yaml", example[0].encode())
    assert problems == []
    assert top is not None
    visits = top.values["visits"]
    assert isinstance(visits, Listing)
    assert visits.items
    for item in visits.items:
        assert isinstance(item, Mapping)
        visit, misfits = fit("journey.yaml", item, Visit, _no_note)
        assert misfits == {}
        assert visit is not None
        assert visit.services
        assert visit.photos


def _no_note(name: str) -> str:
    raise ValueError(name)


def test_the_picture_of_the_readme_is_there_and_small() -> None:
    """At most 250 kB, so that the page opens on a slow line."""
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert pictures
    for picture in pictures:
        assert 0 < (ROOT / picture).stat().st_size <= 250_000


def test_the_tables_of_rules_are_those_of_the_code() -> None:
    """Every caution and care rule with its source, in the code's order."""
    cautions = [(rule.key, rule.weight, rule.source) for rule in CAUTIONS]
    care = [(rule.key, rule.source) for rule in CARE]
    assert _rows("caution") == cautions
    assert _rows("service rule") == [(rule.code, rule.weight, rule.source) for rule in SERVICE_RULES]
    assert _rows("home care") == care


def test_every_dependency_has_its_reason() -> None:
    """What is installed and what is explained are the same."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    for title, listed in (
        ("runtime", project["dependencies"]),
        ("test", project["optional-dependencies"]["test"]),
    ):
        assert [row[0] for row in _rows(title)] == [re.split(r"[<>=!~\[ ]", one)[0] for one in listed]


def _rows(title: str) -> list[tuple[str, ...]]:
    """The body of the table of DEVELOPERS.md whose head begins with these words."""
    table = re.search(rf"^\| {title} \|.*\n\|[-|]+\|\n((?:\|.*\n)+)", DEVELOPERS, re.MULTILINE)
    assert table is not None, title
    return [tuple(cell.strip() for cell in line.strip("|").split("|")) for line in table[1].splitlines()]


@pytest.mark.parametrize("mark", ["run", "test"])
def test_the_blocks_of_the_readme_are_sound_bash(mark: str) -> None:
    """A slip of the pen in them would stop every first use."""
    checked = subprocess.run(["bash", "-n"], input=_block(mark), capture_output=True, text=True, check=False)
    assert (checked.returncode, checked.stderr) == (0, "")


def test_every_option_of_the_blocks_is_one_we_have() -> None:
    """`journey compile` with what follows it in the README."""
    for mark in ("run", "test"):
        called = re.findall(r"\.venv/bin/journey (\w+) (.*)", _block(mark))
        assert called
        for name, rest in called:
            known = {option for parameter in cli.commands[name].params for option in parameter.opts}
            assert set(re.findall(r"--\w+", rest)) <= known


def _block(mark: str) -> str:
    block = re.search(rf"^<!-- {mark} -->\n```sh\n(.*?)^```", README, re.DOTALL | re.MULTILINE)
    assert block is not None, mark
    return block[1]


def test_ci_runs_the_command_that_the_readme_gives() -> None:
    """The block behind the mark is what .ci/run takes, cut out as it cuts."""
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    cut = re.search(r"awk '([^']+)' README\.md", ci)
    assert cut is not None
    taken = subprocess.run(["awk", cut[1], ROOT / "README.md"], capture_output=True, text=True, check=True)
    assert taken.stdout == _block("test")
    assert "pytest" in taken.stdout


def test_the_demo_is_signed() -> None:
    """README's command ends with three sites on a fresh machine: all that its class edition holds is signed."""
    studied = studied_demo()
    edition = prepare(studied, Audience.CLASS, today=TODAY, theme=load_theme())
    assert isinstance(edition, Edition), edition
    missing = why_unsigned(edition, studied.sign_offs, "demo_client")
    assert missing is None, f"{missing}\nTo sign anew, after looking at the sheet: {COMMAND}"
