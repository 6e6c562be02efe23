"""Values said in the way of a language and as an audience may know them."""

from __future__ import annotations

from datetime import date

import pytest

from journey.colour.reason import Reason
from journey.edition.wording import MissingWordsError, Wording
from journey.hair.absent import Absent
from journey.record.model import Audience
from journey.site.theme import load_theme

START = date(2026, 3, 7)


def _wording(language: str, audience: Audience = Audience.CLIENT) -> Wording:
    return Wording.load(load_theme().words, language, audience, START)


@pytest.mark.parametrize(
    ("language", "number", "share", "day", "span", "several"),
    [
        ("en", "3.4", "56 %", "25 June", "25 June to 12 July", "roots, ends and nape"),
        ("es", "3,4", "56 %", "25 de junio", "del 25 de junio al 12 de julio", "roots, ends y nape"),
    ],
)
def test_numbers_days_and_lists_are_said_in_the_language(
    language: str, number: str, share: str, day: str, span: str, several: str
) -> None:
    """Decimal sign, percent, day, span of days, list."""
    words = _wording(language)
    assert words.number(3.4) == number
    assert words.percent(0.56) == share
    assert words.day(date(2026, 6, 25)) == day
    assert words.span(date(2026, 6, 25), date(2026, 7, 12)) == span
    assert words.show(("roots", "ends", "nape")) == several


def test_a_class_hears_weeks_and_the_archive_dates() -> None:
    """The same day, as each may know it."""
    day = date(2026, 4, 4)
    assert _wording("es", Audience.CLASS).day(day) == "semana 4"
    assert _wording("es", Audience.ARCHIVE).day(day) == "2026-04-04"


def test_a_reason_is_said_with_the_reason_inside_it() -> None:
    """A ratio that can not be had, because of what is not in the bowl; one thing and several."""
    words = _wording("en")
    inside = Reason("ratio-without-parts", stated=2, why=Absent("no-developer"))
    assert words.because(inside) == "a ratio of 1:2 is stated, but no developer is in this bowl"
    assert words.because(Reason("prior-learnt", n=1)) == "learnt from 1 earlier fade of this client"
    assert words.because(Reason("prior-learnt", n=2)) == "learnt from 2 earlier fades of this client"


def test_an_audience_hears_its_own_version() -> None:
    """The client is told warmly what the archive is told shortly."""
    thin = Absent("thin-already")
    assert _wording("en", Audience.ARCHIVE).because(thin) == "the colour is thin already: any day serves"
    assert "whenever it suits you" in _wording("en").because(thin)


def test_a_language_or_a_sentence_that_is_missing_is_an_error_with_its_name() -> None:
    """Never a blank on a page."""
    with pytest.raises(MissingWordsError, match="no sentences in 'fr'"):
        _wording("fr")
    with pytest.raises(MissingWordsError, match=r"absent\.never-heard-of"):
        _wording("es").because(Absent("never-heard-of"))
