"""The further forms of `tests.further_canaries`: found by filter or audit, or named as missed with the reason."""

# ruff: noqa: E501 - lists of sentences read best as they are

from __future__ import annotations

from pathlib import Path

import pytest

from journey.audit.report import audit_site
from journey.edition.text_filter import TextFilter
from journey.identifiers import IdentifierKind
from journey.site.publish import FIXED_TIME, settle
from tests.audit.test_report import neutral_prose
from tests.canaries import EVERYTHING, clean_site, page, write
from tests.further_canaries import FURTHER, MISSED, Form
from tests.persona import IDENTIFIERS, NEUTRAL_WORDS

FILTER = TextFilter(EVERYTHING, NEUTRAL_WORDS)


def kinds_found(folder: Path) -> set[str]:
    """What the audit calls it; how a page is built is no way of finding a name."""
    settle(folder)
    report = audit_site(folder, identifiers=EVERYTHING, fixed_time=FIXED_TIME)
    return {finding.kind for finding in report.findings} - {"construction"}


def is_refused(form: Form, folder: Path) -> bool:
    """By the audit, standing in a finished site as it was written."""
    clean_site(folder)
    form.plant(folder)
    return bool(kinds_found(folder))


def is_replaced(form: Form) -> bool:
    """By the text filter, where a person can type the form."""
    return form.typed is not None and bool(FILTER.clean(form.typed).withheld)


def test_there_are_many_more_forms() -> None:
    """At least 300 beyond the 110, no name given twice, and no miss without its form."""
    names = [form.name for form in FURTHER]
    assert len(names) == len(set(names)) >= 300
    assert set(MISSED) <= set(names)
    assert len(MISSED) <= 46


@pytest.mark.parametrize("form", FURTHER, ids=lambda form: form.name.replace(" ", "_"))
def test_a_further_form_never_reaches_a_reader_unless_named_as_missed(form: Form, tmp_path: Path) -> None:
    """The audit refuses it in finished bytes; a form in `MISSED` is seen by neither, or leaves that table."""
    (tmp_path / "site").mkdir()
    refused = is_refused(form, tmp_path / "site")
    if form.name in MISSED:
        assert not refused
        assert not is_replaced(form)
    else:
        assert refused


TYPED = [form for form in FURTHER if form.typed and form.name not in MISSED]


@pytest.mark.parametrize("form", TYPED, ids=lambda form: form.name.replace(" ", "_"))
def test_a_typed_form_is_replaced(form: Form, tmp_path: Path) -> None:
    """By the filter; of what it leaves the audit finds nothing, so that the site is published."""
    assert form.typed is not None
    assert is_replaced(form)
    clean = FILTER.clean(form.typed)
    clean_site(tmp_path)
    write(tmp_path, "index.html", page(f"<p>{clean.text}</p>"))
    assert kinds_found(tmp_path) == set(), clean.text


TRADE = (
    "Levels 5, 6.5 and 9; ratios 1:1, 1:1.5 and 1:2; 20 vol 6 %, 10 vol 3 %. Twenty, thirty, thirty-five minutes.",
    "Week 11 of the plan; week 6, day 73 since the first visit, 14 washes; 0.35 of it left, 668 mm and 331 g.",
    "One, two, three: roots, mid-lengths, ends. Nine sections, one after two, two before three, zero left over.",
    "Lab 60.1 44.2 24.0 52.3 30.8 -12.9; codes 70 71 72 on the chart; 45 45 50 50 g; XIV shades, IV rows, II bowls.",
    "Fernery green, a ferny nape; re-set, pre-lighten, over-lap; a bit, an end; ruin is in the roots; a nap each.",
    "Kilo and lima beans; an echo of gold; the foxtrot of brushes; romeo red, india ink, hotel towels, golf green.",
    "Shifts of 3.14; -3.14 and 0.62, -0.41; at 40.42, -3.70 of the scale; N 7.5, E 12; lat. side, long. layers; 2 lat, 3 long.",
    "Bowls 1:1:2 and 1:2:3; 10:20:30 by the clock; 3 | 9 | 24 of 30; 15 · 10 · 24 g; she is 93 % done; 90 g, 95 ml, 92 °C at most.",
    "Take 140 391 g apart; 031 024 is a lot of dots; one, two, four September shades; fourteen marching; nine hundred strands.",
    "Plus codes no: 6+6, 4+40; a///b; the foxes, the boxes, Max's mixes; an award, a plane, a chill; de la mode, la crema, von oben.",
    "a-b-c, x.y.z, --- .. -- ... ; 1 2 3 4 5 6 7 8 9; 00110011 is no bowl; 123456789 and 1234567890 are no days.",
)


@pytest.mark.parametrize("text", TRADE)
def test_more_trade_prose_raises_no_alarm(text: str, tmp_path: Path) -> None:
    """Levels, ratios, times, weeks, readings and rows of numbers, in the filter and in the audit."""
    assert FILTER.clean(text).text == text
    clean_site(tmp_path)
    write(tmp_path, "index.html", page(f"<p>{text}</p>"))
    assert kinds_found(tmp_path) == set()


def test_neutral_prose_is_left_alone_by_the_filter() -> None:
    """Every tenth paragraph of the audit's 100,000 words: no declared value is replaced in any.

    All of them take 35 seconds; the one time they were all read, no declared value was seen either.
    """
    paragraphs = neutral_prose().split("\n\n")[::10]
    assert len(paragraphs) > 300
    declared = {identifier.kind for identifier in IDENTIFIERS} - OFTEN_NOBODYS
    seen = {one.kind for text in paragraphs for one in FILTER.clean(text).withheld}
    assert seen & declared == set()


OFTEN_NOBODYS = {IdentifierKind.EMAIL, IdentifierKind.PHONE, IdentifierKind.NUMBER, IdentifierKind.PLACE}
"""Replaced by their shape too, whoever they belong to; texts hold their own authors' addresses."""
