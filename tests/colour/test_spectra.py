"""Reflectances: the observer's tables, and the smoothest spectrum of a colour."""

import colour
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journey.colour.difference import delta_e_2000
from journey.colour.observer import (
    COLOUR_MATCHING,
    D65_POWER,
    WAVELENGTHS_NM,
    XYZ_WEIGHTS,
    reflectance_to_xyz,
)
from journey.colour.spaces import D65_WHITE, linear_rgb_to_xyz, xyz_to_lab
from journey.colour.spectra import NoReflectanceError, smoothest_reflectance
from tests.simulators.spectra import CHARTS, CIE_2017_SAMPLES

_SHAPE = colour.SpectralShape(380, 780, 5)


def test_observer_and_light_are_the_published_tables() -> None:
    """Our tables are those of CIE 018 as colour-science 0.4.7 distributes them, sample by sample."""
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(_SHAPE)
    light = colour.SDS_ILLUMINANTS["D65"].copy().align(_SHAPE)
    np.testing.assert_array_equal(WAVELENGTHS_NM, observer.wavelengths)
    np.testing.assert_allclose(COLOUR_MATCHING, observer.values, rtol=1e-7, atol=0)
    np.testing.assert_allclose(D65_POWER, light.values, rtol=1e-7, atol=0)


def test_a_perfect_white_has_the_project_s_white() -> None:
    """A reflectance of 1 integrates to `D65_WHITE` to six decimals."""
    np.testing.assert_allclose(XYZ_WEIGHTS.sum(axis=0), D65_WHITE, atol=5e-7)


def test_reflectances_integrate_as_colour_science_does() -> None:
    """XYZ of the ISO 17321-1 chart equals `colour.sd_to_XYZ(method='Integration')`."""
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(_SHAPE)
    light = colour.SDS_ILLUMINANTS["D65"].copy().align(_SHAPE)
    for reflectance in CHARTS["ISO 17321-1"][::5]:
        sd = colour.SpectralDistribution(reflectance, WAVELENGTHS_NM)
        theirs = colour.sd_to_XYZ(sd, observer, light, method="Integration") / 100
        np.testing.assert_allclose(reflectance_to_xyz(reflectance), theirs, atol=1e-9)


def test_smoothest_reflectance_of_yellow_hair() -> None:
    """Values computed once with an independent prototype of the same method (Burns 2015)."""
    spectrum = smoothest_reflectance((67, 5.5, 32))
    at_nm = np.interp((400, 450, 500, 550, 600, 650, 700), WAVELENGTHS_NM, spectrum.reflectance)
    expected = (0.149636, 0.158942, 0.233820, 0.364651, 0.456855, 0.478606, 0.479965)
    np.testing.assert_allclose(at_nm, expected, atol=2e-6)


def test_no_spectrum_of_the_same_colour_is_smoother() -> None:
    """Any change that keeps the colour makes the logarithm rougher: the optimum is one."""
    spectrum = smoothest_reflectance((45, 35, -20))
    z = np.log(spectrum.reflectance)
    roughness = np.sum(np.diff(z) ** 2)
    constraints = spectrum.reflectance[:, None] * XYZ_WEIGHTS
    rng = np.random.default_rng(5)
    for _ in range(20):
        change = rng.normal(0, 1e-3, len(z))
        # To first order, a change orthogonal to the constraints' gradients leaves XYZ alone.
        change -= constraints @ np.linalg.lstsq(constraints, change, rcond=None)[0]
        assert np.sum(np.diff(z + change) ** 2) > roughness


def test_neutral_colours_have_flat_spectra() -> None:
    """Grey of Y 18 % reflects 18 % everywhere."""
    lightness = xyz_to_lab(0.18 * D65_WHITE)[0]
    np.testing.assert_allclose(smoothest_reflectance((lightness, 0, 0)).reflectance, 0.18, atol=1e-6)


@settings(max_examples=60, deadline=None)
@given(st.tuples(*[st.floats(0.0, 1.0)] * 3).filter(lambda rgb: max(rgb) > 1e-4))
def test_every_screen_colour_has_a_spectrum(rgb: tuple[float, float, float]) -> None:
    """Every sRGB colour comes back from its spectrum."""
    lab = xyz_to_lab(linear_rgb_to_xyz(rgb))
    spectrum = smoothest_reflectance(lab)
    assert np.all(spectrum.reflectance > 0)
    assert float(delta_e_2000(spectrum.lab(), lab)) < 1e-3
    assert spectrum.residual_delta_e < 1e-3


def test_vivid_purple_is_reached_by_walking_out_from_grey() -> None:
    """A screen purple on which Newton's method overshoots from grey still gets an exact spectrum."""
    lab = xyz_to_lab(linear_rgb_to_xyz((0.771, 0.0001, 0.673)))
    assert float(delta_e_2000(smoothest_reflectance(lab).lab(), lab)) < 1e-4


def test_impossible_colours_are_drawn_in_and_say_how_far() -> None:
    """A yellow too vivid for its darkness keeps L* and hue, and states its distance from what was asked."""
    asked = np.array([5.0, 10.0, 60.0])
    spectrum = smoothest_reflectance(asked)
    reached = spectrum.lab()
    assert reached[0] == pytest.approx(5.0, abs=1e-6)
    assert reached[2] / reached[1] == pytest.approx(6.0, abs=1e-3)
    assert spectrum.residual_delta_e == pytest.approx(float(delta_e_2000(asked, reached)))
    assert spectrum.residual_delta_e > 5


@pytest.mark.parametrize("lab", [(0.0, 0.0, 0.0), (-3.0, 1.0, 1.0), (float("nan"), 0.0, 0.0)])
def test_colours_without_light_are_refused(lab: tuple[float, float, float]) -> None:
    """Black, negative or missing lightness has no spectrum."""
    with pytest.raises(NoReflectanceError):
        smoothest_reflectance(lab)


def test_recovered_spectra_resemble_measured_ones() -> None:
    """On the 99 test samples of CIE 224:2017 the median root-mean-square error is below 0.06.

    The worst samples have steep edges no smooth spectrum has; the tail is therefore not bounded here.
    """
    errors = []
    for measured in CIE_2017_SAMPLES:
        recovered = smoothest_reflectance(xyz_to_lab(reflectance_to_xyz(measured))).reflectance
        seen = (WAVELENGTHS_NM >= 420) & (WAVELENGTHS_NM <= 680)
        errors.append(np.sqrt(np.mean((recovered - measured)[seen] ** 2)))
    assert np.median(errors) < 0.06
