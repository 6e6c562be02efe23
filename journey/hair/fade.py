"""How fast one colour fades on one zone, learnt from photos, and what that says about the weeks to come.

Decides the fit: every way to fade on the grid of `fade_grid` weighed by the photos, and forecasts read off
the weighted ways as intervals. Leaves dates to `wash_calendar` and what a share looks like to the fade path.

A forecast from one photo, the fresh one, is the prior alone; `FadePosterior.prior_only` says so. "Never" is a
real answer: where a stain stays for good above the share asked for, no number of washes reaches it. Its
probability stands beside the interval.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.fade_path import FadePath
from journey.colour.reason import Reason
from journey.colour.spaces import FloatArray
from journey.hair.fade_grid import anchor_errors, fade_grid, log_likelihood
from journey.hair.fade_law import share_after, washes_until_share
from journey.hair.fade_prior import FadePrior
from journey.hair.interval import USUAL_COVERAGE, Interval, interval_of

USUAL_THRESHOLD: Final = 0.25
"""The share at which colour counts as faded unless asked otherwise. An assumption the stylist can change."""

LOG_SD_WITHIN_CLIENT: Final = 0.35
"""Assumption: how far the fades of one client differ among themselves, as the spread of ln k."""


class Crossing(NamedTuple):
    """When the share left falls to a threshold, in washes since the colour was laid."""

    interval: Interval
    """All ways to fade counted, so an end is infinite where "never" is likely enough to lie there."""

    probability_never: float

    if_reached: Interval | None
    """Among the ways that get there; None when none does."""


class ForecastColour(NamedTuple):
    """CIELAB (3,) at the median share and at both ends of the share's interval."""

    expected: FloatArray
    least_faded: FloatArray
    most_faded: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FadePosterior:
    """What is known about one fade. Made by `fit_fade`; every method is a pure function of it."""

    path: FadePath
    prior: FadePrior
    follow_ups: int
    """Photos after the fresh one that the fit has seen."""

    rate_per_wash: FloatArray = field(repr=False)
    floor: FloatArray = field(repr=False)
    shape: FloatArray = field(repr=False)
    weight: FloatArray = field(repr=False)
    """Shape (n,) each: the ways to fade and the probability of each, summing to 1."""

    @property
    def prior_only(self) -> bool:
        """No photo of the fade yet: every number is the colour class's assumption."""
        return self.follow_ups == 0

    def share_at(self, washes: float, *, coverage: float = USUAL_COVERAGE) -> Interval:
        """The share left after a number of washes (0 or more)."""
        return interval_of(self._shares(washes), self.weight, coverage)

    def colour_at(self, washes: float, *, coverage: float = USUAL_COVERAGE) -> ForecastColour:
        """The colour after a number of washes (0 or more)."""
        share = self.share_at(washes, coverage=coverage)
        expected, least, most = self.path.lab_at((share.median, share.high, share.low))
        return ForecastColour(expected, least, most)

    def washes_until(
        self, threshold: float = USUAL_THRESHOLD, *, coverage: float = USUAL_COVERAGE
    ) -> Crossing:
        """Washes since the colour was laid until the share left is `threshold` (above 0, at most 1)."""
        washes = washes_until_share(threshold, self.rate_per_wash, floor=self.floor, shape=self.shape)
        reached = np.isfinite(washes)
        never = float(self.weight[~reached].sum())
        within = interval_of(washes[reached], self.weight[reached], coverage) if never < 1 else None
        return Crossing(interval_of(washes, self.weight, coverage), never, within)

    def rate(self, *, coverage: float = USUAL_COVERAGE) -> Interval:
        """The rate k per wash of `fade_law`."""
        return interval_of(self.rate_per_wash, self.weight, coverage)

    def lost_in_first_wash(self, *, coverage: float = USUAL_COVERAGE) -> Interval:
        """Share of the colour that the first wash takes: the fade rate in words a client understands."""
        return interval_of(1 - self._shares(1.0), self.weight, coverage)

    def _shares(self, washes: float) -> FloatArray:
        if not 0 <= washes < math.inf:
            raise ValueError(f"washes are counted from 0 up, got {washes}")
        return share_after(washes, self.rate_per_wash, floor=self.floor, shape=self.shape)


