"""How near the fade path, the share read off it, and colour laid over colour come to whole spectra.

`python -m tests.accuracy.fading` prints these tables and those of `forecasting`.
"""

import warnings
from collections.abc import Callable, Iterator
from functools import partial
from typing import Final

import colour
import numpy as np

from journey.colour.difference import delta_e_2000
from journey.colour.dye import Method, channels_over
from journey.colour.fade_path import FadePath
from journey.colour.layering import apply_swatch
from journey.colour.spaces import lab_to_xyz, linear_rgb_to_xyz, xyz_to_lab, xyz_to_linear_rgb
from tests.accuracy import forecasting
from tests.accuracy.table import Table
from tests.simulators.fades import STRENGTHS, with_noise
from tests.simulators.hair import DYE_DENSITIES, LIGHTENED, dyed_hair
from tests.simulators.spectra import CHARTS, CIE_2017_SAMPLES, WAVELENGTHS_NM, FloatArray, spectrum_to_lab

_SHARES: Final = np.linspace(0, 1, 21)
_SURFACE_SHARE: Final = 0.012
_SHORTEST_DELTA_E: Final = 5.0
_PAIRS: Final = 400
_GRID: Final = colour.SpectralShape(380, 780, 5)
_OBSERVER: Final = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(_GRID)
_DAYLIGHT: Final = colour.SDS_ILLUMINANTS["D65"].copy().align(_GRID)

Law = Callable[[FloatArray, FloatArray], FloatArray]
"""From bare and dyed CIELAB (3,) to the colours (21, 3) at `_SHARES`."""


def tables() -> list[Table]:
    """Path, share, layering, and the forecasts of `forecasting`."""
    return [fade_path_table(), recovery_table(), share_table(), layering_table(), *forecasting.tables()]


def fade_path_table() -> Table:
    """The worst colour along each path, over sets of true fades, by law."""
    laws: dict[str, Law] = {
        "fade path": _tool,
        "channels, Rec. 2020": partial(_channels, method="rec2020"),
        "channels, CAT16": partial(_channels, method="cat16"),
        "foil: channels, linear sRGB": _linear_srgb,
        "foil: straight line in CIELAB": _straight_line,
    }
    sets = {
        "16 dyes x 4 lightened hair x 3 strengths": list(_simulated_fades(surface=0.0)),
        "same, 1.2 % of light off the surface": list(_simulated_fades(surface=_SURFACE_SHARE)),
        "outside densities (CIE 224:2017, ISO 17321-1)": list(_outside_fades()),
    }
    rows = [_path_row(f"{name} ({len(fades)})", label, law, fades)
            for name, fades in sets.items() for label, law in laws.items()]  # fmt: skip
    return Table(
        "Fade path: largest CIEDE2000 from the true colour along shares 1 to 0",
        ("true fades", "law", "mean", "p95", "max", "goal p95"),
        tuple(rows),
        "Truth: Beer-Lambert fades of whole spectra. Outside densities are measured reflectances turned into "
        "absorption, laid on lightened hair; neither blocks nor simulated dyes were made with them.",
    )


def _path_row(fades_name: str, label: str, law: Law, fades: list[FloatArray]) -> tuple[str | float, ...]:
    worst = np.array([np.max(delta_e_2000(law(true[-1], true[0]), true[::-1])) for true in fades])
    goal = "" if "surface" in fades_name else "3.9"
    return (fades_name, label, float(worst.mean()), float(np.percentile(worst, 95)), float(worst.max()),
            goal if label == "fade path" else "")  # fmt: skip


def _simulated_fades(surface: float) -> Iterator[FloatArray]:
    for hair in LIGHTENED.values():
        for density in DYE_DENSITIES.values():
            for strength in STRENGTHS:
                yield _fade(hair, strength * density, surface)


def _outside_fades() -> Iterator[FloatArray]:
    """Absorption of measured samples relative to their lightest wavelength, over each lightened hair."""
    for sample in np.concatenate([CIE_2017_SAMPLES, CHARTS["ISO 17321-1"]]):
        density = -np.log10(np.clip(sample / sample.max(), 0.01, None))
        for hair in LIGHTENED.values():
            fade = _fade(hair, density, 0.0)
            if float(delta_e_2000(fade[0], fade[-1])) >= _SHORTEST_DELTA_E:
                yield fade


