"""A zone's hair on every day followed."""

from __future__ import annotations

import numpy as np
import pytest

from journey.hair.band import ALL, ROOTS, Band
from journey.hair.strand import Strand
from journey.hair.strand_history import NO_HAIR, StrandHistory, layer_map


def journey():
    strand = Strand.start("crown", length_cm=30, natural_level=5, growth_cm_per_day=0.035)
    history = StrandHistory.of(strand)
    for day in (7, 42, 70, 98):
        band = Band(ALL) if day in (7, 98) else Band(ROOTS)
        strand = strand.lighten(day, band, service=f"lift {day}", to_level=9)
        history = history.then(strand)
        strand = strand.lay_colour(day, band, service=f"c{day}", colour_class="direct", name=f"c{day}")
        strand = strand.trim(day, 1.5)
        history = history.then(strand)
    return history


def test_each_day_has_its_state():
    """Before a visit the hair is as the last one left it, grown; from its day on as it leaves it."""
    history = journey()
    assert history.at(0).layers_at(10) == history.at(6.9).layers_at(10)
    before, after = history.at(6.99).layers_at(10), history.at(7).layers_at(10)
    assert before is not None
    assert after is not None
    assert (before.level, after.level) == (5, 9)
    assert history.latest.day == 98
    with pytest.raises(ValueError, match="lies before day 0"):
        history.at(-1)


def test_states_come_in_order():
    """A state of an earlier day can not be put behind a later one."""
    with pytest.raises(ValueError, match="order of their days"):
        journey().then(journey().at(0))


def test_layer_map_agrees_with_asking():
    """Every cell of the map holds what asking the strand at that day and place gives."""
    history = journey()
    days = np.arange(0, 105, 3.5)
    mapped = layer_map(history, days, 0.5)
    assert mapped.index.shape == (len(days), mapped.index.shape[1])
    for row, day in enumerate(days):
        state = history.at(day)
        for column in range(mapped.index.shape[1]):
            number = mapped.index[row, column]
            layers = None if number == NO_HAIR else mapped.layers[number]
            assert layers == state.layers_at((column + 0.5) * 0.5)


def test_layer_map_reaches_the_longest_tip():
    """The map is as wide as the hair was at its longest, and empty past the tip."""
    history = journey()
    mapped = layer_map(history, [0, 6.75, 7], 0.1)
    assert mapped.index.shape[1] == 303  # 30 cm + 6.75 days at 0.035 cm = 30.236 cm
    assert mapped.index[2, -1] == NO_HAIR
    assert (mapped.index[0, :300] != NO_HAIR).all()


def test_layer_map_has_a_row_for_every_quarter_day():
    """Fourteen weeks in quarter days, by tenths of a centimetre."""
    assert layer_map(journey(), np.arange(0, 98, 0.25), 0.1).index.shape[0] == 392


def test_layer_map_of_no_hair():
    """A shaved zone gives an empty map; a column without width is refused."""
    bald = Strand.start("nape", length_cm=0, natural_level=5, growth_cm_per_day=0.0)
    assert layer_map(StrandHistory.of(bald), [0, 1], 0.1).index.shape == (2, 0)
    with pytest.raises(ValueError, match="width above 0"):
        layer_map(journey(), [0], 0)
