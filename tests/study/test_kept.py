"""A study is made anew when something it was computed from has changed, and only then."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from journey.alike import bytes_of
from journey.cache import Cache
from journey.pipeline import Studied, study_folder
from journey.study import assemble, kept
from journey.study.assemble import study_record
from journey.workshop import Workshop
from tests.demo import TODAY, studied_demo
from tests.small_client import small_client


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return small_client(tmp_path / "client")


@pytest.fixture
def study(folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[[], tuple[Studied, bool]]:
    """The folder studied with what was kept, and whether that was done anew."""
    made: list[object] = []

    def counted(*what: object, **how: object) -> object:
        made.append(study_record(*what, **how))  # type: ignore[arg-type]
        return made[-1]

    monkeypatch.setattr(kept, "study_record", counted)
    workshop = Workshop(Cache.at(tmp_path / "kept"))

    def done() -> tuple[Studied, bool]:
        before = len(made)
        return study_folder(folder, workshop=workshop), len(made) > before

    return done


def edit(file: Path, old: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    assert re.search(old, text)
    file.write_text(re.sub(old, new, text, count=1), encoding="utf-8")


def test_words_leave_a_study_as_it_was_and_everything_else_makes_it_anew(
    folder: Path, study: Callable[[], tuple[Studied, bool]]
) -> None:
    """A caption, a goal, who may see a photo; then a length, an assumption, a photo."""
    journey = folder / "journey.yaml"
    first, is_new = study()
    assert is_new
    edit(journey, r"( +)file: back-1.jpg\n", r"\1file: back-1.jpg\n\1caption: Before anything was done\n")
    edit(journey, r"(?m)^title: .*", "title: Another way to say it")
    edit(folder / "consent.yaml", r"\[photo-1, photo-2, photo-3\]", "[photo-1]")
    again, is_new = study()
    assert not is_new
    assert again.record.journey.title == "Another way to say it"
    assert bytes_of(again.study) == bytes_of(first.study)
    edit(journey, r"length: [0-9]+ cm", "length: 31 cm")
    assert study()[1]
    edit(folder / "salon.yaml", r"\Z", "\nassumptions:\n  light_spread: 0.3\n")
    assert study()[1]
    with (folder / "photos" / "back-3.jpg").open("ab") as photo:
        photo.write(b"\0")
    assert study()[1]
    assert not study()[1]


def test_a_study_goes_with_any_photo_it_was_made_from(
    study: Callable[[], tuple[Studied, bool]], tmp_path: Path
) -> None:
    """What she takes back is forgotten with everything that was computed from it."""
    first, _ = study()
    assert not study()[1]
    assert Cache.at(tmp_path / "kept").purge(first.photographs.facts("back-2.jpg").sha256)
    assert study()[1]


def test_no_text_of_hers_is_kept_and_all_are_there_again(
    folder: Path, study: Callable[[], tuple[Studied, bool]], tmp_path: Path
) -> None:
    """What she is advised, what a visit, a service and a place are called: put back in from the record."""
    journey = folder / "journey.yaml"
    care = "care:\n  - rule: ask\n    do: Ask Deborah Ibarra first\n    because: Deborah knows\n"
    edit(journey, r"\Z", f"\n{care}")
    edit(journey, r"(?m)^(  +)title: .*", r"\1title: Deborah came along")
    edit(journey, r"(?m)^(    +)name: .*", r"\1name: Deborah's mix")
    edit(journey, r"(?m)^(    +)light: .*", r"\1light: Deborah's lamp")
    first, again = study(), study()
    assert (first[1], again[1]) == (True, False)
    assert bytes_of(again[0].study) == bytes_of(first[0].study)
    (advice,) = [one for one in again[0].study.advice if one.rule == "ask"]
    assert (advice.do, advice.because) == ("Ask Deborah Ibarra first", "Deborah knows")
    assert {photo.light for photo in again[0].study.photos} >= {"Deborah's lamp"}
    kept_bytes = b"".join(path.read_bytes() for path in (tmp_path / "kept").rglob("*") if path.is_file())
    assert len(kept_bytes) > 100_000
    assert b"Deborah" not in kept_bytes


def test_without_photos_nothing_is_kept(
    folder: Path, study: Callable[[], tuple[Studied, bool]]
) -> None:
    """Nothing could tell later whose it was."""
    edit(folder / "journey.yaml", r"(?s)    photos:\n.*?(?=    chair_time: 3 h)", "")
    edit(folder / "consent.yaml", r"(?s)grants:.*", "")
    assert study()[1]
    assert study()[1]


def test_nothing_is_computed_from_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """The demo's study is the same with and without all that is said in it; its photos are read once for both."""
    studied = studied_demo()
    fibres = (studied.study.fibres, ())
    monkeypatch.setattr(assemble, "read_photos", lambda *_: studied.study.photos)
    monkeypatch.setattr(assemble, "study_fibres", lambda *_: fibres)
    bare = kept.without_remarks(studied.record)
    assert bare != studied.record
    whole, without = (study_record(one, studied.photographs, as_of=TODAY) for one in (studied.record, bare))
    assert bytes_of(whole) == bytes_of(without)
