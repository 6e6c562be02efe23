"""What a touch-up of the new growth takes, against the sums done by hand."""

from __future__ import annotations

import math
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journey.hair.absent import Absent
from journey.hair.bowl import Bowl, BowlLine, Coverage, bowl_for
from journey.study.growing import grow_zones, growth_rate
from journey.study.model import Study
from journey.study.plan_model import TouchUp
from journey.study.touching_up import study_touch_ups
from tests.demo import studied_demo


@pytest.fixture(scope="module")
def study() -> Study:
    return studied_demo().study


def _of(study: Study, service: str) -> TouchUp:
    return next(one for one in study.touch_ups if one.service == service)


def test_lightener_for_the_new_growth_by_hand(study: Study) -> None:
    """20 + 50 - 6 g served the growth of seven weeks (7 March to 25 April); what has grown since then by the day
    it is worth refreshing needs as much per centimetre: grams go with days."""
    one = _of(study, "root-lightening")
    days_then = (date(2026, 4, 25) - date(2026, 3, 7)).days
    days_now = (one.day - date(2026, 4, 25)).days
    assert one.did_g == pytest.approx(20 + 50 - 6)
    assert one.needed_g.median == pytest.approx(64 * days_now / days_then, rel=1e-6)
    assert one.did_cm == pytest.approx(days_then * study.rate.mm_per_day / 10)


def test_new_growth_agrees_with_published_rates(study: Study) -> None:
    """8 weeks at 367 ± 56 µm a day (2005 survey, n = 511, Caucasian) are 2.06 ± .31 cm."""
    one = _of(study, "root-lightening")
    weeks = (one.day - date(2026, 4, 25)).days / 7
    published = 0.0367 * 7 * weeks
    assert abs(one.grown_cm.median - published) < 0.0056 * 7 * weeks
    assert one.grown_cm.low < one.grown_cm.median < one.grown_cm.high


def test_mixture_is_the_last_one_and_the_amount_that_of_roots(study: Study) -> None:
    """Violet is what is on the hair; how much roots take, the coral touch-up tells, not the bowl for all."""
    one = _of(study, "violet-colour")
    assert one.amount_of == "root-colour"
    assert one.did_g == pytest.approx(36)
    violet, blue = one.needed.lines
    assert violet.grams / blue.grams == pytest.approx(6)
    assert one.needed.total_g == pytest.approx(one.needed_g.median)


def test_what_is_mixed_is_enough_and_not_much_too_much(study: Study) -> None:
    """Whole grams for the upper end of the growth; ratio and strength stay those of the bowl it is taken from."""
    for one in study.touch_ups:
        assert all(line.grams == int(line.grams) for line in one.mix.lines)
        assert one.needed_g.high <= one.mix.total_g < one.needed_g.high + len(one.mix.lines)
        assert one.left_over_g == pytest.approx(one.mix.total_g - one.needed_g.median)
    lightener = _of(study, "root-lightening").needed
    assert lightener.developer_parts == pytest.approx(2.5)
    # 25 g of 6 % and 25 g of 3 % are 4.5 %; in 70 g 3.21 %, as 4.5 x 2.5 / 3.5.
    assert lightener.peroxide_percent == pytest.approx(4.5 * 2.5 / 3.5)


def test_without_shares_of_the_head_all_zones_count_alike_and_it_says_so(study: Study) -> None:
    """Same zones then and now: their shares do not matter, but that they were not written is told."""
    record = studied_demo().record
    bare = tuple(zone.model_copy(update={"share_of_head": None}) for zone in record.journey.zones)
    unwritten = record.model_copy(update={"journey": record.journey.model_copy(update={"zones": bare})})
    rate = growth_rate(unwritten)
    found = study_touch_ups(
        unwritten, grow_zones(unwritten, rate), rate, study.refresh, study.start, study.as_of
    )
    assert all(one.even_shares for one in found)
    assert not any(one.even_shares for one in study.touch_ups)
    for one, with_shares in zip(found, study.touch_ups, strict=True):
        assert one.needed_g.median == pytest.approx(with_shares.needed_g.median, rel=0.05)


def test_nothing_grown_needs_nothing() -> None:
    """On the day of the root lightening there is nothing to touch up with lightener."""
    record = studied_demo().record
    rate = growth_rate(record)
    start = studied_demo().study.start
    early = tuple(visit for visit in record.journey.visits if visit.date <= date(2026, 4, 25))
    until = record.model_copy(update={"journey": record.journey.model_copy(update={"visits": early})})
    day = date(2026, 4, 25)
    absent = Absent("no-fresh-reading")
    assert study_touch_ups(until, grow_zones(until, rate), rate, absent, start, day) == ()
    later = study_touch_ups(until, grow_zones(until, rate), rate, absent, start, day + timedelta(weeks=6))
    assert len(later) == 3


@settings(max_examples=50)
@given(
    grams=st.floats(1, 200),
    did=st.floats(0.5, 40),
    will=st.floats(0.5, 40),
    share=st.floats(0.05, 1),
    factor=st.floats(1, 5),
)
def test_more_hair_takes_more_in_proportion(
    grams: float, did: float, will: float, share: float, factor: float
) -> None:
    """Grams go with share of the head times length; twice the growth takes twice as much."""
    bowl = Bowl((BowlLine(name="rose", role="colour", grams=grams),), left_over_g=0)
    once = bowl_for(bowl, Coverage(share, did), Coverage(share, will)).total_g
    more = bowl_for(bowl, Coverage(share, did), Coverage(share, will * factor)).total_g
    assert math.isclose(more, once * factor, rel_tol=1e-9)
    assert math.isclose(once, grams * will / did, rel_tol=1e-9)
