"""How the hair felt, visit by visit, and the sums of the bowls as a reader would do them again."""

from __future__ import annotations

from datetime import date

from journey.edition.bowl_view import worked_sums
from journey.edition.wording import Wording
from journey.record.model import Audience
from journey.site.theme import load_theme
from journey.study.bowls import mixed
from journey.study.model import Place
from tests.demo import studied_demo


def test_the_ends_after_the_violet_are_told_to_rest() -> None:
    """29 % before and 32 % after: beyond 30 % wet hair is weakened (post-yield, wool: scilit.net af431ae3)."""
    ends = [
        one
        for one in studied_demo().study.conditions
        if one.entry == "violet" and one.place == Place("crown", "ends")
    ]
    assert [advice.code for advice in ends[0].advice] == ["let-it-rest", "porous"]
    assert dict(ends[0].advice[0].reason.values)["percent"] == 32


def test_before_and_after_are_told_together() -> None:
    """The mid-lengths went from medium to high porosity at one visit."""
    lengths = [
        one
        for one in studied_demo().study.conditions
        if one.entry == "violet" and one.place == Place("crown", "mid-lengths")
    ]
    assert "more-porous" in [advice.code for advice in lengths[0].advice]


def test_the_sums_of_the_bowls_are_those_a_reader_would_write() -> None:
    """60 g with 120 g of 6 % are 4 % in the mixture: 1:2 gives 4.0 % (volume basis, worked by hand)."""
    record = studied_demo().record
    words = Wording.load(load_theme().words, "en", Audience.CLASS, date(2026, 3, 7))
    bowls = {one.key: one.bowl for visit in record.journey.visits for one in visit.services if one.bowl}
    assert worked_sums(words, mixed(record, bowls["lightening"])) == (
        "In all: 60 + 120 = 180",
        "Ratio to developer: (120) ÷ (60) = 2.00",
        "Peroxide in the mixture: (120 × 6 %) ÷ 180 = 4.00 %",
    )
    assert worked_sums(words, mixed(record, bowls["coral-rose-colour"]))[1] == (
        "Pure colour: (40 + 20) ÷ (40 + 20 + 30) = 67 %"
    )


def test_pearsons_square_stands_in_the_sums() -> None:
    """12 % and 6 % to 9 % is 3:3, 1:1 (published example); 6 % and 3 % to 4.5 % likewise."""
    record = studied_demo().record
    words = Wording.load(load_theme().words, "en", Audience.CLASS, date(2026, 3, 7))
    bowls = {one.key: one.bowl for visit in record.journey.visits for one in visit.services if one.bowl}
    sums = worked_sums(words, mixed(record, bowls["root-lightening"]), 4.5)
    assert "Pearson's square, stronger to weaker: (4.5 − 3.0) : (6.0 − 4.5) = 1.5 : 1.5" in sums
    assert sums[-1] == "Peroxide in the mixture: (25 × 6 % + 25 × 3 %) ÷ 70 = 3.21 %"


def test_pieces_put_in_and_taken_out_leave_her_own_hair_as_followed() -> None:
    """In from the gloss to the touch-up, moving out with the growth; nothing of them is on her today."""
    sides = next(one for one in studied_demo().study.strands if one.zone == "sides")
    start = studied_demo().study.start
    between = sides.history.at(float((date(2026, 4, 18) - start).days))
    grown = 14 * studied_demo().study.rate.mm_per_day / 10
    assert abs(between.extension_profile()[0].from_cm - (1 + grown)) < 1e-6
    assert sides.added[-1].taken_out is not None
