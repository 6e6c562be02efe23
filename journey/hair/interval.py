"""A range a quantity probably lies in, taken from weighted values.

Decides how a quantile is read off values that carry unequal weight, some of which may be infinite ("never").
Leaves what the values mean to the caller.
"""

import math
from typing import Final, NamedTuple

import numpy as np

from journey.colour.spaces import FloatArray

USUAL_COVERAGE: Final = 0.8
"""Share of the probability an interval holds unless asked otherwise: 1 in 10 below it, 1 in 10 above."""


class Interval(NamedTuple):
    """The middle value and the range around it; any of them is infinite where "never" is that likely."""

    low: float
    median: float
    high: float


def interval_of(values: FloatArray, weights: FloatArray, coverage: float = USUAL_COVERAGE) -> Interval:
    """The central interval of values (n,) with weights (n,) of positive sum.

    ValueError for a coverage outside 0..1 or weights that sum to nothing.
    """
    if not 0 < coverage < 1:
        raise ValueError(f"coverage lies between 0 and 1, got {coverage}")
    tail = (1 - coverage) / 2
    low, median, high = weighted_quantiles(values, weights, (tail, 0.5, 1 - tail))
    return Interval(low, median, high)


def weighted_quantiles(
    values: FloatArray, weights: FloatArray, probabilities: tuple[float, ...]
) -> tuple[float, ...]:
    """Quantiles of weighted values (n,), linear between the middles of the values' own steps.

    Infinite values hold their weight at the top and are never interpolated with.
    """
    finite = np.isfinite(values)
    order = np.argsort(values[finite], kind="stable")
    ordered, steps = values[finite][order], weights[finite][order]
    whole = float(weights.sum())
    if not whole > 0:
        raise ValueError("weights must have a positive sum")
    finite_part = float(steps.sum()) / whole
    middles = (np.cumsum(steps) - steps / 2) / whole
    return tuple(
        float(np.interp(p, middles, ordered)) if p < finite_part else math.inf for p in probabilities
    )
