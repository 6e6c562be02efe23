"""A plausible reflectance for a colour that was only seen as three numbers.

Decides how CIELAB becomes a spectrum: of all positive reflectances with that colour, the one whose logarithm
runs smoothest over the wavelengths (least log slope squared, S. A. Burns, "Generating reflectance curves from
sRGB triplets", 2015). A dye multiplies reflectance, so a smooth logarithm is what undyed hair and thin dye
both resemble. Leaves what a dye takes away to `fade_path`.

The result is one of the many spectra that share the colour, not a measurement.
"""

from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.difference import delta_e_2000
from journey.colour.observer import XYZ_WEIGHTS, reflectance_to_xyz
from journey.colour.spaces import FloatArray, lab_to_xyz, xyz_to_lab

_SAMPLES: Final = len(XYZ_WEIGHTS)
_MOST_STEPS: Final = 40
_LARGEST_LOG_STEP: Final = 2.0
_XYZ_TOLERANCE: Final = 1e-9
_FIRST_STRIDE: Final = 0.25
_SMALLEST_STRIDE: Final = 1 / 1024


class NoReflectanceError(ValueError):
    """No surface has this colour: black or darker, or lightness that is no number."""


@dataclass(frozen=True, slots=True, eq=False)
class Spectrum:
    """A reflectance factor over `observer.WAVELENGTHS_NM`."""

    reflectance: FloatArray
    """Shape (81,), above 0; may exceed 1 for colours more vivid than a matt surface can be."""

    residual_delta_e: float = 0.0
    """CIEDE2000 between the colour asked for and the colour this spectrum has."""

    def xyz(self) -> FloatArray:
        """XYZ (3,) under D65, white at Y = 1."""
        return reflectance_to_xyz(self.reflectance)

    def lab(self) -> FloatArray:
        """CIELAB (3,) under D65."""
        return xyz_to_lab(self.xyz())


def smoothest_reflectance(lab: ArrayLike) -> Spectrum:
    """The spectrum of smoothest logarithm for one CIELAB colour (3,).

    A colour outside what light can be (noise can push a dark vivid reading there) is drawn towards the grey
    of its lightness just far enough, and `residual_delta_e` says by how much. NoReflectanceError when even
    the grey does not exist (L* not above 0, or not finite).
    """
    asked = np.asarray(lab, dtype=np.float64)
    if not (np.all(np.isfinite(asked)) and asked[0] > 0):
        raise NoReflectanceError(f"no surface has the colour L* a* b* = {asked.tolist()}")
    grey = _grey(asked[0])
    solution = _solve(lab_to_xyz(asked), grey)
    if solution is not None:
        return Spectrum(np.exp(solution.log_reflectance))
    reached, solution = _walk_out_from_grey(asked, grey)
    spectrum = np.exp(solution.log_reflectance)
    if reached == 1:
        return Spectrum(spectrum)
    return Spectrum(spectrum, float(delta_e_2000(asked, xyz_to_lab(reflectance_to_xyz(spectrum)))))


class _Solution(NamedTuple):
    log_reflectance: FloatArray
    multipliers: FloatArray


def _grey(lightness: float) -> _Solution:
    """A flat spectrum: what Newton's method starts from, and the answer for a neutral colour."""
    return _Solution(np.full(_SAMPLES, np.log(lab_to_xyz((lightness, 0.0, 0.0))[1])), np.zeros(3))


def _walk_out_from_grey(asked: FloatArray, grey: _Solution) -> tuple[float, _Solution]:
    """Raise the chroma step by step, each solution the start of the next; the share of it that was reached.

    Vivid purples need this: from grey, Newton's method overshoots although they have a spectrum.
    """
    reached, solution, stride = 0.0, grey, _FIRST_STRIDE
    while reached < 1 and stride >= _SMALLEST_STRIDE:
        target = min(reached + stride, 1.0)
        further = _solve(lab_to_xyz(asked * (1.0, target, target)), solution)
        if further is None:
            stride /= 2
        else:
            reached, solution = target, further
    return reached, solution


def _second_differences() -> FloatArray:
    """The matrix of the smoothness sum, sum over i of (z[i+1] - z[i])², as half its second derivative."""
    step = np.diff(np.eye(_SAMPLES), axis=0)
    matrix: FloatArray = step.T @ step
    return matrix


_SMOOTHNESS: Final = _second_differences()


def _solve(xyz: FloatArray, start: _Solution) -> _Solution | None:
    """Newton's method on the Karush-Kuhn-Tucker equations, unknowns log reflectance z and 3 multipliers.

    Minimise sum (z[i+1] - z[i])² subject to weights^T exp(z) = xyz. None when it does not settle.
    """
    if np.any(xyz <= 0):
        return None
    z, multipliers = start
    jacobian = np.zeros((_SAMPLES + 3, _SAMPLES + 3))
    for _ in range(_MOST_STEPS):
        weighted = np.exp(z)[:, None] * XYZ_WEIGHTS
        pull = weighted @ multipliers
        slope = _SMOOTHNESS @ z + pull
        miss = weighted.sum(axis=0) - xyz
        if np.max(np.abs(miss)) < _XYZ_TOLERANCE and np.max(np.abs(slope)) < _XYZ_TOLERANCE:
            return _Solution(z, multipliers)
        jacobian[:_SAMPLES, :_SAMPLES] = _SMOOTHNESS
        jacobian[np.arange(_SAMPLES), np.arange(_SAMPLES)] += pull
        jacobian[:_SAMPLES, _SAMPLES:] = weighted
        jacobian[_SAMPLES:, :_SAMPLES] = weighted.T
        try:
            step = np.linalg.solve(jacobian, -np.concatenate([slope, miss]))
        except np.linalg.LinAlgError:
            return None
        largest = np.max(np.abs(step[:_SAMPLES]))
        if not np.isfinite(largest):
            return None
        step *= min(1.0, _LARGEST_LOG_STEP / largest) if largest > 0 else 1.0
        z = z + step[:_SAMPLES]
        multipliers = multipliers + step[_SAMPLES:]
    return None
