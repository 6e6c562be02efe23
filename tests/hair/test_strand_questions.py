"""Questions about a strand."""

from __future__ import annotations

import pytest

from journey.hair.absent import Absent
from journey.hair.band import ALL, ENDS, Band
from journey.hair.growth import DEFAULT_RATE, across_growth
from journey.hair.strand import Strand
from journey.hair.strand_questions import (
    colour_starts_cm,
    coloured_cm,
    day_colour_is_cut_off,
    days_until_cut_off,
    demarcations,
    level_range,
    lightened_twice_cm,
    overlap_cm,
)


def lifted_and_coloured(length_cm=30.0, rate=0.035):
    strand = Strand.start("nape", length_cm=length_cm, natural_level=5, growth_cm_per_day=rate)
    strand = strand.lighten(0, Band(ALL), service="lift", to_level=9)
    return strand.lay_colour(0, Band(ALL), service="rose", colour_class="direct", name="rose")


def test_demarcation_lines():
    """The regrowth line sits at the new growth, four levels deep; colour at the ends adds a line there."""
    strand = lifted_and_coloured().lay_colour(
        0, Band(ENDS), service="plum", colour_class="direct", name="plum"
    )
    lines = demarcations(strand, 60)
    assert [line.cm for line in lines] == [pytest.approx(2.1), pytest.approx(24.6)]
    assert [line.level_step for line in lines] == [4, 0]


def test_faded_coats_and_notes_make_no_line():
    """Where the two sides look alike there is no line: coats gone, treatments, porosity."""
    strand = Strand.start("crown", length_cm=30, natural_level=5, growth_cm_per_day=0.035)
    strand = strand.lay_colour(0, Band(ENDS), service="rose", colour_class="direct", name="rose")
    strand = strand.treat(0, Band.between(3, 6), service="mask").note_porosity(0, Band.between(7, 9), "low")
    assert len(demarcations(strand)) == 1
    assert demarcations(strand, remaining=lambda _: 0.0) == ()


def test_coloured_part_and_its_start():
    """How much of the strand carries colour, and from where; nothing when it has washed out."""
    strand = lifted_and_coloured().trim(60, 2)
    assert coloured_cm(strand) == pytest.approx(28)
    assert colour_starts_cm(strand) == pytest.approx(2.1)
    assert coloured_cm(strand, remaining=lambda _: 0.01) == 0
    assert colour_starts_cm(strand, remaining=lambda _: 0.01) is None


def test_nape_clipped_monthly():
    """A nape kept at 0.6 cm has no colour after a month's clipping (common practice, no source).

    At 0.035 cm a day 0.6 cm are grown after 17.1 days, so clipping on day 10 leaves some, day 30 none.  So
    it is for slow and fast growth too.
    """
    nape = lifted_and_coloured(0.6)
    assert day_colour_is_cut_off(nape, 0.6, [10, 30, 60]) == 30
    assert day_colour_is_cut_off(nape, 0.6, [10, 20, 30]) == 20
    answers = across_growth(
        DEFAULT_RATE, lambda rate: day_colour_is_cut_off(lifted_and_coloured(0.6, rate), 0.6, [30, 60])
    )
    assert (answers.slow, answers.expected, answers.fast) == (30, 30, 30)


def test_cut_off_day_agrees_with_cutting():
    """The day foretold is the first clipping after which no colour is left on the strand."""
    start = lifted_and_coloured(4.0)
    days = list(range(7, 300, 7))
    foretold = day_colour_is_cut_off(start, 4.0, days)
    strand = start
    for day in days:
        strand = strand.clip_to(day, 4.0)
        if not coloured_cm(strand):
            break
    assert foretold == day


def test_colour_farther_out_goes_sooner():
    """Colour that starts 3 cm out on hair kept at 4 cm is gone after 1 cm of growth: 28.6 days."""
    strand = Strand.start("sides", length_cm=4, natural_level=5, growth_cm_per_day=0.035)
    tipped = strand.lay_colour(0, Band.between(3), service="tip", colour_class="direct", name="tip")
    assert day_colour_is_cut_off(tipped, 4, [21, 28, 29, 35]) == 29
    assert day_colour_is_cut_off(tipped, 3, [0, 10]) == 0


def test_no_day_without_reason():
    """Without colour, or with too few clippings, the day is absent and says why."""
    bare = Strand.start("nape", length_cm=2, natural_level=5, growth_cm_per_day=0.035)
    assert day_colour_is_cut_off(bare, 0.6, [30]) == Absent("zone-without-colour", zone="nape")
    left = day_colour_is_cut_off(lifted_and_coloured(5), 5, [10])
    assert left == Absent("clipping-leaves-some", cm=5, n=1)


def test_days_until_the_tip():
    """A place 2 cm from the scalp of hair kept at 9 cm reaches the scissors after 200 days at 0.035 cm."""
    assert days_until_cut_off(2, 9, 0.035) == pytest.approx(200)
    assert days_until_cut_off(9.5, 9, 0.035) == 0
    assert isinstance(days_until_cut_off(2, 9, 0), Absent)


def test_overlap():
    """Lightener planned over 5 cm, of which 2.1 cm are new, overlaps 2.9 cm of lightened hair."""
    strand = lifted_and_coloured()
    assert overlap_cm(strand, 0, 5, 60) == pytest.approx(2.9)
    again = strand.lighten(60, Band.between(0, 5), service="again", to_level=9)
    assert lightened_twice_cm(again) == pytest.approx(2.9)
    assert lightened_twice_cm(strand) == 0


def test_levels_in_a_stretch():
    """The darkest and lightest fibre in a stretch; a stretch past the tip is refused."""
    strand = lifted_and_coloured()
    assert level_range(strand, 0, 5, 60) == (5, 9)
    assert level_range(strand, 3, 5, 60) == (9, 9)
    with pytest.raises(ValueError, match="no hair between"):
        level_range(strand, 40, 50)
