"""The colour of a patch of hair, from pixels whose truth is known."""

import numpy as np
import pytest

from journey.colour.calibrate import calibrate_by_grey, uncalibrated
from journey.colour.difference import delta_e_2000
from journey.colour.spaces import linear_rgb_to_xyz, xyz_to_lab
from journey.colour.swatch import NotReadableError, body_xyz, lost_pixels, read_swatch
from tests.accuracy.region_statistic import StatisticErrors, repeats_of_one_head, statistic_errors

NOTHING_CLIPPED = np.zeros(400, dtype=np.bool_)


@pytest.fixture(scope="module")
def errors() -> StatisticErrors:
    return statistic_errors(seed=6, repeats=2)


def test_from_afar_is_the_mean_light(errors: StatisticErrors) -> None:
    """The linear mean finds the mean light of 8-bit strands: mean within 0.5, 95 % within 1.5."""
    assert errors.from_afar["from afar"].mean() < 0.5
    assert np.percentile(errors.from_afar["from afar"], 95) < 1.5


def test_means_of_codes_and_of_lab_are_the_mistakes_they_are_said_to_be(errors: StatisticErrors) -> None:
    """Averaging encoded values or CIELAB misses the mean light by far more than the linear mean does."""
    for pitfall in ("mean of encoded values", "mean in CIELAB"):
        assert errors.from_afar[pitfall].mean() > 1.5


def test_body_sees_through_gloss(errors: StatisticErrors) -> None:
    """With lightness matched, the body colour is the strand's own: 95 % within 2.2, ahead of the plain mean."""
    assert np.percentile(errors.colour_only["body"], 95) < 2.2
    assert errors.colour_only["body"].mean() < 0.6 * errors.colour_only["from afar"].mean()


def test_same_head_reads_the_same() -> None:
    """Two photos under nearly the same light: the median is within 1.2, k_L 1.5."""
    apart = repeats_of_one_head(seed=8, repeats=1)
    assert np.median(apart["body"]) < 1.2
    assert np.median(apart["from afar"]) < 1.2


def test_even_patch_has_one_colour() -> None:
    """A patch of one colour reads as that colour by both numbers, without spread."""
    pixel = np.array([0.30, 0.12, 0.08])
    swatch = read_swatch(np.tile(pixel, (400, 1)), NOTHING_CLIPPED, uncalibrated())
    lab = xyz_to_lab(linear_rgb_to_xyz(pixel))
    assert swatch.from_afar_lab == pytest.approx(lab)
    assert swatch.body_lab == pytest.approx(lab)
    assert swatch.lightness_spread == pytest.approx(0)
    assert (swatch.pixels_used, swatch.clipped_share) == (400, 0.0)


def test_two_halves_mix_in_linear_light() -> None:
    """40 % dark and 60 % light strands: the linear mean, Lab 61.12 2.66 20.99; not the Lab mean, 52.98."""
    pixels = np.array([[0.05, 0.03, 0.02]] * 160 + [[0.6, 0.45, 0.25]] * 240)
    swatch = read_swatch(pixels, NOTHING_CLIPPED, uncalibrated())
    assert swatch.from_afar_lab == pytest.approx((61.1227, 2.6605, 20.9865), abs=0.01)
    assert swatch.lightness_spread > 40


def test_white_sheen_is_left_out_of_the_body() -> None:
    """A third of the pixels under white gloss pales the far colour, and hardly the body's."""
    hair, gloss = np.array([0.20, 0.05, 0.10]), np.array([0.25, 0.25, 0.25])
    shade = np.linspace(0.6, 1.4, 400)[:, None]
    pixels = hair * shade
    pixels[::3] += gloss
    truth = xyz_to_lab(linear_rgb_to_xyz(hair))
    swatch = read_swatch(pixels, NOTHING_CLIPPED, uncalibrated())
    # Chroma over lightness + 16 does not depend on how much light there is.
    own, body, far = (
        float(np.hypot(lab[1], lab[2]) / (lab[0] + 16)) for lab in (truth, swatch.body_lab, swatch.from_afar_lab)
    )
    assert body == pytest.approx(own, rel=0.02)
    assert far < 0.8 * own


def test_clipped_pixels_are_counted_and_left_out() -> None:
    """Blown-out pixels neither brighten the reading nor vanish from the count."""
    pixels = np.tile([0.3, 0.1, 0.1], (400, 1))
    pixels[:100] = (1.0, 1.0, 1.0)
    clipped = pixels[:, 0] == 1.0
    swatch = read_swatch(pixels, clipped, uncalibrated())
    assert swatch.from_afar_lab == pytest.approx(xyz_to_lab(linear_rgb_to_xyz((0.3, 0.1, 0.1))))
    assert (swatch.pixels_used, swatch.clipped_share) == (300, 0.25)


def test_black_gaps_are_dark_not_lost() -> None:
    """A pixel dark in every channel stays in; one with a single channel at its end is lost."""
    pixels = np.array([[0.0001, 0.0, 0.0002], [0.2, 0.0, 0.1], [0.2, 0.1, 0.1]])
    assert lost_pixels(pixels, np.array([True, True, False])).tolist() == [False, True, False]


def test_calibration_is_applied_before_averaging() -> None:
    """A grey card under a cast corrects every pixel of the patch."""
    gain = np.array([1.2, 1.0, 0.6])
    pixels = np.tile([0.3, 0.2, 0.1], (400, 1)) * np.linspace(0.5, 1.5, 400)[:, None]
    straight = read_swatch(pixels, NOTHING_CLIPPED, uncalibrated())
    under_cast = read_swatch(pixels * gain, NOTHING_CLIPPED, calibrate_by_grey(0.18 * gain))
    assert delta_e_2000(straight.from_afar_lab, under_cast.from_afar_lab) < 1e-6
    assert delta_e_2000(straight.body_lab, under_cast.body_lab) < 1e-6


@pytest.mark.parametrize("count", [0, 99])
def test_too_few_pixels_are_no_reading(count: int) -> None:
    """Below 100 usable pixels there is no colour, and the refusal counts them."""
    with pytest.raises(NotReadableError, match=rf"patch-unreadable.*all={count}.*n={count}"):
        read_swatch(np.full((count, 3), 0.2), np.zeros(count, dtype=np.bool_), uncalibrated())


def test_body_keeps_hue_in_any_light() -> None:
    """Twice the light gives twice the XYZ: the statistic knows no absolute level."""
    rng = np.random.default_rng(2)
    xyz = linear_rgb_to_xyz(np.array([0.2, 0.1, 0.05]) * rng.uniform(0.2, 1, (500, 1)))
    assert body_xyz(2 * xyz) == pytest.approx(2 * body_xyz(xyz))
