"""No edition is published before every edition asked for is written and audited."""

from __future__ import annotations

import re
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import AbstractContextManager, nullcontext
from datetime import date
from multiprocessing import get_context
from pathlib import Path

import pytest

from journey.errors import FolderProblems
from journey.making import Outcome
from journey.pipeline import compile_folder
from journey.record.model import Audience
from journey.site.theme import load_theme
from journey.workshop import Workshop
from tests.fingerprints import fingerprint
from tests.small_client import small_client

EDITIONS = (Audience.CLIENT, Audience.ARCHIVE)
Workers = Callable[[], AbstractContextManager[Executor | None]]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The client gets two photos; the third, on which nothing is measured, is for the archive alone."""
    folder = small_client(tmp_path / "client")
    journey = folder / "journey.yaml"
    text = journey.read_text(encoding="utf-8")
    last = text.index("file: back-3.jpg")
    unmeasured = re.sub(r" +patches:\n.*? 18 %\n", "", text[last:], count=1, flags=re.DOTALL)
    journey.write_text(text[:last] + unmeasured, encoding="utf-8")
    consent = folder / "consent.yaml"
    given = consent.read_text(encoding="utf-8")
    start = given.index("  - edition: client\n    given_on: 2026-03-07")
    archive = given[start:].replace("edition: client", "edition: archive")
    client = given.replace("[photo-1, photo-2, photo-3]", "[photo-1, photo-2]")
    consent.write_text(client + archive, encoding="utf-8")
    return folder


def compiled(folder: Path, to: Path, executor: Executor | None = None) -> tuple[Outcome, ...]:
    return compile_folder(
        folder,
        audiences=EDITIONS,
        today=date(2026, 6, 1),
        to=to,
        theme=load_theme(),
        workshop=Workshop(executor=executor),
    )


def damage(folder: Path) -> None:
    """The last thousand bytes of the unmeasured photo are lost; its header is as it was."""
    photo = folder / "photos" / "back-3.jpg"
    photo.write_bytes(photo.read_bytes()[:-1000])


WORKERS: dict[str, Workers] = {
    "none": lambda: nullcontext(None),
    "threads": lambda: ThreadPoolExecutor(2),
    "processes": lambda: ProcessPoolExecutor(2, get_context("fork")),
}


@pytest.mark.parametrize("how", WORKERS)
def test_damage_that_shows_in_one_edition_stops_the_others_too(how: str, folder: Path, tmp_path: Path) -> None:
    """A photo that nothing measures is decoded when the archive is written: the client's site waits for that.

    Nothing is there after it was refused the first time; a site published before stays as it was.
    """
    to, photo = tmp_path / "to", folder / "photos" / "back-3.jpg"
    whole = photo.read_bytes()
    with WORKERS[how]() as executor:
        damage(folder)
        with pytest.raises(FolderProblems, match=r"photos/back-3.jpg: .*damaged"):
            compiled(folder, to, executor)
        assert fingerprint(to) == {}
        photo.write_bytes(whole)
        assert [one.site for one in compiled(folder, to, executor)] == [to / one for one in EDITIONS]
        before = fingerprint(to)
        journey = folder / "journey.yaml"
        journey.write_text(journey.read_text(encoding="utf-8").replace("name: ", "name: Other ", 1), "utf-8")
        damage(folder)
        with pytest.raises(FolderProblems, match=r"photos/back-3.jpg: .*damaged"):
            compiled(folder, to, executor)
    assert fingerprint(to) == before
    assert [path.name for path in to.iterdir() if ".new-" in path.name] == []
