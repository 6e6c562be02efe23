"""Calibration: what each way removes, what it refuses, and whether what it states is true."""

from dataclasses import replace

import colour
import numpy as np
import pytest

from journey.colour.calibrate import (
    Calibration,
    NotCalibratableError,
    calibrate_by_chart,
    calibrate_by_grey,
    calibrate_by_lamp,
    uncalibrated,
)
from journey.colour.chart_fit import GreyCurve
from journey.colour.chart_reference import CHART_XYZ, NEUTRAL_PATCHES, PATCH_NAMES
from journey.colour.difference import delta_e_2000
from journey.colour.reading_limits import (
    PLACEMENT_REPEATABILITY,
    DetectionLimit,
    chart_uncertainty,
    detection_limit_without_chart,
    smallest_difference_in_one_photo,
    smallest_real_change,
)
from journey.colour.reason import Reason
from journey.colour.spaces import (
    FloatArray,
    decode_srgb,
    encode_srgb,
    linear_rgb_to_xyz,
    xyz_to_lab,
    xyz_to_linear_rgb,
)
from tests.accuracy.calibration import Errors, absolute_errors, take_photo, unchanged_hair
from tests.accuracy.region_statistic import placing_ratios
from tests.simulators.phone import draw_phone
from tests.simulators.spectra import CHARTS, spectrum_to_xyz

SOME_LAMPS = ("D50", "LED-B3", "A", "FL2")
CHART_RGB = xyz_to_linear_rgb(CHART_XYZ, "rec2020")


def rendered(linear: FloatArray) -> FloatArray:
    """A tone curve, a cast and an exposure, as a phone might lay them over linear light."""
    balanced = linear * [1.15, 1.0, 0.8] * 0.7
    e = encode_srgb(np.clip(balanced, 0, 1)) ** 0.93
    return decode_srgb(e - 0.2 * np.sin(2 * np.pi * e) / (2 * np.pi))


@pytest.fixture
def by_chart() -> Calibration:
    return calibrate_by_chart(rendered(CHART_RGB))


def test_reference_is_the_average_chart() -> None:
    """The 24 XYZ come out again of the published reflectances, and follow the chart's order of names."""
    assert pytest.approx(spectrum_to_xyz(CHARTS["BabelColor Average"]), abs=1e-6) == CHART_XYZ
    theirs = [name.split(" (")[0] for name in colour.SDS_COLOURCHECKERS["BabelColor Average"]]
    theirs[18:24] = ["white", "neutral 8", "neutral 6.5", "neutral 5", "neutral 3.5", "black"]
    assert list(PATCH_NAMES) == theirs
    assert np.all(np.diff(CHART_XYZ[list(NEUTRAL_PATCHES), 1]) < 0)


