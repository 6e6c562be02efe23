"""Lines, clips and tips of a zone, with what the spread of growth makes of them."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest

from journey.colour.difference import delta_e_2000
from journey.colour.spaces import decode_srgb, linear_rgb_to_xyz, xyz_to_lab
from journey.hair.absent import Absent
from journey.hair.growth import GrowthRate
from journey.study.calendar import start_day
from journey.study.growing import grow_across
from journey.study.model import StrandStudy
from journey.study.strand_lines import clip_takes_all, reaches_tips
from tests.demo import TODAY, studied_demo

START = start_day(studied_demo().record.journey)
RATE = GrowthRate(0.367, 0.056, "2005 survey, n = 511, Caucasian")


def _zone(name: str) -> StrandStudy:
    return next(strand for strand in studied_demo().study.strands if strand.zone == name)


def test_a_clip_takes_all_after_clip_over_growth() -> None:
    """Colour at the scalp on 7 March, clipped to 6 mm: 6 / 0.367 = 16.3 days on, whole days; slower later."""
    record = studied_demo().record
    nape = next(one for one in grow_across(record, RATE) if one.expected.zone.key == "nape")
    days = clip_takes_all(nape, START)
    assert isinstance(days, tuple)
    early, middle, late = days
    assert middle == date(2026, 3, 7) + timedelta(days=16)
    assert early == date(2026, 3, 7) + timedelta(days=round(6 / (0.367 + 1.2816 * 0.056)))
    assert late == date(2026, 3, 7) + timedelta(days=round(6 / (0.367 - 1.2816 * 0.056)))
    assert clip_takes_all(next(iter(grow_across(record, RATE))), START) is None


def test_hair_clipped_a_month_after_colour_has_lost_it() -> None:
    """A quarter inch has lost all colour laid a month before (common practice, no source), slow growth too."""
    days = _zone("nape").clip_takes_all
    assert isinstance(days, tuple)
    assert days[2] <= date(2026, 3, 7) + timedelta(days=30)


def test_the_line_of_the_new_growth_lies_where_growth_has_pushed_it() -> None:
    """At growth a day times the days since the roots were last worked; slow and fast lie on its two sides."""
    study = studied_demo().study
    line = _zone("crown").lines[0]
    since = (TODAY - date(2026, 5, 16)).days
    assert line.cm == pytest.approx(since * study.rate.mm_per_day / 10)
    assert isinstance(line.range_cm, tuple)
    low, high = line.range_cm
    assert low < line.cm < high
    assert high - low == pytest.approx(since * 2 * 1.2816 * study.rate.sd_mm_per_day / 10, rel=1e-3)


def test_a_line_is_at_the_tips_after_length_over_growth() -> None:
    """20 cm of way at 0.367 mm a day are 545 days; at 1.06 cm a month (PMID 21382678) 574."""
    for mm_per_day, days in ((0.367, 545), (10.6 / 30.4375, 574)):
        record = studied_demo().record
        crown = grow_across(record, GrowthRate(mm_per_day, 0.0, "one"))[0]
        strands = crown.ask(lambda grown: grown.history.at(98.0))
        found = reaches_tips(strands.expected.length_cm() - 20, strands, TODAY)
        assert isinstance(found, tuple)
        assert (found[1] - TODAY).days == days
        assert found[0] == found[1] == found[2]


def test_every_line_of_the_demo_has_a_range_or_says_why_not() -> None:
    """Nearer lines are surer than farther ones only by their days; none is made up."""
    for zone in ("crown", "hairline", "sides"):
        for line in _zone(zone).lines:
            assert isinstance(line.range_cm, Absent) or line.range_cm[0] <= line.cm <= line.range_cm[1]
            assert isinstance(line.reaches_tips, tuple)
            assert TODAY <= line.reaches_tips[0] <= line.reaches_tips[1] <= line.reaches_tips[2]


def test_coats_stand_top_first_with_what_is_left_of_each() -> None:
    """Each with a share between none and all."""
    crown = _zone("crown")
    assert crown.coats_today[0] == "Violet"
    assert len(crown.coats_today) == len(crown.coat_shares)
    assert all(0 < share <= 1 for share in crown.coat_shares)


def test_hair_no_photo_has_read_runs_evenly_from_root_to_tip() -> None:
    """The hairline borrows its course of colour from one zone: along the fibre it changes bit by bit.

    Between two millimetres of one coat CIEDE2000 stays below 1; two zones' readings at one place tore it by more.
    """
    strand = _zone("hairline")
    days = 4 * (date(2026, 3, 7) - strand.first_day).days + 8
    row = strand.raster[days]
    row = xyz_to_lab(linear_rgb_to_xyz(decode_srgb(row[row[:, 3] > 0][20:-2, :3] / 255)))
    assert len(row) > 100
    assert float(np.max(delta_e_2000(row[1:], row[:-1]))) < 1
