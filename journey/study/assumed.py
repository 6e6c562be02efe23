"""The salon's assumptions in the form in which each computation takes them."""

from __future__ import annotations

import math
from dataclasses import replace

from journey.colour.spaces import hex_to_lab
from journey.hair.condition import StretchLimits
from journey.hair.fade_prior import PRIORS, ColourClass, FadePrior
from journey.hair.level import assumed_lab
from journey.record.assumptions import Assumptions
from journey.study.place import Lab


def level_lab(assumed: Assumptions, level: float, *, lightened: bool) -> Lab:
    """CIELAB (3,) of bare hair at a level, by what this salon has read of its levels."""
    known = {
        one.level: hex_to_lab(shown)
        for one in assumed.levels
        if (shown := one.lightened if lightened else one.natural) is not None
    }
    found: Lab = assumed_lab(level, lightened=lightened, known=known)
    return found


def fade_prior(assumed: Assumptions, kind: ColourClass) -> FadePrior:
    """How fast a class fades before any photo says so: half left after the washes this salon sees, or as usual."""
    for one in assumed.fading:
        if one.colour_class == kind:
            usual = PRIORS[kind]
            spread = usual.log_sd if one.spread is None else one.spread
            return replace(usual, median_rate_per_wash=math.log(2) / one.half_after_washes, log_sd=spread)
    return PRIORS[kind]


def remover_effect(assumed: Assumptions) -> tuple[float, float, float]:
    """How much a remover does: little, as expected, much."""
    return 1 - assumed.remover_spread, 1.0, 1 + assumed.remover_spread


def stretch_limits(assumed: Assumptions) -> StretchLimits:
    """By how much wet hair should give."""
    shares = (assumed.most_wet_stretch, assumed.least_wet_stretch, assumed.notable_stretch)
    return StretchLimits(*(100 * share for share in shares))
