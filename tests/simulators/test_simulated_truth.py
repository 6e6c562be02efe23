"""The simulated truth itself: spectra, sensors and phones against colour-science and pinned values.

Pinned values were computed with colour-science 0.4.7 by an earlier program of ours, with the white unrounded:
hence a tolerance of 0.0002.
"""

import colour
import numpy as np
import pytest
from numpy.typing import NDArray

from journey.colour.chart_fit import leave_one_out
from journey.colour.difference import delta_e_2000
from journey.colour.spaces import D65_WHITE, FloatArray, xyz_to_lab
from tests.simulators.hair import DYE_DENSITIES, HAIR_NAMES, HAIR_REFLECTANCES, LIGHTENED, dyed_hair
from tests.simulators.phone import draw_phone, photograph, raw_signal
from tests.simulators.spectra import (
    CHART_PATCH_NAMES,
    CHARTS,
    LAMPS,
    WAVELENGTHS_NM,
    spectrum_to_lab,
    spectrum_to_xyz,
)

CHART = CHARTS["ISO 17321-1"]
REFERENCE = spectrum_to_xyz(CHART)


def test_white_of_the_spectra_is_white_of_the_project() -> None:
    """A perfect white under D65 sums to `D65_WHITE`, by colour-science's own integration too."""
    assert spectrum_to_xyz(np.ones(81)) == pytest.approx(D65_WHITE, abs=1e-6)
    shape = colour.SpectralShape(380, 780, 5)
    theirs = colour.sd_to_XYZ(
        colour.sd_constant(1.0, shape),
        cmfs=colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape),
        illuminant=colour.SDS_ILLUMINANTS["D65"].copy().align(shape),
        method="Integration",
    )
    assert np.asarray(theirs) / theirs[1] == pytest.approx(D65_WHITE, abs=1e-6)


@pytest.mark.parametrize(
    ("patch", "lab"),
    [
        ("dark skin", (37.3036, 13.6919, 15.5637)),
        ("bluish green", (71.3711, -31.3930, 1.9816)),
        ("blue", (29.9862, 24.6091, -50.8652)),
        ("red", (40.9375, 52.8481, 25.6077)),
        ("yellow", (81.6408, -1.5755, 79.4742)),
        ("neutral 5 (.70 D)", (52.1807, 0.0580, -0.0855)),
        ("black 2 (1.5 D)", (21.4126, -0.0341, -0.9470)),
    ],
)
def test_chart_patches_have_their_lab(patch: str, lab: tuple[float, float, float]) -> None:
    """ISO 17321-1 reflectances of colour-science 0.4.7 under D65, relative to the project's white."""
    assert spectrum_to_lab(CHART[CHART_PATCH_NAMES.index(patch)]) == pytest.approx(lab, abs=2e-4)


def test_fade_of_blue_over_yellow_is_pinned() -> None:
    """Spectral fade of the blue dye on level 9: the curve through dull green, at five remaining shares."""
    shares = np.array([1, 0.75, 0.5, 0.25, 0])
    spectra = np.array([dyed_hair(LIGHTENED["9"], DYE_DENSITIES["blue"], q) for q in shares])
    pinned = [
        (34.5282, -19.5326, -15.4691),
        (39.8389, -17.9712, -8.3352),
        (46.6489, -13.6061, 1.3185),
        (55.4817, -5.9070, 14.3864),
        (67.0009, 5.4995, 31.9996),
    ]
    assert np.abs(spectrum_to_lab(spectra) - pinned).max() < 1e-3


def test_measured_sensor_fits_the_chart_as_others_found() -> None:
    """Nikon 5100 under D65, plain 3x3 to XYZ: matrix and misfit, equal to Cheung 2004 by colour-science."""
    raw = raw_signal(CHART, "Nikon 5100", "D65")
    matrix = np.linalg.lstsq(raw, REFERENCE, rcond=None)[0].T
    theirs = colour.characterisation.matrix_colour_correction_Cheung2004(raw, REFERENCE, terms=3)
    assert matrix == pytest.approx(np.asarray(theirs), abs=1e-9)
    pinned = [
        (0.673265, 0.217323, 0.051325),
        (0.263447, 0.994971, -0.263596),
        (0.072294, -0.339485, 1.342659),
    ]
    assert np.abs(matrix - pinned).max() < 1e-6
    misfit = delta_e_2000(xyz_to_lab(raw @ matrix.T), xyz_to_lab(REFERENCE))
    assert misfit.mean() == pytest.approx(0.9877, abs=2e-4)
    assert misfit.max() == pytest.approx(2.7668, abs=2e-4)


