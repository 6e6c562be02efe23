"""One reading, one share: how far the share of a single photo can be trusted.

Decides the interval of a share read off a path, with the photo's own noise and the errors of the path's two
ends counted in. Before the photo, every share from 0 to 1 counts as equally likely. Leaves what several
photos say together to `fade`, whose interval is narrower because time ties them together.
"""

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.fade_path import FadePath
from journey.hair.fade_grid import anchor_errors, axis_sd, log_likelihood_of_squares, squared_distances
from journey.hair.interval import USUAL_COVERAGE, Interval, interval_of

_SHARES: Final = np.linspace(0.0, 1.0, 201)


def read_share(
    path: FadePath,
    lab: ArrayLike,
    *,
    delta_e_noise: float,
    fresh_delta_e: float | None = None,
    bare_delta_e: float | None = None,
    coverage: float = USUAL_COVERAGE,
) -> Interval:
    """The share left in one reading, CIELAB (3,); noise arguments as in `fade.fit_fade`."""
    errors = anchor_errors(
        path,
        fresh_delta_e=delta_e_noise if fresh_delta_e is None else fresh_delta_e,
        bare_delta_e=delta_e_noise if bare_delta_e is None else bare_delta_e,
    )
    squares = squared_distances(path, np.asarray(lab, dtype=np.float64), errors.share_seen(_SHARES))
    logs = log_likelihood_of_squares(squares / axis_sd(delta_e_noise) ** 2, 1)
    weight = np.exp(logs - logs.max()) @ errors.weight
    return interval_of(_SHARES, weight, coverage)
