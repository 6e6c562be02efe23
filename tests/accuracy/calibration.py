"""How far readings are off by each way to calibrate, and whether the uncertainty they state holds."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from journey.colour.calibrate import (
    Calibration,
    calibrate_by_chart,
    calibrate_by_grey,
    calibrate_by_lamp,
    uncalibrated,
)
from journey.colour.difference import delta_e_2000
from journey.colour.fade_path import TRACKING_K_L
from journey.colour.reading_limits import DetectionLimit, smallest_real_change
from journey.colour.spaces import FloatArray, Primaries, xyz_to_lab
from tests.accuracy.region_statistic import placing_ratios
from tests.accuracy.table import Row, Table
from tests.simulators.hair import HAIR_REFLECTANCES
from tests.simulators.phone import Phone, draw_phone, photograph
from tests.simulators.spectra import (
    CHARTS,
    CIE_2017_SAMPLES,
    ORDINARY_LAMPS,
    SENSORS,
    WAVELENGTHS_NM,
    spectrum_to_lab,
)

CARD_REFLECTANCE = 0.18
REALISTIC, EVEN = 0.06, 0.02


@dataclass(frozen=True, slots=True, eq=False)
class Photo:
    """One photo with a chart, a grey card and hair; means are linear in the phone's own primaries."""

    chart: FloatArray
    chart_usable: NDArray[np.bool_]
    card: FloatArray
    hair: FloatArray
    hair_clipped: NDArray[np.bool_]
    primaries: Primaries
    unevenness: float

    def calibrations(self, earlier_chart: Calibration | None = None) -> dict[str, Calibration]:
        """By every way this photo allows."""
        ways = {
            "chart": calibrate_by_chart(self.chart, self.chart_usable, unevenness=self.unevenness),
            "grey card": calibrate_by_grey(self.card, CARD_REFLECTANCE, primaries=self.primaries),
            "none": uncalibrated(primaries=self.primaries),
        }
        if earlier_chart is not None:
            ways["lamp profile"] = calibrate_by_lamp(earlier_chart, self.card, CARD_REFLECTANCE)
        return ways


def take_photo(
    rng: np.random.Generator,
    phone: Phone,
    lamp: str,
    unevenness: float,
    hair: FloatArray = HAIR_REFLECTANCES,
) -> Photo:
    """Each hair patch has its own share of the light; across the chart that varies by a third as much."""
    chart = CHARTS["ISO 17321-1"]
    card = np.full((1, len(WAVELENGTHS_NM)), CARD_REFLECTANCE)
    irradiance = np.exp(
        np.concatenate([rng.normal(0, unevenness / 3, len(chart)), rng.normal(0, unevenness, 1 + len(hair))])
    )
    shot = photograph(rng, phone, lamp, np.concatenate([chart, card, hair]), irradiance)
    return Photo(
        chart=shot.means[:24],
        chart_usable=~shot.clipped[:24],
        card=shot.means[24],
        hair=shot.means[25:],
        hair_clipped=shot.clipped[25:],
        primaries=phone.primaries,
        unevenness=unevenness,
    )


def rounds(
    seed: int, repeats: int, primaries: Primaries, lamps: tuple[str, ...] = ORDINARY_LAMPS
) -> Iterator[tuple[np.random.Generator, Phone, str]]:
    """Every lamp with every sensor, `repeats` times, each with a new phone."""
    rng = np.random.default_rng(seed)
    for _ in range(repeats):
        for lamp in lamps:
            for sensor in SENSORS:
                yield rng, draw_phone(rng, sensor, primaries), lamp


@dataclass(frozen=True, slots=True, eq=False)
class Errors:
    """CIEDE2000 from the truth (N,), and the 80, 90 and 95 % uncertainty stated for each patch (N, 3)."""

    errors: FloatArray
    stated: FloatArray

    def covered(self) -> FloatArray:
        """Share of patches within what was stated, at 80, 90 and 95 %."""
        shares: FloatArray = np.mean(self.errors[:, None] <= self.stated, axis=0)
        return shares


def absolute_errors(
    *,
    seed: int,
    repeats: int,
    unevenness: float = REALISTIC,
    primaries: Primaries = "srgb",
    lamps: tuple[str, ...] = ORDINARY_LAMPS,
    hair: FloatArray = HAIR_REFLECTANCES,
    clipped: bool = False,
) -> dict[str, Errors]:
    """Errors by way to calibrate, of patches that are not clipped (or of those only that are)."""
    truth = spectrum_to_lab(hair)
    errors: dict[str, list[FloatArray]] = defaultdict(list)
    stated: dict[str, list[FloatArray]] = defaultdict(list)
    for rng, phone, lamp in rounds(seed, repeats, primaries, lamps):
        earlier = take_photo(rng, phone, lamp, unevenness, hair).calibrations()["chart"]
        photo = take_photo(rng, phone, lamp, unevenness, hair)
        chosen = photo.hair_clipped if clipped else ~photo.hair_clipped
        for way, calibration in photo.calibrations(earlier).items():
            off = delta_e_2000(calibration.to_lab(photo.hair), truth)[chosen]
            limits = calibration.uncertainty
            errors[way].append(off)
            stated[way].append(np.tile([limits.delta_e_80, limits.delta_e_90, limits.delta_e_95], (len(off), 1)))
    return {way: Errors(np.concatenate(errors[way]), np.concatenate(stated[way])) for way in errors}


