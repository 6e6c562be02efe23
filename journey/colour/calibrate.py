"""From a photo's pixels to colour: by a chart, a grey card, an earlier chart of the same lamp, or nothing.

Decides how each way is carried out, when a photo's neutral patches cannot be used at all, and what to warn
of. The arithmetic of a chart is in `chart_fit`, what a reading may promise in `reading_limits`. Finding the
patches in the photo and decoding its profile are left to the caller, who hands over decoded linear RGB.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from journey.colour.chart_fit import (
    ChartFit,
    GreyCurve,
    GreysNotInOrderError,
    Matrix,
    as_matrix,
    fit_chart,
    leave_one_out,
)
from journey.colour.chart_reference import CHART_XYZ, NEUTRAL_PATCHES
from journey.colour.reading_limits import (
    ORDINARY_UNEVENNESS,
    DetectionLimit,
    Method,
    Uncertainty,
    chart_detection_limit,
    chart_uncertainty,
    detection_limit_without_chart,
    uncertainty_without_chart,
)
from journey.colour.reason import Reason, ReasonError
from journey.colour.spaces import FloatArray, Primaries, linear_rgb_to_xyz, xyz_to_lab

# Fewer usable patches leave the leave-one-out figure too thin to promise anything by.
_FEWEST_PATCHES: Final = 10
_FEWEST_GREYS: Final = 3
_FEW_PATCHES: Final = 12
# Simulated photos stay below 2.7. Patches that take in a quarter of their neighbour start at 6.9; a chart
# read upside down or mirrored has its greys out of order.
_POOR_FIT: Final = 3.2
_NO_FIT: Final = 7.0
_STRONG_CAST: Final = 1.8


class NotCalibratableError(ReasonError):
    """The neutral patches of this photo cannot carry a calibration; the reason says why."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Calibration:
    """Turns decoded linear RGB into XYZ, and says how far the result can be trusted.

    `gains` are applied after the curves (after decoding, where there are none), then `xyz = rgb @ matrix`.
    `loo_mean` and `usable_patches` are None where there was no chart.
    """

    method: Method
    curves: tuple[GreyCurve, GreyCurve, GreyCurve] | None = None
    gains: tuple[float, float, float] = (1.0, 1.0, 1.0)
    matrix: Matrix
    primaries: Primaries
    """Of the photo whose pixels it turns; a photo in others needs a calibration of its own."""
    uncertainty: Uncertainty
    detection_limit: DetectionLimit
    loo_mean: float | None = None
    usable_patches: int | None = None
    warnings: tuple[Reason, ...] = ()

    def to_xyz(self, linear_rgb: ArrayLike) -> FloatArray:
        """XYZ (..., 3) as under D65 from decoded linear RGB (..., 3) of this photo."""
        pixels = np.asarray(linear_rgb, dtype=np.float64)
        if self.curves is not None:
            pixels = ChartFit(self.curves, self.matrix).linearise(pixels)
        xyz: FloatArray = (pixels * self.gains) @ np.array(self.matrix)
        return xyz

    def to_lab(self, linear_rgb: ArrayLike) -> FloatArray:
        """CIELAB (..., 3) from decoded linear RGB (..., 3) of this photo."""
        return xyz_to_lab(self.to_xyz(linear_rgb))


def calibrate_by_chart(
    patch_means: ArrayLike,
    usable: ArrayLike | None = None,
    *,
    reference_xyz: ArrayLike = CHART_XYZ,
    neutral_patches: Sequence[int] = NEUTRAL_PATCHES,
    unevenness: float = ORDINARY_UNEVENNESS,
    primaries: Primaries = "srgb",
) -> Calibration:
    """Calibration from a chart in the photo.

    `patch_means` (24, 3) are linear means of each patch, in the photo's own primaries (no conversion needed:
    the fit absorbs them). `usable` (24,) is False for patches with more than 5 % clipped pixels.
    `unevenness` is the relative spread of the light between chart and hair.
    NotCalibratableError when too little of the chart can be used, or the fit shows that this is not a chart.
    """
    means, reference = np.asarray(patch_means, dtype=np.float64), np.asarray(reference_xyz, dtype=np.float64)
    mask = np.ones(len(reference), dtype=np.bool_) if usable is None else np.asarray(usable, dtype=np.bool_)
    if means.shape != reference.shape or mask.shape != reference.shape[:1]:
        raise ValueError(f"{means.shape} patch means and {mask.shape} marks for a chart of {reference.shape}")
    _require_enough_patches(mask, neutral_patches)

    def fit(patches: NDArray[np.bool_]) -> ChartFit:
        return fit_chart(means, patches, reference, neutral_patches)

    try:
        chart_fit = fit(mask)
        loo_mean = float(leave_one_out(means, mask, reference, fit).mean())
    except GreysNotInOrderError as error:
        raise NotCalibratableError("chart-greys-not-in-order") from error
    if loo_mean > _NO_FIT:
        raise NotCalibratableError("chart-does-not-fit", off=loo_mean)
    return Calibration(
        method="chart",
        curves=chart_fit.curves,
        matrix=chart_fit.matrix,
        primaries=primaries,
        uncertainty=chart_uncertainty(loo_mean, unevenness),
        detection_limit=chart_detection_limit(loo_mean, unevenness),
        loo_mean=loo_mean,
        usable_patches=int(mask.sum()),
        warnings=_chart_warnings(int(mask.sum()), loo_mean),
    )