def _linear(raw: FloatArray) -> FloatArray:
    return raw


def _root_polynomial(raw: FloatArray) -> FloatArray:
    return np.asarray(colour.characterisation.polynomial_expansion_Finlayson2015(raw, 2, True))


def _polynomial(raw: FloatArray) -> FloatArray:
    r, g, b = np.moveaxis(raw, -1, 0)
    return np.stack([r, g, b, r * r, g * g, b * b, r * g, g * b, r * b], axis=-1)


def test_root_polynomial_terms_are_finlaysons() -> None:
    """Root-polynomial terms of degree 2 for (.2, .3, .4), used below to judge leave-one-out."""
    pinned = (0.2, 0.3, 0.4, 0.244949, 0.346410, 0.282843)
    assert _root_polynomial(np.array([0.2, 0.3, 0.4])) == pytest.approx(pinned, abs=5e-7)


@pytest.mark.parametrize(
    ("lamp", "terms", "fit_mean", "left_out_mean"),
    [
        ("A", _linear, 2.5558, 2.9315),
        ("A", _root_polynomial, 1.6380, 2.2974),
        ("A", _polynomial, 2.0080, 3.4266),
        ("FL2", _linear, 1.6469, 1.8800),
        ("FL2", _root_polynomial, 1.0762, 1.5130),
        ("FL2", _polynomial, 1.4370, 2.4261),
        ("LED-B3", _linear, 1.2810, 1.4544),
        ("LED-B3", _root_polynomial, 0.8627, 1.1786),
        ("LED-B3", _polynomial, 1.1199, 1.8127),
    ],
)
def test_leave_one_out_finds_what_a_fit_hides(lamp, terms, fit_mean, left_out_mean) -> None:  # type: ignore[no-untyped-def]
    """Fit and leave-one-out means of three models under three lamps: more terms fit better, foretell worse."""
    raw = raw_signal(CHART, "Nikon 5100", lamp)

    def fit(patches: NDArray[np.bool_]):  # type: ignore[no-untyped-def]
        matrix = np.linalg.lstsq(terms(raw[patches]), REFERENCE[patches], rcond=None)[0]
        return lambda values: terms(values) @ matrix

    everything = np.ones(24, dtype=np.bool_)
    fitted = delta_e_2000(xyz_to_lab(fit(everything)(raw)), xyz_to_lab(REFERENCE)).mean()
    left_out = leave_one_out(raw, everything, REFERENCE, fit).mean()
    assert fitted == pytest.approx(fit_mean, abs=2e-4)
    assert left_out == pytest.approx(left_out_mean, abs=2e-4)


def test_hair_set_is_physical() -> None:
    """Every hair spectrum reflects between nothing and everything, and no two are called the same."""
    assert HAIR_REFLECTANCES.shape == (78, len(WAVELENGTHS_NM))
    assert HAIR_REFLECTANCES.min() > 0
    assert HAIR_REFLECTANCES.max() < 1
    assert len(set(HAIR_NAMES)) == 78


def test_phone_is_repeatable_and_loses_vivid_hair() -> None:
    """The same seed gives the same photo; copper clips more often than natural hair."""
    shots = []
    for _ in range(2):
        rng = np.random.default_rng(3)
        shots.append(photograph(rng, draw_phone(rng, "Nikon 5100"), "LED-B3", HAIR_REFLECTANCES))
    assert np.array_equal(shots[0].means, shots[1].means)
    copper = [name.startswith("copper") for name in HAIR_NAMES]
    natural = [name.startswith("natural") for name in HAIR_NAMES]
    assert shots[0].clipped[copper].mean() > shots[0].clipped[natural].mean()


def test_a_white_stays_white_under_every_lamp() -> None:
    """Raw signals are relative to white, whatever the sensor and lamp."""
    for lamp in LAMPS:
        assert raw_signal(np.ones((1, 81)), "synthetic phone 2", lamp) == pytest.approx(np.ones((1, 3)))
