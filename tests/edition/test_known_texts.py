"""A text in which nothing was found is not searched again; one in which something was, always is."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from journey.cache import Cache, Shelf
from journey.edition.consent import Permission, ask_consent
from journey.edition.model import Edition
from journey.edition.prepare import _cleaner
from journey.edition.text_filter import TextFilter
from journey.edition.wording import Wording
from journey.pipeline import prepare
from journey.record.model import Audience, Record
from journey.record.private import Private
from journey.site.theme import load_theme
from tests.demo import TODAY, studied_demo

THEME = load_theme()


@pytest.fixture
def shelf(tmp_path: Path) -> Shelf:
    return Shelf(Cache.at(tmp_path / "kept"))


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Every text the filter is asked about."""
    texts: list[str] = []
    clean = TextFilter.clean

    def counted(self: TextFilter, text: str) -> object:
        texts.append(text)
        return clean(self, text)

    monkeypatch.setattr(TextFilter, "clean", counted)
    return texts


def test_an_edition_is_the_same_with_what_was_kept_and_no_text_of_hers_is(shelf: Shelf, asked: list[str]) -> None:
    """The second time only texts that hold something are searched; the cache holds none of either."""
    made = [prepare(studied_demo(), Audience.CLASS, today=TODAY, theme=THEME, shelf=shelf) for _ in range(2)]
    assert isinstance(made[0], Edition)
    assert made[0] == made[1]
    once, again = len(set(asked)), len(asked) - len(set(asked))
    assert 0 < again < once / 3
    assert shelf.cache is not None
    kept = b"".join(path.read_bytes() for path in shelf.cache.folder.rglob("*") if path.is_file())
    told = [text for text in asked if len(text) > 20]
    assert told
    assert [text for text in told if text.encode() in kept] == []


def test_another_name_or_another_allowed_sentence_searches_all_anew(shelf: Shelf, asked: list[str]) -> None:
    """What was found to be nothing was so for the names and allowances of that day."""
    record, text = studied_demo().record, "Deborah likes a cool violet."
    permission = ask_consent(record, Audience.CLASS, TODAY, to_look_only=True)
    assert isinstance(permission, Permission)
    words = Wording.load(THEME.words, "en", Audience.CLASS, date(2026, 3, 7))

    def cleaned(record: Record) -> str:
        return _cleaner(record, permission, words, shelf)(text)

    assert [cleaned(record), cleaned(record)] == [text, text]
    assert asked == [text]
    identity = record.identity.model_copy(update={"name": Private("Deborah Ibarra")})
    assert "Deborah" not in cleaned(record.model_copy(update={"identity": identity}))
    assert asked == [text, text]
    assert record.journey.allowed_sentences
    journey = record.journey.model_copy(update={"allowed_sentences": ()})
    assert cleaned(record.model_copy(update={"journey": journey})) == text
    assert asked == [text, text, text]
