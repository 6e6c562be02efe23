"""The path from dyed to bare hair, and the share a reading stands for."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import root

from journey.colour.difference import delta_e_2000
from journey.colour.dye import BLOCKS, channels_over, dye_between
from journey.colour.fade_path import FadePath, NoFadePathError
from journey.colour.observer import reflectance_to_xyz
from journey.colour.spaces import lab_to_lch, lab_to_xyz, linear_rgb_to_xyz, xyz_to_lab, xyz_to_linear_rgb
from journey.colour.spectra import smoothest_reflectance
from tests.simulators.hair import DYE_DENSITIES, LIGHTENED, dyed_hair
from tests.simulators.spectra import CIE_2017_SAMPLES, spectrum_to_lab

YELLOW, BLUE = (67.0, 5.5, 32.0), (35.0, -20.0, -15.0)

# Blue over yellow hair where 75, 50 and 25 % are left, computed once with an independent prototype.
_BLOCK_DYE = [
    (40.3854, -18.9057, -7.6491), (47.1653, -14.7333, 2.0396), (55.8257, -6.7853, 14.8956),
]  # fmt: skip
_REC2020 = [
    (41.0230, -20.1148, -6.4918), (48.1637, -16.4419, 3.8480), (56.7008, -8.1454, 16.4780),
]  # fmt: skip
_CAT16 = [
    (41.5867, -17.8386, -5.8528), (49.0329, -12.9474, 4.8485), (57.4585, -5.2243, 17.3625),
]  # fmt: skip
_SMOOTHEST_AT_BOTH_ENDS = [
    (40.5352, -18.3012, -7.3994), (47.4395, -13.8023, 2.5006), (56.1013, -6.0112, 15.3619),
]  # fmt: skip
_LINEAR_SRGB = [
    (40.0229, -24.9211, -7.3592), (45.4257, -31.0306, 0.6454), (52.5271, -29.6951, 10.9957),
]  # fmt: skip


def test_simulated_hair_fades_as_published_for_this_simulator() -> None:
    """Blue on yellow hair, whole spectra: CIELAB at shares 1, 0.75, 0.5, 0.25, 0 (pins the simulator)."""
    colours = [
        spectrum_to_lab(dyed_hair(LIGHTENED["9"], DYE_DENSITIES["blue"], q)) for q in (1, 0.75, 0.5, 0.25, 0)
    ]
    expected = [
        (34.5282, -19.5326, -15.4691), (39.8389, -17.9712, -8.3352), (46.6489, -13.6061, 1.3185),
        (55.4817, -5.9070, 14.3864), (67.0009, 5.4995, 31.9996),
    ]  # fmt: skip
    np.testing.assert_allclose(colours, expected, atol=6e-4)


def test_blue_over_yellow_by_block_dye() -> None:
    """The path and its three densities agree with the prototype's."""
    path = FadePath.between(YELLOW, BLUE)
    assert path.method == "block-dye"
    np.testing.assert_allclose(path.dye.coefficients, (3.052515, 0.433058, 0.174123), atol=2e-6)
    np.testing.assert_allclose(path.lab_at((0.75, 0.5, 0.25)), _BLOCK_DYE, atol=1e-4)


def test_block_densities_solve_their_equations_by_another_solver() -> None:
    """scipy.optimize.root finds the same three densities from the same equations."""
    substrate = smoothest_reflectance(YELLOW).reflectance
    wanted = lab_to_xyz(BLUE)
    solution = root(lambda c: reflectance_to_xyz(substrate * np.exp(-c @ BLOCKS)) - wanted, np.zeros(3))
    assert solution.success
    np.testing.assert_allclose(dye_between(YELLOW, BLUE).coefficients, solution.x, atol=1e-6)


@pytest.mark.parametrize(("method", "expected"), [("rec2020", _REC2020), ("cat16", _CAT16)])
def test_channel_laws_agree_with_the_prototype(method: str, expected: list[tuple[float, ...]]) -> None:
    """The two stand-in laws, v(q) = v_bare (v_dyed / v_bare)^q per channel."""
    bare, dyed = lab_to_xyz(YELLOW), lab_to_xyz(BLUE)
    # Density 0 leaves the channels as they are: a way to see how they are made.
    assert method in ("rec2020", "cat16")
    full = _channel_coefficients(bare, dyed, method)
    shares = np.array([[0.75], [0.5], [0.25]])
    faded = channels_over(bare, shares * full, method)  # type: ignore[arg-type]
    np.testing.assert_allclose(xyz_to_lab(faded), expected, atol=1e-4)