def _fade(hair: FloatArray, density: FloatArray, surface: float) -> FloatArray:
    """True CIELAB (21, 3), freshly dyed first."""
    return spectrum_to_lab([surface + dyed_hair(hair - surface, density, q) for q in _SHARES[::-1]])


def _tool(bare: FloatArray, dyed: FloatArray) -> FloatArray:
    return FadePath.between(bare, dyed).lab_at(_SHARES)


def _channels(bare: FloatArray, dyed: FloatArray, method: Method) -> FloatArray:
    """One of the stand-in laws, its coefficients found by adding unit densities from outside."""
    ends = np.stack([lab_to_xyz(bare), lab_to_xyz(dyed)])
    # Removing all of a channel but one shows that channel alone: columns of the matrix back to XYZ.
    only = [channels_over(ends, np.where(np.arange(3) == c, 0.0, 60.0), method) for c in range(3)]
    levels = [np.linalg.norm(part, axis=-1) for part in only]
    coefficients = np.array([np.log(level[0] / level[1]) for level in levels])
    return xyz_to_lab(channels_over(ends[0], _SHARES[:, None] * coefficients, method))


def _linear_srgb(bare: FloatArray, dyed: FloatArray) -> FloatArray:
    before, after = np.maximum(xyz_to_linear_rgb(lab_to_xyz(np.stack([bare, dyed]))), 1e-4)
    return xyz_to_lab(linear_rgb_to_xyz(before * (after / before) ** _SHARES[:, None]))


def _straight_line(bare: FloatArray, dyed: FloatArray) -> FloatArray:
    return bare + _SHARES[:, None] * (dyed - bare)


def recovery_table() -> Table:
    """The same paths with both ends' spectra recovered by published methods of colour-science."""
    fades = [_fade(LIGHTENED[hair], d, 0.0) for hair in ("9", "10") for d in DYE_DENSITIES.values()]
    laws: dict[str, Law] = {"fade path": _tool}
    for method in ("Otsu 2018", "Jakob 2019"):
        laws[f"both spectra by {method}"] = partial(_recovered, method=method)
    return Table(
        "Fade path beside spectra recovered by colour-science, largest CIEDE2000 along the path",
        ("law", "mean", "p95", "max"),
        tuple(
            (label, *row[2:5]) for label, law in laws.items() for row in [_path_row("", label, law, fades)]
        ),
        "16 dyes on yellow and pale yellow hair; both recoveries share nothing with this project's code.",
    )


def _recovered(bare: FloatArray, dyed: FloatArray, method: str) -> FloatArray:
    """R(q) = R_bare (R_dyed / R_bare)^q with spectra of colour-science; ends as they come out."""
    spectra = []
    with warnings.catch_warnings():
        # The recoveries warn that they resample their own tables.
        warnings.simplefilter("ignore")
        for lab in (bare, dyed):
            xyz = lab_to_xyz(lab)
            sd = colour.XYZ_to_sd(xyz, method=method, cmfs=_OBSERVER, illuminant=_DAYLIGHT)
            spectra.append(np.interp(WAVELENGTHS_NM, sd.wavelengths, np.maximum(sd.values, 1e-4)))
    before, after = spectra
    return spectrum_to_lab(before * (after / before) ** _SHARES[:, None])


