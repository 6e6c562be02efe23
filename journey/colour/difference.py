"""How far two colours are apart: CIEDE2000, CIE 1976, and the split into lightness, chroma and hue.

Decides the formulas. What a distance means to a person (a grade, "not distinguishable from no change") is
left to `grey_scale` and to the detection limit a calibration states.
"""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.spaces import FloatArray, lab_to_lch

# At hues exactly opposite, rounding in the arc tangent would decide which way round the hue turns.
_OPPOSITE_HUES_SLACK_DEGREES = 1e-9


class ColourDifference(NamedTuple):
    """Signed CIELAB differences, second minus first; the squares add up to the CIE 1976 distance squared."""

    lightness: FloatArray
    chroma: FloatArray
    hue: FloatArray


def delta_e_76(lab_1: ArrayLike, lab_2: ArrayLike) -> FloatArray:
    """CIE 1976 distance: the straight line in CIELAB. Shapes (..., 3) broadcast to (...)."""
    one, two = _broadcast(lab_1, lab_2)
    distance: FloatArray = np.sqrt(np.sum((two - one) ** 2, axis=-1))
    return distance


def hue_chroma_lightness(lab_1: ArrayLike, lab_2: ArrayLike) -> ColourDifference:
    """Signed ΔL*, ΔC*ab and ΔH*ab from the first colour to the second (ISO/CIE 11664-4, Sève's ΔH).

    A positive hue difference turns from red towards yellow. Where either colour is neutral, ΔH is 0.
    """
    one, two = _broadcast(lab_1, lab_2)
    chroma_1, chroma_2 = np.hypot(one[..., 1], one[..., 2]), np.hypot(two[..., 1], two[..., 2])
    dot = one[..., 1] * two[..., 1] + one[..., 2] * two[..., 2]
    cross = one[..., 1] * two[..., 2] - one[..., 2] * two[..., 1]
    # Two forms of one formula: the first keeps its digits for close hues, the second for opposite ones.
    product = chroma_1 * chroma_2
    close = np.abs(cross) * np.sqrt(2 / np.maximum(product + dot, 1e-300))
    size = np.where(dot > 0, close, np.sqrt(np.maximum(2 * (product - dot), 0.0)))
    return ColourDifference(two[..., 0] - one[..., 0], chroma_2 - chroma_1, np.where(cross < 0, -size, size))


def delta_e_2000(lab_1: ArrayLike, lab_2: ArrayLike, *, k_L: float = 1.0) -> FloatArray:
    """CIEDE2000 (ISO/CIE 11664-6; Sharma, Wu and Dalal 2005). Shapes (..., 3) broadcast to (...).

    `k_L` above 1 forgives lightness: 1.5 suits hair followed from photo to photo, whose lightness moves with
    the light on the gloss while hue and chroma stay put.

    >>> float(delta_e_2000((50, 2.5, 0), (73, 25, -18)).round(4))
    27.1492
    """
    terms = difference_terms(lab_1, lab_2)
    l_term, c_term, h_term = terms.lightness / (k_L * terms.S_L), terms.chroma / terms.S_C, terms.hue / terms.S_H
    squared = l_term**2 + c_term**2 + h_term**2 + terms.rotation * c_term * h_term
    distance: FloatArray = np.sqrt(np.maximum(squared, 0.0))
    return distance


@dataclass(frozen=True, slots=True, eq=False)
class DifferenceTerms:
    """What CIEDE2000 is made of, under the names of the standard; every array has the colours' shape (...)."""

    mean_ab_chroma: FloatArray
    """Mean C*ab of the two colours."""
    stretch: FloatArray
    """1 + G, by which a* is stretched."""
    C_1: FloatArray
    C_2: FloatArray
    h_1: FloatArray
    h_2: FloatArray
    """Chroma C' and hue h' (degrees) of either colour after that."""
    lightness: FloatArray
    chroma: FloatArray
    hue: FloatArray
    """ΔL', ΔC' and ΔH', from the first to the second."""
    L_mean: FloatArray
    C_mean: FloatArray
    h_mean: FloatArray
    S_L: FloatArray
    S_C: FloatArray
    S_H: FloatArray
    rotation: FloatArray
    """R_T."""


