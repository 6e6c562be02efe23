"""Colour spaces: encoded RGB, linear RGB, XYZ, CIELAB and its polar form, hex text.

Decides the one white every number in this project is relative to, and how the RGB spaces of screens and
phones meet it. Leaves the judging of distances to `difference` and the making of XYZ out of a real camera's
pixels to `calibrate`.

**The white.** `D65_WHITE` is CIE illuminant D65 through the CIE 1931 2° observer, summed plainly over
380–780 nm at 5 nm, so reflectance tables integrate to it exactly: (0.950430, 1, 1.088801). The published sRGB
matrix leads to (0.9505, 1, 1.0890) instead. To keep a neutral pixel neutral (a* = b* = 0, not 0.008), the
RGB-to-XYZ matrices here are rebuilt from each space's published primaries and `D65_WHITE`; linear RGB
(1, 1, 1) is `D65_WHITE`. Against the four-digit matrix of IEC 61966-2-1 this moves XYZ by at most 0.0003
and Lab by less than 0.03, less than published implementations differ among themselves.

Arrays have shape (..., 3) and dtype float64. XYZ is scaled so that white has Y = 1.
"""

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]
Lab = tuple[float, float, float]
Primaries = Literal["srgb", "display-p3", "rec2020"]

D65_WHITE: Final[FloatArray] = np.array([0.950430, 1.0, 1.088801])
D65_WHITE.flags.writeable = False

# Chromaticities (x, y) of red, green and blue.
# sRGB: IEC 61966-2-1. Display P3: SMPTE EG 432-1 primaries. Rec. 2020: ITU-R BT.2020. All three use D65.
_PRIMARIES_XY: Final[dict[str, tuple[tuple[float, float], ...]]] = {
    "srgb": ((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)),
    "display-p3": ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060)),
    "rec2020": ((0.708, 0.292), (0.170, 0.797), (0.131, 0.046)),
}

# CIE 15: the two rational constants of CIELAB.
_EPSILON: Final = 216 / 24389
_KAPPA: Final = 24389 / 27

# L*, a*, b* as sums of the three companded ratios f(X/Xn), f(Y/Yn), f(Z/Zn).
_LAB_FROM_F: Final[FloatArray] = np.array([[0.0, 116.0, 0.0], [500.0, -500.0, 0.0], [0.0, 200.0, -200.0]])

# The cone responses of the linear Bradford transform (Lam 1985; also ICC.1 annex E).
_BRADFORD: Final[FloatArray] = np.array(
    [[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]]
)


@dataclass(frozen=True, slots=True)
class HexColour:
    """A colour for the screen: `text` is '#rrggbb'; `clipped` says that sRGB could not hold it."""

    text: str
    clipped: bool


class CodeValues(NamedTuple):
    """8-bit sRGB for pictures: `codes` uint8 (..., 3), `clipped` bool (...)."""

    codes: NDArray[np.uint8]
    clipped: NDArray[np.bool_]


def _matrix_from_primaries(primaries_xy: tuple[tuple[float, float], ...]) -> FloatArray:
    """RGB-to-XYZ matrix (columns are the primaries' XYZ) whose white is `D65_WHITE` (SMPTE RP 177)."""
    columns = np.array([(x / y, 1.0, (1 - x - y) / y) for x, y in primaries_xy]).T
    return columns * np.linalg.solve(columns, D65_WHITE)


_RGB_TO_XYZ: Final = {name: _matrix_from_primaries(xy) for name, xy in _PRIMARIES_XY.items()}
_XYZ_TO_RGB: Final = {name: np.linalg.inv(matrix) for name, matrix in _RGB_TO_XYZ.items()}


def as_lab(values: ArrayLike) -> Lab:
    """One colour (3,) as plain numbers, which compare and hash."""
    L, a, b = np.asarray(values, dtype=np.float64)
    return float(L), float(a), float(b)


def decode_srgb(encoded: ArrayLike) -> FloatArray:
    """Linear light from encoded sRGB values in 0..1 (IEC 61966-2-1). Display P3 uses the same curve.

    >>> float(decode_srgb(0.5).round(6))
    0.214041
    """
    e = np.asarray(encoded, dtype=np.float64)
    return np.where(e <= 0.04045, e / 12.92, ((np.maximum(e, 0.04045) + 0.055) / 1.055) ** 2.4)


def encode_srgb(linear: ArrayLike) -> FloatArray:
    """Encoded sRGB values from linear light (IEC 61966-2-1). Nothing is clipped: 0..1 maps to 0..1.

    >>> float(encode_srgb(0.18).round(6))
    0.461356
    """
    p = np.asarray(linear, dtype=np.float64)
    return np.where(p <= 0.0031308, 12.92 * p, 1.055 * np.maximum(p, 0.0031308) ** (1 / 2.4) - 0.055)


def linear_rgb_to_xyz(linear_rgb: ArrayLike, primaries: Primaries = "srgb") -> FloatArray:
    """XYZ (..., 3) from linear RGB (..., 3) of the named primaries. KeyError for a space not listed."""
    return np.asarray(linear_rgb, dtype=np.float64) @ _RGB_TO_XYZ[primaries].T


