"""Distances between colours against the published test data and two independent implementations."""

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.color import deltaE_ciede2000

from journey.colour.difference import delta_e_76, delta_e_2000, hue_chroma_lightness, visual_weights
from journey.colour.spaces import FloatArray

# All 34 pairs of Sharma, Wu and Dalal 2005, "The CIEDE2000 color-difference formula", table 1:
# Lab of both colours, and their distance. Also in the test data of scikit-image.
SHARMA_PAIRS = np.array(
    [
        (50.0000, 2.6772, -79.7751, 50.0000, 0.0000, -82.7485, 2.0425),
        (50.0000, 3.1571, -77.2803, 50.0000, 0.0000, -82.7485, 2.8615),
        (50.0000, 2.8361, -74.0200, 50.0000, 0.0000, -82.7485, 3.4412),
        (50.0000, -1.3802, -84.2814, 50.0000, 0.0000, -82.7485, 1.0000),
        (50.0000, -1.1848, -84.8006, 50.0000, 0.0000, -82.7485, 1.0000),
        (50.0000, -0.9009, -85.5211, 50.0000, 0.0000, -82.7485, 1.0000),
        (50.0000, 0.0000, 0.0000, 50.0000, -1.0000, 2.0000, 2.3669),
        (50.0000, -1.0000, 2.0000, 50.0000, 0.0000, 0.0000, 2.3669),
        (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0009, 7.1792),
        (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0010, 7.1792),
        (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0011, 7.2195),
        (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0012, 7.2195),
        (50.0000, -0.0010, 2.4900, 50.0000, 0.0009, -2.4900, 4.8045),
        (50.0000, -0.0010, 2.4900, 50.0000, 0.0010, -2.4900, 4.8045),
        (50.0000, -0.0010, 2.4900, 50.0000, 0.0011, -2.4900, 4.7461),
        (50.0000, 2.5000, 0.0000, 50.0000, 0.0000, -2.5000, 4.3065),
        (50.0000, 2.5000, 0.0000, 73.0000, 25.0000, -18.0000, 27.1492),
        (50.0000, 2.5000, 0.0000, 61.0000, -5.0000, 29.0000, 22.8977),
        (50.0000, 2.5000, 0.0000, 56.0000, -27.0000, -3.0000, 31.9030),
        (50.0000, 2.5000, 0.0000, 58.0000, 24.0000, 15.0000, 19.4535),
        (50.0000, 2.5000, 0.0000, 50.0000, 3.1736, 0.5854, 1.0000),
        (50.0000, 2.5000, 0.0000, 50.0000, 3.2972, 0.0000, 1.0000),
        (50.0000, 2.5000, 0.0000, 50.0000, 1.8634, 0.5757, 1.0000),
        (50.0000, 2.5000, 0.0000, 50.0000, 3.2592, 0.3350, 1.0000),
        (60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644),
        (63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.2630),
        (61.2901, 3.7196, -5.3901, 61.4292, 2.2480, -4.9620, 1.8731),
        (35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645),
        (22.7233, 20.0904, -46.6940, 23.0331, 14.9730, -42.5619, 2.0373),
        (36.4612, 47.8580, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146),
        (90.8027, -2.0831, 1.4410, 91.1528, -1.6435, 0.0447, 1.4441),
        (90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381),
        (6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377),
        (2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082),
    ]
)
ONE, TWO, DISTANCE = SHARMA_PAIRS[:, :3], SHARMA_PAIRS[:, 3:6], SHARMA_PAIRS[:, 6]

lab_colours = st.tuples(st.floats(0, 100), st.floats(-80, 80), st.floats(-80, 80))


@pytest.mark.parametrize("pair", range(34))
def test_ciede2000_gives_the_published_distance(pair: int) -> None:
    """Each of the 34 published pairs to 4 decimals, both ways round."""
    assert delta_e_2000(ONE[pair], TWO[pair]) == pytest.approx(DISTANCE[pair], abs=5.1e-5)
    assert delta_e_2000(TWO[pair], ONE[pair]) == pytest.approx(DISTANCE[pair], abs=5.1e-5)


def _by_scikit_image(one: FloatArray, two: FloatArray, k_L: float = 1.0) -> FloatArray:
    # Its own annotations are missing.
    distance: FloatArray = deltaE_ciede2000(one, two, kL=k_L)  # type: ignore[no-untyped-call]
    return distance


