"""The undisguised text keeps the way back to the text as it was written."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.edition.text_forms import fold, fold_value, readings


@pytest.mark.parametrize(
    ("written", "read"),
    [
        ("Jose\u0301 JOSÉ", "jose jose"),
        ("Ａｎａ　𝐀𝐧𝐚 ﬁ", "ana ana fi"),
        ("Аnа Ruі\u0323z", "ana ruiz"),
        ("A\u200bn\u00ad\u2060a", "ana"),
        ("&#65;n&#x61;&nbsp;R&uuml;", "ana ru"),
        ("%41n%2561 \\u0052\\x75", "ana ru"),
        ("A<b>n</b>a **B**e`l`lo", "ana bello"),
        ("🇦🇳🇦 🅰", "ana a"),
        ("٠٧٧ ０７", "077 07"),
        ("Straße Øløf Łuk ſ", "strasse olof luk s"),
        ("Ana’s", "ana's"),
        ("xn--jos-dma", "jose"),
        ("&zzz; 100%", "&zzz; 100%"),
    ],
)
def test_disguises_are_taken_off(written: str, read: str) -> None:
    """Accents, scripts, widths, references, escapes, tags, emphasis, digits of other scripts."""
    assert fold_value(written) == read


@pytest.mark.parametrize(
    ("written", "wanted", "stretch"),
    [
        ("say A\u0301n\u00ada\u0301!", "ana", "A\u0301n\u00ada\u0301"),
        ("x &#65;n&#97; y", "ana", "&#65;n&#97;"),
        ("x A<b>n</b>a y", "ana", "A<b>n</b>a"),
        ("x %41na y", "ana", "%41na"),
    ],
)
def test_the_way_back_covers_the_whole_disguise(written: str, wanted: str, stretch: str) -> None:
    """From the folded stretch to the written one, with its accents and references."""
    folded = fold(written)
    at = folded.lower.index(wanted)
    start, end = folded.source_span(at, at + len(wanted))
    assert written[start:end] == stretch


def test_other_scripts_and_tags_have_readings_of_their_own() -> None:
    """By sound, and with what stands inside the tags."""
    assert "anna ruis" in [reading.lower for reading in readings("Анна Руис")]
    assert any("ana" in reading.lower for reading in readings("<img alt='Ana'>"))
    assert len(readings("plain")) == 1


def test_words_begin_and_end_at_humps() -> None:
    """In 'roseBello' a word begins at B; in 'bellos' one may end before the s."""
    folded = fold("roseBello bellos")
    assert folded.begins_word(4)
    assert folded.ends_word(4)
    assert not folded.begins_word(5)
    assert folded.ends_word(15)
    assert not folded.ends_word(14)


@given(st.text(max_size=120))
def test_every_character_has_a_place_in_the_source(text: str) -> None:
    """Both folds are of one length, and places never run backwards or outside."""
    folded = fold(text)
    assert len(folded.lower) == len(folded.cased) == len(folded.starts) == len(folded.ends)
    assert list(folded.starts) == sorted(folded.starts)
    assert all(0 <= start < end <= len(text) for start, end in zip(folded.starts, folded.ends, strict=True))