def xyz_to_linear_rgb(xyz: ArrayLike, primaries: Primaries = "srgb") -> FloatArray:
    """Linear RGB (..., 3) from XYZ (..., 3). Colours outside the gamut come out below 0 or above 1."""
    return np.asarray(xyz, dtype=np.float64) @ _XYZ_TO_RGB[primaries].T


def xyz_to_lab(xyz: ArrayLike) -> FloatArray:
    """CIELAB (..., 3) relative to `D65_WHITE` (ISO/CIE 11664-4). The straight part continues below zero."""
    t = np.asarray(xyz, dtype=np.float64) / D65_WHITE
    f = np.where(t > _EPSILON, np.cbrt(np.maximum(t, _EPSILON)), (_KAPPA * t + 16) / 116)
    fx, fy, fz = f[..., 0], f[..., 1], f[..., 2]
    return np.stack([116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)], axis=-1)


def lab_to_xyz(lab: ArrayLike) -> FloatArray:
    """XYZ (..., 3) from CIELAB (..., 3) relative to `D65_WHITE` (ISO/CIE 11664-4)."""
    values = np.asarray(lab, dtype=np.float64)
    fy = (values[..., 0] + 16) / 116
    f = np.stack([fy + values[..., 1] / 500, fy, fy - values[..., 2] / 200], axis=-1)
    cube = f**3
    return np.where(cube > _EPSILON, cube, (116 * f - 16) / _KAPPA) * D65_WHITE


def lab_slope(xyz: ArrayLike) -> FloatArray:
    """How CIELAB moves with XYZ: the derivative ∂(L*, a*, b*)/∂(X, Y, Z), (..., 3) to (..., 3, 3)."""
    t = np.asarray(xyz, dtype=np.float64) / D65_WHITE
    slope = np.where(t > _EPSILON, np.maximum(t, _EPSILON) ** (-2 / 3) / 3, _KAPPA / 116) / D65_WHITE
    return _LAB_FROM_F * slope[..., None, :]


def lab_to_lch(lab: ArrayLike) -> FloatArray:
    """Lightness, chroma and hue angle (degrees, 0 <= h < 360) from CIELAB. A neutral colour has h = 0."""
    values = np.asarray(lab, dtype=np.float64)
    a, b = values[..., 1], values[..., 2]
    # The second remainder is for angles a rounding below zero, whose first remainder is 360 itself.
    hue_degrees = np.degrees(np.arctan2(b, a)) % 360 % 360
    return np.stack([values[..., 0], np.hypot(a, b), hue_degrees], axis=-1)


def lch_to_lab(lch: ArrayLike) -> FloatArray:
    """CIELAB from lightness, chroma and hue angle in degrees."""
    values = np.asarray(lch, dtype=np.float64)
    hue = np.radians(values[..., 2])
    chroma = values[..., 1]
    return np.stack([values[..., 0], chroma * np.cos(hue), chroma * np.sin(hue)], axis=-1)


def lab_to_code_values(lab: ArrayLike) -> CodeValues:
    """8-bit sRGB codes (..., 3) of CIELAB (..., 3), each channel clamped, with a mask of what was clamped.

    A channel counts as clamped when it is beyond 0..255 by more than half a code.
    """
    codes = encode_srgb(xyz_to_linear_rgb(lab_to_xyz(lab))) * 255
    clipped = np.any((codes < -0.5) | (codes > 255.5), axis=-1)
    return CodeValues(np.rint(np.clip(codes, 0, 255)).astype(np.uint8), clipped)


def lab_to_hex(lab: ArrayLike) -> HexColour:
    """'#rrggbb' for one CIELAB colour (3,), and whether sRGB could not hold it.

    >>> lab_to_hex((50, 0, 0))
    HexColour(text='#777777', clipped=False)
    """
    return _hex_of(*map(float, np.asarray(lab, dtype=np.float64)))


@lru_cache(maxsize=4096)
def _hex_of(lightness: float, a: float, b: float) -> HexColour:
    codes, clipped = lab_to_code_values((lightness, a, b))
    red, green, blue = (int(code) for code in codes)
    return HexColour(f"#{red:02x}{green:02x}{blue:02x}", bool(clipped))


def hex_to_lab(text: str) -> FloatArray:
    """CIELAB (3,) of a colour written '#rrggbb'. ValueError for any other form."""
    if not re.fullmatch(r"#[0-9a-fA-F]{6}", text):
        raise ValueError(f"{text!r} is not a colour written '#rrggbb'")
    codes = [int(text[i : i + 2], 16) for i in (1, 3, 5)]
    return xyz_to_lab(linear_rgb_to_xyz(decode_srgb(np.array(codes) / 255)))


def bradford_adaptation(source_white: ArrayLike, target_white: ArrayLike) -> FloatArray:
    """The (3, 3) matrix that takes XYZ seen under one white to XYZ seen under another (linear Bradford).

    Use as `xyz @ matrix.T`.
    """
    source_cones = _BRADFORD @ np.asarray(source_white, dtype=np.float64)
    target_cones = _BRADFORD @ np.asarray(target_white, dtype=np.float64)
    return np.linalg.inv(_BRADFORD) @ ((target_cones / source_cones)[:, None] * _BRADFORD)
