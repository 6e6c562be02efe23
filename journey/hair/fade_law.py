"""How the remaining share of a colour falls with washes.

Decides one law: q(n) = floor + (1 - floor) exp(-(k n)^shape). First order (shape 1, floor 0) is the usual
model of dye leaving hair; the floor is what stains for good, and a shape below 1 lets the first washes take
more than later ones, as dye near the surface leaves before dye deep in the fibre. Leaves the numbers to the
fit in `fade`. Time in days is left out on purpose: with regular washing days and washes rise together, and
one fade cannot say which of them took the colour.
"""

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.spaces import FloatArray


def share_after(
    washes: ArrayLike, rate_per_wash: ArrayLike, *, floor: ArrayLike = 0.0, shape: ArrayLike = 1.0
) -> FloatArray:
    """The share left after a number of washes; all arguments broadcast. 1 when freshly dyed.

    >>> float(share_after(10, 0.09).round(5))
    0.40657
    """
    n, k, rest = (np.asarray(value, dtype=np.float64) for value in (washes, rate_per_wash, floor))
    return np.asarray(rest + (1 - rest) * np.exp(-((k * n) ** np.asarray(shape, dtype=np.float64))))


def washes_until_share(
    share: float, rate_per_wash: ArrayLike, *, floor: ArrayLike = 0.0, shape: ArrayLike = 1.0
) -> FloatArray:
    """Washes until only `share` (above 0, at most 1) is left; infinite where the floor is as high or higher.

    ValueError for a share outside that range.

    >>> washes_until_share(0.25, 0.09, floor=(0.0, 0.1, 0.3)).round(4).tolist()
    [15.4033, 19.9084, inf]
    """
    if not 0 < share <= 1:
        raise ValueError(f"the share to wait for lies above 0 and up to 1, got {share}")
    k, rest, power = (np.asarray(value, dtype=np.float64) for value in (rate_per_wash, floor, shape))
    reachable = rest < share
    above_floor = np.where(reachable, share - rest, 1.0) / np.where(reachable, 1 - rest, 1.0)
    washes = (-np.log(above_floor)) ** (1 / power) / k
    return np.where(reachable, washes, np.inf)
