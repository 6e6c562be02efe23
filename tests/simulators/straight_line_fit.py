"""The forecast one would write first: a straight line through the logarithm of the share.

Kept as a foil. Its interval is the textbook one (t distribution on the slope), and it is known to get falsely
narrow with more photos, since errors of the path's ends are shared by all of them. A coverage test that this
fit passes could not fail.
"""

import math

import numpy as np
from scipy.stats import t as student_t

from journey.colour.fade_path import FadePath
from tests.simulators.fades import THRESHOLD, SimulatedFade

_SMALLEST_SHARE = 0.01


def straight_line_washes_until(
    path: FadePath, fade: SimulatedFade, photos: int, coverage: float
) -> tuple[float, float]:
    """(low, high) washes until the threshold by ordinary least squares on ln share through the origin.

    `photos` counts the fresh one and is 3 or more: one follow-up leaves no degree of freedom.
    """
    washes = np.array([n for n, _ in fade.photos(photos)[1:]])
    shares = np.array([path.remaining_share(lab).value for _, lab in fade.photos(photos)[1:]])
    logs = np.log(np.maximum(shares, _SMALLEST_SHARE))
    rate = -float(washes @ logs) / float(washes @ washes)
    freedom = len(washes) - 1
    residuals = logs + rate * washes
    error = math.sqrt(float(residuals @ residuals) / freedom / float(washes @ washes))
    reach = float(student_t.ppf(0.5 + coverage / 2, freedom)) * error
    return _washes(rate + reach), _washes(rate - reach)


def _washes(rate: float) -> float:
    return -math.log(THRESHOLD) / rate if rate > 0 else math.inf
