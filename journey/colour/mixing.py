"""Three kinds of mixing that must not be confused: strands side by side, pigment in a layer, dye in a bowl.

Decides the arithmetic of each. Strands of different colour seen from afar add their light, so XYZ is
averaged by share, never CIELAB and never encoded RGB (partitive mixing). Colour in an opaque scattering layer
follows Kubelka and Munk, in a clear one Beer and Lambert. Dyes stirred together in a bowl add their densities
by share of mass, and a clear base thins them. Leaves coat over coat to `layering`, grams and ratios to the
bowl.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.dye import Dye
from journey.colour.spaces import FloatArray, lab_to_xyz, xyz_to_lab


def partitive_xyz(shares: ArrayLike, xyz: ArrayLike) -> FloatArray:
    """The XYZ (..., 3) that colours XYZ (..., n, 3), each covering a share (..., n), have from afar.

    The Talbot-Plateau law: too small to be told apart, patches add their light by area. Shares are scaled to
    add up to 1. ValueError when one is negative or all are 0.

    >>> partitive_xyz((0.4, 0.6), ((0.05, 0.03, 0.02), (0.60, 0.45, 0.25))).round(3).tolist()
    [0.38, 0.282, 0.158]
    """
    weights = np.asarray(shares, dtype=np.float64)
    total = weights.sum(axis=-1, keepdims=True)
    if np.any(weights < 0) or not np.all(total > 0):
        raise ValueError(f"shares must be 0 or more and not all 0, got {weights.tolist()}")
    mixed: FloatArray = np.sum((weights / total)[..., None] * np.asarray(xyz, dtype=np.float64), axis=-2)
    return mixed


def partitive_lab(shares: ArrayLike, lab: ArrayLike) -> FloatArray:
    """CIELAB (..., 3) from afar of colours CIELAB (..., n, 3) by share (..., n): see `partitive_xyz`."""
    return xyz_to_lab(partitive_xyz(shares, lab_to_xyz(lab)))


def reflectance_to_k_over_s(reflectance: ArrayLike) -> FloatArray:
    """K/S = (1 - R)² / 2R of an opaque layer with reflectance 0 < R <= 1 (Kubelka and Munk 1931).

    ValueError outside that range: a layer that reflects nothing has no finite K/S.

    >>> float(reflectance_to_k_over_s(0.2).round(4))
    1.6
    """
    R = np.asarray(reflectance, dtype=np.float64)
    if not np.all((R > 0) & (R <= 1)):
        raise ValueError("reflectance must be above 0 and at most 1")
    return (1 - R) ** 2 / (2 * R)


def k_over_s_to_reflectance(k_over_s: ArrayLike) -> FloatArray:
    """R = 1 + K/S - sqrt((K/S)² + 2 K/S), the inverse of `reflectance_to_k_over_s`, for K/S >= 0.

    ValueError for a negative K/S.
    """
    ks = np.asarray(k_over_s, dtype=np.float64)
    if not np.all(ks >= 0):
        raise ValueError("K/S must be 0 or more")
    # The textbook form loses digits where K/S is large; multiplied by its conjugate it does not.
    return 1 / (1 + ks + np.sqrt(ks * ks + 2 * ks))


def faded_opaque_reflectance(
    substrate_reflectance: ArrayLike, dyed_reflectance: ArrayLike, share: ArrayLike
) -> FloatArray:
    """Reflectance of an opaque layer when `share` of its dye is left, K/S adding up (Duncan 1940).

    Not the law the fade path follows; it shows how differently a share of dye can look.

    >>> faded_opaque_reflectance(0.60, 0.05, (0.5, 0.25, 0.1)).round(5).tolist()
    [0.09035, 0.15244, 0.26452]
    """
    bare = reflectance_to_k_over_s(substrate_reflectance)
    dyed = reflectance_to_k_over_s(dyed_reflectance)
    return k_over_s_to_reflectance(bare + np.asarray(share, dtype=np.float64) * (dyed - bare))


def transmittance(absorbance: ArrayLike) -> FloatArray:
    """T = 10^-A, the light a clear layer of decadic absorbance A lets through (Beer-Lambert)."""
    return np.asarray(10.0 ** -np.asarray(absorbance, dtype=np.float64))


def mix_in_bowl(dyes: Sequence[tuple[Dye, float]], *, clear_mass_g: float = 0.0) -> Dye:
    """The dye a bowl gives: each dye's density by its share of the whole mass, clear base included.

    `dyes` pairs each dye with its mass in g. A dye's own strength is that of the product as its swatch was
    dyed. ValueError without any mass, with a negative one, or when the dyes follow different methods. The
    residual is the largest of the parts'.
    """
    masses_g = [mass_g for _, mass_g in dyes]
    if min([*masses_g, clear_mass_g]) < 0 or sum(masses_g) <= 0:
        raise ValueError("a bowl needs some dye, and no mass below 0")
    methods = sorted({dye.method for dye, _ in dyes})
    if len(methods) > 1:
        raise ValueError(f"dyes described by different methods do not add up: {', '.join(methods)}")
    total_g = sum(masses_g) + clear_mass_g
    coefficients = sum((mass_g / total_g * dye.coefficients for dye, mass_g in dyes), np.zeros(3))
    residual = max(dye.residual_delta_e for dye, _ in dyes)
    return Dye(coefficients, dyes[0][0].method, residual)


def dilute(dye: Dye, pure_share: float) -> Dye:
    """A dye thinned with clear base until `pure_share` (0..1) of the mass is colour: density in proportion.

    1 part colour to 3 parts base is a pure share of 0.25. ValueError outside 0..1.
    """
    if not 0 <= pure_share <= 1:
        raise ValueError(f"a pure share lies between 0 and 1, got {pure_share}")
    return replace(dye, coefficients=pure_share * dye.coefficients)
