"""Mixing strands, layers and bowls."""

import colour
import numpy as np
import pytest

from journey.colour.dye import Dye, dye_between
from journey.colour.layering import lay_over
from journey.colour.mixing import (
    dilute,
    faded_opaque_reflectance,
    k_over_s_to_reflectance,
    mix_in_bowl,
    partitive_lab,
    partitive_xyz,
    reflectance_to_k_over_s,
    transmittance,
)
from journey.colour.spaces import D65_WHITE, encode_srgb, linear_rgb_to_xyz, xyz_to_lab, xyz_to_linear_rgb

BARE, ROSE, BLUE = (75.0, 2.0, 24.0), (52.0, 38.0, 8.0), (38.0, -15.0, -22.0)


def test_two_strand_colours_seen_from_afar() -> None:
    """40 % dark and 60 % light strands mix in linear light; the average of their CIELAB is far darker."""
    linear = np.array([(0.05, 0.03, 0.02), (0.60, 0.45, 0.25)])
    strands = xyz_to_lab(linear_rgb_to_xyz(linear))
    mixed = partitive_lab((0.4, 0.6), strands)
    # Computed with the four-digit sRGB matrix, whose white is not quite ours: hence 0.03.
    np.testing.assert_allclose(mixed, (61.1227, 2.6605, 20.9865), atol=0.03)
    light = xyz_to_linear_rgb(partitive_xyz((0.4, 0.6), linear_rgb_to_xyz(linear)))
    np.testing.assert_allclose(light, (0.38, 0.282, 0.158), atol=1e-9)
    wrong = np.average(strands, axis=0, weights=(0.4, 0.6))
    np.testing.assert_allclose(wrong, (52.9780, 3.6178, 18.3057), atol=0.03)


@pytest.mark.parametrize(
    ("one", "other", "codes", "lightness"),
    [
        ((0, 0, 0), (1, 1, 1), (187.516, 187.516, 187.516), 76.069),
        ((1, 0, 0), (0, 1, 0), (187.516, 187.516, 0), None),
    ],
)
def test_half_and_half(
    one: tuple[int, ...], other: tuple[int, ...], codes: tuple[float, ...], lightness: float | None
) -> None:
    """Black and white strands in equal parts are sRGB 188, L* 76.07; red and green are (188, 188, 0).

    Computed with colour-science 0.4.7. Averaging encoded values would give 128 and L* 53.39, CIELAB L* 50.
    """
    mixed = partitive_xyz((1, 1), linear_rgb_to_xyz((one, other)))
    np.testing.assert_allclose(encode_srgb(xyz_to_linear_rgb(mixed)) * 255, codes, atol=1e-2)
    if lightness is not None:
        assert xyz_to_lab(mixed)[0] == pytest.approx(lightness, abs=1e-3)
        theirs = colour.XYZ_to_Lab(0.5 * D65_WHITE, colour.XYZ_to_xy(D65_WHITE))
        assert xyz_to_lab(mixed)[0] == pytest.approx(theirs[0], abs=1e-6)


def test_shares_are_relative_and_checked() -> None:
    """Shares count relative to their sum; negative or all-zero shares are refused."""
    labs = (BARE, ROSE)
    np.testing.assert_allclose(partitive_lab((2, 6), labs), partitive_lab((0.25, 0.75), labs))
    for shares in ((-1, 2), (0, 0)):
        with pytest.raises(ValueError, match="shares"):
            partitive_lab(shares, labs)


# K/S = (1 - R)² / 2R to six decimals, evaluated by hand.
_KUBELKA_MUNK = {
    0.01: 49.005, 0.02: 24.01, 0.05: 9.025, 0.10: 4.05, 0.20: 1.6, 0.25: 1.125, 0.30: 0.816667, 0.40: 0.45,
    0.50: 0.25, 0.60: 0.133333, 0.80: 0.025, 0.90: 0.005556, 1.0: 0.0,
}  # fmt: skip


