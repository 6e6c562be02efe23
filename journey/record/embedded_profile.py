"""The colour profile inside a photo: which primaries and curves its numbers are written in.

It decides whether a profile is sRGB or Display P3 (whose exact matrices are then used), another profile of
three primaries (computed here in floating point), or one made of tables, left to LittleCMS at 8 bits.
Layout and arithmetic: ICC.1:2022 (profile version 4.4), sections 7, 8.3, 10.6, 10.18, 10.31 and F.3.
"""

from __future__ import annotations

import struct
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from journey.colour.spaces import (
    D65_WHITE,
    bradford_adaptation,
    decode_srgb,
    linear_rgb_to_xyz,
    xyz_to_linear_rgb,
)

FloatArray = NDArray[np.float64]
NamedPrimaries = Literal["srgb", "display-p3"]

D50_WHITE: Final = np.array([0.9642, 1.0, 0.8249])
"""The white of the profile connection space (ICC.1:2022, 7.2.16)."""

_SAME_COLORANT: Final = 0.003
"""Profile makers round and adapt a little differently; sRGB and Display P3 lie 0.08 apart."""
_SAME_CURVE: Final = 0.004
"""In linear light: a curve that strays less is the sRGB curve as its maker rounded it (a judgement)."""
_CODES: Final = np.arange(256) / 255.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MatrixProfile:
    """A profile of three primaries and three curves."""

    to_xyz_d50: FloatArray
    """3 x 3; columns are the primaries' XYZ relative to D50."""
    curves: FloatArray
    """256 x 3: linear light for each 8-bit code of red, green and blue."""
    primaries: NamedPrimaries | None
    """The name, when it is one of the two that screens and phones use."""

    @property
    def is_srgb(self) -> bool:
        """True when its numbers are plain sRGB, curve and all."""
        return self.primaries == "srgb" and bool(np.array_equal(self.curves, _srgb_curves()))

    def linear(self, codes: NDArray[np.uint8]) -> tuple[FloatArray, NamedPrimaries]:
        """Linear RGB of encoded pixels.

        Args:
            codes: uint8, shape (..., 3).

        Returns:
            float64 of the same shape and the primaries it is in: the profile's own when they have a name,
            else sRGB's, then below 0 or above 1 where sRGB can not hold the colour.
        """
        light = np.stack([self.curves[codes[..., i], i] for i in range(3)], axis=-1)
        if self.primaries is not None:
            return light, self.primaries
        to_d65 = bradford_adaptation(D50_WHITE, D65_WHITE) @ self.to_xyz_d50
        return xyz_to_linear_rgb(light @ to_d65.T), "srgb"


def named_profile(primaries: NamedPrimaries) -> MatrixProfile:
    """The profile of a photo that carries none but whose primaries are known; both use the sRGB curve."""
    return MatrixProfile(
        to_xyz_d50=_d50_colorants(primaries),
        curves=_srgb_curves(),
        primaries=primaries,
    )


def read_profile(icc: bytes) -> MatrixProfile | None:
    """The primaries and curves of an RGB profile; None when it is made of tables, is of another kind of
    colour, or can not be understood.
    """
    try:
        # An absurd exponent overflows; the result is then not finite and the profile is not understood.
        with np.errstate(all="ignore"):
            return _read_matrix_profile(icc)
    except (struct.error, LookupError, ValueError, ArithmeticError):
        return None


def _read_matrix_profile(icc: bytes) -> MatrixProfile | None:
    if icc[16:20] != b"RGB " or icc[20:24] != b"XYZ ":
        return None
    tags = _tags(icc)
    # Where a profile holds tables too, they are the maker's preferred road, and the matrix a stand-in.
    if b"A2B0" in tags or b"D2B0" in tags:
        return None
    matrix = np.array([_xyz(tags[name]) for name in (b"rXYZ", b"gXYZ", b"bXYZ")]).T
    curves = np.stack([_curve(tags[name]) for name in (b"rTRC", b"gTRC", b"bTRC")], axis=1)
    if np.max(np.abs(curves - _srgb_curves())) < _SAME_CURVE:
        curves = _srgb_curves()
    if not (np.isfinite(matrix).all() and np.isfinite(curves).all()):
        return None
    return MatrixProfile(to_xyz_d50=matrix, curves=curves, primaries=_name_of(matrix))


def _srgb_curves() -> FloatArray:
    return np.repeat(decode_srgb(_CODES)[:, None], 3, axis=1)


def _name_of(matrix: FloatArray) -> NamedPrimaries | None:
    names: tuple[NamedPrimaries, ...] = ("srgb", "display-p3")
    for name in names:
        if np.max(np.abs(matrix - _d50_colorants(name))) < _SAME_COLORANT:
            return name
    return None


def _d50_colorants(primaries: NamedPrimaries) -> FloatArray:
    to_xyz_d65 = linear_rgb_to_xyz(np.eye(3), primaries).T
    adapted: FloatArray = bradford_adaptation(D65_WHITE, D50_WHITE) @ to_xyz_d65
    return adapted


def _tags(icc: bytes) -> dict[bytes, bytes]:
    """Tag signature -> tag data (ICC.1:2022, 7.3)."""
    (count,) = struct.unpack_from(">I", icc, 128)
    if count > 200:
        raise ValueError("too many tags")
    entries = (struct.unpack_from(">4sII", icc, 132 + 12 * i) for i in range(count))
    return {name: icc[offset : offset + size] for name, offset, size in entries}


def _xyz(tag: bytes) -> tuple[float, float, float]:
    """An XYZType (10.31): three s15Fixed16 numbers."""
    x, y, z = struct.unpack_from(">3i", tag, 8)
    return x / 65536, y / 65536, z / 65536


def _curve(tag: bytes) -> FloatArray:
    """Linear light at the 256 codes, from a curveType (10.6) or parametricCurveType (10.18)."""
    if tag[:4] == b"curv":
        return _table_curve(tag)
    if tag[:4] == b"para":
        return _parametric_curve(tag)
    raise ValueError("unknown curve")


def _table_curve(tag: bytes) -> FloatArray:
    (count,) = struct.unpack_from(">I", tag, 8)
    if count == 0:
        return _CODES
    values = np.array(struct.unpack_from(f">{count}H", tag, 12), dtype=np.float64)
    if count == 1:
        return np.asarray(_CODES ** (values[0] / 256))
    return np.interp(_CODES, np.linspace(0, 1, count), values / 65535)


def _parametric_curve(tag: bytes) -> FloatArray:
    """Function types 0 to 4 of Table 68: Y = (aX + b)^g + e from X = d on, cX + f below."""
    (kind,) = struct.unpack_from(">H", tag, 8)
    count = (1, 3, 4, 5, 7)[kind]
    given = [value / 65536 for value in struct.unpack_from(f">{count}i", tag, 12)]
    g, a, b, c, d, e, f = (given + [0.0] * 7)[:7]
    if kind == 0:
        return np.asarray(_CODES**g)
    if kind in (1, 2):
        # From -b/a on; below it 0 (type 1) or the constant c (type 2).
        e = f = c if kind == 2 else 0.0
        c, d = 0.0, -b / a
    power = np.maximum(a * _CODES + b, 0.0) ** g + e
    return np.asarray(np.where(d <= _CODES, power, c * _CODES + f), dtype=np.float64)