def fit_fade(
    path: FadePath,
    photos: Sequence[tuple[float, ArrayLike]],
    *,
    delta_e_noise: float,
    prior: FadePrior,
    photo_delta_e: Sequence[float] | None = None,
    fresh_delta_e: float | None = None,
    bare_delta_e: float | None = None,
) -> FadePosterior:
    """What the photos of one zone say about the fade of one colour.

    `photos` pair washes since the colour was laid (fractions allowed) with CIELAB (3,). Photos at 0 washes
    are what the path's dyed end was made of, and are not counted again. `delta_e_noise` is the mean CIEDE2000
    by which readings of unchanged hair differ from the truth; `photo_delta_e` that of each photo, where they
    differ: one that is off more counts for less. `fresh_delta_e` and `bare_delta_e` are the mean errors of the
    path's two ends, the same unless stated: smaller when several photos were averaged, larger when bare hair
    was assumed rather than photographed. ValueError for washes below 0, readings that are not finite, noise not
    above 0, or not one for each photo.
    """
    noises = [delta_e_noise] * len(photos) if photo_delta_e is None else list(photo_delta_e)
    fresh = delta_e_noise if fresh_delta_e is None else fresh_delta_e
    bare = delta_e_noise if bare_delta_e is None else bare_delta_e
    if not all(0 < noise < math.inf for noise in (delta_e_noise, *noises, fresh, bare)):
        raise ValueError("the mean error of a reading must be positive and finite")
    follow_ups = [(*_checked(*photo), noise) for photo, noise in zip(photos, noises, strict=True)]
    follow_ups = [photo for photo in follow_ups if photo[0] > 0]
    grid = fade_grid(prior)
    weight = grid.prior
    if follow_ups:
        errors = anchor_errors(path, fresh_delta_e=fresh, bare_delta_e=bare)
        logs = log_likelihood(path, grid, errors, follow_ups)
        weight = grid.prior * np.exp(logs - logs.max())
        weight = weight / weight.sum()
    return FadePosterior(
        path=path,
        prior=prior,
        follow_ups=len(follow_ups),
        rate_per_wash=grid.rate_per_wash,
        floor=grid.floor,
        shape=grid.shape,
        weight=weight,
    )


def prior_from_posteriors(
    base: FadePrior, earlier: Sequence[FadePosterior], *, within_log_sd: float = LOG_SD_WITHIN_CLIENT
) -> FadePrior:
    """The prior for a client's next fade, learnt from her own earlier ones of the same colour class.

    Her own usual rate is normal around the base prior; each of her fades is normal around hers. The spread of
    the base prior is split so that, without earlier fades, nothing changes. Fades without follow-up photos
    teach nothing and are skipped; with none left the base prior comes back as it is.
    """
    taught = [posterior for posterior in earlier if not posterior.prior_only]
    if not taught:
        return base
    within = min(within_log_sd, 0.5 * base.log_sd)
    between = math.sqrt(base.log_sd**2 - within**2)
    usual = math.log(base.median_rate_per_wash) + between * np.linspace(-4, 4, 161)
    weight = np.exp(-0.5 * np.linspace(-4, 4, 161) ** 2)
    for posterior in taught:
        weight = weight * _likelihood_of_usual_rate(posterior, usual, within)
    weight = weight / weight.sum()
    mean = float(weight @ usual)
    variance = float(weight @ (usual - mean) ** 2)
    return FadePrior(
        colour_class=base.colour_class,
        median_rate_per_wash=math.exp(mean),
        log_sd=math.sqrt(variance + within**2),
        source=Reason("prior-learnt", n=len(taught)),
        assumption=False,
    )


def _likelihood_of_usual_rate(posterior: FadePosterior, usual: FloatArray, within: float) -> FloatArray:
    """How well each usual log rate (m,) explains one fade: its photos' likelihood averaged over that rate."""
    grid = fade_grid(posterior.prior)
    rates, place = np.unique(posterior.rate_per_wash, return_inverse=True)
    likelihood = np.bincount(place, posterior.weight) / np.bincount(place, grid.prior)
    spread = np.exp(-0.5 * ((np.log(rates) - usual[:, None]) / within) ** 2)
    return np.asarray((spread @ likelihood) / spread.sum(axis=1))


def _checked(washes: float, lab: ArrayLike) -> tuple[float, FloatArray]:
    reading = np.asarray(lab, dtype=np.float64)
    if not 0 <= washes < math.inf:
        raise ValueError(f"washes are counted from 0 up, got {washes}")
    if reading.shape != (3,) or not np.all(np.isfinite(reading)):
        raise ValueError(f"a reading is three finite CIELAB values, got {reading.tolist()}")
    return float(washes), reading
