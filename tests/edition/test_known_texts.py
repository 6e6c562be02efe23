"""A text is searched once, for as long as the same is sought in it; no text is kept."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from journey.cache import Cache, Shelf
from journey.edition.consent import Permission, ask_consent
from journey.edition.model import Edition
from journey.edition.prepare import _cleaner
from journey.edition.text_filter import AmbiguousTextError, TextFilter, _Found
from journey.edition.wording import Wording
from journey.pipeline import prepare
from journey.record.model import Audience, Record
from journey.record.private import Private, reveal
from journey.site.theme import load_theme
from tests.demo import TODAY, studied_demo

THEME = load_theme()


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(Cache.at(tmp_path / "kept"), ("a photo",))


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every text that is searched."""
    texts: list[str] = []
    search = TextFilter._finds_in

    def counted(self: TextFilter, text: str) -> list[_Found]:
        texts.append(text)
        return search(self, text)

    monkeypatch.setattr(TextFilter, "_finds_in", counted)
    return texts


def test_an_edition_is_the_same_with_what_was_kept_and_no_text_of_hers_is(shelf: Shelf, asked: list[str]) -> None:
    """The second time nothing is searched; the cache holds none of the texts, before or after cleaning."""
    made = [prepare(studied_demo(), Audience.CLASS, today=TODAY, theme=THEME, shelf=shelf) for _ in range(2)]
    assert isinstance(made[0], Edition)
    assert made[0] == made[1]
    assert len(asked) == len(set(asked)) > 100
    assert shelf.cache is not None
    kept = b"".join(path.read_bytes() for path in shelf.cache.folder.rglob("*") if path.is_file())
    told = [text for text in (*asked, made[0].lead, made[0].entries[0].words) if text and len(text) > 20]
    assert told
    assert [text for text in told if text.encode() in kept] == []


def test_another_name_searches_anew_and_another_allowance_judges_anew(shelf: Shelf, asked: list[str]) -> None:
    """Nothing was found for the names of that day; what may be a name is asked about each time."""
    record, text = studied_demo().record, "Deborah likes a cool violet."
    permission = ask_consent(record, Audience.CLASS, TODAY, to_look_only=True)
    assert isinstance(permission, Permission)
    words = Wording.load(THEME.words, "en", Audience.CLASS, date(2026, 3, 7))

    def cleaned(record: Record, text: str) -> str:
        return _cleaner(record, permission, words, shelf)(text)

    assert [cleaned(record, text), cleaned(record, text)] == [text, text]
    assert asked.count(text) == 1
    identity = record.identity.model_copy(update={"name": Private("Deborah Ibarra")})
    assert "Deborah" not in cleaned(record.model_copy(update={"identity": identity}), text)
    assert asked.count(text) == 2
    (allowed,) = {one.sentence for one in record.journey.allowed_sentences}
    assert [cleaned(record, allowed), cleaned(record, allowed)] == [allowed, allowed]
    before = list(asked)
    journey = record.journey.model_copy(update={"allowed_sentences": ()})
    with pytest.raises(AmbiguousTextError):
        cleaned(record.model_copy(update={"journey": journey}), allowed)
    assert asked == before


def test_another_language_or_another_first_day_says_other_words_instead(shelf: Shelf) -> None:
    """What stands instead of a name or a day is part of what was found."""
    record = studied_demo().record
    permission = ask_consent(record, Audience.CLASS, TODAY, to_look_only=True)
    assert isinstance(permission, Permission)
    text = f"{reveal(record.identity.name, because='to see it replaced')} came on 2026-03-07."
    said = []
    for language, start in (("en", 7), ("es", 7), ("en", 7), ("en", 1)):
        words = Wording.load(THEME.words, language, Audience.CLASS, date(2026, 3, start))
        said.append(_cleaner(record, permission, words, shelf)(text))
    assert said[0] == said[2] == "The client came on week 0."
    assert said[3] == "The client came on week 1."
    assert said[1] not in said[2:]
