"""The grade of change against ISO 105-A05 and the colours of ISO 105-A02."""

import math

import numpy as np
import pytest

from journey.colour.grey_scale import delta_e_f, grey_scale_grade, grey_scale_rating, half_grade

# ISO 105-A02 (EN 20105-A02:1994), table: grade, CIELAB difference of its grey pair, tolerance.
A02 = [
    ("5", 5.0, 0.0, 0.2), ("4-5", 4.5, 0.8, 0.2), ("4", 4.0, 1.7, 0.3), ("3-4", 3.5, 2.5, 0.35),
    ("3", 3.0, 3.4, 0.4), ("2-3", 2.5, 4.8, 0.5), ("2", 2.0, 6.8, 0.6), ("1-2", 1.5, 9.6, 0.7),
    ("1", 1.0, 13.6, 1.0),
]  # fmt: skip


@pytest.mark.parametrize(("grade", "rating", "difference", "tolerance"), A02)
def test_grey_pairs_get_their_own_grade(grade: str, rating: float, difference: float, tolerance: float) -> None:
    """Each grey pair of ISO 105-A02 is graded as itself, and its rating is within the pair's tolerance."""
    found = grey_scale_grade((50, 0, 0), (50 + difference, 0, 0))
    assert found.delta_e_f == pytest.approx(difference)
    assert found.grade == grade
    steeper_side = grey_scale_rating(max(difference - tolerance, 0))
    assert abs(found.rating - rating) <= abs(float(steeper_side) - rating) + 1e-9


@pytest.mark.parametrize(
    ("original", "changed", "difference", "rating"),
    [
        ((50, 0, 0), (51.7, 0, 0), 1.7, 4.000),
        ((50, 0, 0), (53.4, 0, 0), 3.4, 3.000),
        ((50, 50, 0), (50, 45, 0), 2.6271, 3.4546),
        ((50, 30, -1), (50, 30, 1), 1.8347, 3.9208),
    ],
)
def test_worked_pairs_get_their_difference(
    original: tuple[float, float, float],
    changed: tuple[float, float, float],
    difference: float,
    rating: float,
) -> None:
    """Four pairs worked by hand from the formula of ISO 105-A05, the last over hue 0."""
    found = grey_scale_grade(original, changed)
    assert found.delta_e_f == pytest.approx(difference, abs=5e-5)
    assert found.rating == pytest.approx(rating, abs=5e-5)


@pytest.mark.parametrize(
    ("difference", "rating"), [(6.8, 2.0), (13.6, 1.0), (4.8, 2.5025), (9.6, 1.5025), (40.0, 1.0), (0.0, 5.0)]
)
def test_rating_follows_both_branches(difference: float, rating: float) -> None:
    """5 - ΔE/1.7 up to 3.4, logarithmic above, never below 1 (ISO 105-A05)."""
    assert grey_scale_rating(difference) == pytest.approx(rating, abs=5e-5)


def test_rating_joins_and_falls() -> None:
    """No step at 3.4, and a larger change never gets a better rating or grade."""
    assert grey_scale_rating(3.4 + 1e-9) == pytest.approx(float(grey_scale_rating(3.4 - 1e-9)), abs=1e-6)
    differences = np.linspace(0, 20, 400)
    assert np.all(np.diff(grey_scale_rating(differences)) <= 0)
    grades = [float(half_grade(float(d)).split("-")[0]) for d in differences]
    assert grades == sorted(grades, reverse=True)


def test_blue_is_turned() -> None:
    """Near hue 280 the chroma step leaks into hue: the same step weighs otherwise than at hue 0."""
    at_280 = [(50, c * np.cos(np.radians(280)), c * np.sin(np.radians(280))) for c in (50, 45)]
    assert delta_e_f(*at_280) != pytest.approx(2.6271, abs=0.1)


def _worked_out(original: tuple[float, float, float], changed: tuple[float, float, float]) -> float:
    """ISO 105-A05 clause by clause, with plain numbers and angles."""
    (L_1, a_1, b_1), (L_2, a_2, b_2) = original, changed
    C_1, C_2 = math.hypot(a_1, b_1), math.hypot(a_2, b_2)
    h_1, h_2 = math.degrees(math.atan2(b_1, a_1)) % 360, math.degrees(math.atan2(b_2, a_2)) % 360
    turn = (h_2 - h_1 + 180) % 360 - 180
    delta_H = 2 * math.sqrt(C_1 * C_2) * math.sin(math.radians(turn / 2))
    C_M = (C_1 + C_2) / 2
    h_M = (h_1 + h_2) / 2
    if abs(h_2 - h_1) > 180:
        h_M += 180 if h_1 + h_2 < 360 else -180
    from_280 = abs(h_M - 280)
    x = ((from_280 if from_280 <= 180 else 360 - from_280) / 30) ** 2
    D = (C_2 - C_1) * C_M * math.exp(-x) / 100
    C_F = (C_2 - C_1 - D) / (1 + (20 * C_M / 1000) ** 2)
    H_F = (delta_H - D) / (1 + (10 * C_M / 1000) ** 2)
    return math.sqrt((L_2 - L_1) ** 2 + C_F**2 + H_F**2)


def test_formula_follows_the_standard_all_around() -> None:
    """500 random pairs, with hues on either side of 0 and 280, against the standard's clauses."""
    rng = np.random.default_rng(4)
    one = np.column_stack([rng.uniform(10, 90, 500), rng.uniform(-60, 60, (500, 2))])
    two = np.column_stack([rng.uniform(10, 90, 500), rng.uniform(-60, 60, (500, 2))])
    by_hand = [_worked_out(tuple(a), tuple(b)) for a, b in zip(one, two, strict=True)]
    assert delta_e_f(one, two) == pytest.approx(by_hand)


def test_grades_come_in_arrays() -> None:
    """Many pairs at once give as many differences."""
    assert delta_e_f(np.zeros((4, 3)), np.ones((4, 3))).shape == (4,)
