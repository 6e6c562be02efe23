"""What a dye takes away from the light of the hair under it.

Decides how a dye is described from two colours, the hair before and after: as a density over the
wavelengths, built of three smooth blocks (long, middle and short waves), that multiplies reflectance by
exp(-density). This is the law of Beer and Lambert with the fibre's own path length left inside the density.
Leaves what happens while the dye washes out to `fade_path`, and coat over coat to `layering`.

When no such density exists, or it can not be found, two simpler laws stand in, each multiplying three
channels instead of 81 wavelengths: linear Rec. 2020, then the cone-like responses of CAT16. The `method` says
which one it is and `residual_delta_e` how far the dye misses the colour it was made from.
"""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.difference import delta_e_2000
from journey.colour.observer import WAVELENGTHS_NM, XYZ_WEIGHTS
from journey.colour.spaces import FloatArray, lab_to_xyz, xyz_to_lab, xyz_to_linear_rgb
from journey.colour.spectra import Spectrum, smoothest_reflectance

Method = Literal["block-dye", "rec2020", "cat16"]

# Centres and widths (standard deviations) in nm of the three density blocks. Our choice, tuned on simulated
# dyes and checked on measured densities it was not tuned on (`python -m tests.accuracy`).
_BLOCK_CENTRES_NM: Final = np.array([615.0, 543.0, 461.0])
_BLOCK_WIDTHS_NM: Final = np.array([42.0, 37.0, 46.0])
BLOCKS: Final[FloatArray] = np.exp(
    -0.5 * ((WAVELENGTHS_NM - _BLOCK_CENTRES_NM[:, None]) / _BLOCK_WIDTHS_NM[:, None]) ** 2
)
"""The three blocks over `observer.WAVELENGTHS_NM`, shape (3, 81), each 1 at its centre."""

# The chromatic adaptation transform of CIECAM16 (Li et al. 2017; CIE 248).
_CAT16: Final = np.array(
    [[0.401288, 0.650173, -0.051461], [-0.250268, 1.204414, 0.045854], [-0.002079, 0.048952, 0.953127]]
)
_CHANNEL_FLOOR: Final = 1e-4

_MOST_STEPS: Final = 60
_LARGEST_STEP: Final = 1.0
_XYZ_TOLERANCE: Final = 1e-10
_SPECTRUM_SLACK_DELTA_E: Final = 0.05


@dataclass(frozen=True, slots=True, eq=False)
class Dye:
    """One coat of colour at full strength, apart from the hair it lies on."""

    coefficients: FloatArray
    """Shape (3,), natural-logarithm densities: of the three blocks, or of the three channels of `method`.
    A negative one means that the hair got lighter there: a little bleaching, or a brighter photo."""

    method: Method = "block-dye"

    residual_delta_e: float = 0.0
    """CIEDE2000 between the dyed colour asked for and the one this dye gives over the same hair."""

    def density(self) -> FloatArray:
        """Natural-logarithm density over `observer.WAVELENGTHS_NM`, (81,). ValueError for channel dyes."""
        if self.method != "block-dye":
            raise ValueError(f"a dye found by {self.method} has channels, not a density over wavelengths")
        density: FloatArray = self.coefficients @ BLOCKS
        return density


def density_over(reflectance: FloatArray, coefficients: FloatArray) -> FloatArray:
    """XYZ (..., 3) of a reflectance (81,) under block densities (..., 3)."""
    xyz: FloatArray = np.exp(-(coefficients @ BLOCKS)) @ (reflectance[:, None] * XYZ_WEIGHTS)
    return xyz


def channels_over(xyz: FloatArray, coefficients: FloatArray, method: Method) -> FloatArray:
    """XYZ (..., 3) of colours XYZ (..., 3) whose channels under `method` lose the densities (..., 3)."""
    to_channels = _channel_matrix(method)
    channels = np.maximum(xyz @ to_channels.T, _CHANNEL_FLOOR)
    return np.asarray((channels * np.exp(-coefficients)) @ np.linalg.inv(to_channels).T)


def dye_between(substrate_lab: ArrayLike, dyed_lab: ArrayLike) -> Dye:
    """The dye that turns one CIELAB colour (3,) into another (3,).

    Block densities by damped Newton's method on the three equations XYZ(substrate x exp(-density)) = dyed.
    NoReflectanceError (a ValueError) when the substrate has no colour at all.
    """
    substrate = smoothest_reflectance(substrate_lab)
    if substrate.residual_delta_e <= _SPECTRUM_SLACK_DELTA_E:
        coefficients = _block_coefficients(substrate, lab_to_xyz(dyed_lab))
        if coefficients is not None:
            reached = xyz_to_lab(density_over(substrate.reflectance, coefficients))
            return Dye(coefficients, "block-dye", float(delta_e_2000(reached, dyed_lab)))
    return _channel_dye(lab_to_xyz(substrate_lab), lab_to_xyz(dyed_lab))


def _block_coefficients(substrate: Spectrum, dyed_xyz: FloatArray) -> FloatArray | None:
    if np.any(dyed_xyz <= 0):
        return None
    coefficients = np.zeros(3)
    for _ in range(_MOST_STEPS):
        weighted = (substrate.reflectance * np.exp(-(coefficients @ BLOCKS)))[:, None] * XYZ_WEIGHTS
        miss = weighted.sum(axis=0) - dyed_xyz
        if np.max(np.abs(miss)) < _XYZ_TOLERANCE:
            return coefficients
        slope = -(BLOCKS @ weighted).T
        try:
            step = np.linalg.solve(slope, -miss)
        except np.linalg.LinAlgError:
            return None
        coefficients = coefficients + step * min(1.0, _LARGEST_STEP / float(np.max(np.abs(step))))
    return None


def _channel_dye(substrate_xyz: FloatArray, dyed_xyz: FloatArray) -> Dye:
    """Rec. 2020 where both colours lie inside it, CAT16 elsewhere."""
    method: Method = "rec2020"
    ends = xyz_to_linear_rgb(np.stack([substrate_xyz, dyed_xyz]), "rec2020")
    if np.any(ends <= 0):
        method = "cat16"
        ends = np.stack([substrate_xyz, dyed_xyz]) @ _CAT16.T
    before, after = np.maximum(ends, _CHANNEL_FLOOR)
    coefficients: FloatArray = np.log(before / after)
    reached = channels_over(substrate_xyz, coefficients, method)
    residual = delta_e_2000(xyz_to_lab(reached), xyz_to_lab(dyed_xyz))
    return Dye(coefficients, method, float(residual))


def _channel_matrix(method: Method) -> FloatArray:
    if method == "rec2020":
        return xyz_to_linear_rgb(np.eye(3), "rec2020").T
    if method == "cat16":
        return _CAT16
    raise ValueError(f"{method} works on wavelengths, not on channels")
