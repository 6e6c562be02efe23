"""Colour over colour."""

import numpy as np
import pytest

from journey.colour.difference import delta_e_2000
from journey.colour.dye import Dye, dye_between
from journey.colour.fade_path import FadePath
from journey.colour.layering import TwoCoats, apply_swatch, lay_over
from journey.colour.spectra import smoothest_reflectance
from tests.simulators.hair import DYE_DENSITIES, LIGHTENED, dyed_hair
from tests.simulators.spectra import spectrum_to_lab

BARE = (75.0, 2.0, 24.0)
ROSE, BLUE = (52.0, 38.0, 8.0), (38.0, -15.0, -22.0)


def test_predictions_over_faded_colour_stay_near_the_truth() -> None:
    """200 random pairs of dyes, the older faded to a half or less: p95 at most 3.5 (spectra are the truth).

    Knowing the bare hair below lowers the p95. The swatch's own colour, taken as it stands, is several times
    worse.
    """
    rng = np.random.default_rng(41)
    names = sorted(DYE_DENSITIES)
    predicted, with_bare, naive = [], [], []
    for _ in range(200):
        older, newer = (DYE_DENSITIES[names[i]] for i in rng.choice(len(names), 2, replace=False))
        hair = LIGHTENED[("9", "10", "10+")[rng.integers(3)]]
        current = dyed_hair(hair, older, rng.uniform(0.1, 0.5))
        swatch = spectrum_to_lab([LIGHTENED["10"], dyed_hair(LIGHTENED["10"], newer)])
        truth = spectrum_to_lab(dyed_hair(current, newer))
        result = apply_swatch(spectrum_to_lab(current), swatch[0], swatch[1])
        predicted.append(float(delta_e_2000(result.expected, truth)))
        bare = spectrum_to_lab(hair)
        known = apply_swatch(spectrum_to_lab(current), swatch[0], swatch[1], bare_lab=bare)
        with_bare.append(float(delta_e_2000(known.expected, truth)))
        naive.append(float(delta_e_2000(swatch[1], truth)))
    assert np.percentile(predicted, 95) <= 3.5
    assert np.mean(predicted) <= 1.35
    assert np.percentile(with_bare, 95) < np.percentile(predicted, 95)
    assert np.percentile(naive, 95) > 20


def test_one_coat_is_its_fade_path() -> None:
    """A single coat at any share has the colours of the fade path of the same two ends."""
    shares = np.linspace(0, 1, 7)
    path = FadePath.between(BARE, ROSE)
    np.testing.assert_allclose(lay_over(BARE, [(path.dye, shares)]), path.lab_at(shares), atol=1e-9)


def test_coats_of_density_lie_in_any_order() -> None:
    """Dyes that multiply wavelengths commute."""
    rose, blue = dye_between(BARE, ROSE), dye_between(BARE, BLUE)
    one = lay_over(BARE, [(rose, 0.4), (blue, 0.9)])
    other = lay_over(BARE, [(blue, 0.9), (rose, 0.4)])
    np.testing.assert_allclose(one, other, atol=1e-9)


def test_a_coat_in_halves_is_the_whole_coat() -> None:
    """Half a coat and half a coat make one."""
    rose = dye_between(BARE, ROSE)
    np.testing.assert_allclose(lay_over(BARE, [(rose, 0.5), (rose, 0.5)]), ROSE, atol=1e-6)


def test_shares_broadcast() -> None:
    """A column of one share and a row of the other give a table of colours."""
    coats = TwoCoats(smoothest_reflectance(BARE), dye_between(BARE, ROSE), dye_between(BARE, BLUE))
    newer, older = np.linspace(0, 1, 4)[:, None], np.linspace(0, 1, 3)
    table = coats.lab_at(newer, older)
    assert table.shape == (4, 3, 3)
    np.testing.assert_allclose(table[2, 1], coats.lab_at(2 / 3, 0.5), atol=1e-9)


def test_two_coats_fade_back_to_bare_hair() -> None:
    """Each coat alone, and none, are the colours they were made from."""
    rose, blue = dye_between(BARE, ROSE), dye_between(BARE, BLUE)
    coats = TwoCoats(smoothest_reflectance(BARE), older=rose, newer=blue)
    np.testing.assert_allclose(coats.lab_at(0, 0), BARE, atol=1e-4)
    np.testing.assert_allclose(coats.lab_at(0, 1), ROSE, atol=1e-4)
    np.testing.assert_allclose(coats.lab_at(1, 0), BLUE, atol=1e-4)


def test_both_coats_fading_match_the_spectra() -> None:
    """A newer violet leaving over an older rose: within 3.5 of the whole spectra at every pair of shares."""
    hair = LIGHTENED["10"]
    bare = spectrum_to_lab(hair)
    rose, violet = DYE_DENSITIES["rose"], DYE_DENSITIES["violet"]
    coats = TwoCoats(
        smoothest_reflectance(bare),
        older=dye_between(bare, spectrum_to_lab(dyed_hair(hair, rose))),
        newer=dye_between(bare, spectrum_to_lab(dyed_hair(hair, violet))),
    )
    for newer, older in ((1, 0.5), (0.6, 0.4), (0.3, 0.3), (0.1, 0.2)):
        truth = spectrum_to_lab(dyed_hair(dyed_hair(hair, rose, older), violet, newer))
        assert float(delta_e_2000(coats.lab_at(newer, older), truth)) < 3.5


def test_uptake_gives_light_expected_and_strong() -> None:
    """On the swatch's own bare hair, expected is the swatch; less uptake is lighter, more is darker."""
    result = apply_swatch(BARE, BARE, BLUE)
    np.testing.assert_allclose(result.expected, BLUE, atol=1e-4)
    assert result.light[0] > result.expected[0] > result.strong[0]
    as_asked = apply_swatch(BARE, BARE, BLUE, uptake=(0.0, 0.5, 1.0))
    np.testing.assert_allclose(as_asked.light, BARE, atol=1e-4)
    np.testing.assert_allclose(as_asked.strong, BLUE, atol=1e-4)


def test_channel_dyes_lie_over_densities() -> None:
    """A dye found by channels still darkens what lies below it, and gives its own colour on bare hair."""
    cat = Dye(np.array([0.2, 0.5, 1.0]), "cat16", 0.0)
    blue = dye_between(BARE, BLUE)
    both = lay_over(BARE, [(blue, 1.0), (cat, 1.0)])
    assert both[0] < BLUE[0]
    np.testing.assert_allclose(lay_over(BARE, [(cat, 0.0)]), BARE, atol=1e-4)


def test_no_coat_is_the_hair_itself() -> None:
    """Nothing laid over leaves the colour alone."""
    np.testing.assert_allclose(lay_over(BARE, []), BARE, atol=1e-6)
    with pytest.raises(ValueError, match="no surface"):
        lay_over((0, 0, 0), [])