@pytest.mark.parametrize(("reflectance", "k_over_s"), _KUBELKA_MUNK.items())
def test_kubelka_munk_both_ways(reflectance: float, k_over_s: float) -> None:
    """The textbook table (Kubelka and Munk 1931), there and back."""
    assert float(reflectance_to_k_over_s(reflectance)) == pytest.approx(k_over_s, abs=5e-7)
    back = float(k_over_s_to_reflectance(reflectance_to_k_over_s(reflectance)))
    assert back == pytest.approx(reflectance, abs=1e-12)


def test_kubelka_munk_keeps_its_digits_in_the_dark() -> None:
    """At K/S of ten million the textbook difference would lose every digit; 1 / (2 K/S) is the limit."""
    assert float(k_over_s_to_reflectance(1e7)) == pytest.approx(1 / (2 * 1e7 + 2), rel=1e-7)


def test_worked_fade_by_kubelka_munk() -> None:
    """Substrate 0.60, dyed 0.05: 50, 25 and 10 % of the dye leave 0.09035, 0.15244, 0.26452.

    So half the dye is far from half the visible change; a Beer-Lambert layer would stand at 0.173.
    """
    faded = faded_opaque_reflectance(0.60, 0.05, (0.5, 0.25, 0.10))
    np.testing.assert_allclose(faded, (0.09035, 0.15244, 0.26452), atol=5e-6)


@pytest.mark.parametrize("reflectance", [0.0, -0.1, 1.2])
def test_impossible_reflectances_are_refused(reflectance: float) -> None:
    """K/S has no value for layers that reflect nothing or more than all."""
    with pytest.raises(ValueError, match="reflectance"):
        reflectance_to_k_over_s(reflectance)
    with pytest.raises(ValueError, match="K/S"):
        k_over_s_to_reflectance(-0.5)


def test_beer_lambert() -> None:
    """Absorbance 0.3, 1 and 2 let 50.1187, 10 and 1 % through."""
    np.testing.assert_allclose(transmittance((0.3, 1, 2)), (0.501187, 0.1, 0.01), atol=5e-7)


def test_bowl_adds_densities_by_mass() -> None:
    """30 g rose and 10 g blue give three quarters of one density and a quarter of the other."""
    rose, blue = dye_between(BARE, ROSE), dye_between(BARE, BLUE)
    mixed = mix_in_bowl([(rose, 30.0), (blue, 10.0)])
    np.testing.assert_allclose(mixed.density(), 0.75 * rose.density() + 0.25 * blue.density())
    alone = mix_in_bowl([(rose, 12.0)])
    np.testing.assert_allclose(lay_over(BARE, [(alone, 1.0)]), ROSE, atol=1e-4)


def test_clear_base_thins_the_bowl() -> None:
    """One part colour and three parts clear base are a quarter of the density: the share 0.25 of the path."""
    rose = dye_between(BARE, ROSE)
    pastel = mix_in_bowl([(rose, 10.0)], clear_mass_g=30.0)
    np.testing.assert_allclose(pastel.coefficients, dilute(rose, 0.25).coefficients)
    np.testing.assert_allclose(lay_over(BARE, [(pastel, 1.0)]), lay_over(BARE, [(rose, 0.25)]), atol=1e-9)


@pytest.mark.parametrize(("mass_g", "clear_g"), [(0.0, 10.0), (-1.0, 0.0), (5.0, -1.0)])
def test_bowls_without_dye_are_refused(mass_g: float, clear_g: float) -> None:
    """Nothing, or less than nothing, is no mixture."""
    with pytest.raises(ValueError, match="bowl"):
        mix_in_bowl([(dye_between(BARE, ROSE), mass_g)], clear_mass_g=clear_g)


def test_mixed_methods_and_odd_shares_are_refused() -> None:
    """Densities over wavelengths and over channels do not add; a pure share lies in 0..1."""
    rose = dye_between(BARE, ROSE)
    with pytest.raises(ValueError, match="block-dye, cat16"):
        mix_in_bowl([(rose, 1.0), (Dye(np.ones(3), "cat16"), 1.0)])
    with pytest.raises(ValueError, match="pure share"):
        dilute(rose, 1.2)
