"""Invented reflectance spectra of hair: melanin, lightened keratin and direct dyes, and the colour they
have.

Closed forms, chosen to look like hair; nobody measured them. Natural hair follows Kubelka and Munk with
melanin absorption falling as a power of the wavelength; dye lies on it as Beer-Lambert density, sums of
gaussians in nm. Colour is integrated with the CIE 1931 2 degree observer under D65, 5 nm, tables by way
of colour-science.
"""

import colour
import numpy as np

from tests.demo_pictures.fields import Array
from tests.demo_pictures.srgb import WHITE_XYZ, XYZ_TO_LINEAR

WAVELENGTHS_NM = np.arange(380, 781, 5.0)
SURFACE = 0.012  # light returned before any pigment is met

_shape = colour.SpectralShape(380, 780, 5)
_observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(_shape).values
_d65 = colour.SDS_ILLUMINANTS["D65"].copy().align(_shape).values
_WEIGHTS = _observer * _d65[:, None] / (_observer[:, 1] * _d65).sum()


def _infinite_layer(absorption_by_scattering: Array) -> Array:
    k = absorption_by_scattering
    return 1 + k - np.sqrt(k * k + 2 * k)


def natural(melanin: float, pheomelanin_share: float = 0.25) -> Array:
    """Reflectance of undyed hair; `melanin` is absorption by scattering at 550 nm."""
    x = WAVELENGTHS_NM / 550.0
    k = melanin * ((1 - pheomelanin_share) * x**-3.33 + pheomelanin_share * x**-4.75)
    return SURFACE + (1 - SURFACE) * _infinite_layer(k)


def lightened(melanin: float, slope: float, yellow: float, yellow_width_nm: float) -> Array:
    """Reflectance of lightened hair: what melanin is left, and the yellow of keratin."""
    x = WAVELENGTHS_NM / 550.0
    k = 0.02 + melanin * x**-slope + yellow * np.exp(-(WAVELENGTHS_NM - 420) / yellow_width_nm)
    return SURFACE + (1 - SURFACE) * _infinite_layer(k)


_yellow = lightened(0.5035, 5.811, 1.5393, 45)  # Lab about 67, 5.5, 32
_pale = lightened(0.2428, 4.854, 0.5956, 45)  # Lab about 75, 2, 24

SUBSTRATES = {
    "natural 5": natural(10.32),  # L* 29
    "natural 5, ends lighter from old sun": natural(7.6),
    "lightened 9": _yellow**0.2 * _pale**0.8,
    "lightened 9, paler ends": _yellow**0.05 * _pale**0.95,
}


def _band(centre_nm: float, sd_nm: float, height: float) -> Array:
    return height * np.exp(-0.5 * ((WAVELENGTHS_NM - centre_nm) / sd_nm) ** 2)


def _dye(*bands: tuple[float, float, float]) -> Array:
    broad = _band(510, 110, 0.10 * bands[0][2])
    return sum((_band(*b) for b in bands), broad)


# Decadic density of each dye laid at full strength, light passing twice.
DYES = {
    "rose": _dye((528, 30, 0.75), (500, 30, 0.25)),
    "copper": _dye((470, 42, 0.85), (520, 30, 0.25)),
    "violet": _dye((560, 36, 0.95), (595, 28, 0.35)),
    "blue": _dye((590, 38, 1.00), (635, 30, 0.55)),
}

# What lay in the bowl, as shares of the dyes' full strength.
BOWLS = {
    "coral rose": {"rose": 0.62, "copper": 0.16},
    "rose gloss": {"rose": 0.24, "copper": 0.02},
    "violet": {"violet": 0.86, "blue": 0.18},
}
BOWL_DENSITY = {name: sum(share * DYES[dye] for dye, share in parts.items()) for name, parts in BOWLS.items()}


def dyed(substrate: str, shares: dict[str, float]) -> Array:
    """Reflectance of a substrate carrying each bowl's colour at its remaining share (0 to 1)."""
    density = sum((q * BOWL_DENSITY[bowl] for bowl, q in shares.items()), np.zeros_like(WAVELENGTHS_NM))
    return SUBSTRATES[substrate] * 10**-density


def linear_srgb(reflectance: Array) -> Array:
    """Linear sRGB under D65, white scaled exactly to one; not clipped."""
    xyz = reflectance @ _WEIGHTS
    return XYZ_TO_LINEAR @ (xyz / _WEIGHTS.sum(axis=0) * WHITE_XYZ)
