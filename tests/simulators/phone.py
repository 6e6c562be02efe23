"""A phone photographs patches: sensor, white balance, matrix, exposure, flare, noise, tone curve, 8 bits.

Our own model, not a measured phone: it lacks local tone mapping, JPEG chroma subsampling and real gamut
mapping (clipping is a hard clamp).
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from journey.colour.spaces import (
    D65_WHITE,
    Primaries,
    decode_srgb,
    encode_srgb,
    linear_rgb_to_xyz,
    xyz_to_linear_rgb,
)
from tests.simulators.spectra import (
    CHARTS,
    LAMP_KELVIN,
    LAMPS,
    OBSERVER_2_DEGREES,
    SENSORS,
    FloatArray,
)

_LUMINANCE = np.array([0.2126, 0.7152, 0.0722])
_CODE_NEAR_WHITE, _CODE_NEAR_BLACK = 254 / 255, 1 / 255


@dataclass(frozen=True, slots=True)
class Phone:
    """What belongs to the phone and stays the same from visit to visit."""

    sensor: str
    primaries: Primaries
    saturation: float
    gamma: float
    contrast: float


@dataclass(frozen=True, slots=True, eq=False)
class Shot:
    """One photo's patches.

    `means` (N, 3) is decoded linear RGB in the phone's own primaries; `clipped` (N,) marks patches with more
    than 5 % of their pixels at a channel's end.
    """

    means: FloatArray
    clipped: NDArray[np.bool_]


def draw_phone(rng: np.random.Generator, sensor: str, primaries: Primaries = "srgb") -> Phone:
    """A phone with this sensor and a random rendering taste."""
    return Phone(
        sensor=sensor,
        primaries=primaries,
        saturation=1 + rng.uniform(0, 0.18),
        gamma=1 + rng.uniform(-0.12, 0.05),
        contrast=rng.uniform(0, 0.35),
    )


def photograph(
    rng: np.random.Generator,
    phone: Phone,
    lamp: str,
    reflectances: FloatArray,
    irradiance: FloatArray | None = None,
    pixels: int = 200,
) -> Shot:
    """One photo of patches (N, 81), each lit by its own share (N,) of the lamp."""
    balanced = raw_signal(reflectances, phone.sensor, lamp) * _white_balance_error(rng, lamp)
    if irradiance is not None:
        balanced = balanced * irradiance[:, None]
    exposure = 0.80 * 2 ** np.clip(rng.normal(0, 0.35), -1, 0.5)
    flare = rng.uniform(0.002, 0.010) * exposure * 0.25
    signal = _with_noise(rng, balanced * exposure + flare, pixels)
    guessed_kelvin = LAMP_KELVIN[lamp] * np.exp(rng.normal(0, 0.08))
    linear = signal @ _phone_matrix(phone, guessed_kelvin).T
    if phone.primaries != "srgb":
        linear = xyz_to_linear_rgb(linear_rgb_to_xyz(linear), phone.primaries)
    codes = _rendered(rng, phone, linear)
    clipped_channels = (codes >= _CODE_NEAR_WHITE) | (codes <= _CODE_NEAR_BLACK)
    return Shot(decode_srgb(codes).mean(axis=1), clipped_channels.mean(axis=1).max(axis=1) > 0.05)


def raw_signal(reflectances: FloatArray, sensor: str, lamp: str) -> FloatArray:
    """Noise-free sensor values (N, 3), divided by those of a perfect white."""
    response = SENSORS[sensor] * LAMPS[lamp][:, None]
    raw: FloatArray = (reflectances @ response) / response.sum(axis=0)
    return raw


def _white_balance_error(rng: np.random.Generator, lamp: str) -> FloatArray:
    """Automatic white balance misses a little, and leaves warm light a little warm."""
    warmth = max(0.0, (4500 - LAMP_KELVIN[lamp]) / 2000) * 0.06
    error: FloatArray = np.exp(np.array([rng.normal(0, 0.05) + warmth, 0, rng.normal(0, 0.05) - warmth]))
    return error


def _with_noise(rng: np.random.Generator, signal: FloatArray, pixels: int) -> FloatArray:
    """(N, pixels, 3) with shot and read noise, clamped as a full well is."""
    noise = rng.normal(0, 1, (len(signal), pixels, 3))
    spread = 0.018 * np.sqrt(np.maximum(signal, 0) + 0.0015)
    return np.clip(signal[:, None, :] + noise * spread[:, None, :], 0, 1)


def _rendered(rng: np.random.Generator, phone: Phone, linear: FloatArray) -> FloatArray:
    gamma = phone.gamma * np.exp(rng.normal(0, 0.02))
    contrast = np.clip(phone.contrast + rng.normal(0, 0.05), 0, 0.6)
    toned = np.clip(encode_srgb(np.clip(linear, 0, 1)), 0, 1) ** gamma
    toned = np.clip(toned - contrast * np.sin(2 * np.pi * toned) / (2 * np.pi), 0, 1)
    codes: FloatArray = np.round(toned * 255) / 255
    return codes


@cache
def _matrix_for_lamp(sensor: str, lamp: str) -> FloatArray:
    """Balanced raw to linear sRGB, white kept white: least squares on the chart, as a maker would fit it."""
    chart = CHARTS["ISO 17321-1"]
    patches = raw_signal(chart, sensor, lamp)
    weights = OBSERVER_2_DEGREES * LAMPS[lamp][:, None]
    xyz = chart @ weights / weights.sum(axis=0) * D65_WHITE
    targets = np.clip(xyz_to_linear_rgb(xyz), 0, None)
    rows = []
    for channel in range(3):
        free = patches[:, :2] - patches[:, 2:]
        solution = np.linalg.lstsq(free, targets[:, channel] - patches[:, 2], rcond=None)[0]
        rows.append([*solution, 1 - solution.sum()])
    return np.array(rows)


def _phone_matrix(phone: Phone, kelvin: float) -> FloatArray:
    mired_share = np.clip((1e6 / kelvin - 1e6 / 6504) / (1e6 / 2856 - 1e6 / 6504), 0, 1)
    daylight, tungsten = (_matrix_for_lamp(phone.sensor, lamp) for lamp in ("D65", "A"))
    saturate = phone.saturation * np.eye(3) + (1 - phone.saturation) * _LUMINANCE
    matrix: FloatArray = saturate @ ((1 - mired_share) * daylight + mired_share * tungsten)
    return matrix