def _channel_coefficients(bare: np.ndarray, dyed: np.ndarray, method: str) -> np.ndarray:
    """The densities that take `bare` to `dyed`, found from outside through `channels_over` alone."""
    solution = root(lambda c: channels_over(bare, c, method) - dyed, np.zeros(3), tol=1e-13)  # type: ignore[arg-type]
    return np.asarray(solution.x)


def test_two_laws_that_were_not_taken() -> None:
    """What the same fade is by the smoothest spectrum at either end, and per channel in linear sRGB.

    Both agree with the prototype's. The first stays within 1 of our path. The second is the mistake to avoid:
    the green it passes through is so strong that no hair goes there, 6 or more away.
    """
    shares = np.array([[0.75], [0.5], [0.25]])
    bare, dyed = (np.log(smoothest_reflectance(lab).reflectance) for lab in (YELLOW, BLUE))
    spectral = xyz_to_lab(reflectance_to_xyz(np.exp(bare + shares * (dyed - bare))))
    np.testing.assert_allclose(spectral, _SMOOTHEST_AT_BOTH_ENDS, atol=1e-4)
    bare, dyed = (xyz_to_linear_rgb(lab_to_xyz(lab)) for lab in (YELLOW, BLUE))
    # Blue over yellow is outside sRGB: its red channel is below zero and is held at 0.0001.
    bare, dyed = np.maximum(bare, 1e-4), np.maximum(dyed, 1e-4)
    channels = xyz_to_lab(linear_rgb_to_xyz(bare * (dyed / bare) ** shares))
    np.testing.assert_allclose(channels, _LINEAR_SRGB, atol=4e-3)  # its sRGB matrix was rounded
    path = FadePath.between(YELLOW, BLUE).lab_at(shares[:, 0])
    assert np.max(delta_e_2000(spectral, path)) < 1
    assert np.max(delta_e_2000(channels, path)) > 6


def test_blue_over_yellow_passes_through_green() -> None:
    """The hue goes 218, 174, 124, 95, 80 degrees at shares 1, 0.5, 0.3, 0.15, 0; on near white it stays blue.

    Hues of the whole simulated spectra; a straight line in CIELAB would be grey, not green, in between.
    """
    for substrate, hues in (("9", (218, 174, 124, 95, 80)), ("10+", (247, 231, 216))):
        bare = spectrum_to_lab(LIGHTENED[substrate])
        dyed = spectrum_to_lab(dyed_hair(LIGHTENED[substrate], DYE_DENSITIES["blue"]))
        path = FadePath.between(bare, dyed)
        shares = (1, 0.5, 0.3, 0.15, 0)[: len(hues)]
        np.testing.assert_allclose(lab_to_lch(path.lab_at(shares))[:, 2], hues, atol=6)
    middle = (np.array(YELLOW) + np.array(BLUE)) / 2
    assert lab_to_lch(middle)[1] < lab_to_lch(FadePath.between(YELLOW, BLUE).lab_at(0.4))[1]


def test_path_stays_near_the_true_fade() -> None:
    """16 dyes x 4 substrates x 3 strengths: the worst colour along a path is off by at most 3.9 at p95."""
    shares = np.linspace(0, 1, 11)
    worst = []
    for substrate in LIGHTENED.values():
        for density in DYE_DENSITIES.values():
            for strength in (0.6, 1.0, 1.4):
                true = spectrum_to_lab([dyed_hair(substrate, strength * density, q) for q in shares])
                path = FadePath.between(true[0], true[-1])
                worst.append(np.max(delta_e_2000(path.lab_at(shares), true)))
    assert np.percentile(worst, 95) <= 3.9
    assert np.mean(worst) <= 1.3


def test_measured_densities_fade_along_the_path_too() -> None:
    """Densities of the 99 CIE 224:2017 samples, none of them ours, over yellow hair: p95 at most 1.9."""
    shares = np.linspace(0, 1, 11)
    worst = []
    for sample in CIE_2017_SAMPLES:
        # A sample's own absorption, relative to its lightest wavelength, stands for a dye's.
        density = -np.log10(np.clip(sample / sample.max(), 0.01, None))
        true = spectrum_to_lab([dyed_hair(LIGHTENED["9"], density, q) for q in shares])
        if float(delta_e_2000(true[0], true[-1])) < 5:
            continue
        worst.append(np.max(delta_e_2000(FadePath.between(true[0], true[-1]).lab_at(shares), true)))
    assert len(worst) > 60
    assert np.percentile(worst, 95) <= 1.9


