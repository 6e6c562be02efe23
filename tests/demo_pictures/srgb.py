"""sRGB (IEC 61966-2-1), XYZ and CIELAB under D65, for arrays whose last axis is the colour.

Deliberately apart from the package's own colour code: the truth must not share the mistakes of what it
judges. Linear values are relative to a diffuser that reflects everything (1.0); Lab is CIE 1976, D65, 2
degrees.
"""

import numpy as np

from tests.demo_pictures.fields import Array, f32

LINEAR_TO_XYZ = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
)  # IEC 61966-2-1:1999, four digits as printed there
XYZ_TO_LINEAR = np.linalg.inv(LINEAR_TO_XYZ)
# The white all three channels at one make, so that neutral is exactly neutral.
WHITE_XYZ = LINEAR_TO_XYZ.sum(axis=1)


def decode(code: Array) -> Array:
    """Linear light (0 to 1) of 8-bit sRGB code values."""
    c = np.asarray(code, np.float64) / 255.0
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4).astype(f32)


def encode(linear: Array) -> Array:
    """The sRGB signal (0 to 1) of linear light; values above one stay above one."""
    c = np.clip(linear, 0, None)
    return np.where(c <= 0.0031308, c * 12.92, 1.055 * np.power(np.maximum(c, 1e-8), 1 / 2.4) - 0.055)


def from_hex(text: str) -> Array:
    """Linear light of `#rrggbb`."""
    digits = text.lstrip("#")
    return decode(np.array([int(digits[i : i + 2], 16) for i in (0, 2, 4)]))


def to_hex(linear: Array) -> str:
    """`#rrggbb` of linear light, clipped into the gamut."""
    return "#" + "".join(f"{round(float(v) * 255):02x}" for v in np.clip(encode(linear), 0, 1))


def lab_of_xyz(xyz: Array, white: Array = WHITE_XYZ) -> Array:
    """CIELAB (CIE 15:2004) of XYZ; both on the scale where the white has Y = 1."""
    ratio = np.asarray(xyz, np.float64) / white
    f = np.where(ratio > 216 / 24389, np.cbrt(np.maximum(ratio, 0)), (24389 / 27 * ratio + 16) / 116)
    return np.stack([116 * f[..., 1] - 16, 500 * (f[..., 0] - f[..., 1]), 200 * (f[..., 1] - f[..., 2])], -1)


def lab_of_linear(linear: Array) -> Array:
    """CIELAB of linear sRGB."""
    return lab_of_xyz(np.asarray(linear, np.float64) @ LINEAR_TO_XYZ.T)
