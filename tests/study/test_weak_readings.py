"""A weak reading counts for less: what makes it weak adds to the error it states, by as much as was measured."""

from __future__ import annotations

import math

import numpy as np
import pytest

from journey.colour.photo_checks import MOST_CLIPPED_SHARE
from journey.colour.reading_limits import CUT_OFF_ADDS, WEAKNESS_ADDS
from journey.study.model import MEAN_PER_LIMIT
from tests.accuracy.weak_readings import CUT_OFF_BINS, SMALL_SIDES, added_errors
from tests.demo import studied_demo


def test_what_doubt_adds_is_what_simulated_strands_lose() -> None:
    """Blur costs less than is added; small patches and cut-off colour within a third of it, on average."""
    cost = {name: float(np.mean(errors)) for name, errors in added_errors(seed=7, repeats=1).items()}
    assert cost["blurred"] < WEAKNESS_ADDS
    largest = max(SMALL_SIDES)
    assert cost[f"{largest} x {largest}"] == pytest.approx(WEAKNESS_ADDS, rel=0.35)
    for low, high in CUT_OFF_BINS[1:]:
        share = (low + high) / 2
        stated = max(WEAKNESS_ADDS, CUT_OFF_ADDS * share)
        assert cost[f"{100 * low:.0f} to {100 * high:.0f} % cut off"] == pytest.approx(stated, rel=0.35)
    assert CUT_OFF_BINS[0][0] == MOST_CLIPPED_SHARE
    assert cost["5 to 15 % cut off"] < WEAKNESS_ADDS


def test_weak_readings_of_the_demo_state_more_and_sound_ones_what_their_photo_states() -> None:
    """Independent errors add up as squares: a chart's reading loses more than a card's."""
    study = studied_demo().study
    stretched: dict[str, float] = {}
    for photo in study.photos:
        alone = photo.calibration
        for reading in photo.readings:
            ratio = reading.uncertainty.delta_e_90 / alone.uncertainty.delta_e_90
            assert reading.limit.other_lamp / alone.detection_limit.other_lamp == pytest.approx(ratio)
            if not reading.weak:
                assert ratio == 1
                continue
            usual = MEAN_PER_LIMIT * alone.detection_limit.other_lamp
            more = max(WEAKNESS_ADDS, CUT_OFF_ADDS * reading.clipped_share)
            assert ratio == pytest.approx(math.sqrt(usual**2 + more**2) / usual)
            stretched[alone.method] = ratio
    assert stretched["chart"] > stretched["grey card"] > 1
