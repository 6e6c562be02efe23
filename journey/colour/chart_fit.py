"""The arithmetic of a chart photo: a curve per channel through the greys, then one 3 × 3 matrix.

Decides how linear pixel values become XYZ once the patch means are known, and how well the fit foretells a
patch it has not seen. Which patches are fit to be used, what the result may promise, and what to do without a
chart are left to `calibrate`.

Two steps. (1) Per channel, a monotone cubic (PCHIP) through the usable greys, from cube root of pixel value
to cube root of reference Y, removes tone curve, white balance and exposure at once. (2) The matrix minimises
the distance in CIELAB divided by the weights of CIEDE2000 at each reference patch, linearised there, so that
the least squares count what the eye counts. More polynomial terms gain nothing once clipped patches are gone
and go badly wrong when fewer than 22 are left; measured in `tests.accuracy`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import scipy
from numpy.typing import NDArray

from journey.colour.difference import delta_e_2000, visual_weights
from journey.colour.spaces import FloatArray, lab_slope, xyz_to_lab

Mapping = Callable[[FloatArray], FloatArray]
Matrix = tuple[tuple[float, float, float], ...]


class GreysNotInOrderError(ValueError):
    """The grey patches of the photo do not get darker from white to black."""


@dataclass(frozen=True, slots=True)
class GreyCurve:
    """One channel's curve: knots in cube roots, of pixel value and of reference luminance, both rising."""

    pixel_roots: tuple[float, ...]
    luminance_roots: tuple[float, ...]

    def __call__(self, channel: FloatArray) -> FloatArray:
        """Linear light, scaled so that greys give their Y. Straight beyond the knots, through the origin."""
        x, y = np.array(self.pixel_roots), np.array(self.luminance_roots)
        root = np.cbrt(channel)
        inside = _interpolator(self.pixel_roots, self.luminance_roots)(np.clip(root, x[0], x[-1]))
        above = y[-1] + (y[-1] - y[-2]) / (x[-1] - x[-2]) * (root - x[-1])
        bent = np.where(root < x[0], root * y[0] / x[0], np.where(root > x[-1], above, inside))
        linear: FloatArray = bent**3
        return linear


@dataclass(frozen=True, slots=True)
class ChartFit:
    """Curves (red, green, blue), then `xyz = linear @ matrix`."""

    curves: tuple[GreyCurve, GreyCurve, GreyCurve]
    matrix: Matrix

    def linearise(self, linear_rgb: FloatArray) -> FloatArray:
        """(..., 3) pixel values to (..., 3) with tone curve, white balance and exposure taken out."""
        return np.stack([curve(linear_rgb[..., c]) for c, curve in enumerate(self.curves)], axis=-1)

    def __call__(self, linear_rgb: FloatArray) -> FloatArray:
        """XYZ (..., 3) from pixel values (..., 3)."""
        xyz: FloatArray = self.linearise(linear_rgb) @ np.array(self.matrix)
        return xyz


def fit_chart(
    patch_means: FloatArray,
    usable: NDArray[np.bool_],
    reference_xyz: FloatArray,
    neutral_patches: Sequence[int],
) -> ChartFit:
    """Curves and matrix from the usable patches. Shapes (N, 3), (N,), (N, 3). Needs two usable greys."""
    greys = [patch for patch in neutral_patches if usable[patch]]
    luminance = reference_xyz[greys, 1]
    red, green, blue = (_grey_curve(patch_means[greys, c], luminance) for c in range(3))
    curves = (red, green, blue)
    linear = np.stack([curve(patch_means[usable, c]) for c, curve in enumerate(curves)], axis=-1)
    return ChartFit(curves, as_matrix(_visually_weighted_matrix(linear, reference_xyz[usable])))


def leave_one_out(
    patch_means: FloatArray,
    usable: NDArray[np.bool_],
    reference_xyz: FloatArray,
    fit: Callable[[NDArray[np.bool_]], Mapping],
) -> FloatArray:
    """CIEDE2000 of each usable patch as foretold by `fit` without it: shape (usable patches,)."""
    reference_lab = xyz_to_lab(reference_xyz)
    errors = []
    for patch in np.flatnonzero(usable):
        others = usable.copy()
        others[patch] = False
        foretold = xyz_to_lab(fit(others)(patch_means[patch]))
        errors.append(float(delta_e_2000(foretold, reference_lab[patch])))
    return np.array(errors)


def as_matrix(values: FloatArray) -> Matrix:
    """A (3, 3) array as nested tuples, which compare and hash."""
    return tuple((float(row[0]), float(row[1]), float(row[2])) for row in values)


# Leaving out a coloured patch leaves the curves as they are, so most are asked for many times.
@lru_cache(maxsize=64)
def _interpolator(
    pixel_roots: tuple[float, ...], luminance_roots: tuple[float, ...]
) -> scipy.interpolate.PchipInterpolator:
    return scipy.interpolate.PchipInterpolator(pixel_roots, luminance_roots)


def _grey_curve(pixel_values: FloatArray, luminance: FloatArray) -> GreyCurve:
    order = np.argsort(luminance)
    pixel_roots = np.cbrt(pixel_values[order])
    if np.any(np.diff(pixel_roots) <= 0) or pixel_roots[0] <= 0:
        raise GreysNotInOrderError("the grey patches do not get darker from white to black")
    luminance_roots = np.cbrt(luminance[order])
    return GreyCurve(tuple(map(float, pixel_roots)), tuple(map(float, luminance_roots)))


def _visually_weighted_matrix(linear: FloatArray, xyz: FloatArray) -> FloatArray:
    """M (3, 3) minimising Σ ‖W_i (Mᵀ q_i − X_i)‖², W_i the visual weights times the slope of CIELAB."""
    weights = visual_weights(xyz_to_lab(xyz)) @ lab_slope(xyz)
    unknowns = np.einsum("nij,nk->nikj", weights, linear).reshape(-1, 9)
    targets = np.einsum("nij,nj->ni", weights, xyz).reshape(-1)
    solution: FloatArray = np.linalg.lstsq(unknowns, targets, rcond=None)[0].reshape(3, 3)
    return solution