def difference_terms(lab_1: ArrayLike, lab_2: ArrayLike) -> DifferenceTerms:
    """The terms of CIEDE2000 between CIELAB colours whose shapes (..., 3) broadcast."""
    one, two = _broadcast(lab_1, lab_2)
    L_1, b_1, L_2, b_2 = one[..., 0], one[..., 2], two[..., 0], two[..., 2]
    mean_ab_chroma = (np.hypot(one[..., 1], b_1) + np.hypot(two[..., 1], b_2)) / 2
    stretch = 1 + 0.5 * (1 - _seventh_power_ratio(mean_ab_chroma))
    a_1, a_2 = stretch * one[..., 1], stretch * two[..., 1]
    C_1, C_2 = np.hypot(a_1, b_1), np.hypot(a_2, b_2)
    h_1, h_2 = np.degrees(np.arctan2(b_1, a_1)) % 360, np.degrees(np.arctan2(b_2, a_2)) % 360

    hue_step, h_mean = _hue_step_and_mean(h_1, h_2, neutral=C_1 * C_2 == 0)
    C_mean = (C_1 + C_2) / 2
    S_L, S_C, S_H = _tolerances((L_1 + L_2) / 2, C_mean, h_mean)
    return DifferenceTerms(
        mean_ab_chroma=mean_ab_chroma,
        stretch=stretch,
        C_1=C_1,
        C_2=C_2,
        h_1=h_1,
        h_2=h_2,
        lightness=L_2 - L_1,
        chroma=C_2 - C_1,
        hue=2 * np.sqrt(C_1 * C_2) * np.sin(np.radians(hue_step) / 2),
        L_mean=(L_1 + L_2) / 2,
        C_mean=C_mean,
        h_mean=h_mean,
        S_L=S_L,
        S_C=S_C,
        S_H=S_H,
        rotation=-2
        * _seventh_power_ratio(C_mean)
        * np.sin(np.radians(60 * np.exp(-(((h_mean - 275) / 25) ** 2)))),
    )


def visual_weights(lab: ArrayLike) -> FloatArray:
    """CIEDE2000 near one colour, as a matrix: rows give ΔL/S_L, ΔC/S_C, ΔH/S_H from (ΔL*, Δa*, Δb*).

    (..., 3) to (..., 3, 3). For small differences; leaves out the a* stretch and the blue rotation, so it is
    for weighting a fit, not for reporting.
    """
    L, C, h = np.moveaxis(lab_to_lch(lab), -1, 0)
    S_L, S_C, S_H = _tolerances(L, C, h)
    cosine, sine, zero = np.cos(np.radians(h)), np.sin(np.radians(h)), np.zeros_like(L)
    rows = [
        np.stack([1 / S_L, zero, zero], axis=-1),
        np.stack([zero, cosine / S_C, sine / S_C], axis=-1),
        np.stack([zero, -sine / S_H, cosine / S_H], axis=-1),
    ]
    return np.stack(rows, axis=-2)


def _broadcast(lab_1: ArrayLike, lab_2: ArrayLike) -> tuple[FloatArray, FloatArray]:
    one, two = np.broadcast_arrays(np.asarray(lab_1, dtype=np.float64), np.asarray(lab_2, dtype=np.float64))
    return one, two


def _seventh_power_ratio(chroma: FloatArray) -> FloatArray:
    return np.sqrt(chroma**7 / (chroma**7 + 25.0**7))


def _hue_step_and_mean(
    h_1: FloatArray, h_2: FloatArray, *, neutral: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """The short way round from h_1 to h_2 and the hue half way, in degrees; a neutral colour has no hue."""
    straight = h_2 - h_1
    half_turn = 180 + _OPPOSITE_HUES_SLACK_DEGREES
    turn_back = np.where(straight > half_turn, 360.0, 0.0) - np.where(straight < -half_turn, 360.0, 0.0)
    step = straight - turn_back
    around = np.where(h_1 + h_2 < 360, (h_1 + h_2 + 360) / 2, (h_1 + h_2 - 360) / 2)
    mean = np.where(np.abs(straight) <= half_turn, (h_1 + h_2) / 2, around)
    return np.where(neutral, 0.0, step), np.where(neutral, h_1 + h_2, mean)


def _tolerances(
    lightness: FloatArray, chroma: FloatArray, hue_degrees: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """S_L, S_C, S_H of the standard: how large a step in each direction looks like one unit."""
    off_middle_squared = (lightness - 50) ** 2
    S_L = 1 + 0.015 * off_middle_squared / np.sqrt(20 + off_middle_squared)
    return S_L, 1 + 0.045 * chroma, 1 + 0.015 * chroma * _hue_weight(hue_degrees)


def _hue_weight(h_mean: FloatArray) -> FloatArray:
    """T of the standard: how much a hue step counts at this hue."""
    radians = np.radians(h_mean)
    weight: FloatArray = (
        1
        - 0.17 * np.cos(radians - np.radians(30))
        + 0.24 * np.cos(2 * radians)
        + 0.32 * np.cos(3 * radians + np.radians(6))
        - 0.20 * np.cos(4 * radians - np.radians(63))
    )
    return weight
