"""Forecast intervals hold what they promise, on fades the fit has not seen."""

import math

import pytest

from journey.colour.fade_path import FadePath
from journey.hair.fade import fit_fade
from journey.hair.fade_prior import PRIORS
from journey.hair.read_share import read_share
from tests.simulators.fades import THRESHOLD, Scenario, simulated_fades
from tests.simulators.straight_line_fit import straight_line_washes_until

_FADES = 300
_SEED = 4242
_USUAL_NOISE_DELTA_E = 2.46
# The band of a 2,000-fade study, 0.75 to 0.91, widened by twice the standard error of 300.
_STANDARD_ERROR = math.sqrt(0.8 * 0.2 / _FADES)
_LOW, _HIGH = 0.75 - 2 * _STANDARD_ERROR, 0.91 + 2 * _STANDARD_ERROR


def _coverages(scenario: Scenario, photos: int) -> tuple[float, float]:
    """Share of fades whose true crossing lies in the 80 % interval: of the fit, and of a straight line."""
    held, straight = 0, 0
    for fade in simulated_fades(_SEED, scenario, _FADES):
        path, truth = FadePath.between(fade.bare_lab, fade.dyed_lab), fade.true_washes_until_threshold
        posterior = fit_fade(
            path, fade.photos(photos), delta_e_noise=_USUAL_NOISE_DELTA_E, prior=PRIORS["direct"]
        )
        interval = posterior.washes_until(THRESHOLD).interval
        held += interval.low <= truth <= interval.high
        if photos > 2:
            low, high = straight_line_washes_until(path, fade, photos, 0.8)
            straight += low <= truth <= high
    return held / _FADES, straight / _FADES


@pytest.mark.parametrize("scenario", ["as the prior", "irregular washes"])
@pytest.mark.parametrize("photos", [2, 5])
def test_eighty_percent_intervals_hold_about_eighty_percent(scenario: Scenario, photos: int) -> None:
    """75 to 91 % of true crossings lie in the 80 % interval, with two photos and with five.

    A straight line through the logarithm of the share fails the same test with five photos.
    """
    held, straight = _coverages(scenario, photos)
    assert _LOW <= held <= _HIGH
    if photos == 5:
        assert straight < _LOW


def test_wrong_physics_is_survived() -> None:
    """On hair that follows Kubelka and Munk, which the fit does not know, at least 75 % are held."""
    held, straight = _coverages("Kubelka-Munk hair", 5)
    assert held >= _LOW
    assert straight < held


def test_share_of_one_reading_is_held_about_eight_times_in_ten() -> None:
    """The 80 % interval of a single reading's share holds the true share of 70 to 92 % of readings."""
    held = total = 0
    for fade in simulated_fades(_SEED, "as the prior", _FADES):
        path = FadePath.between(fade.bare_lab, fade.dyed_lab)
        for (_, lab), truth in zip(fade.follow_ups, fade.true_shares, strict=True):
            interval = read_share(path, lab, delta_e_noise=_USUAL_NOISE_DELTA_E)
            held += interval.low <= truth <= interval.high
            total += 1
    assert 0.70 <= held / total <= 0.92
