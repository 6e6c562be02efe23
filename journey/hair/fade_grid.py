"""The ways a fade may go, laid out on a grid, and how well each explains the photos.

Decides the model the forecast rests on. A way to fade is a rate, a floor and a shape (`fade_law`), each with
a prior. Every photo carries the errors of the two photos its path was made of: the fresh one (off by a factor
on the share, because too much or too little dye was seen) and the one of bare hair (off by an amount that
grows as dye leaves). Those two errors are shared by all photos of one fade, so they are unknowns of the grid
too; left out, intervals get narrower than the truth with every further photo. Photos are compared as colours,
in CIEDE2000 to the path: the logarithm of a share read near the floor would be mostly noise.

The size of the photo noise is integrated out, around the size the caller states.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np

from journey.colour.fade_path import FadePath
from journey.colour.spaces import FloatArray
from journey.hair.fade_law import share_after
from journey.hair.fade_prior import FadePrior

# Steps of 5 %: twice as coarse, and one step can hold the whole of a well-known rate.
_RATE_STEPS: Final = 111
# The grid of rates reaches from 0.005 to 1.1 per wash around a median of 0.09, and moves with the median.
_LOWEST_RATE_FACTOR, _HIGHEST_RATE_FACTOR = 0.005 / 0.09, 1.1 / 0.09
_USUAL_LOG_SD: Final = 0.8

_FLOORS: Final = np.array([0.0, 0.04, 0.08, 0.12, 0.16, 0.20, 0.26, 0.33, 0.42])
_FLOOR_WEIGHTS: Final = np.array([0.45, 0.08, 0.08, 0.08, 0.08, 0.08, 0.06, 0.05, 0.04])
_LOG_SHAPES: Final = np.array([-0.4, -0.2, 0.0, 0.2])
_LOG_SHAPE_SD: Final = 0.2

_FRESH_ERROR_STEPS: Final = np.array([-1.5, -0.75, 0.0, 0.75, 1.5])
_BARE_ERROR_STEPS: Final = np.array([-1.22, 0.0, 1.22])
_FRESH_ERROR_SD_RANGE: Final = (0.01, 0.25)
_BARE_ERROR_SD_RANGE: Final = (0.005, 0.12)

MEAN_DELTA_E_PER_AXIS_SD: Final = 1.97
"""Mean CIEDE2000 of noise whose standard deviation is 1 along each axis of CIEDE2000 with k_L 1.5."""

NOISE_PRIOR_PHOTOS: Final = 6.0
TEMPER: Final = 0.6


@dataclass(frozen=True, slots=True, eq=False)
class FadeGrid:
    """Every combination of rate, floor and shape, flattened: arrays of shape (n,)."""

    rate_per_wash: FloatArray
    floor: FloatArray
    shape: FloatArray
    prior: FloatArray
    """Probability of each combination before any photo, summing to 1."""


@dataclass(frozen=True, slots=True, eq=False)
class AnchorErrors:
    """What may be wrong with the two ends of a path; combinations flattened to shape (m,)."""

    share_factor: FloatArray
    """The fresh photo's error: the share seen is the true one times this."""

    bare_offset: FloatArray
    """The bare photo's error: what is added to the share seen once no dye is left."""

    weight: FloatArray
    """Probability of each combination, summing to 1."""

    def share_seen(self, share: FloatArray) -> FloatArray:
        """Shares (n,) as they would be read off the path: (n, m)."""
        return share[:, None] * self.share_factor + (1 - share[:, None]) * self.bare_offset


@lru_cache(maxsize=64)
def fade_grid(prior: FadePrior) -> FadeGrid:
    """The grid around a prior. 111 rates in even logarithmic steps x 9 floors x 4 shapes."""
    reach = max(1.0, prior.log_sd / _USUAL_LOG_SD)
    log_rates = math.log(prior.median_rate_per_wash) + np.linspace(
        math.log(_LOWEST_RATE_FACTOR) * reach, math.log(_HIGHEST_RATE_FACTOR) * reach, _RATE_STEPS
    )
    rate_weights = _normal(log_rates - math.log(prior.median_rate_per_wash), prior.log_sd)
    shape_weights = _normal(_LOG_SHAPES, _LOG_SHAPE_SD)
    rate, floor, shape = np.meshgrid(np.exp(log_rates), _FLOORS, np.exp(_LOG_SHAPES), indexing="ij")
    weight = rate_weights[:, None, None] * _FLOOR_WEIGHTS[:, None] * shape_weights
    arrays = [rate.ravel(), floor.ravel(), shape.ravel(), weight.ravel() / weight.sum()]
    for array in arrays:
        array.flags.writeable = False
    return FadeGrid(*arrays)