def test_ciede2000_agrees_with_two_other_implementations() -> None:
    """5000 random pairs: colour-science and scikit-image, to 1e-6."""
    rng = np.random.default_rng(3)
    one, two = (np.column_stack([rng.uniform(0, 100, 5000), rng.uniform(-80, 80, (5000, 2))]) for _ in "12")
    ours = delta_e_2000(one, two)
    assert ours == pytest.approx(np.asarray(colour.delta_E(one, two, method="CIE 2000")), abs=1e-6)
    assert ours == pytest.approx(_by_scikit_image(one, two), abs=1e-6)


def test_lightness_can_be_forgiven() -> None:
    """k_L divides the lightness part only: scikit-image's kL, and no effect where lightness is equal."""
    one, two = ONE[16:], TWO[16:]
    assert delta_e_2000(one, two, k_L=1.5) == pytest.approx(_by_scikit_image(one, two, k_L=1.5), abs=1e-6)
    assert delta_e_2000(ONE[0], TWO[0], k_L=3) == pytest.approx(DISTANCE[0], abs=5.1e-5)


@given(lab_colours, lab_colours)
def test_ciede2000_is_a_symmetric_distance(
    one: tuple[float, float, float], two: tuple[float, float, float]
) -> None:
    """Never negative, nothing apart from itself, the same both ways round."""
    assert delta_e_2000(one, two) >= 0
    assert delta_e_2000(one, one) == 0
    assert delta_e_2000(one, two) == pytest.approx(float(delta_e_2000(two, one)), abs=1e-7)


def test_distances_broadcast() -> None:
    """One colour against many, in any leading shape."""
    many = np.zeros((2, 5, 3))
    assert delta_e_2000((50, 0, 0), many).shape == (2, 5)
    assert delta_e_76((50, 0, 0), many).shape == (2, 5)


@given(lab_colours, lab_colours)
def test_lightness_chroma_and_hue_add_up(one: tuple[float, float, float], two: tuple[float, float, float]) -> None:
    """ΔL² + ΔC² + ΔH² is the square of the CIE 1976 distance (ISO/CIE 11664-4)."""
    parts = hue_chroma_lightness(one, two)
    assert np.sqrt(sum(part**2 for part in parts)) == pytest.approx(float(delta_e_76(one, two)), abs=1e-6)


def test_hue_turns_with_a_sign() -> None:
    """From red towards yellow is positive, back is negative, and the step over 0 degrees is short."""
    assert hue_chroma_lightness((50, 30, 0), (50, 0, 30)).hue > 0
    assert hue_chroma_lightness((50, 0, 30), (50, 30, 0)).hue < 0
    over_zero = hue_chroma_lightness((50, 30, -1), (50, 30, 1))
    assert over_zero.hue == pytest.approx(2.0, abs=1e-3)
    assert hue_chroma_lightness((50, 20, 0), (50, -20, 0)).hue == pytest.approx(40)
    assert hue_chroma_lightness((50, 0, 0), (50, 30, 0)).hue == 0


def test_tiny_hue_steps_keep_their_digits() -> None:
    """A hue step of a millionth is not drowned by rounding."""
    assert hue_chroma_lightness((50, 60, 0), (50, 60, 1e-6)).hue == pytest.approx(1e-6, rel=1e-6)


def test_same_colour_has_no_hue_step() -> None:
    """Rounding leaves no trace of a hue difference where there is none."""
    assert hue_chroma_lightness((37.3036, 13.6919, 15.5637), (37.3036, 13.6919, 15.5637)).hue == 0


@pytest.mark.parametrize("lab", [(40, 30, 20), (60, -20, 10), (35, -20, 30), (58, 11, 37)])
def test_visual_weights_foretell_small_distances(lab: tuple[float, float, float]) -> None:
    """At chroma above 20 and away from blue, the weights' length is CIEDE2000 of a small step, within 6 %."""
    rng = np.random.default_rng(5)
    step = rng.normal(0, 0.05, (200, 3))
    foretold = np.linalg.norm(step @ visual_weights(lab).T, axis=1)
    measured = delta_e_2000(lab, np.array(lab) + step)
    assert np.median(np.abs(foretold / measured - 1)) < 0.06
