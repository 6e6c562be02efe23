"""Every language says the same things: same keys, same places to fill, same plurals."""

from __future__ import annotations

import re
import string
from collections.abc import Iterator, Mapping
from typing import Any

import pytest
import yaml

from journey.record.model import Journey
from journey.site.theme import load_theme

WORDS = load_theme().words
LANGUAGES = sorted(folder.name for folder in WORDS.iterdir())
FILES = ("labels.yaml", "charts.yaml", "sentences.yaml")


def _texts(node: Any, path: str = "") -> Iterator[tuple[str, Any]]:
    if isinstance(node, Mapping):
        for key, value in node.items():
            yield from _texts(value, f"{path}/{key}")
    else:
        yield path, node


def _places(text: Any) -> set[str]:
    parts = text if isinstance(text, list) else [text]
    return {name for part in parts for _, name, _, _ in string.Formatter().parse(str(part)) if name}


def _words(text: Any) -> int:
    """Words of more than two letters outside the places to fill."""
    return len(re.findall(r"[^\W\d_]{3,}", re.sub(r"\{.*?\}", "", str(text))))


def _own(path: str, texts: Mapping[str, Any]) -> bool:
    """A version for one audience that only this language needs, beside the general one."""
    plain, at, _ = path.partition("@")
    return bool(at) and plain in texts


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("name", FILES)
def test_every_language_has_the_same_keys_and_the_same_places_to_fill(name: str, language: str) -> None:
    """A sentence missing in one language, or a value that it drops or invents, is named."""
    english = dict(_texts(yaml.safe_load((WORDS / "en" / name).read_text(encoding="utf-8"))))
    other = dict(_texts(yaml.safe_load((WORDS / language / name).read_text(encoding="utf-8"))))
    assert len(english) > 20
    assert not set(english) - set(other), "said in English only"
    assert not {path for path in set(other) - set(english) if not _own(path, other)}, f"said in {language} only"
    for path, text in english.items():
        assert _places(text) == _places(other[path]), path


@pytest.mark.parametrize("name", FILES)
def test_another_language_is_not_english_left_standing(name: str) -> None:
    """Longer texts differ from the English ones; formulas and names of journals may be alike."""
    english = dict(_texts(yaml.safe_load((WORDS / "en" / name).read_text(encoding="utf-8"))))
    spanish = dict(_texts(yaml.safe_load((WORDS / "es" / name).read_text(encoding="utf-8"))))
    alike = {path for path, text in english.items() if _words(text) > 2 and spanish[path] == text}
    assert alike == set()


def test_a_client_may_choose_every_language_of_the_theme() -> None:
    """What `language:` accepts is what the theme speaks."""
    accepted = Journey.model_fields["language"].annotation.__args__  # type: ignore[union-attr]
    assert sorted(accepted) == LANGUAGES
