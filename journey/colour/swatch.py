"""The colour of a patch of hair, from all its pixels: as seen from afar, and of its body without the gloss.

Decides the two statistics and what they leave out. Hair has no one colour in a photo: gloss, gaps and shade
vary from strand to strand. *From afar* is what the eye mixes at a distance: the mean in linear light. *Body*
is the colour of the light that went through the fibre: hue and chroma from the pixels with the least white
sheen, lightness from the middle of the luminances. Encoded values and CIELAB are never averaged: on simulated
strands that errs by 2.7 to 3.0 CIEDE2000 on average, against 0.1.

Which pixels belong to the patch, and whether the patch is good enough to be believed, are decided elsewhere
(`photo_checks`).
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from journey.colour.calibrate import Calibration
from journey.colour.reason import ReasonError
from journey.colour.spaces import FloatArray, Lab, as_lab, xyz_to_lab, xyz_to_linear_rgb

_FEWEST_PIXELS: Final = 100
_GAP: Final = 0.003  # linear; about code 10 of 255
# Chosen on simulated strands: darker is gaps, brighter is gloss; the least sheen is looked for in between.
_BODY_WINDOW: Final = (0.25, 0.90)
_LEAST_SHEEN_SHARE: Final = 0.33
_LIGHTNESS_WINDOW: Final = (0.10, 0.90)


class NotReadableError(ReasonError):
    """The patch has too few usable pixels; the reason says how many."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Swatch:
    """One patch read. `lightness_spread` is L* of the 90 % quantile minus L* of the 10 % quantile."""

    from_afar_lab: Lab
    body_lab: Lab
    lightness_spread: float
    pixels_used: int
    clipped_share: float


def read_swatch(linear_rgb: ArrayLike, clipped: ArrayLike, calibration: Calibration) -> Swatch:
    """Read a patch of hair from decoded linear RGB (N, 3) and its mask of clipped pixels (N,).

    Clipped pixels are left out and counted, except those black in all channels.
    NotReadableError below 100 usable pixels.
    """
    pixels, clipped_mask = np.asarray(linear_rgb, dtype=np.float64), np.asarray(clipped, dtype=np.bool_)
    lost = lost_pixels(pixels, clipped_mask)
    usable = pixels[~lost]
    if len(usable) < _FEWEST_PIXELS:
        raise NotReadableError("patch-unreadable", n=len(usable), all=len(pixels), fewest=_FEWEST_PIXELS)
    xyz = calibration.to_xyz(usable)
    dark, light = np.quantile(xyz_to_lab(xyz)[:, 0], (0.10, 0.90))
    return Swatch(
        from_afar_lab=as_lab(xyz_to_lab(xyz.mean(axis=0))),
        body_lab=as_lab(xyz_to_lab(body_xyz(xyz))),
        lightness_spread=float(light - dark),
        pixels_used=len(usable),
        clipped_share=float(lost.mean()),
    )


def lost_pixels(linear_rgb: FloatArray, clipped: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Which pixels (N, 3) have lost their colour: clipped (N,), unless dark in every channel.

    A gap between strands is black, rather than cut off.
    """
    lost: NDArray[np.bool_] = clipped & (linear_rgb.max(axis=1, initial=0.0) >= _GAP)
    return lost


def body_xyz(xyz: FloatArray) -> FloatArray:
    """XYZ (3,) of the hair's body colour, from calibrated XYZ pixels (N, 3)."""
    luminance = xyz[:, 1]
    low, high = np.quantile(luminance, _BODY_WINDOW)
    window = xyz[(luminance >= low) & (luminance <= high)]
    rgb = xyz_to_linear_rgb(window)
    sheen = rgb.min(axis=1) / np.maximum(rgb.mean(axis=1), 1e-6)
    colour = window[sheen <= np.quantile(sheen, _LEAST_SHEEN_SHARE)].mean(axis=0)
    low, high = np.quantile(luminance, _LIGHTNESS_WINDOW)
    middle = luminance[(luminance >= low) & (luminance <= high)].mean()
    body: FloatArray = colour * (middle / max(float(colour[1]), 1e-9))
    return body