def share_table() -> Table:
    """How far off a share read from one noisy photo is, both ends of the path as noisy as the photo."""
    shares = (1.0, 0.8, 0.6, 0.4, 0.25, 0.1)
    goals = {2.0: "0.12 / 0.09 (to 0.6) / 0.065 (to 0.25)"}
    rows: list[tuple[str | float, ...]] = []
    for noise in (1.5, 2.0, 3.0):
        rng = np.random.default_rng(5150)
        errors: list[list[float]] = [[] for _ in shares]
        fallbacks = paths = 0
        for _ in range(15):
            for density in DYE_DENSITIES.values():
                for hair in (LIGHTENED["9"], LIGHTENED["10"]):
                    colours = spectrum_to_lab([dyed_hair(hair, density, q) for q in (0.0, 1.0, *shares)])
                    bare, dyed, *readings = (with_noise(rng, lab, noise) for lab in colours)
                    path = FadePath.between(bare, dyed)
                    paths += 1
                    fallbacks += path.method != "block-dye"
                    for place, share in enumerate(shares):
                        errors[place].append(path.remaining_share(readings[place]).value - share)
        rmse = (f"{np.sqrt(np.mean(np.square(e))):.3f}" for e in errors)
        bias = max(abs(float(np.mean(e))) for e in errors[1:])
        rows.append((noise, *rmse, f"{bias:.3f}", f"{fallbacks} of {paths}", goals.get(noise, "")))
    return Table(
        "Remaining share: root-mean-square error of one reading",
        ("mean noise", *(f"q {share:g}" for share in shares), "worst bias, q < 1", "not block-dye", "goal"),
        tuple(rows),
        "16 dyes on yellow and pale yellow hair. Shares are kept between 0 and 1, so at q 1 half of all "
        "errors can not show.",
    )


def layering_table() -> Table:
    """A swatch's dye laid over faded colour, and what happens when the swatch is believed as it stands."""
    half, all_of_it = (0.1, 0.5), (0.1, 1.0)
    cases: list[tuple[str, str, tuple[float, float], float, float, bool, str]] = [
        # label, swatch hair, older share, noise, uptake error, bare hair known, goal
        ("swatch on near white", "10+", half, 0.0, 0.0, False, "3.5"),
        ("swatch on pale yellow", "10", half, 0.0, 0.0, False, "3.5"),
        ("swatch on yellow", "9", half, 0.0, 0.0, False, "3.5"),
        ("swatch on pale yellow, bare hair known", "10", half, 0.0, 0.0, True, "3.5"),
        ("older colour at any strength", "10", all_of_it, 0.0, 0.0, False, ""),
        ("older colour at any strength, bare hair known", "10", all_of_it, 0.0, 0.0, True, ""),
        ("every colour read with noise 1.7", "10", half, 1.7, 0.0, False, "6.1"),
        ("uptake 25 % off either way", "10", half, 0.0, 0.25, False, ""),
    ]
    rows: list[tuple[str | float, ...]] = []
    for label, swatch, older, noise, uptake, known, goal in cases:
        errors, naive = _layering_errors(swatch, older, noise, uptake, known)
        rows.append((label, float(errors.mean()), float(np.percentile(errors, 95)), float(errors.max()),
                     float(np.percentile(naive, 95)), goal))  # fmt: skip
    return Table(
        "Layering: CIEDE2000 of the predicted colour",
        ("case", "mean", "p95", "max", "p95 of the swatch as it stands", "goal p95"),
        tuple(rows),
        f"{_PAIRS} random pairs of simulated dyes over four lightened substrates; the older colour has faded "
        "to a share between 0.1 and 0.5 unless said otherwise.",
    )


def _layering_errors(
    swatch_hair: str, older: tuple[float, float], noise: float, uptake: float, bare_known: bool
) -> tuple[FloatArray, FloatArray]:
    rng = np.random.default_rng(606)
    names, substrates = sorted(DYE_DENSITIES), tuple(LIGHTENED.values())
    predicted, naive = [], []

    def read(reflectance: FloatArray) -> FloatArray:
        lab = spectrum_to_lab(reflectance)
        return with_noise(rng, lab, noise) if noise else lab

    for _ in range(_PAIRS):
        below, above = (DYE_DENSITIES[names[i]] for i in rng.choice(len(names), 2, replace=False))
        hair = substrates[rng.integers(len(substrates))]
        current = dyed_hair(hair, below, rng.uniform(*older))
        taken_up = 1 + uptake * rng.choice((-1, 1))
        truth = spectrum_to_lab(dyed_hair(current, above, taken_up))
        bare_swatch, swatch = read(LIGHTENED[swatch_hair]), read(dyed_hair(LIGHTENED[swatch_hair], above))
        bare = read(hair) if bare_known else None
        result = apply_swatch(read(current), bare_swatch, swatch, bare_lab=bare)
        predicted.append(float(delta_e_2000(result.expected, truth)))
        naive.append(float(delta_e_2000(swatch, truth)))
    return np.array(predicted), np.array(naive)


if __name__ == "__main__":
    for table in tables():
        print(table.text(), end="\n\n")
