"""Spectra from outside: the wavelength grid, observer, lamps, chart reflectances, and their XYZ and CIELAB.

Everything in this module is read from colour-science, except four synthetic phone sensors, which are our own
construction: gaussian Bayer sensitivities with an infrared cut near 662 nm, jittered from a fixed seed.
"""

import warnings
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from journey.colour.spaces import xyz_to_lab

with warnings.catch_warnings():
    # colour-science warns of optional packages it would use if they were there.
    warnings.simplefilter("ignore")
    import colour
    from colour.quality.cfi2017 import load_TCS_CIE2017

FloatArray = NDArray[np.float64]

WAVELENGTHS_NM: Final[FloatArray] = np.arange(380.0, 781.0, 5.0)
_SHAPE: Final = colour.SpectralShape(380, 780, 5)

# Lamps a salon or a bathroom may have, with their correlated colour temperature in kelvin.
LAMP_KELVIN: Final = {
    "A": 2856, "D50": 5003, "D65": 6504, "FL2": 4224, "FL11": 3999,
    "LED-B1": 2733, "LED-B2": 2998, "LED-B3": 4103, "LED-B4": 5109, "LED-B5": 6598,
    "LED-BH1": 2851, "LED-V1": 2724, "LED-V2": 4070, "LED-RGB1": 2840,
}  # fmt: skip
# Red-green-blue lamps distort more than any other, and are measured apart.
ORDINARY_LAMPS: Final = tuple(name for name in LAMP_KELVIN if name != "LED-RGB1")


def _resampled(spectrum: Any) -> FloatArray:
    """On the grid by straight lines; held constant outside the measured range."""
    wavelengths_nm: FloatArray = np.asarray(spectrum.wavelengths, dtype=np.float64)
    values: FloatArray = np.asarray(spectrum.values, dtype=np.float64)
    return np.interp(WAVELENGTHS_NM, wavelengths_nm, values)


OBSERVER_2_DEGREES: Final[FloatArray] = np.asarray(
    colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(_SHAPE).values
)
LAMPS: Final = {name: _resampled(colour.SDS_ILLUMINANTS[name]) for name in LAMP_KELVIN}
CHARTS: Final = {
    name: np.array([_resampled(patch) for patch in colour.SDS_COLOURCHECKERS[name].values()])
    for name in ("ISO 17321-1", "BabelColor Average")
}
CHART_PATCH_NAMES: Final = tuple(colour.SDS_COLOURCHECKERS["ISO 17321-1"].keys())
# 99 test colour samples of CIE 224:2017: a calibration is also judged on colours neither chart nor hair.
CIE_2017_SAMPLES: Final[FloatArray] = np.array(load_TCS_CIE2017(_SHAPE).values, dtype=np.float64).T


def spectrum_to_xyz(reflectance: ArrayLike, lamp: str = "D65") -> FloatArray:
    """XYZ (..., 3) of reflectances (..., 81) under a lamp, 2° observer, plain sum, Y = 1 for white."""
    weights = OBSERVER_2_DEGREES * LAMPS[lamp][:, None]
    xyz: FloatArray = np.asarray(reflectance, dtype=np.float64) @ (weights / weights[:, 1].sum())
    return xyz


def spectrum_to_lab(reflectance: ArrayLike) -> FloatArray:
    """CIELAB (..., 3) of reflectances (..., 81) under D65."""
    return xyz_to_lab(spectrum_to_xyz(reflectance))


def gaussian(centre_nm: float, width_nm: float, height: float = 1.0) -> FloatArray:
    """A bell over the wavelength grid (81,); the width is its standard deviation."""
    bell: FloatArray = height * np.exp(-0.5 * ((WAVELENGTHS_NM - centre_nm) / width_nm) ** 2)
    return bell


def _synthetic_sensor(rng: np.random.Generator) -> FloatArray:
    """Phone-like red, green and blue sensitivities (81, 3), with leakage between the channels."""

    def jitter(spread: float) -> float:
        return float(rng.normal(0, spread))

    red = (
        gaussian(603 + jitter(5), 34 + jitter(4))
        + gaussian(450 + jitter(6), 25, 0.05 + abs(jitter(0.02)))
        + gaussian(530, 30, 0.10 + abs(jitter(0.03)))
    )
    green = (
        gaussian(533 + jitter(5), 43 + jitter(4))
        + gaussian(450, 22, 0.06 + abs(jitter(0.03)))
        + gaussian(620, 30, 0.08 + abs(jitter(0.02)))
    )
    blue = gaussian(460 + jitter(5), 28 + jitter(3)) + gaussian(535, 30, 0.12 + abs(jitter(0.03)))
    infrared_cut = 1 / (1 + np.exp((WAVELENGTHS_NM - (662 + jitter(6))) / 9))
    ultraviolet_cut = 1 / (1 + np.exp(-(WAVELENGTHS_NM - (408 + jitter(4))) / 6))
    return np.stack([red, green, blue], axis=1) * (infrared_cut * ultraviolet_cut)[:, None]


def _sensors() -> dict[str, FloatArray]:
    measured = colour.MSDS_CAMERA_SENSITIVITIES["Nikon 5100 (NPL)"]
    values = np.asarray(measured.values)
    nikon = np.stack(
        [np.interp(WAVELENGTHS_NM, measured.wavelengths, values[:, c], left=0, right=0) for c in range(3)],
        axis=1,
    )
    sensors = {"Nikon 5100": np.maximum(nikon, 0)}
    rng = np.random.default_rng(7)
    for number in range(1, 5):
        sensors[f"synthetic phone {number}"] = _synthetic_sensor(rng)
    return {name: sensor / sensor[:, 1].sum() for name, sensor in sensors.items()}


SENSORS: Final = _sensors()
