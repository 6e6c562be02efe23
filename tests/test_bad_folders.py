"""Whatever stands in a folder is refused by name or does no harm, at once; a published site stays as it was."""

from __future__ import annotations

import io
import re
import shutil
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import html5lib  # type: ignore[import-untyped]
import pytest
from PIL import Image

import journey.pipeline
from tests.bad_folders import KINDS, LIMIT_BYTES, ROWS, compiled
from tests.bad_rows import Row, Tamed
from tests.fingerprints import fingerprint
from tests.small_client import small_client
from tests.tamed_folders import TAMED, batches

assert journey.pipeline, "read before the children are made, so that they measure only their own work"

_TOLD = re.compile(r"^[a-z/_-]+\.(yaml|md):[1-9][0-9]*: ", re.M)
"""A refusal with its file and line."""
_CONTROL = re.compile(r"[\x00-\x09\x0b-\x1f\x7f\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""What could write over a terminal, or turn its lines round."""


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that compiles, with its published site beside it."""
    at = tmp_path_factory.mktemp("sound")
    folder = small_client(at / "client")
    end = compiled(folder, at / "sites")
    assert end.code == 0, end.said
    return folder


def test_there_is_a_row_of_every_kind() -> None:
    """No kind of hostile input without a folder that goes through the command, no row of an unknown kind."""
    assert {row.kind for row in (*ROWS, *TAMED)} == set(KINDS)
    names = [row.what for row in (*ROWS, *TAMED)]
    assert len(set(names)) == len(names) > 180


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.what.replace(" ", "_"))
def test_a_bad_folder_is_refused_by_name(row: Row, sound: Path, tmp_path: Path) -> None:
    """Exit code 1, words with file and line, no traceback, 2 seconds, a gigabyte, the old site untouched.

    The sound folder compiles, or the fixture fails: it is the disturbance that is refused.
    """
    sites = sound.parent / "sites"
    before = fingerprint(sites)
    folder = Path(shutil.copytree(sound, tmp_path / "client"))
    row.disturb(folder)
    end = compiled(folder, sites)
    assert "Traceback" not in end.said, end.said
    assert row.says in end.said, end.said
    assert row.whole_file or _TOLD.search(end.said), end.said
    assert not _CONTROL.search(end.said), ascii(end.said)
    assert end.code == 1
    assert end.seconds <= 2
    assert end.peak_bytes <= LIMIT_BYTES
    assert fingerprint(sites) == before
    assert len(before) > 3
    assert not Path("/tmp/owned").exists()


@pytest.mark.parametrize("rows", batches(), ids=lambda rows: rows[0].what.replace(" ", "_"))
def test_what_is_let_in_does_no_harm(rows: Sequence[Tamed], sound: Path, tmp_path: Path) -> None:
    """It compiles quickly; nothing of it stands in any byte or runs on the page; photos look as they should."""
    folder = Path(shutil.copytree(sound, tmp_path / "client"))
    for row in rows:
        row.disturb(folder)
    end = compiled(folder, tmp_path / "sites")
    assert "Traceback" not in end.said, end.said
    assert end.code == 0, end.said
    assert end.seconds <= 3, "the whole site; sound it takes one"
    assert end.peak_bytes <= LIMIT_BYTES
    site = tmp_path / "sites" / "client"
    page = (site / "index.html").read_text(encoding="utf-8")
    pictures = [Image.open(io.BytesIO(path.read_bytes())) for path in sorted(site.glob("pictures/*.jpg"))]
    everything = b"".join(path.read_bytes().lower() for path in sorted(site.rglob("*")) if path.is_file())
    assert _lively(page, site) == []
    for row in rows:
        assert [one for one in row.gone if one.lower() in everything] == [], row.what
        assert [one for one in row.stays if one not in _text(page)] == [], row.what
        assert row.looks is None or any(row.looks(picture) for picture in pictures), row.what


def _lively(page: str, site: Path) -> list[str]:
    """What of a page could run, or load anything but a file of its site: parsed as a browser does."""
    found, files = [], {path.relative_to(site).as_posix() for path in site.rglob("*") if path.is_file()}
    for element in _parsed(page).iter():
        name, facts = str(element.tag), element.attrib
        if name in {"iframe", "object", "embed", "base", "form", "math", "frame", "applet"}:
            found.append(name)
        if name == "meta" and facts.get("http-equiv", "").lower() == "refresh":
            found.append("refresh")
        for key, value in facts.items():
            loads = key.rpartition(":")[2] in {"href", "src", "srcset", "action", "data", "poster", "background"}
            wants = [part.split()[0] for part in value.split(",")] if key == "srcset" else [value]
            a_link = name == "a" and value.startswith("https://")
            ours = a_link or all(one.startswith("#") or one in files for one in wants)
            if key.startswith("on") or key in {"srcdoc", "style"} or (loads and not ours):
                found.append(f"{name} {key}={value}")
    return found


def _text(page: str) -> str:
    return "".join(_parsed(page).itertext())


def _parsed(page: str) -> Any:
    return html5lib.parse(page, namespaceHTMLElements=False)