@settings(max_examples=40, deadline=None)
@given(
    st.tuples(st.floats(50, 85), st.floats(-2, 12), st.floats(10, 40)),
    st.tuples(st.floats(15, 60), st.floats(-40, 50), st.floats(-40, 40)),
)
def test_the_ends_are_the_ends(bare: tuple[float, ...], dyed: tuple[float, ...]) -> None:
    """Share 0 is bare hair and share 1 the fresh colour, or the dye states how far it misses."""
    assume(float(delta_e_2000(bare, dyed)) > 2)
    path = FadePath.between(bare, dyed)
    assert float(delta_e_2000(path.lab_at(0), bare)) < 1e-3
    missed = float(delta_e_2000(path.lab_at(1), dyed))
    assert missed == pytest.approx(path.dye.residual_delta_e, abs=1e-3)
    if path.method == "block-dye":
        assert missed < 1e-3


@pytest.mark.parametrize("share", [0.0, 0.07, 0.33, 0.5, 0.815, 1.0])
def test_a_colour_on_the_path_gives_its_share_back(share: float) -> None:
    """A reading without error has its own share, no distance, and is not at an edge."""
    path = FadePath.between(YELLOW, BLUE)
    read = path.remaining_share(path.lab_at(share))
    assert read.value == pytest.approx(share, abs=5e-4)
    assert read.distance_delta_e < 0.05
    assert not read.at_edge


def test_readings_beyond_an_end_are_bounds() -> None:
    """More dye than when fresh reads 1, less than none reads 0, and both say so."""
    path = FadePath.between(YELLOW, BLUE)
    beyond_fresh = path.remaining_share(path.lab_at(1.2))
    beyond_bare = path.remaining_share(path.lab_at(-0.1))
    assert (beyond_fresh.value, beyond_fresh.at_edge) == (1.0, True)
    assert (beyond_bare.value, beyond_bare.at_edge) == (0.0, True)


def test_a_reading_far_off_the_path_says_how_far() -> None:
    """Pink hair is nowhere on the way from blue to yellow."""
    pink = (60.0, 35.0, 5.0)
    path = FadePath.between(YELLOW, BLUE)
    read = path.remaining_share(pink)
    everywhere = delta_e_2000(path.lab_at(np.linspace(0, 1, 2001)), pink, k_L=1.5)
    assert read.distance_delta_e == pytest.approx(everywhere.min(), abs=0.05)
    assert read.distance_delta_e > 15


def test_lightness_counts_less_in_tracking() -> None:
    """A photo two steps too light moves the share less with k_L 1.5 than with 1."""
    path = FadePath.between(YELLOW, BLUE)
    lighter = path.lab_at(0.6) + np.array([4.0, 0.0, 0.0])
    assert abs(path.remaining_share(lighter).value - 0.6) < abs(
        path.remaining_share(lighter, k_L=1.0).value - 0.6
    )


def test_length_is_that_of_the_bent_way() -> None:
    """The path is longer than the straight distance between its ends, and adds up piece by piece."""
    path = FadePath.between(YELLOW, BLUE)
    pieces = path.lab_at(np.linspace(0, 1, 5001))
    assert path.length_delta_e == pytest.approx(np.sum(delta_e_2000(pieces[1:], pieces[:-1])), rel=1e-3)
    assert path.length_delta_e > float(delta_e_2000(YELLOW, BLUE))


def test_ends_too_alike_make_no_path() -> None:
    """Bare and dyed hair that look the same are refused with their distance."""
    with pytest.raises(NoFadePathError, match=r"0\.\d CIEDE2000 apart"):
        FadePath.between(YELLOW, (67.2, 5.5, 32.3))


def test_impossible_ends_fall_back_and_record_what_they_miss() -> None:
    """A reading no light could make (Z below 0) still gets a path, by channels, with its residual."""
    impossible = (20.0, 5.0, 60.0)
    path = FadePath.between(YELLOW, impossible)
    assert path.method == "cat16"
    assert path.dye.residual_delta_e == pytest.approx(
        float(delta_e_2000(path.lab_at(1), impossible)), abs=1e-6
    )
    with pytest.raises(ValueError, match="channels"):
        path.dye.density()
