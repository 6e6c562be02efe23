"""Was this photo taken like the one before it? How much nearer, and how far the head has moved in the frame.

Decides the comparison of outlines: steps of brightness, whose places a new hair colour does not move. A turned
head is seen only as an outline that no longer matches. What to do about it is left to the person with the phone.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike
from scipy import ndimage

from journey.colour.photo_checks import PhotoCheck
from journey.colour.spaces import FloatArray

# Assumptions, no source: a change a viewer of two photos side by side would notice.
MOST_SCALING: Final = 0.15
MOST_SHIFT: Final = 0.10
# Below this correlation the best match of two outlines is as good as chance.
_LEAST_LIKENESS: Final = 0.35

_SIDE: Final = 96
_SCALES: Final = np.geomspace(0.66, 1.5, 37)


@dataclass(frozen=True, slots=True)
class FrameChange:
    """From the earlier frame to this one.

    `scale` above 1: nearer. `shift` right and down, in shares of the longer side. `likeness`: the
    correlation of the outlines at the best match, 0..1.
    """

    scale: float
    shift: tuple[float, float]
    likeness: float


def frame_outline(encoded: ArrayLike) -> FloatArray:
    """The outline of a frame, (96, 96), to be kept for the next visit, from a picture (rows, columns, 3)."""
    luma = np.asarray(encoded, dtype=np.float64).mean(axis=-1)
    zoom = _SIDE / max(luma.shape)
    # Averaged before it is sampled, so that strands do not alias into outlines.
    softened = ndimage.gaussian_filter(luma, 0.5 / zoom)
    small = ndimage.zoom(softened, zoom, order=1, grid_mode=True, mode="nearest")
    steps = np.hypot(ndimage.sobel(small, axis=0), ndimage.sobel(small, axis=1))
    steps[[0, -1], :] = steps[:, [0, -1]] = 0.0
    outline = np.zeros((_SIDE, _SIDE))
    top, left = (_SIDE - steps.shape[0]) // 2, (_SIDE - steps.shape[1]) // 2
    # The root keeps one hard edge, a collar or a card, from outshouting the head.
    outline[top : top + steps.shape[0], left : left + steps.shape[1]] = np.sqrt(steps)
    return ndimage.gaussian_filter(outline, 1.0)


def frame_change(outline: FloatArray, earlier_outline: FloatArray) -> FrameChange:
    """The scale and shift that best lay the earlier outline over this one: every scale, every shift."""
    here = np.fft.rfft2(_standardised(outline))
    best = FrameChange(1.0, (0.0, 0.0), -1.0)
    for scale in _SCALES:
        scaled = _standardised(_scaled(earlier_outline, float(scale)))
        match = np.fft.irfft2(here * np.conj(np.fft.rfft2(scaled)), s=outline.shape) / outline.size
        down, right = np.unravel_index(int(np.argmax(match)), match.shape)
        likeness = float(match[down, right])
        if likeness > best.likeness:
            best = FrameChange(float(scale), (_signed(int(right)), _signed(int(down))), likeness)
    return best


def frame_checks(outline: FloatArray, earlier_outline: FloatArray) -> tuple[PhotoCheck, PhotoCheck]:
    """Distance and place in the frame against the earlier photo; not measured where the outlines differ."""
    change = frame_change(outline, earlier_outline)
    if change.likeness < _LEAST_LIKENESS:
        words = "the photo is too unlike the earlier one to compare how they were framed"
        return (
            PhotoCheck("distance", True, None, MOST_SCALING, words),
            PhotoCheck("framing", True, None, MOST_SHIFT, words),
        )
    scaling, shift = abs(change.scale - 1), float(np.hypot(*change.shift))
    nearer = "nearer" if change.scale > 1 else "farther"
    return (
        PhotoCheck(
            "distance",
            scaling <= MOST_SCALING,
            scaling,
            MOST_SCALING,
            f"taken {scaling:.0%} {nearer} than last time"
            if scaling > MOST_SCALING
            else "taken from as far away as last time",
        ),
        PhotoCheck(
            "framing",
            shift <= MOST_SHIFT,
            shift,
            MOST_SHIFT,
            f"the head has moved by {shift:.0%} of the frame since last time"
            if shift > MOST_SHIFT
            else "the head is where it was last time",
        ),
    )


def _standardised(outline: FloatArray) -> FloatArray:
    centred = outline - outline.mean()
    spread = float(centred.std())
    return centred / spread if spread > 0 else centred


def _scaled(outline: FloatArray, scale: float) -> FloatArray:
    middle = (_SIDE - 1) / 2
    scaled: FloatArray = ndimage.affine_transform(
        outline, np.full(2, 1 / scale), offset=middle - middle / scale, order=1
    )
    return scaled


def _signed(shift: int) -> float:
    """A circular shift in samples as a share of the side, -0.5..0.5."""
    return (shift if shift <= _SIDE // 2 else shift - _SIDE) / _SIDE
