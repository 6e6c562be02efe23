"""How well one number stands for the many pixels of a patch of hair."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from journey.colour.calibrate import uncalibrated
from journey.colour.difference import delta_e_2000
from journey.colour.spaces import (
    FloatArray,
    decode_srgb,
    lab_to_xyz,
    linear_rgb_to_xyz,
    xyz_to_lab,
    xyz_to_linear_rgb,
)
from journey.colour.swatch import Swatch, read_swatch
from tests.accuracy.table import Table
from tests.simulators.hair import DYE_DENSITIES, LIGHTENED, NATURAL_LEVELS, dyed_hair
from tests.simulators.spectra import spectrum_to_xyz
from tests.simulators.strands import Light, decoded, photographed, render_strands


def albedos() -> FloatArray:
    """Linear sRGB (23, 3) of natural, lightened and dyed hair, pulled into the gamut of the renderer."""
    spectra = [
        *NATURAL_LEVELS[[2, 4, 6]],
        *LIGHTENED.values(),
        *(dyed_hair(LIGHTENED["9"], density) for density in DYE_DENSITIES.values()),
    ]
    return np.clip(xyz_to_linear_rgb(spectrum_to_xyz(np.array(spectra))), 0.002, 1)


@dataclass(frozen=True, slots=True, eq=False)
class StatisticErrors:
    """CIEDE2000 by statistic: from the mean light, and, lightness matched, from the true albedo."""

    from_afar: dict[str, FloatArray]
    colour_only: dict[str, FloatArray]


def statistic_errors(*, seed: int, repeats: int) -> StatisticErrors:
    """Strands of every albedo in random light, photographed at 8 bits with noise and clipping."""
    rng = np.random.default_rng(seed)
    far: dict[str, list[float]] = defaultdict(list)
    colour: dict[str, list[float]] = defaultdict(list)
    for albedo in albedos():
        truth = xyz_to_lab(linear_rgb_to_xyz(albedo))
        for _ in range(repeats):
            picture = render_strands(rng, [albedo], [1.0], light=_random_light(rng))
            codes = photographed(rng, picture)
            pixels, clipped = decoded(codes)
            swatch = read_swatch(pixels, clipped, uncalibrated())
            mean_light = xyz_to_lab(linear_rgb_to_xyz(picture.linear.reshape(-1, 3).mean(axis=0)))
            read = {
                "from afar": np.array(swatch.from_afar_lab),
                "body": np.array(swatch.body_lab),
                "mean of encoded values": _lab(decode_srgb(codes.reshape(-1, 3).mean(axis=0))),
                "mean in CIELAB": _lab(pixels).mean(axis=0),
            }
            for name, lab in read.items():
                far[name].append(float(delta_e_2000(lab, mean_light)))
                colour[name].append(float(delta_e_2000(_at_lightness_of(truth, lab), truth)))
    return StatisticErrors(
        {name: np.array(values) for name, values in far.items()},
        {name: np.array(values) for name, values in colour.items()},
    )


def repeats_of_one_head(*, seed: int, repeats: int) -> dict[str, FloatArray]:
    """CIEDE2000 (k_L 1.5) between two photos of one head, light within 6 degrees and gloss within 15 %."""
    apart: dict[str, list[float]] = defaultdict(list)
    for first, second in _pairs_of_one_head(seed, repeats):
        apart["from afar"].append(float(delta_e_2000(first.from_afar_lab, second.from_afar_lab, k_L=1.5)))
        apart["body"].append(float(delta_e_2000(first.body_lab, second.body_lab, k_L=1.5)))
    return {name: np.array(values) for name, values in apart.items()}


def placing_ratios(*, seed: int, repeats: int) -> FloatArray:
    """XYZ of the body colour of a second photo over that of the first, (N, 3): the patch placed anew."""
    pairs = _pairs_of_one_head(seed, repeats)
    return np.array([lab_to_xyz(second.body_lab) / lab_to_xyz(first.body_lab) for first, second in pairs])


def _pairs_of_one_head(seed: int, repeats: int) -> Iterator[tuple[Swatch, Swatch]]:
    rng = np.random.default_rng(seed)
    for albedo in albedos():
        for _ in range(repeats):
            habit = _random_light(rng)
            first, second = (
                read_swatch(
                    *decoded(photographed(rng, render_strands(rng, [albedo], [1.0], width=400, light=light))),
                    uncalibrated(),
                )
                for light in (_nearly(rng, habit), _nearly(rng, habit))
            )
            yield first, second


def tables() -> list[Table]:
    """Which statistic finds which truth, and how well it repeats."""
    found = statistic_errors(seed=1, repeats=6)
    again = repeats_of_one_head(seed=1, repeats=4)
    return [
        Table(
            "One number for a patch of hair (CIEDE2000)",
            (
                "statistic", "from mean light: mean", "95 %", "from albedo, lightness matched: mean", "95 %",
            ),
            tuple(
                (name, *_mean_and_95(found.from_afar[name]), *_mean_and_95(found.colour_only[name]))
                for name in found.from_afar
            ),
            "23 simulated colours of hair, 12 pixels a strand, random light and gloss.",
        ),
        Table(
            "The same head photographed twice (CIEDE2000, k_L 1.5)",
            ("statistic", "median", "95 %"),
            tuple(
                (name, float(np.median(values)), float(np.percentile(values, 95)))
                for name, values in again.items()
            ),
        ),
    ]  # fmt: skip


def _random_light(rng: np.random.Generator) -> Light:
    return Light(height=rng.uniform(0.3, 0.7), gloss=rng.uniform(0.1, 0.5), side=rng.uniform(-0.3, 0.3))


def _nearly(rng: np.random.Generator, light: Light) -> Light:
    return Light(
        height=light.height + rng.uniform(-0.05, 0.05),
        gloss=light.gloss * np.exp(rng.uniform(-0.15, 0.15)),
        side=light.side + rng.uniform(-0.1, 0.1),
    )


def _lab(linear_rgb: FloatArray) -> FloatArray:
    return xyz_to_lab(linear_rgb_to_xyz(linear_rgb))


def _at_lightness_of(target_lab: FloatArray, lab: FloatArray) -> FloatArray:
    xyz = lab_to_xyz(lab)
    return xyz_to_lab(xyz * lab_to_xyz(target_lab)[1] / xyz[1])


def _mean_and_95(values: FloatArray) -> tuple[float, float]:
    return float(values.mean()), float(np.percentile(values, 95))
