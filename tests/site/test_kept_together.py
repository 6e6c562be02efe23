"""Numbers and what they count."""

from __future__ import annotations

import re
from datetime import date

import pytest

from journey.edition.wording import Wording
from journey.record.model import Audience
from journey.site.kept_together import NO_BREAK_SPACE, numbers_kept_together
from journey.site.theme import load_theme
from tests.site.rendered import example_page
from tests.site.test_languages import LANGUAGES

WORDS = ("%", "cm", "µm", "min", "h", "vol", "June")


@pytest.mark.parametrize(
    "text",
    ["49 %", "0.8 cm", "1 h", "5 min", "20 vol", "± 3.5", "13 June", "190 µm"],
)
def test_a_number_stays_on_the_line_of_its_unit(text: str) -> None:
    """Between a number and its unit or month, and behind a sign, no line ends; nothing else changes."""
    page = f"<p>It is {text}, or 2 cups.</p>"
    assert numbers_kept_together(page, WORDS) == page.replace(text, text.replace(" ", NO_BREAK_SPACE))


def test_a_word_that_only_begins_like_a_unit_is_left_alone() -> None:
    """'5 minutes' and '2 hats' may part; so may a unit from the number behind it."""
    page = "<p>5 minutes, 2 hats, cm 3</p>"
    assert numbers_kept_together(page, WORDS) == page


def test_markup_and_script_are_left_alone() -> None:
    """Attributes, addresses, the hashed script and a key to be copied keep every byte."""
    page = (
        '<img alt="2 cm" src="2 cm.jpg"><script>if (2 < 3) x = "2 cm"</script>'
        '<code class="trace">from 0 cm to 1 cm</code><p title=\'2 %\'>no number</p>'
    )
    assert numbers_kept_together(page, WORDS) == page


@pytest.mark.parametrize("audience", list(Audience))
def test_no_page_lets_a_number_and_its_unit_part(audience: Audience) -> None:
    """On whole pages not one of them is left with a plain space between."""
    texts = re.sub(r"<(script|code)\b.*?</\1>|<[^>]*>", "\n", example_page(audience).html, flags=re.DOTALL)
    assert re.findall(r"\d (?:%|cm|g|min|h|vol)\b", texts) == []
    assert texts.count(NO_BREAK_SPACE) > 10


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_says_what_stays_with_a_number(language: str) -> None:
    """Units, and what stands behind the day in a date of every month."""
    theme = load_theme()
    kept = set(theme.labels(language)("with_a_number").split())
    assert {"%", "cm", "mm", "µm", "g", "min", "h", "vol", "°C"} <= kept
    wording = Wording.load(theme.words, language, Audience.CLIENT, date(2026, 1, 1))
    for month in range(1, 13):
        assert wording.day(date(2026, month, 13)).split()[1] in kept