def anchor_errors(path: FadePath, *, fresh_delta_e: float, bare_delta_e: float) -> AnchorErrors:
    """The errors of a path's ends, from the mean CIEDE2000 error of the colours they were made of."""
    factor_sd = _sd_of_share(fresh_delta_e, path.delta_e_per_share(1.0), _FRESH_ERROR_SD_RANGE)
    offset_sd = _sd_of_share(bare_delta_e, path.delta_e_per_share(0.0), _BARE_ERROR_SD_RANGE)
    factor, offset = np.meshgrid(
        np.exp(_FRESH_ERROR_STEPS * factor_sd), _BARE_ERROR_STEPS * offset_sd, indexing="ij"
    )
    weight = np.repeat(_normal(_FRESH_ERROR_STEPS, 1.0), len(_BARE_ERROR_STEPS))
    return AnchorErrors(factor.ravel(), offset.ravel(), weight / weight.sum())


def log_likelihood(
    path: FadePath,
    grid: FadeGrid,
    errors: AnchorErrors,
    follow_ups: Sequence[tuple[float, FloatArray, float]],
) -> FloatArray:
    """Logarithm of how well each way to fade (n,) explains the follow-up photos.

    Each is (washes, CIELAB (3,), mean CIEDE2000 by which such a reading is off): one that is off more counts
    for less. The noise variance has a scaled inverse chi-squared prior worth 6 readings and is integrated out,
    three axes to a photo; the squared distances are tempered by 0.6, since errors within one journey resemble each
    other.
    """
    squares = np.zeros((len(grid.prior), len(errors.weight)))
    for washes, lab, delta_e_noise in follow_ups:
        share = share_after(washes, grid.rate_per_wash, floor=grid.floor, shape=grid.shape)
        squares += squared_distances(path, lab, errors.share_seen(share)) / axis_sd(delta_e_noise) ** 2
    per_combination = log_likelihood_of_squares(squares, len(follow_ups))
    best = per_combination.max()
    return np.asarray(best + np.log(np.exp(per_combination - best) @ errors.weight))


def squared_distances(path: FadePath, lab: FloatArray, shares: FloatArray) -> FloatArray:
    """Squared CIEDE2000 (k_L 1.5) from one reading (3,) to the path's colours at shares (any shape)."""
    table = path.distances(lab) ** 2
    first, last = path.sampled_shares[0], path.sampled_shares[-1]
    steps = np.rint((shares - first) * ((len(table) - 1) / (last - first))).astype(np.intp)
    return np.asarray(table[np.clip(steps, 0, len(table) - 1)])


def axis_sd(delta_e_noise: float) -> float:
    """Standard deviation along each axis of CIEDE2000 (k_L 1.5) of noise of a mean CIEDE2000."""
    return delta_e_noise / MEAN_DELTA_E_PER_AXIS_SD


def log_likelihood_of_squares(squares: FloatArray, photos: int) -> FloatArray:
    """Student-like log likelihood of squared distances, each over its `axis_sd` squared, summed over photos."""
    freedom = NOISE_PRIOR_PHOTOS + 3 * photos * TEMPER
    return np.asarray(-0.5 * freedom * np.log(NOISE_PRIOR_PHOTOS + TEMPER * squares))


def _normal(offsets: FloatArray, sd: float) -> FloatArray:
    """Normal weights at evenly spaced points, summing to 1."""
    weights = np.exp(-0.5 * (offsets / sd) ** 2)
    return np.asarray(weights / weights.sum())


def _sd_of_share(delta_e: float, delta_e_per_share: float, allowed: tuple[float, float]) -> float:
    return float(np.clip(axis_sd(delta_e) / max(delta_e_per_share, 1e-9), *allowed))