def calibrate_by_grey(
    card_rgb: ArrayLike, reflectance: float = 0.18, *, primaries: Primaries = "srgb"
) -> Calibration:
    """White balance and exposure from the linear mean (3,) of a grey card of known reflectance (0..1).

    The tone curve and colour mixing of the phone stay in. NotCalibratableError for a black or blown-out card.
    """
    card = _checked_card(card_rgb, reflectance)
    return Calibration(
        method="grey card",
        gains=_gains(reflectance / card),
        matrix=_rgb_matrix(primaries),
        primaries=primaries,
        uncertainty=uncertainty_without_chart("grey card"),
        detection_limit=detection_limit_without_chart("grey card"),
        warnings=_cast_warnings(card),
    )


def calibrate_by_lamp(earlier: Calibration, card_rgb: ArrayLike, reflectance: float = 0.18) -> Calibration:
    """An earlier chart photo by the same phone under the same lamp, brought to today by a grey card.

    The earlier curves take out the tone curve; today's card then sets white balance and exposure.
    ValueError when `earlier` is not a chart calibration; NotCalibratableError for a useless card.
    """
    if earlier.method != "chart" or earlier.curves is None:
        raise ValueError(f"a lamp profile needs an earlier chart, not {earlier.method!r}")
    card = _checked_card(card_rgb, reflectance)
    card_now = ChartFit(earlier.curves, earlier.matrix).linearise(card)
    return replace(
        earlier,
        method="lamp profile",
        gains=_gains(reflectance / card_now),
        uncertainty=uncertainty_without_chart("lamp profile"),
        detection_limit=detection_limit_without_chart("lamp profile"),
        warnings=(
            *earlier.warnings,
            Reason("chart-from-earlier"),
        ),
    )


def uncalibrated(*, primaries: Primaries = "srgb") -> Calibration:
    """Nothing neutral in the photo: its pixels are believed as they are."""
    return Calibration(
        method="none",
        matrix=_rgb_matrix(primaries),
        primaries=primaries,
        uncertainty=uncertainty_without_chart("none"),
        detection_limit=detection_limit_without_chart("none"),
        warnings=(Reason("nothing-neutral"),),
    )


def _require_enough_patches(usable: NDArray[np.bool_], neutral_patches: Sequence[int]) -> None:
    count, greys = int(usable.sum()), int(usable[list(neutral_patches)].sum())
    if count < _FEWEST_PATCHES or greys < _FEWEST_GREYS:
        raise NotCalibratableError(
            "chart-clipped", n=count, greys=greys, fewest=_FEWEST_PATCHES, fewest_greys=_FEWEST_GREYS
        )


def _chart_warnings(usable_patches: int, loo_mean: float) -> tuple[Reason, ...]:
    warnings = []
    if usable_patches < _FEW_PATCHES:
        warnings.append(Reason("chart-few-patches", n=usable_patches))
    if loo_mean > _POOR_FIT:
        warnings.append(Reason("chart-fits-poorly", off=loo_mean))
    return tuple(warnings)


def _checked_card(card_rgb: ArrayLike, reflectance: float) -> FloatArray:
    card = np.asarray(card_rgb, dtype=np.float64)
    if not 0.02 <= reflectance <= 0.98:
        raise ValueError(f"a grey card reflects between 0.02 and 0.98 of the light, not {reflectance}")
    if card.min() <= 0.002:
        raise NotCalibratableError("grey-card-black")
    if card.max() >= 0.98:
        raise NotCalibratableError("grey-card-blown-out")
    return card


def _cast_warnings(card: FloatArray) -> tuple[Reason, ...]:
    if card.max() / card.min() <= _STRONG_CAST:
        return ()
    return (Reason("strong-cast"),)


def _gains(values: FloatArray) -> tuple[float, float, float]:
    red, green, blue = values
    return float(red), float(green), float(blue)


def _rgb_matrix(primaries: Primaries) -> Matrix:
    return as_matrix(linear_rgb_to_xyz(np.eye(3), primaries))
