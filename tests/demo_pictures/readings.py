"""What the finished pictures show: places fit to measure, and the colours measured there against the grey
card.

Boxes are (x, y, width, height) in fractions of the sides after orientation. The measuring is plain on
purpose: mean of the middle lights, one gain per channel from the grey patch. Nothing better is claimed
for it.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy import ndimage as ndi

from tests.demo_pictures.cards import GREY_PATCH, GREY_REFLECTANCE, Corners, mapped_box
from tests.demo_pictures.exposure import TO_P3
from tests.demo_pictures.fields import Array
from tests.demo_pictures.head import Layers
from tests.demo_pictures.scenario import State, Stretch
from tests.demo_pictures.srgb import decode, lab_of_linear, to_hex

Box = tuple[float, float, float, float]
LUMA = np.array([0.2126, 0.7152, 0.0722])
# Sizes in pixels tried for a patch, the largest first; narrow and tall ones follow the parting.
SIZES = ((150, 150), (110, 110), (80, 90), (64, 64), (44, 84), (30, 84), (24, 72), (20, 64))
PURITY = 0.86
PURITY_BY_PART = {
    "new growth": 0.62,
    "violet on natural": 0.62,
    "nape": 0.70,
}  # strips of a centimetre, and skin between clipped hair
# Where a stylist measures in every back view, so that visits compare: middle of the box, fractions.
USUAL_PLACE = {("crown", "mid-lengths"): (0.57, 0.45), ("crown", "ends"): (0.41, 0.60),
               ("sides", "mid-lengths"): (0.70, 0.385), ("nape", "nape"): (0.5, 0.40)}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """A place to measure: zone on the head, band along the strand, the stretch shown and its box."""

    zone: str
    band: str
    stretch: Stretch
    box: Box
    facts: dict[str, Any]


def fractions(pixels: Array, shape: tuple[int, ...]) -> Box:
    """The upright box inside a four-cornered patch, as fractions of the sides."""
    x = np.sort(pixels[:, 0])
    y = np.sort(pixels[:, 1])
    H, W = shape[:2]
    box = (x[1] / W, y[1] / H, (x[2] - x[1]) / W, (y[2] - y[1]) / H)
    return tuple(round(float(v), 4) for v in box)  # type: ignore[return-value]


def grey_box(card: Corners, shape: tuple[int, ...]) -> Box:
    """The 18 % patch of a placed grey card."""
    return fractions(mapped_box(card, GREY_PATCH), shape)


def crop(array: Array, box: Box) -> Array:
    """The part of a picture inside a box."""
    H, W = array.shape[:2]
    x, y, w, h = box
    return array[round(y * H) : round((y + h) * H), round(x * W) : round((x + w) * W)]


def linear_srgb_of(pixels: Array, display_p3: bool) -> Array:
    """Linear sRGB of 8-bit code values in sRGB or Display P3 (which share the curve)."""
    linear = decode(pixels)
    return linear @ np.linalg.inv(TO_P3).T if display_p3 else linear


def middle_colour(linear: Array) -> Array:
    """Mean of the pixels between the 35th and 75th percentile of luminance: neither gaps nor glints."""
    flat = linear.reshape(-1, 3)
    luminance = flat @ LUMA
    low, high = np.percentile(luminance, [35, 75])
    return flat[(luminance >= low) & (luminance <= high)].mean(axis=0)


def _best_box(
    weight: Array, layers: Layers, size: tuple[int, int], purest: float, usual: tuple[float, float] | None
) -> tuple[float, int, int] | None:
    """The box of one size that is purest, well lit and even: score and top left corner."""
    w, h = size

    def mean(a: Array) -> Array:
        box = ndi.uniform_filter(a.astype(np.float32), (h, w), mode="constant")
        return box[h // 2 : -h // 2 or None : 3, w // 2 : -w // 2 or None : 3]

    shown = weight * np.clip(layers.coverage, 0, 1)
    purity = mean(shown)
    light = layers.scene @ LUMA
    brightness, spread = mean(light), mean(light * light)
    spread = np.sqrt(np.maximum(spread - brightness**2, 0)) / np.maximum(brightness, 1e-3)
    fit = purity > purest
    if not fit.any():
        return None
    truth = np.maximum(mean((layers.albedo @ LUMA) * shown) / np.maximum(purity, 1e-3), 1e-3)
    score = purity - 0.35 * np.abs(np.log(np.maximum(brightness, 1e-3) / truth)) - 0.35 * spread
    if usual is not None:
        rows = (np.arange(score.shape[0]) * 3 + h / 2)[:, None] / weight.shape[0] - usual[1]
        columns = (np.arange(score.shape[1]) * 3 + w / 2)[None] / weight.shape[1] - usual[0]
        score = score - 1.5 * np.hypot(rows, columns)
    score = np.where(fit, score, -9.0)
    row, column = np.unravel_index(int(score.argmax()), score.shape)
    return float(score[row, column]), int(column) * 3, int(row) * 3


def find_box(
    weight: Array, layers: Layers, smallest: int = 20, purest: float = PURITY,
    usual: tuple[float, float] | None = None,
) -> Box | None:  # fmt: skip
    """The largest good box where `weight` (H x W, 0 to 1) says the hair is the wanted one, or None."""
    H, W = weight.shape
    for w, h in SIZES[1:] if usual else SIZES:
        found = _best_box(weight, layers, (w, h), purest, usual) if min(w, h) >= smallest else None
        if found is not None:
            _, x, y = found
            return round(x / W, 4), round(y / H, 4), round(w / W, 4), round(h / H, 4)
    return None


def patches_of(
    state: State, layers: Layers, *, zones: bool, places: bool = False
) -> list[tuple[str, str, Stretch, Box]]:
    """Zone, band, stretch and box of everything this picture shows well enough."""
    found = []
    everything = [*enumerate(state.strand), (layers.stretches.shape[-1] - 1, state.nape)]
    for i, stretch in everything:
        weight = layers.stretches[..., i]
        options = [("crown", 1 - layers.sides), ("sides", layers.sides)] if zones else [("crown", 1.0)]
        if stretch.band == "nape":
            options = [("nape", 1.0)]
        for zone, where in options:
            if zone == "sides" and stretch.band == "roots":
                continue
            root = stretch.band == "roots"
            usual = USUAL_PLACE.get((zone, stretch.band)) if places else None
            purest = PURITY_BY_PART.get(stretch.part, PURITY)
            # Purest first: a small clean box beats a large mixed one.
            for purity in sorted({PURITY, (PURITY + purest) / 2, purest}, reverse=True):
                box = find_box(weight * where, layers, 20 if root else 44, purity, usual)
                if box is not None:
                    break
            if box is not None:
                band = "roots" if stretch.band == "nape" else stretch.band
                found.append((zone, band, stretch, box))
    return found


def measure(pixels: Array, box: Box, neutral: Box, display_p3: bool) -> dict[str, Any]:
    """Raw and grey-calibrated colour of a box in finished pixels."""
    grey = np.median(linear_srgb_of(crop(pixels, neutral), display_p3).reshape(-1, 3), axis=0)
    raw = middle_colour(linear_srgb_of(crop(pixels, box), display_p3))
    calibrated = raw * (GREY_REFLECTANCE / grey)
    return {
        "measured_raw_hex": to_hex(raw),
        "measured_hex": to_hex(calibrated),
        "measured_lab": [round(float(v), 2) for v in lab_of_linear(calibrated)],
    }
