"""Hair-like reflectances with closed forms: natural levels, lightened hair, direct colour over it.

Our own construction, not measured hair: melanin as power laws of wavelength in Kubelka-Munk, keratin
yellow as an exponential, dyes as sums of gaussians in decadic absorbance. The lightness of each level is an
assumption.
"""

from typing import Final

import numpy as np
from scipy.optimize import brentq

from tests.simulators.spectra import WAVELENGTHS_NM, FloatArray, gaussian, spectrum_to_lab

_SURFACE_SHARE: Final = 0.012  # light that never enters the fibre and stays uncoloured
_RELATIVE_WAVELENGTH: Final[FloatArray] = WAVELENGTHS_NM / 550.0


def _kubelka_munk_reflectance(absorption_over_scattering: FloatArray) -> FloatArray:
    k = absorption_over_scattering
    inner = 1 + k - np.sqrt(k * k + 2 * k)
    return _SURFACE_SHARE + (1 - _SURFACE_SHARE) * inner


def natural_hair(melanin: float, pheomelanin_share: float = 0.25) -> FloatArray:
    """Reflectance (81,) of natural hair; eumelanin falls as wavelength^-3.33, pheomelanin as ^-4.75."""
    x = _RELATIVE_WAVELENGTH
    absorption = (1 - pheomelanin_share) * x**-3.33 + pheomelanin_share * x**-4.75
    return _kubelka_munk_reflectance(melanin * absorption)


def lightened_hair(melanin: float, power: float, yellow: float, yellow_width_nm: float) -> FloatArray:
    """Reflectance (81,) of lightened hair: melanin that stayed, and the yellow of keratin."""
    keratin = yellow * np.exp(-(WAVELENGTHS_NM - 420) / yellow_width_nm)
    return _kubelka_munk_reflectance(0.02 + melanin * _RELATIVE_WAVELENGTH**-power + keratin)


def _melanin_for_lightness(lightness: float) -> float:
    def excess(log_melanin: float) -> float:
        return float(spectrum_to_lab(natural_hair(np.exp(log_melanin)))[0] - lightness)

    return float(f"{np.exp(brentq(excess, -7, 7)):.4g}")


# Levels 1 to 10. The lightness of each level is an assumption.
LEVEL_LIGHTNESS: Final = (14.0, 17.0, 20.5, 24.5, 29.0, 34.5, 41.0, 48.0, 55.5, 63.0)
NATURAL_LEVELS: Final[FloatArray] = np.array(
    [natural_hair(_melanin_for_lightness(lightness)) for lightness in LEVEL_LIGHTNESS]
)

# Yellow-orange 8, yellow 9, pale yellow 10, near white 10+: CIELAB near
# (58, 11, 37), (67, 5.5, 32), (75, 2, 24), (82, 0.5, 14).
LIGHTENED: Final = {
    "8": lightened_hair(0.9343, 8.168, 1.571, 80),
    "9": lightened_hair(0.5035, 5.811, 1.5393, 45),
    "10": lightened_hair(0.2428, 4.854, 0.5956, 45),
    "10+": lightened_hair(0.0923, 3.49, 0.2130, 60),
}

# Decadic absorbance of a full direct colour on hair, light passing twice: (centre nm, width nm, height).
_DYE_BANDS: Final = {
    "blue": ((590, 38, 1.00), (635, 30, 0.55)),
    "teal": ((640, 40, 1.10), (590, 35, 0.30), (420, 32, 0.30)),
    "violet": ((560, 36, 0.95), (595, 28, 0.35)),
    "rose": ((528, 30, 0.75), (500, 30, 0.25)),
    "copper": ((470, 42, 0.85), (520, 30, 0.25)),
    "red": ((515, 38, 1.10), (470, 40, 0.60)),
    "green": ((625, 34, 0.95), (430, 36, 0.75)),
    "magenta": ((548, 26, 1.10), (520, 26, 0.45)),
    "yellow": ((430, 34, 0.90),),
    "silver": ((575, 60, 0.35), (450, 40, 0.05)),
    "navy": ((600, 55, 1.45), (540, 40, 0.60)),
    "lilac": ((565, 38, 0.35),),
    "turquoise": ((660, 38, 0.95), (620, 30, 0.45)),
    "orange": ((485, 32, 1.10),),
    "plum": ((550, 42, 1.15), (480, 50, 0.45)),
    "mint": ((640, 38, 0.35), (420, 30, 0.15)),
}
_BACKGROUND_BAND: Final = (510, 110, 0.10)  # broad, relative to the first band of the dye


def _density(bands: tuple[tuple[float, float, float], ...]) -> FloatArray:
    background = bands[0][2] * gaussian(*_BACKGROUND_BAND)
    density: FloatArray = np.sum([gaussian(*band) for band in bands], axis=0) + background
    return density


DYE_DENSITIES: Final = {name: _density(bands) for name, bands in _DYE_BANDS.items()}


def dyed_hair(substrate: FloatArray, density: FloatArray, share: float = 1.0) -> FloatArray:
    """Reflectance (81,) with a share of the dye on it (Beer-Lambert)."""
    dyed: FloatArray = substrate * 10 ** (-share * density)
    return dyed


def _hair_set() -> dict[str, FloatArray]:
    hair = {f"natural {level}": r for level, r in enumerate(NATURAL_LEVELS, start=1)}
    hair |= {f"lightened {name}": r for name, r in LIGHTENED.items()}
    for dye, density in DYE_DENSITIES.items():
        for substrate, share in (("9", 1.0), ("9", 0.4), ("10", 1.0), ("10", 0.3)):
            name = f"{dye} on {substrate}, share {share:g}"
            hair[name] = dyed_hair(LIGHTENED[substrate], density, share)
    return hair


_HAIR: Final = _hair_set()
# 78 heads of hair: ten natural levels, four lightened, sixteen dyes on two substrates, full and faded.
HAIR_NAMES: Final = tuple(_HAIR)
HAIR_REFLECTANCES: Final[FloatArray] = np.array(list(_HAIR.values()))
