"""How large a pixel is under magnification, and how thick a fibre.

Decides the scale from what the colourist knows about the picture, and the width of a fibre from profiles
across it. Whether the fibre is thin or thick for hair is left to others, and so is how it was prepared: a
fibre that is not flat in focus reads too wide.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
import scipy
from numpy.typing import ArrayLike

from journey.colour.reason import Reason, ReasonError
from journey.colour.spaces import FloatArray

# Rulers and labels of magnifiers are taken to be right within this share. Assumption, no source.
SCALE_ERROR: Final = 0.03
_FEWEST_PIXELS_ACROSS: Final = 6.0
_MOST_EDGE_SHARE: Final = 0.25
_PROFILES: Final = 61
_SAMPLE_PX: Final = 0.25
_SOFTENING_PX: Final = 1.0
_LEAST_CONTRAST: Final = 0.08
_FEWEST_PROFILES: Final = 12


class NoFibreError(ReasonError):
    """No fibre can be measured here; the text says why."""


@dataclass(frozen=True, slots=True)
class MicroScale:
    """Micrometres per pixel; `relative_error` is its standard uncertainty as a share."""

    um_per_px: float
    relative_error: float


@dataclass(frozen=True, slots=True)
class FibreWidth:
    """Width of a fibre. `low_um`..`high_um` hold 95 %; `edge_um` is how far its edges are smeared."""

    width_um: float
    low_um: float
    high_um: float
    edge_um: float
    warnings: tuple[Reason, ...]


def scale_from_field(
    field_width_mm: float, picture_width_px: int, *, relative_error: float = SCALE_ERROR
) -> MicroScale:
    """Scale from the width of the field of view, as seen on a ruler under the same magnification.

    >>> round(scale_from_field(2.0, 1600).um_per_px, 3)
    1.25
    """
    if field_width_mm <= 0 or picture_width_px <= 0:
        raise ValueError(f"a field of {field_width_mm} mm over {picture_width_px} pixels has no scale")
    return MicroScale(field_width_mm * 1000 / picture_width_px, relative_error)


def scale_from_magnification(
    magnification: float,
    sensor_width_mm: float,
    picture_width_px: int,
    *,
    relative_error: float = SCALE_ERROR,
) -> MicroScale:
    """Scale from the optical magnification onto a sensor of known width, the picture not cropped.

    Magnification here is size on the sensor over true size, not size on a screen.
    """
    if magnification <= 0 or sensor_width_mm <= 0:
        raise ValueError(f"{magnification} times onto {sensor_width_mm} mm has no scale")
    return scale_from_field(
        sensor_width_mm / magnification, picture_width_px, relative_error=relative_error
    )


def fibre_width(
    luminance: ArrayLike, start: tuple[float, float], end: tuple[float, float], scale: MicroScale
) -> FibreWidth:
    """Width of the fibre that the line from `start` to `end` crosses, at right angles to the fibre.

    `luminance` (rows, columns) is linear; `start` and `end` are (column, row) in pixels, on the ground at
    either side of one fibre. Profiles are taken along the line and beside it; an edge is where a profile is
    steepest. How the edge moves from profile to profile corrects for a line drawn askew.
    NoFibreError when the line crosses no clear edge on both sides, or the fibre is under 6 pixels wide.
    """
    picture = np.asarray(luminance, dtype=np.float64)
    beside, edges, smear = _crossings(picture, np.array(start), np.array(end))
    if len(edges) < _FEWEST_PROFILES:
        raise NoFibreError("no-clear-edges")
    askew = np.polyfit(beside, edges.mean(axis=1), 1)[0]
    widths = (edges[:, 1] - edges[:, 0]) * np.cos(np.arctan(askew))
    width_px, edge_px = float(np.median(widths)), float(np.median(smear))
    if width_px < _FEWEST_PIXELS_ACROSS:
        raise NoFibreError("fibre-too-thin", px=width_px)
    # A quarter of the smear is what shading inside the fibre moves the steepest place by.
    spread_px = float(np.percentile(widths, 84) - np.percentile(widths, 16)) / 2
    relative = np.hypot(np.hypot(spread_px, edge_px / 4) / width_px, scale.relative_error)
    width_um = width_px * scale.um_per_px
    margin_um = float(1.96 * relative * width_um)
    blurred = edge_px > _MOST_EDGE_SHARE * width_px
    return FibreWidth(
        width_um=width_um,
        low_um=max(width_um - margin_um, 0.0),
        high_um=width_um + margin_um,
        edge_um=edge_px * scale.um_per_px,
        warnings=(Reason("fibre-edges-blurred"),) if blurred else (),
    )


def typical_fibre_width(hair: ArrayLike, scale: MicroScale) -> FibreWidth:
    """Width of the fibres in a picture that shows ground between them, from the mask of hair (rows, columns).

    Along the middle line of a fibre, the distance to the ground is half its width. The median over all middle
    lines stands for the fibres; `low_um`..`high_um` hold the middle 95 % of them, the error of the scale, and
    a pixel at either edge. Crossings read too wide, which the median forgives while they are few.
    NoFibreError when hardly any hair or hardly any ground is seen, or fibres are under 6 pixels wide.
    """
    mask = scipy.ndimage.binary_opening(np.asarray(hair, dtype=np.bool_), iterations=2)
    if not 0.02 <= mask.mean() <= 0.90:
        raise NoFibreError("no-single-fibres", percent=100 * float(mask.mean()))
    # The frame cuts fibres off: beyond it they are taken to go on.
    distance = scipy.ndimage.distance_transform_edt(np.pad(mask, 1, mode="edge"))[1:-1, 1:-1]
    ridge = (distance >= scipy.ndimage.maximum_filter(distance, 5)) & (distance > 1)
    widths_px = 2 * distance[ridge] - 1
    if len(widths_px) < _FEWEST_PROFILES or np.median(widths_px) < _FEWEST_PIXELS_ACROSS:
        raise NoFibreError("no-fibre-wide-enough")
    width_um = float(np.median(widths_px)) * scale.um_per_px
    # What is less than half as wide is a shard: cut off by sheen, by a card, or by the frame.
    low_px, high_px = np.percentile(widths_px[widths_px > np.median(widths_px) / 2], (2.5, 97.5))
    scaling = 1.96 * scale.relative_error
    return FibreWidth(
        width_um=width_um,
        low_um=float(max(low_px - 2, 0) * scale.um_per_px * (1 - scaling)),
        high_um=float((high_px + 2) * scale.um_per_px * (1 + scaling)),
        edge_um=scale.um_per_px,
        warnings=(),
    )


def _crossings(
    picture: FloatArray, start: FloatArray, end: FloatArray
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Parallel profiles over the fibre, in px: offset beside the line (n,), both edges (n, 2), smear (n,)."""
    length = float(np.hypot(*(end - start)))
    if length < _FEWEST_PIXELS_ACROSS:
        raise NoFibreError("line-too-short")
    along = (end - start) / length
    across = np.array([-along[1], along[0]])
    positions = np.arange(0.0, length, _SAMPLE_PX)
    beside = np.linspace(-0.25, 0.25, _PROFILES) * length
    columns, rows = (
        start[axis] + positions * along[axis] + beside[:, None] * across[axis] for axis in (0, 1)
    )
    profiles = scipy.ndimage.map_coordinates(picture, [rows, columns], order=1, mode="constant", cval=np.nan)
    found = [
        (offset, *crossing)
        for offset, profile in zip(beside, profiles, strict=True)
        if (crossing := _two_edges(profile, positions)) is not None
    ]
    table = np.array(found).reshape(-1, 4)
    return table[:, 0], table[:, 1:3], table[:, 3]


