"""What a reading may promise: how far off it can be, and the smallest change that is a change.

Decides the uncertainty and detection limit of each way to calibrate. All figures were measured on simulated
phones, lamps and hair (`python -m tests.accuracy` prints them again); they are a floor for real photos. They
hold for one well-placed patch of unclipped hair. Where on the head the patch lies, and how the light falls on
the gloss, adds `PLACEMENT_REPEATABILITY`: `smallest_real_change` does that, so no caller has to.
"""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

Method = Literal["chart", "grey card", "lamp profile", "none"]

# Relative spread of the light between the neutral patches and the hair: an ordinary room, and a chart that
# touches the hair. Assumptions; no source.
ORDINARY_UNEVENNESS: Final = 0.06
TOUCHING_UNEVENNESS: Final = 0.03

# CIEDE2000 with k_L = 1.5 between two photos of the same hair, light within 6 degrees and gloss within 15 %:
# 95 % of repeats fall below (1.7 to 4 on simulated strands, by how these are made). Nearly all is lightness.
PLACEMENT_REPEATABILITY: Final = 4.0

# Mean CIEDE2000 (k_L = 1.5) that a reason for doubt adds: on simulated strands a blur of 3 pixels .5, a patch too
# small 3 to 4.5, colour cut off on 5 to 30 % of a patch 1 to 3.4. Another frame, uneven light: no source.
WEAKNESS_ADDS: Final = 3.0
# The same per share of the patch whose colour is cut off: 6 at 40 %.
CUT_OFF_ADDS: Final = 15.0

# What is left of a detection limit (stated for k_L = 1) when lightness counts less, k_L = 1.5: measured on the
# same simulated photos, the largest of .76, .78, .79 under the same lamp and of .81, .84, .87 under another.
_TRACKED_SAME_LAMP: Final = 0.79
_TRACKED_OTHER_LAMP: Final = 0.87


@dataclass(frozen=True, slots=True)
class Uncertainty:
    """CIEDE2000 that 80, 90 and 95 % of readings stay within."""

    delta_e_80: float
    delta_e_90: float
    delta_e_95: float

    def times(self, factor: float) -> "Uncertainty":
        """The same, stretched."""
        return Uncertainty(factor * self.delta_e_80, factor * self.delta_e_90, factor * self.delta_e_95)


@dataclass(frozen=True, slots=True)
class DetectionLimit:
    """CIEDE2000 that 95 % of unchanged hair stays below from one photo to the next."""

    same_lamp: float
    other_lamp: float

    def times(self, factor: float) -> "DetectionLimit":
        """The same, stretched."""
        return DetectionLimit(factor * self.same_lamp, factor * self.other_lamp)


_UNCERTAINTY: Final[dict[Method, Uncertainty]] = {
    "lamp profile": Uncertainty(4.2, 5.1, 6.0),
    "grey card": Uncertainty(7.0, 8.6, 10.0),
    "none": Uncertainty(10.2, 12.0, 13.7),
}
# A lamp profile holds for its own lamp; under another lamp it is no better than the grey card in it.
_DETECTION: Final[dict[Method, DetectionLimit]] = {
    "lamp profile": DetectionLimit(6.0, 9.1),
    "grey card": DetectionLimit(7.0, 9.1),
    "none": DetectionLimit(17.0, 18.6),
}


def chart_uncertainty(loo_mean: float, unevenness: float) -> Uncertainty:
    """From the chart's mean leave-one-out CIEDE2000 and the relative spread of the light.

    Leave-one-out cannot see light that differs between chart and hair, hence the second term. Coefficients
    were fitted on two thirds of simulated photos; on the rest 79, 90 and 95 % of hair patches stayed within.
    """
    return Uncertainty(
        float(np.sqrt((1.21 * loo_mean) ** 2 + (27.7 * unevenness) ** 2 + 0.56**2)),
        float(np.sqrt((1.60 * loo_mean) ** 2 + (32.7 * unevenness) ** 2)),
        float(np.sqrt((1.92 * loo_mean) ** 2 + (36.9 * unevenness) ** 2 + 0.20**2)),
    )


def chart_detection_limit(loo_mean: float, unevenness: float) -> DetectionLimit:
    """Under the same lamp the chart's own misfit repeats and cancels; under another lamp it does not."""
    return DetectionLimit(
        same_lamp=float(np.hypot(1.54, 64 * unevenness)),
        other_lamp=float(np.hypot(1.85 * loo_mean, 54 * unevenness)),
    )


def uncertainty_without_chart(method: Method) -> Uncertainty:
    """Fixed figures for a grey card, a lamp profile, or nothing neutral. KeyError for 'chart'."""
    return _UNCERTAINTY[method]


def detection_limit_without_chart(method: Method) -> DetectionLimit:
    """Fixed figures for a grey card, a lamp profile, or nothing neutral. KeyError for 'chart'."""
    return _DETECTION[method]


def tracked_share(*, same_lamp: bool) -> float:
    """What is left of a detection limit when lightness is counted with k_L = 1.5."""
    return _TRACKED_SAME_LAMP if same_lamp else _TRACKED_OTHER_LAMP


def smallest_real_change(first: DetectionLimit, second: DetectionLimit, *, same_lamp: bool) -> float:
    """CIEDE2000 (k_L = 1.5) below which a change between two photos is 'not distinguishable from no change'.

    Each photo brings half of the squared limit a pair like itself would have; the patch, placed anew on strands
    in not quite the same light, adds `PLACEMENT_REPEATABILITY`.
    """
    pair = [limit.same_lamp if same_lamp else limit.other_lamp for limit in (first, second)]
    tracked = tracked_share(same_lamp=same_lamp) * np.linalg.norm(pair) / np.sqrt(2)
    return float(np.hypot(tracked, PLACEMENT_REPEATABILITY))


def smallest_difference_in_one_photo(unevenness: float = ORDINARY_UNEVENNESS) -> float:
    """CIEDE2000 (k_L = 1.5) below which two places on one photo are not told apart.

    Lamp, phone and calibration are the same for both, so that they cancel; the light on each place and how its
    strands lie do not.
    """
    alike = chart_detection_limit(0.0, unevenness)
    return smallest_real_change(alike, alike, same_lamp=True)