def unchanged_hair(
    *,
    seed: int,
    repeats: int,
    unevenness: float,
    same_lamp: bool,
    lamps: tuple[str, ...] = ORDINARY_LAMPS,
    placings: FloatArray | None = None,
) -> dict[str, tuple[FloatArray, float]]:
    """CIEDE2000 between two photos of the same hair, and the share of them below the stated limit.

    With `placings` (N, 3), ratios of XYZ between a patch and itself placed anew, as in a study (k_L 1.5).
    """
    apart: dict[str, list[FloatArray]] = defaultdict(list)
    below: dict[str, list[NDArray[np.bool_]]] = defaultdict(list)
    for rng, phone, lamp in rounds(seed, repeats, "srgb", lamps):
        later_lamp = lamp if same_lamp else ORDINARY_LAMPS[int(rng.integers(len(ORDINARY_LAMPS)))]
        first = take_photo(rng, phone, lamp, unevenness)
        second = take_photo(rng, phone, later_lamp, unevenness)
        both = ~(first.hair_clipped | second.hair_clipped)
        before = first.calibrations()
        after = second.calibrations(before["chart"] if same_lamp else None)
        for way, calibration in after.items():
            earlier = before["chart" if way == "lamp profile" else way]
            again = calibration.to_xyz(second.hair)
            if placings is not None:
                again = again * rng.choice(placings, len(again))
            k_L = 1.0 if placings is None else TRACKING_K_L
            moved = delta_e_2000(earlier.to_lab(first.hair), xyz_to_lab(again), k_L=k_L)[both]
            pair = (calibration if way == "lamp profile" else earlier).detection_limit
            limit = _limit(pair, calibration.detection_limit, same_lamp=same_lamp, tracked=placings is not None)
            apart[way].append(moved)
            below[way].append(moved <= limit)
    return {way: (np.concatenate(apart[way]), float(np.mean(np.concatenate(below[way])))) for way in apart}


def _limit(first: DetectionLimit, second: DetectionLimit, *, same_lamp: bool, tracked: bool) -> float:
    """Of two readings as a study compares them (`tracked`), or of two calibrations and nothing else."""
    if tracked:
        return smallest_real_change(first, second, same_lamp=same_lamp)
    pair = [limit.same_lamp if same_lamp else limit.other_lamp for limit in (first, second)]
    return float(np.linalg.norm(pair) / np.sqrt(2))


def tables() -> list[Table]:
    """Absolute error, coverage of the stated uncertainty, and unchanged hair."""
    return [_absolute_table(), _coverage_table(), _unchanged_table()]


def _absolute_table() -> Table:
    conditions: tuple[tuple[str, dict[str, Errors]], ...] = (
        ("realistic light, sRGB", absolute_errors(seed=11, repeats=12)),
        ("realistic light, Display P3", absolute_errors(seed=11, repeats=12, primaries="display-p3")),
        ("even light, sRGB", absolute_errors(seed=1, repeats=3, unevenness=EVEN)),
        ("clipped patches only", absolute_errors(seed=1, repeats=2, clipped=True)),
        ("99 CIE 2017 samples", absolute_errors(seed=1, repeats=2, hair=CIE_2017_SAMPLES)),
        ("red-green-blue lamp", absolute_errors(seed=1, repeats=20, lamps=("LED-RGB1",))),
    )
    rows: list[Row] = [
        (condition, way, float(found.errors.mean()), *map(float, np.percentile(found.errors, (80, 90, 95))))
        for condition, by_way in conditions
        for way, found in by_way.items()
    ]
    return Table(
        "Absolute error of a reading (CIEDE2000)",
        ("condition", "calibrated by", "mean", "80 %", "90 %", "95 %"),
        tuple(rows),
        "78 simulated hair patches, 13 lamps, 5 sensors; unclipped unless said. Realistic light: 6 % spread.",
    )


def _coverage_table() -> Table:
    rows: list[Row] = []
    for unevenness in (0.0, 0.03, 0.06, 0.10):
        chart = absolute_errors(seed=4, repeats=2, unevenness=unevenness)["chart"]
        rows.append((f"chart, light spread {unevenness:.0%}", *map(float, chart.covered() * 100)))
    for way, found in absolute_errors(seed=4, repeats=12).items():
        if way != "chart":
            rows.append((f"{way}, light spread 6%", *map(float, found.covered() * 100)))
    return Table(
        "Share of readings within the stated uncertainty (%)",
        ("calibrated by", "stated 80 %", "stated 90 %", "stated 95 %"),
        tuple(rows),
    )


def _unchanged_table() -> Table:
    rows: list[Row] = []
    anew = placing_ratios(seed=3, repeats=8)
    for same_lamp in (True, False):
        for name, unevenness, placings in (
            ("realistic", REALISTIC, None),
            ("even", EVEN, None),
            ("realistic, placed anew", REALISTIC, anew),
        ):
            found = unchanged_hair(
                seed=3, repeats=2, unevenness=unevenness, same_lamp=same_lamp, placings=placings
            )
            lamp = "same lamp" if same_lamp else "other lamp"
            rows += [
                (lamp, name, way, float(np.median(moved)), float(np.percentile(moved, 95)), below * 100)
                for way, (moved, below) in found.items()
            ]
    return Table(
        "Unchanged hair, two photos (CIEDE2000)",
        ("lamp", "light", "calibrated by", "median", "95 %", "below the stated limit (%)"),
        tuple(rows),
        "A lamp profile is compared with the chart photo it comes from. Placed anew: strands differ too, k_L 1.5.",
    )
