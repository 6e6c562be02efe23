"""Was this photo taken like the one before it? From the same side, as near, with the head in the same place?

Decides the comparison of outlines. An outline keeps, for each step of brightness, the direction it runs in
but not which side is lighter, so that the same head matches itself in a new hair colour. What to do about a
photo that was framed differently is left to the person with the phone.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np
import scipy
from numpy.typing import ArrayLike, NDArray

from journey.colour.photo_checks import PhotoCheck
from journey.colour.reason import Reason
from journey.colour.spaces import FloatArray

# Assumptions, no source: what a viewer of two photos side by side would notice.
MOST_SCALING: Final = 0.15
MOST_SHIFT: Final = 0.10
# Rendered heads in other colours, sizes and places match at 0.6 to 0.9; seen from another side, at 0.4.
LEAST_LIKENESS: Final = 0.50

_SIDE: Final = 96
_SCALES: Final = np.exp(np.linspace(-0.42, 0.42, 37))  # 0.66 to 1.52, 1 among them

Outline = NDArray[np.complex64]


@dataclass(frozen=True, slots=True)
class FrameChange:
    """From the earlier frame to this one.

    `scale` above 1: nearer. `shift` right and down, in shares of the longer side. `likeness`: the
    correlation of the outlines at the best match, at most 1.
    """

    scale: float
    shift: tuple[float, float]
    likeness: float


def frame_outline(encoded: ArrayLike) -> Outline:
    """The outline (96, 96) of a picture (rows, columns, 3), small enough to be kept for the next visit.

    Each sample holds the square root of the steepness there, turned by twice the angle of the step.
    """
    luma = np.asarray(encoded, dtype=np.float64).mean(axis=-1)
    zoom = _SIDE / max(luma.shape)
    # Averaged before it is sampled, so that strands do not alias into outlines.
    softened = scipy.ndimage.gaussian_filter(luma, 1 / zoom)
    small = scipy.ndimage.zoom(softened, zoom, order=1, grid_mode=True, mode="nearest")
    step = scipy.ndimage.sobel(small, axis=1) + 1j * scipy.ndimage.sobel(small, axis=0)
    steepness = np.maximum(np.abs(step), 1e-9)
    directed = (step / steepness) ** 2 * np.sqrt(steepness)
    directed[[0, -1], :] = directed[:, [0, -1]] = 0
    outline = np.zeros((_SIDE, _SIDE), dtype=np.complex128)
    top, left = (_SIDE - directed.shape[0]) // 2, (_SIDE - directed.shape[1]) // 2
    outline[top : top + directed.shape[0], left : left + directed.shape[1]] = directed
    smooth = scipy.ndimage.gaussian_filter
    return _joined(smooth(outline.real, 1.0), smooth(outline.imag, 1.0))


def frame_change(outline: Outline, earlier_outline: Outline) -> FrameChange:
    """The scale and shift that best lay the earlier outline over this one: every scale, every shift."""
    here = np.fft.fft2(_standardised(outline))
    best = FrameChange(1.0, (0.0, 0.0), -1.0)
    for scale, earlier in zip(_SCALES, _at_every_scale(earlier_outline.tobytes()), strict=True):
        match = np.fft.ifft2(here * np.conj(earlier)).real
        down, right = np.unravel_index(int(np.argmax(match)), match.shape)
        if match[down, right] > best.likeness:
            shift = (_signed(int(right)), _signed(int(down)))
            best = FrameChange(float(scale), shift, float(match[down, right]))
    return best


@lru_cache(maxsize=4)
def _at_every_scale(outline: bytes) -> tuple[NDArray[np.complexfloating[Any, Any]], ...]:
    """Fourier transforms of an outline, for the photos that are all held against the same visit's."""
    earlier = np.frombuffer(outline, dtype=np.complex64).reshape(_SIDE, _SIDE)
    return tuple(np.fft.fft2(_standardised(_scaled(earlier, float(scale)))) for scale in _SCALES)


def frame_checks(outline: Outline, earlier_outline: Outline) -> tuple[PhotoCheck, ...]:
    """Side, distance and place in the frame against the earlier photo of the same view.

    Where the outlines differ too much, distance and place are not measured.
    """
    change = frame_change(outline, earlier_outline)
    if change.likeness < LEAST_LIKENESS:
        unlike = Reason("frame-not-compared")
        return (
            PhotoCheck(
                "same side",
                False,
                change.likeness,
                LEAST_LIKENESS,
                Reason("frame-other-side"),
            ),
            PhotoCheck("same distance", True, None, MOST_SCALING, unlike),
            PhotoCheck("same place", True, None, MOST_SHIFT, unlike),
        )
    seen = PhotoCheck(
        "same side", True, change.likeness, LEAST_LIKENESS, Reason("frame-same-side")
    )
    return seen, _distance_check(change.scale), _place_check(change.shift)


def _distance_check(scale: float) -> PhotoCheck:
    scaling = abs(scale - 1)
    passed = scaling <= MOST_SCALING
    differs = Reason("frame-nearer" if scale > 1 else "frame-farther", percent=100 * scale)
    reason = Reason("frame-same-distance") if passed else differs
    return PhotoCheck("same distance", passed, scaling, MOST_SCALING, reason)


def _place_check(shift: tuple[float, float]) -> PhotoCheck:
    length = float(np.hypot(*shift))
    passed = length <= MOST_SHIFT
    reason = Reason("frame-same-place") if passed else Reason("frame-moved", percent=100 * length)
    return PhotoCheck("same place", passed, length, MOST_SHIFT, reason)


def _joined(real: FloatArray, imaginary: FloatArray) -> Outline:
    outline: Outline = (real + 1j * imaginary).astype(np.complex64)
    return outline


def _standardised(outline: Outline) -> Outline:
    length = float(np.sqrt(np.sum(np.abs(outline) ** 2)))
    return outline / length if length > 0 else outline


def _scaled(outline: Outline, scale: float) -> Outline:
    middle = (_SIDE - 1) / 2
    parts = [
        scipy.ndimage.affine_transform(part, np.full(2, 1 / scale), offset=middle - middle / scale, order=1)
        for part in (outline.real, outline.imag)
    ]
    return _joined(parts[0], parts[1])


def _signed(shift: int) -> float:
    """A circular shift in samples as a share of the side, -0.5..0.5."""
    return (shift if shift <= _SIDE // 2 else shift - _SIDE) / _SIDE
