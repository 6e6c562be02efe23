"""Strands of hair close up: layered fibres with shade, gaps, white gloss and a coloured second gloss.

Our own construction: plausible, not validated against real hair. Its use is that the truth is known at every
pixel: which strand colour shows, what the mean light is, and which albedo each strand has.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from journey.colour.spaces import decode_srgb, encode_srgb

FloatArray = NDArray[np.float64]

_LAYERS = 4
_FILLED_SHARE = 0.62  # of the slots of each layer
_AMBIENT = 0.35


@dataclass(frozen=True, slots=True, kw_only=True)
class Light:
    """Where the gloss falls along the strand (0..1 of the height), how strong it is, and on which side."""

    height: float = 0.5
    gloss: float = 0.35
    side: float = 0.15


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class StrandPicture:
    """`linear` (H, W, 3) noise-free linear sRGB; `labels` (H, W) index of the strand colour, -1 in gaps."""

    linear: FloatArray
    labels: NDArray[np.int_]


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class _Strand:
    albedo: FloatArray
    label: int
    centre: float
    slope: float
    half_width: float
    gloss_height: float
    gloss_factor: float
    depth_factor: float


def render_strands(
    rng: np.random.Generator,
    albedos: ArrayLike,
    shares: ArrayLike,
    *,
    height: int = 160,
    width: int = 220,
    pixels_per_strand: float = 12.0,
    light: Light | None = None,
) -> StrandPicture:
    """A field of near-vertical strands, each of one colour drawn by its share of all strands.

    `albedos` (K, 3) in linear sRGB, `shares` (K,) adding up to 1.
    """
    light = light or Light()
    colours = np.atleast_2d(np.asarray(albedos, dtype=np.float64))
    linear = np.full((height, width, 3), 0.01) * colours.mean(axis=0)
    labels = np.full((height, width), -1)
    waves = rng.uniform(0, 2 * np.pi, 2)
    rows = np.arange(height)[:, None]
    shade = 1 + 0.18 * np.sin(2.2 * np.pi * rows / height + waves[0]) * np.sin(waves[1] + np.arange(width) / width)
    for depth in range(_LAYERS - 1, -1, -1):
        for strand in _layer(rng, colours, np.asarray(shares), depth, width, pixels_per_strand, light):
            _paint(linear, labels, strand, shade, light)
    return StrandPicture(linear=linear, labels=labels)


def photographed(
    rng: np.random.Generator, picture: StrandPicture, *, exposure: float = 1.0, noise: float = 0.006
) -> FloatArray:
    """The picture as 8-bit encoded sRGB in 0..1 (H, W, 3), with noise and clipping."""
    signal = picture.linear * exposure
    noisy = signal + rng.normal(0, noise, signal.shape) * np.sqrt(np.maximum(signal, 0.01))
    codes: FloatArray = np.round(encode_srgb(np.clip(noisy, 0, 1)) * 255) / 255
    return codes


def decoded(codes: FloatArray) -> tuple[FloatArray, NDArray[np.bool_]]:
    """Linear pixels (N, 3) and clipped mask (N,) of an encoded picture."""
    flat = codes.reshape(-1, 3)
    return decode_srgb(flat), np.any((flat >= 254 / 255) | (flat <= 1 / 255), axis=1)


def _layer(
    rng: np.random.Generator,
    colours: FloatArray,
    shares: FloatArray,
    depth: int,
    width: int,
    pixels_per_strand: float,
    light: Light,
) -> list[_Strand]:
    strands = []
    for slot in range(-1, int(width / pixels_per_strand) + 2):
        if rng.random() > _FILLED_SHARE:
            continue
        label = int(rng.choice(len(colours), p=shares))
        load = np.exp(rng.normal(0, 0.06))  # some strands took up a little more colour than others
        strands.append(
            _Strand(
                albedo=colours[label] ** load,
                label=label,
                centre=(slot + rng.uniform(-0.4, 0.4)) * pixels_per_strand,
                slope=rng.normal(0, 0.03),
                half_width=pixels_per_strand / 2 * np.exp(rng.normal(0, 0.15)),
                gloss_height=light.height + rng.normal(0, 0.12),
                gloss_factor=light.gloss * np.exp(rng.normal(0, 0.4)),
                depth_factor=np.exp(-0.55 * depth) * np.exp(rng.normal(0, 0.08)),
            )
        )
    return strands


def _paint(linear: FloatArray, labels: NDArray[np.int_], strand: _Strand, shade: FloatArray, light: Light) -> None:
    height, width = labels.shape
    ends = (strand.centre, strand.centre + strand.slope * height)
    left = max(0, int(min(ends) - strand.half_width) - 1)
    right = min(width, int(max(ends) + strand.half_width) + 3)
    if left >= right:
        return
    seen = (slice(None), slice(left, right))
    rows, columns = np.arange(height)[:, None], np.arange(left, right)[None, :]
    across = (columns - strand.centre - strand.slope * rows) / strand.half_width
    facing = np.sqrt(np.clip(1 - across**2, 0, 1))
    along = rows / height - strand.gloss_height
    diffuse = (_AMBIENT + (1 - _AMBIENT) * facing) * shade[seen] * strand.depth_factor
    gloss = (
        strand.gloss_factor
        * strand.depth_factor
        * np.exp(-((along / 0.14) ** 2) - ((across - light.side) / 0.35) ** 2)
    )
    second = 0.5 * gloss.max() * np.exp(-(((along - 0.18) / 0.2) ** 2)) * facing * strand.depth_factor
    colour = diffuse[..., None] * strand.albedo + gloss[..., None] * 0.5 + second[..., None] * strand.albedo**1.5
    cover = np.clip((1 - np.abs(across)) * strand.half_width + 0.5, 0, 1)
    linear[seen] += cover[..., None] * (colour - linear[seen])
    labels[seen][cover > 0.5] = strand.label