def _two_edges(profile: FloatArray, positions: FloatArray) -> tuple[float, float, float] | None:
    """Entry and exit where steepest, and the mean way from 20 to 80 % of the steps; None if not clear."""
    if np.isnan(profile).any():
        return None
    smooth = scipy.ndimage.gaussian_filter1d(profile, _SOFTENING_PX / _SAMPLE_PX)
    steps = np.gradient(smooth)
    middle = len(profile) // 2
    ground_left, ground_right = np.median(smooth[: middle // 4]), np.median(smooth[-(middle // 4) :])
    darker = np.median(smooth[middle // 2 : -(middle // 2)]) < (ground_left + ground_right) / 2
    sign = -1.0 if darker else 1.0
    left, right = int(np.argmax(sign * steps)), int(np.argmin(sign * steps))
    if left >= right:
        return None
    inside = smooth[left : right + 1]
    edges, smears = [], []
    for edge, ground in ((left, ground_left), (right, ground_right)):
        rim = inside[: max(2, len(inside) // 4)] if edge == left else inside[-max(2, len(inside) // 4) :]
        body = rim.min() if darker else rim.max()
        if abs(body - ground) < _LEAST_CONTRAST * max(abs(ground), abs(body)):
            return None
        share = (smooth - ground) / (body - ground)
        edges.append(_peak(sign * steps if edge == left else -sign * steps, positions, edge))
        low = _crossing(share, positions, edge, 0.2, rising=edge == left)
        high = _crossing(share, positions, edge, 0.8, rising=edge == left)
        smears.append(abs(high - low))
    return edges[0], edges[1], float(np.mean(smears))


def _peak(steps: FloatArray, positions: FloatArray, near: int) -> float:
    """Position of the peak at index `near`, by a parabola through it and its neighbours."""
    if not 0 < near < len(steps) - 1:
        return float(positions[near])
    before, at, after = steps[near - 1 : near + 2]
    bend = before - 2 * at + after
    offset = 0.0 if bend >= 0 else float(np.clip((before - after) / (2 * bend), -0.5, 0.5))
    return float(positions[near] + offset * (positions[1] - positions[0]))


def _crossing(share: FloatArray, positions: FloatArray, near: int, level: float, *, rising: bool) -> float:
    """Position nearest to index `near` where `share` passes `level`, by straight interpolation."""
    below = share < level
    turns = np.flatnonzero(below[:-1] & ~below[1:] if rising else ~below[:-1] & below[1:])
    if len(turns) == 0:
        return float(positions[near])
    i = int(turns[np.argmin(np.abs(turns - near))])
    weight = (level - share[i]) / (share[i + 1] - share[i])
    return float(positions[i] + weight * (positions[i + 1] - positions[i]))