def test_reference_is_near_the_published_lab() -> None:
    """The chart values of November 2014, adapted to D65 (Bradford): mean below 1.3, none beyond 3."""
    published = np.array(list(colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"].data.values()))
    whites = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]
    xyz = colour.chromatic_adaptation(
        colour.xyY_to_XYZ(published),
        colour.xy_to_XYZ(colour.CCS_COLOURCHECKERS["ColorChecker24 - After November 2014"].illuminant),
        colour.xy_to_XYZ(whites["D65"]),
        transform="Bradford",
    )
    apart = delta_e_2000(xyz_to_lab(xyz), xyz_to_lab(CHART_XYZ))
    assert apart.mean() < 1.3
    assert apart.max() < 3


def test_chart_undoes_a_phone(by_chart: Calibration) -> None:
    """Tone curve, cast and exposure together are undone to within 1.5, for colours between the patches too."""
    between = (CHART_RGB[:-1] + CHART_RGB[1:]) / 2
    truth = xyz_to_lab(linear_rgb_to_xyz(between, "rec2020"))
    untreated = delta_e_2000(uncalibrated(primaries="rec2020").to_lab(rendered(between)), truth)
    calibrated = delta_e_2000(by_chart.to_lab(rendered(between)), truth)
    assert untreated.mean() > 8
    assert calibrated.mean() < 1.0
    assert calibrated.max() < 3.0


def test_chart_leaves_greys_where_they_are(by_chart: Calibration) -> None:
    """Every grey of the chart reads its own lightness, as the curve runs through it."""
    read = by_chart.to_lab(rendered(CHART_RGB[18:24]))
    assert read[:, 0] == pytest.approx(xyz_to_lab(CHART_XYZ[18:24])[:, 0], abs=0.7)


def test_curve_runs_through_its_knots_and_stays_straight_beyond() -> None:
    """Through every knot, to 0 at 0, rising all the way, with no wave above the white."""
    curve = GreyCurve((0.3, 0.5, 0.9), (0.35, 0.5, 0.8))
    values = np.array(curve.pixel_roots) ** 3
    assert np.cbrt(curve(values)) == pytest.approx(curve.luminance_roots)
    assert curve(np.array([0.0])) == pytest.approx([0.0])
    grid = curve(np.linspace(0, 1.5, 400))
    assert np.all(np.diff(grid) > 0)
    beyond = np.cbrt(curve(np.array([1.0, 1.1, 1.2]) ** 3))
    assert np.diff(beyond, 2) == pytest.approx([0.0], abs=1e-12)


def test_clipped_patches_are_left_out() -> None:
    """A ruined patch that is marked does no harm; unmarked, it spoils the fit."""
    means = rendered(CHART_RGB)
    means[14] = (1.0, 0.0, 0.0)
    marked = np.arange(24) != 14
    sound = calibrate_by_chart(means, marked)
    spoilt = calibrate_by_chart(means)
    assert sound.usable_patches == 23
    assert sound.loo_mean is not None
    assert spoilt.loo_mean is not None
    assert sound.loo_mean < 1.2 < spoilt.loo_mean


@pytest.mark.parametrize(
    "order",
    [
        np.arange(24)[::-1],
        np.arange(24).reshape(4, 6)[:, ::-1].ravel(),
        np.arange(24).reshape(4, 6)[::-1].ravel(),
        np.roll(np.arange(24), 1),
        np.arange(24).reshape(4, 6).T.ravel(),
        np.arange(24).reshape(4, 6)[[2, 1, 0, 3]].ravel(),
    ],
    ids=["upside down", "mirrored", "flipped", "one off", "sideways", "coloured rows swapped"],
)
def test_misread_chart_is_refused(order: FloatArray) -> None:
    """A chart with its corners named wrongly is refused with a reason that tells how, never fitted."""
    with pytest.raises(NotCalibratableError, match=r"chart-(greys-not-in-order|does-not-fit)"):
        calibrate_by_chart(rendered(CHART_RGB)[order])


def test_chart_with_too_little_left_is_refused() -> None:
    """Nine usable patches, or two greys, do not carry a calibration; the refusal counts them."""
    few = np.zeros(24, dtype=np.bool_)
    few[[0, 1, 2, 3, 4, 5, 19, 20, 21]] = True
    with pytest.raises(NotCalibratableError, match=r"chart-clipped.* n=9"):
        calibrate_by_chart(rendered(CHART_RGB), few)
    no_greys = np.ones(24, dtype=np.bool_)
    no_greys[18:22] = False
    with pytest.raises(NotCalibratableError, match="greys=2"):
        calibrate_by_chart(rendered(CHART_RGB), no_greys)


def test_shape_of_a_chart_is_checked() -> None:
    """Patches of another number are a mistake in the program, not in the photo."""
    with pytest.raises(ValueError, match="patch means"):
        calibrate_by_chart(np.ones((6, 3)))


def test_unsure_charts_warn() -> None:
    """Eleven patches warn of exposure, a poor fit of the lamp or the corners; a good chart warns of nothing."""
    eleven = np.zeros(24, dtype=np.bool_)
    eleven[[0, 1, 2, 3, 4, 5, 18, 19, 20, 21, 22]] = True
    assert calibrate_by_chart(rendered(CHART_RGB), eleven).warnings == (Reason("chart-few-patches", n=11),)
    smeared = 0.88 * rendered(CHART_RGB) + 0.12 * np.roll(rendered(CHART_RGB), 1, axis=0)
    assert any(why.key == "chart-fits-poorly" for why in calibrate_by_chart(smeared).warnings)
    assert calibrate_by_chart(rendered(CHART_RGB)).warnings == ()


def test_grey_card_takes_out_cast_and_exposure() -> None:
    """In linear light seen through a gain per channel, a grey card restores every colour exactly."""
    gain = np.array([1.3, 1.0, 0.7]) * 0.5
    rgb = np.array([[0.2, 0.1, 0.05], [0.5, 0.6, 0.4]])
    calibration = calibrate_by_grey(0.18 * gain)
    assert calibration.to_xyz(rgb * gain) == pytest.approx(linear_rgb_to_xyz(rgb))
    assert calibration.warnings
    assert not calibrate_by_grey((0.2, 0.2, 0.2)).warnings


def test_wide_gamut_photo_is_read_in_its_own_primaries() -> None:
    """Display P3 pixels read as P3; read as sRGB they would be another colour."""
    pixel = np.array([0.5, 0.1, 0.1])
    assert uncalibrated(primaries="display-p3").to_xyz(pixel) == pytest.approx(
        linear_rgb_to_xyz(pixel, "display-p3")
    )
    assert calibrate_by_grey((0.18,) * 3, primaries="display-p3").to_xyz(pixel) == pytest.approx(
        linear_rgb_to_xyz(pixel, "display-p3")
    )


@pytest.mark.parametrize(("card", "words"), [((0.0, 0.1, 0.1), "black"), ((0.5, 0.99, 0.5), "blown-out")])
def test_useless_cards_are_refused(card: tuple[float, float, float], words: str) -> None:
    """A card that is black or blown out in any channel is refused, with or without an earlier chart."""
    with pytest.raises(NotCalibratableError, match=words):
        calibrate_by_grey(card)
    with pytest.raises(NotCalibratableError, match=words):
        calibrate_by_lamp(calibrate_by_chart(CHART_RGB), card)


@pytest.mark.parametrize("reflectance", [0.0, 1.2])
def test_card_of_impossible_reflectance_is_refused(reflectance: float) -> None:
    """No card reflects nothing, or more than all."""
    with pytest.raises(ValueError, match="reflects"):
        calibrate_by_grey((0.2, 0.2, 0.2), reflectance)


def test_lamp_profile_carries_a_chart_to_another_day(by_chart: Calibration) -> None:
    """The same phone at another exposure and white balance: card and earlier chart together come within 1.5."""
    gain = np.array([1.1, 1.0, 0.9]) * 0.8
    card_now = rendered(np.array([0.18, 0.18, 0.18]) * gain)
    truth = xyz_to_lab(CHART_XYZ[:18])
    today = calibrate_by_lamp(by_chart, card_now)
    off = delta_e_2000(today.to_lab(rendered(CHART_RGB[:18] * gain)), truth)
    alone = delta_e_2000(by_chart.to_lab(rendered(CHART_RGB[:18] * gain)), truth)
    assert off.mean() < 1.5 < alone.mean()
    assert today.method == "lamp profile"
    assert Reason("chart-from-earlier") in today.warnings


def test_lamp_profile_needs_a_chart() -> None:
    """A grey card can not stand in for the earlier chart."""
    with pytest.raises(ValueError, match="earlier chart"):
        calibrate_by_lamp(calibrate_by_grey((0.2, 0.2, 0.2)), (0.2, 0.2, 0.2))


def test_ways_to_calibrate_are_ranked_by_what_they_promise(by_chart: Calibration) -> None:
    """Chart before lamp profile before grey card before nothing, at every level and for every limit."""
    ways = [
        by_chart,
        calibrate_by_lamp(by_chart, (0.2, 0.2, 0.2)),
        calibrate_by_grey((0.2, 0.2, 0.2)),
        uncalibrated(),
    ]
    for level in ("delta_e_80", "delta_e_90", "delta_e_95"):
        promised = [getattr(way.uncertainty, level) for way in ways]
        assert promised == sorted(promised)
    assert [way.detection_limit.same_lamp for way in ways] == sorted(way.detection_limit.same_lamp for way in ways)
    for way in ways:
        assert way.uncertainty.delta_e_80 < way.uncertainty.delta_e_90 < way.uncertainty.delta_e_95


def test_uneven_light_widens_what_is_promised() -> None:
    """90 %: the square root of (1.60 LOO)² + (32.7 u)²; the leave-one-out mean alone can not see it."""
    assert chart_uncertainty(1.75, 0.06).delta_e_90 == pytest.approx(np.hypot(1.60 * 1.75, 32.7 * 0.06))
    even = calibrate_by_chart(rendered(CHART_RGB), unevenness=0.0)
    uneven = calibrate_by_chart(rendered(CHART_RGB), unevenness=0.10)
    assert even.loo_mean == uneven.loo_mean
    assert even.uncertainty.delta_e_90 < uneven.uncertainty.delta_e_90


def test_smallest_change_lies_between_its_photos() -> None:
    """A sharp and a weak photo together can tell less than two sharp ones and more than two weak ones."""
    sharp, weak = DetectionLimit(4, 5), DetectionLimit(16, 18)

    def smallest(first: DetectionLimit, second: DetectionLimit) -> float:
        return smallest_real_change(first, second, same_lamp=True)

    assert smallest(sharp, sharp) < smallest(sharp, weak) < smallest(weak, weak)
    assert smallest(sharp, sharp) < smallest_real_change(sharp, sharp, same_lamp=False)


def test_placing_a_patch_anew_is_part_of_every_limit() -> None:
    """Were calibration perfect, the strands would still not be the same: 4.0 is the least change that counts."""
    perfect = DetectionLimit(0, 0)
    assert smallest_real_change(perfect, perfect, same_lamp=True) == pytest.approx(PLACEMENT_REPEATABILITY)
    assert smallest_difference_in_one_photo() > PLACEMENT_REPEATABILITY
    grey = detection_limit_without_chart("grey card")
    assert smallest_difference_in_one_photo() < smallest_real_change(grey, grey, same_lamp=True)


def test_unchanged_hair_placed_anew_stays_below_the_limit() -> None:
    """95 of 100 readings of unchanged strands, same lamp and another; far fewer without what placing adds."""
    anew = placing_ratios(seed=11, repeats=2)
    for same_lamp in (True, False):
        found = unchanged_hair(
            seed=12, repeats=1, unevenness=0.06, same_lamp=same_lamp, lamps=SOME_LAMPS, placings=anew
        )
        for way, (moved, below) in found.items():
            assert below >= 0.94, way
            assert np.percentile(moved, 95) > 3, way
    wide = anew**8
    found = unchanged_hair(
        seed=12, repeats=1, unevenness=0.06, same_lamp=True, lamps=SOME_LAMPS, placings=wide
    )
    assert found["chart"][1] < 0.9


def test_calibrations_compare_and_hash(by_chart: Calibration) -> None:
    """The same chart gives an equal calibration with an equal hash; another gives another."""
    again = calibrate_by_chart(rendered(CHART_RGB))
    assert by_chart == again
    assert hash(by_chart) == hash(again)
    assert by_chart != replace(by_chart, gains=(1.0, 1.0, 0.9))


# Small versions of the tables of `python -m tests.accuracy calibration`.
@pytest.fixture(scope="module")
def errors() -> dict[str, Errors]:
    return absolute_errors(seed=20, repeats=1)


def test_chart_reads_hair_closely(errors: dict[str, Errors]) -> None:
    """Unclipped hair in realistic light, chart in the photo: mean at most 2.2, 95 % within 4.5."""
    found = errors["chart"].errors
    assert len(found) > 3000
    assert found.mean() <= 2.2
    assert np.percentile(found, 95) <= 4.5


def test_grey_card_reads_hair_roughly(errors: dict[str, Errors]) -> None:
    """Grey card: 95 % within 10.5, and clearly behind the chart."""
    assert np.percentile(errors["grey card"].errors, 95) <= 10.5
    assert errors["grey card"].errors.mean() > 1.8 * errors["chart"].errors.mean()


def test_lamp_profile_lies_between(errors: dict[str, Errors]) -> None:
    """An earlier chart with today's card: better than the card alone, no substitute for a chart."""
    means = [errors[way].errors.mean() for way in ("chart", "lamp profile", "grey card", "none")]
    assert means == sorted(means)


def test_stated_uncertainty_holds(errors: dict[str, Errors]) -> None:
    """Of readings by chart, 87 to 93 % lie within what is stated as 90 %; of the others, 86 to 96 %."""
    assert 0.87 <= errors["chart"].covered()[1] <= 0.93
    for way in ("lamp profile", "grey card", "none"):
        assert 0.86 <= errors[way].covered()[1] <= 0.96


def test_clipped_hair_is_read_wrongly(errors: dict[str, Errors]) -> None:
    """Why clipped patches are left out: their mean error is half as large again, and more."""
    clipped = absolute_errors(seed=20, repeats=1, clipped=True, lamps=SOME_LAMPS)["chart"].errors
    assert clipped.mean() > 1.5 * errors["chart"].errors.mean()


def test_unchanged_hair_stays_below_its_limit() -> None:
    """Two photos of the same hair under one lamp: 92 to 99 % are below the stated limit."""
    found = unchanged_hair(seed=21, repeats=1, unevenness=0.06, same_lamp=True, lamps=SOME_LAMPS)
    for way in ("chart", "lamp profile", "grey card"):
        assert 0.92 <= found[way][1] <= 0.99


def test_wide_gamut_photo_is_read_as_well() -> None:
    """Display P3 photos are read as closely as sRGB ones, in their own numbers."""
    found = absolute_errors(seed=22, repeats=1, primaries="display-p3", lamps=SOME_LAMPS)["chart"]
    assert found.errors.mean() <= 2.4


def test_photo_of_the_simulator_keeps_the_order_of_parts() -> None:
    """Chart, card and hair are told apart: the card reads as 18 % grey by its own calibration."""
    rng = np.random.default_rng(0)
    photo = take_photo(rng, draw_phone(rng, "Nikon 5100"), "D50", 0.0)
    assert photo.calibrations()["chart"].to_lab(photo.card)[0] == pytest.approx(49.5, abs=1.5)
