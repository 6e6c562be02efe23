"""From light to a phone's pixels: lamp colour, sensor crosstalk, white balance, tone curve, grain.

A grey card cannot undo all of it. The lamp acts on each channel before crosstalk mixes them; the phone's
matrix was made for another lamp and adds saturation; the tone curve bends what is left. All of it is
invented, sized to what phones do.
"""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np
from scipy import ndimage as ndi

from tests.demo_pictures.fields import NT, Array, Rng, f32, gf, grain_tile
from tests.demo_pictures.srgb import LINEAR_TO_XYZ, encode


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """A lamp and how the phone met it: channel gains of the lamp, what white balance left, exposure in
    stops.
    """

    name: str
    lamp: tuple[float, float, float]
    balance_left: float = 0.35
    stops: float = 0.0


SALON = Light(name="salon", lamp=(1.05, 1.0, 0.92), balance_left=0.5)
TUNGSTEN = Light(name="tungsten", lamp=(1.42, 0.97, 0.52), balance_left=0.72, stops=-0.2)
COOL_DAYLIGHT = Light(name="cool daylight", lamp=(0.84, 1.0, 1.28), balance_left=0.7, stops=0.08)
GREENISH = Light(name="greenish", lamp=(0.96, 1.12, 0.76), balance_left=0.8, stops=-0.12)
OVERCAST = Light(name="overcast window", lamp=(0.92, 1.0, 1.1), balance_left=0.5, stops=-0.05)
BATHROOM = Light(name="bathroom lamp", lamp=(1.22, 1.0, 0.72), balance_left=0.55, stops=-0.15)
MICROSCOPE = Light(name="microscope", lamp=(1.0, 1.0, 1.0), balance_left=0.0)

# Rows: what red, green and blue photosites see of linear sRGB; the second is what the phone takes it for.
CROSSTALK = np.array([[0.60, 0.31, 0.09], [0.19, 0.66, 0.15], [0.06, 0.31, 0.63]])
ASSUMED_CROSSTALK = np.array([[0.63, 0.30, 0.07], [0.17, 0.70, 0.13], [0.04, 0.28, 0.68]])
SATURATION = 1.07
FLARE = 0.003
GAMMA = 0.97
CONTRAST = 0.10
SHOULDER = 0.88

P3_TO_XYZ = np.array(
    [
        [0.48657095, 0.26566769, 0.19821729],
        [0.22897456, 0.69173852, 0.07928691],
        [0.0, 0.04511338, 1.04394437],
    ]
)  # SMPTE EG 432-1 primaries with D65, computed from the chromaticities
TO_P3 = np.linalg.inv(P3_TO_XYZ) @ LINEAR_TO_XYZ


def sensor_matrix(light: Light) -> Array:
    """Scene to camera-linear sRGB: lamp, crosstalk, white balance, the phone's own matrix (3 x 3)."""
    lamp = np.array(light.lamp)
    seen_white = CROSSTALK @ lamp
    balance = (1 / seen_white) ** (1 - light.balance_left)
    balance = balance / balance[1]
    luma = np.array([0.2126, 0.7152, 0.0722])
    saturate = SATURATION * np.eye(3) + (1 - SATURATION) * luma[None]
    matrix = saturate @ np.linalg.inv(ASSUMED_CROSSTALK) @ np.diag(balance) @ CROSSTALK @ np.diag(lamp)
    green = float((matrix @ np.ones(3))[1])
    return matrix * (2.0**light.stops / green)


def tone(signal: Array) -> Array:
    """A phone's mild contrast curve on the encoded signal (0 to 1)."""
    bent = np.clip(signal, 0, 1) ** GAMMA
    return bent - CONTRAST * np.sin(2 * np.pi * bent) / (2 * np.pi)


def _upright_grain(shape: tuple[int, int], channel: int, offset: tuple[int, int]) -> Array:
    tile = np.roll(grain_tile()[..., channel], offset, (0, 1))
    return np.tile(tile, (shape[0] // 1024 + 1, shape[1] // 1024 + 1))[: shape[0], : shape[1]]


def _vignette(shape: tuple[int, int], strength: float) -> Array:
    rows = (np.arange(shape[0]) / shape[0] - 0.5)[:, None] ** 2
    columns = (np.arange(shape[1]) / shape[1] - 0.5)[None] ** 2
    return (1 - strength * ((rows + columns) * 2) ** 1.3).astype(f32)


def develop(
    scene: Array,
    rng: Rng,
    light: Light,
    *,
    display_p3: bool = False,
    grain: float = 0.0022,
    vignette: float = 0.03,
    sharpen: float = 0.4,
    blur: float = 0.55,
    bloom: float = 0.06,
) -> Array:
    """8-bit pixels (H, W, 3) of a linear scene where 1.0 is white; sRGB code values, or Display P3 ones."""
    shape = scene.shape[:2]
    lin = scene @ sensor_matrix(light).T.astype(f32) + f32(FLARE)
    glare = gf(np.clip(lin[::4, ::4] - 0.5, 0, 1.2), shape[1] / 260.0)
    zoom = (shape[0] / glare.shape[0], shape[1] / glare.shape[1])
    offset = (int(rng.integers(0, 1024)), int(rng.integers(0, 1024)))
    falloff = _vignette(shape, vignette)
    to_output = TO_P3 if display_p3 else np.eye(3)
    out = np.empty((*shape, 3), f32)

    def expose(c: int) -> None:
        halo = ndi.zoom(glare[..., c], zoom, order=1, grid_mode=True, mode="nearest")
        im = lin[..., c] + f32(bloom) * halo[: shape[0], : shape[1]]
        im = ndi.gaussian_filter(im, blur, truncate=3)
        im = im + f32(sharpen) * (im - ndi.gaussian_filter(im, 1.5, truncate=2.5))
        im = np.maximum(im * falloff, 0)
        noise = np.sqrt(f32(grain * grain * 0.3) + im * f32(grain * grain * 5.0))
        im = np.maximum(im + _upright_grain(shape, c, offset) * noise, 0)
        rest = 1 - SHOULDER
        out[..., c] = np.where(im > SHOULDER, SHOULDER + rest * (1 - np.exp((SHOULDER - im) / rest)), im)

    with ThreadPoolExecutor(NT) as pool:
        list(pool.map(expose, range(3)))
    return np.rint(tone(encode(np.maximum(out @ to_output.T, 0))) * 255).astype(np.uint8)
