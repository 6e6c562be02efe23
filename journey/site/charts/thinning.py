"""Leaving out points that their neighbours already lead through.

Decides only which points of a course matter, to a tolerance; Douglas and Peucker (1973), in any number of
dimensions over one running variable. What the values are, px or colour codes, is the caller's.
"""

import numpy as np
from numpy.typing import ArrayLike


def points_that_matter(running: ArrayLike, values: ArrayLike, tolerance: float) -> list[int]:
    """Indices to keep, so that straight lines between them miss no value by more than `tolerance`.

    `running` (n,) never falls, `values` is (n, k). First and last are always kept.

    >>> points_that_matter([0, 1, 2, 3], [[0], [1], [2], [9]], 0.5)
    [0, 2, 3]
    """
    x = np.asarray(running, dtype=np.float64)
    y = np.asarray(values, dtype=np.float64)
    kept = {0, len(x) - 1} if len(x) else set()
    open_spans = [(0, len(x) - 1)]
    while open_spans:
        first, last = open_spans.pop()
        if last - first < 2:
            continue
        inner = slice(first + 1, last)
        span = x[last] - x[first]
        share = (x[inner] - x[first]) / span if span else np.zeros(last - first - 1)
        off = np.abs(y[inner] - (y[first] + share[:, None] * (y[last] - y[first]))).max(axis=1)
        worst = first + 1 + int(off.argmax())
        if off.max() > tolerance:
            kept.add(worst)
            open_spans += [(first, worst), (worst, last)]
    return sorted(kept)
