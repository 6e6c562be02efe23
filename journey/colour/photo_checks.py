"""Is a photo fit to be measured? Sharpness, clipping, size of the patch, evenness of the light, framing.

Decides the measures, their limits and the reason each gives. What is done with a photo that fails (its readings
count for less, or not) is left to whoever asks. The limits are ours, set on simulated strands and pictures;
no standard gives any for hair.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from journey.colour.reason import Reason
from journey.colour.swatch import lost_pixels

# Sharp pictures of hair stay below 0.4; a gaussian blur of 3 pixels in 1600 lifts them past 0.66.
MOST_BLUR: Final = 0.60
# A blurred picture whose noise is a tenth of its contrast passes as sharp: noise is sharp. Sharp pictures of hair
# stay below 0.04.
MOST_NOISE: Final = 0.10
# One channel at its end moves a colour by 4 to 9 CIEDE2000 without any other sign.
MOST_CLIPPED_SHARE: Final = 0.05
# About 40 x 40: below, single strands decide the reading.
FEWEST_PATCH_PIXELS: Final = 1600
# Assumption, no source: a lamp is changed, a phone is updated; a chart photo a season old says little of today.
MOST_PROFILE_DAYS: Final = 60
# Relative change of the light across the neutral patch, which is smaller than the way from it to the hair.
MOST_UNEVENNESS: Final = 0.10

_BLUR_WINDOW: Final = 11
_LARGEST_SIDE: Final = 1600
_ROWS_AT_ONCE: Final = 64
_LUMA: Final = (np.array([0.2126, 0.7152, 0.0722]) / 255).astype(np.float32)


@dataclass(frozen=True, slots=True)
class PhotoCheck:
    """One check: `name` is stable, `value` is None where it could not be measured."""

    name: str
    passed: bool
    value: float | None
    limit: float
    reason: Reason


def photo_checks(encoded: ArrayLike, neutral_linear: ArrayLike | None = None) -> tuple[PhotoCheck, ...]:
    """Checks of a whole photo: sharpness, and with a neutral patch the evenness of the light across it.

    `encoded` (rows, columns, 3) is uint8, `neutral_linear` (rows, columns, 3) the decoded neutral patch.
    """
    checks = [sharpness_check(encoded)]
    if neutral_linear is not None:
        checks.append(evenness_check(neutral_linear))
    return tuple(checks)


def patch_checks(linear_rgb: ArrayLike, clipped: ArrayLike) -> tuple[PhotoCheck, ...]:
    """Size and clipped share of one patch of hair. Shapes (rows, columns, 3), (rows, columns)."""
    return size_check(clipped), clipping_check(linear_rgb, clipped)


def sharpness_check(encoded: ArrayLike) -> PhotoCheck:
    """Blur of an encoded picture (rows, columns, 3) in 0..255, judged at 1600 pixels on its longer side."""
    luma = _reduced(_luma(np.asarray(encoded)))
    if min(luma.shape) <= 2 * _BLUR_WINDOW:
        return PhotoCheck("sharpness", True, None, MOST_BLUR, Reason("sharpness-not-judged"))
    value = blur(luma)
    if value <= MOST_BLUR and noise(luma) > MOST_NOISE * float(luma.std()):
        return PhotoCheck("sharpness", False, value, MOST_BLUR, Reason("noise-hides-blur"))
    passed = value <= MOST_BLUR
    return PhotoCheck("sharpness", passed, value, MOST_BLUR, Reason("sharp" if passed else "blurred"))


def blur(luma: NDArray[np.floating]) -> float:
    """0 (sharp) to 1 (blurred) of a picture (rows, columns): "The blur effect", Crété-Roffet et al. 2007.

    A sharp picture loses most of its steps when blurred once more; a blurred one loses few. The paper tells
    the two directions apart; here they are added up: strands run one way, and along them little changes.
    """
    kept = total = 0.0
    single = np.ascontiguousarray(luma, dtype=np.float32)
    for picture in (single, np.ascontiguousarray(single.T)):
        # A few rows at a time stay in the processor's cache: eight times as fast as the whole picture at once.
        for top in range(0, len(picture) - 2, _ROWS_AT_ONCE):
            steps, kept_steps = _steps_along_rows(picture[top : top + _ROWS_AT_ONCE + 2])
            total += steps
            kept += kept_steps
    return 1.0 if total == 0 else 1 - kept / total


def noise(luma: NDArray[np.floating]) -> float:
    """Standard deviation of the noise of a picture (rows, columns), in its own unit; 0 below three rows.

    "Fast noise variance estimation", Immerkær 1996 (from memory): the mean of what is left when all that runs on
    evenly is taken out. Fine strands count in, so it is an upper bound.
    """
    if min(luma.shape) < 3:
        return 0.0
    single = np.ascontiguousarray(luma, dtype=np.float32)
    total = 0.0
    for top in range(0, len(single) - 2, _ROWS_AT_ONCE):
        rows = single[top : top + _ROWS_AT_ONCE + 2]
        across = rows[:-2] - 2 * rows[1:-1] + rows[2:]
        left = across[:, :-2] - 2 * across[:, 1:-1] + across[:, 2:]
        total += float(np.abs(left).sum(dtype=np.float64))
    places = (len(single) - 2) * (len(single[0]) - 2)
    return total / places * math.sqrt(math.pi / 2) / 6


def _steps_along_rows(luma: NDArray[np.float32]) -> tuple[float, float]:
    """Sum of the steps from column to column (Sobel), and of what they lose when the rows are softened.

    The first and last row serve as neighbours only; columns whose softening would reach outside are left out.
    The step of a mean over a window is the difference of its two ends.
    """
    half = _BLUR_WINDOW // 2
    across = luma[:-2] + luma[2:]
    across += luma[1:-1]
    across += luma[1:-1]
    first, last = half + 2, luma.shape[1] - half - 2
    steps = np.abs(across[:, first + 1 : last + 1] - across[:, first - 1 : last - 1])
    softened = across[:, first + half + 1 : last + half + 1] - across[:, first - half - 1 : last - half - 1]
    softened += across[:, first + half : last + half]
    softened -= across[:, first - half : last - half]
    np.abs(softened, out=softened)
    softened /= _BLUR_WINDOW
    lost = np.maximum(steps - softened, 0)
    return float(steps.sum(dtype=np.float64)), float(lost.sum(dtype=np.float64))


def clipping_check(linear_rgb: ArrayLike, clipped: ArrayLike) -> PhotoCheck:
    """Share of pixels (rows, columns) with a channel at its end; gaps dark in every channel do not count."""
    pixels = np.asarray(linear_rgb, dtype=np.float64).reshape(-1, 3)
    lost = lost_pixels(pixels, np.asarray(clipped, dtype=np.bool_).ravel())
    value = float(lost.mean()) if lost.size else 1.0
    passed = value <= MOST_CLIPPED_SHARE
    reason = Reason("not-clipped") if passed else Reason("clipped", percent=100 * value)
    return PhotoCheck("clipping", passed, value, MOST_CLIPPED_SHARE, reason)


def size_check(pixels: ArrayLike) -> PhotoCheck:
    """Whether a patch, given as any array (rows, columns), has pixels enough for more than a strand."""
    count = int(np.asarray(pixels).size)
    passed = count >= FEWEST_PATCH_PIXELS
    reason = Reason("patch-large-enough") if passed else Reason("patch-small", n=count)
    return PhotoCheck("patch size", passed, float(count), float(FEWEST_PATCH_PIXELS), reason)


def evenness_check(neutral_linear: ArrayLike) -> PhotoCheck:
    """Relative change of light over a neutral patch (rows, columns, 3): a plane through its logarithm."""
    light = np.asarray(neutral_linear, dtype=np.float64).mean(axis=-1)
    if min(light.shape) < 4 or np.median(light) <= 0:
        return PhotoCheck("even light", True, None, MOST_UNEVENNESS, Reason("evenness-not-judged"))
    rows, columns = light.shape
    down, across = np.meshgrid(np.linspace(-0.5, 0.5, rows), np.linspace(-0.5, 0.5, columns), indexing="ij")
    plane = np.stack([down.ravel(), across.ravel(), np.ones(light.size)], axis=1)
    logarithm = np.log(np.maximum(light, 1e-4)).ravel()
    slopes = np.linalg.lstsq(plane, logarithm, rcond=None)[0]
    value = float(np.expm1(abs(slopes[0]) + abs(slopes[1])))
    passed = value <= MOST_UNEVENNESS
    reason = Reason("light-even") if passed else Reason("light-uneven", percent=100 * value)
    return PhotoCheck("even light", passed, value, MOST_UNEVENNESS, reason)


def profile_check(days: int, *, same_light: bool, most_days: int = MOST_PROFILE_DAYS) -> PhotoCheck:
    """Whether a chart photo taken so many days earlier still tells the lamp, by its age and the light's name.

    The card can not tell: a phone's own white balance moves it as far as another lamp does (simulated phones:
    chroma 1 to 14 for the same lamp, 2 to 12 for another).
    """
    fresh = days <= most_days
    stale = Reason("profile-stale", days=float(days)) if same_light else Reason("profile-of-another-light")
    reason = Reason("profile-fresh", days=float(days)) if fresh and same_light else stale
    return PhotoCheck("stale profile", fresh and same_light, float(days), float(most_days), reason)


def _luma(encoded: NDArray[np.uint8]) -> NDArray[np.float32]:
    """Luma (rows, columns) in 0..1 of a picture (rows, columns, 3) in 0..255."""
    luma = np.empty(encoded.shape[:2], dtype=np.float32)
    for top in range(0, len(encoded), _ROWS_AT_ONCE):
        luma[top : top + _ROWS_AT_ONCE] = encoded[top : top + _ROWS_AT_ONCE].astype(np.float32) @ _LUMA
    return luma


def _reduced(luma: NDArray[np.float32]) -> NDArray[np.float32]:
    """Averaged in whole blocks so that the longer side has at most 1600 pixels."""
    block = -(-max(luma.shape) // _LARGEST_SIDE)
    if block == 1:
        return luma
    rows, columns = (side // block for side in luma.shape)
    blocks = luma[: rows * block, : columns * block].reshape(rows, block, columns, block)
    reduced: NDArray[np.float32] = blocks.mean(axis=(1, 3))
    return reduced
