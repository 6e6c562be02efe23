"""Grey scale for change in colour: the grade of ISO 105-A05 for how much a colour has changed.

Decides the formula and its half-grade text. Textile laboratories grade fading this way; hair has no scale of
its own, so the grade is borrowed for hair, with 5 for no visible change and 1 for a very large one.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.difference import hue_chroma_lightness
from journey.colour.spaces import FloatArray, lab_to_lch

# Upper ends (ΔE_F, exclusive) of the reported half grades. ISO 105-A05 table, from memory.
_HALF_GRADES = (
    (0.40, "5"),
    (1.25, "4-5"),
    (2.10, "4"),
    (2.95, "3-4"),
    (4.10, "3"),
    (5.80, "2-3"),
    (8.20, "2"),
    (11.60, "1-2"),
)


@dataclass(frozen=True, slots=True)
class GreyScaleGrade:
    """`delta_e_f` is the weighted difference, `rating` runs 1..5, `grade` is the half-grade text."""

    delta_e_f: float
    rating: float
    grade: str


def grey_scale_grade(lab_original: ArrayLike, lab_changed: ArrayLike) -> GreyScaleGrade:
    """Grade of the change from one CIELAB colour (3,) to another.

    >>> grey_scale_grade((50, 0, 0), (51.7, 0, 0)).grade
    '4'
    """
    return graded(float(delta_e_f(lab_original, lab_changed)))


def graded(difference_f: float) -> GreyScaleGrade:
    """Grade of a difference ΔE_F."""
    return GreyScaleGrade(difference_f, float(grey_scale_rating(difference_f)), half_grade(difference_f))


def delta_e_f(lab_original: ArrayLike, lab_changed: ArrayLike) -> FloatArray:
    """ΔE_F of ISO 105-A05: CIELAB with chroma and hue damped, turned near hue 280°. (..., 3) to (...)."""
    terms = grey_scale_terms(lab_original, lab_changed)
    difference: FloatArray = np.sqrt(terms.delta_l**2 + terms.c_f**2 + terms.h_f**2)
    return difference


class GreyScaleTerms(NamedTuple):
    """What ΔE_F is made of, under the names of ISO 105-A05; arrays of one shape (...)."""

    delta_l: FloatArray
    delta_c: FloatArray
    delta_h: FloatArray
    c_mean: FloatArray
    h_mean: FloatArray
    """Mean hue, degrees."""
    turn: FloatArray
    """D of the standard: what chroma near hue 280 takes off either difference."""
    c_f: FloatArray
    h_f: FloatArray


def grey_scale_terms(lab_original: ArrayLike, lab_changed: ArrayLike) -> GreyScaleTerms:
    """The terms of ΔE_F between CIELAB colours (..., 3)."""
    original, changed = lab_to_lch(lab_original), lab_to_lch(lab_changed)
    delta_l, delta_c, delta_h = hue_chroma_lightness(lab_original, lab_changed)
    c_mean = (original[..., 1] + changed[..., 1]) / 2
    h_mean = _mean_hue(original[..., 2], changed[..., 2])
    from_blue = np.abs(h_mean - 280)
    x = (np.minimum(from_blue, 360 - from_blue) / 30) ** 2
    turn = delta_c * c_mean * np.exp(-x) / 100
    c_f = (delta_c - turn) / (1 + (20 * c_mean / 1000) ** 2)
    h_f = (delta_h - turn) / (1 + (10 * c_mean / 1000) ** 2)
    return GreyScaleTerms(delta_l, delta_c, delta_h, c_mean, h_mean, turn, c_f, h_f)


def grey_scale_rating(difference_f: ArrayLike) -> FloatArray:
    """Continuous rating 5 (no change) down to 1 from ΔE_F (ISO 105-A05)."""
    d = np.asarray(difference_f, dtype=np.float64)
    rating = np.where(d <= 3.4, 5 - d / 1.7, 5 - np.log2(np.maximum(d, 3.4) / 0.85))
    return np.maximum(rating, 1.0)


def half_grade(difference_f: float) -> str:
    """The half grade reported for ΔE_F: '5', '4-5', '4' ... '1'."""
    for upper, grade in _HALF_GRADES:
        if difference_f < upper:
            return grade
    return "1"


def _mean_hue(h_1: FloatArray, h_2: FloatArray) -> FloatArray:
    half = (h_1 + h_2) / 2
    around = np.where(h_1 + h_2 < 360, half + 180, half - 180)
    return np.where(np.abs(h_2 - h_1) <= 180, half, around)
