"""Finds the 24 patches of a colour chart in a photo from its four corners, and reads each.

The corners are those of the field of patches, clockwise, the dark skin patch first; a plane seen at an angle
is undone by a homography. Only the middle half of each patch is used: its rim catches shadows and glue. Of its
pixels the median is taken: neither a speck of dust nor the few that are clipped move it.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from journey.record.embedded_profile import NamedPrimaries
from journey.record.photograph_intake import Photograph
from journey.record.rectangle import Rectangle

COLUMNS, ROWS = 6, 4
MOST_CLIPPED = 0.05
"""A patch with more clipped pixels than this tells a wrong colour silently."""
_STEPS = 24

FloatArray = NDArray[np.float64]


def chart_colours(
    photograph: Photograph, corners: Sequence[tuple[float, float]]
) -> tuple[FloatArray, NDArray[np.bool_], NamedPrimaries]:
    """Linear medians (24, 3), row by row, which of them can be used (24,), and the primaries they are in."""
    points = np.array(corners, dtype=np.float64)
    left, top = points.min(axis=0)
    right, bottom = points.max(axis=0)
    region = Rectangle(float(left), float(top), float(right - left), float(bottom - top))
    pixels = photograph.linear_pixels(region)
    rows, columns = pixels.clipped.shape
    unit_to_photo = _homography(points)
    middles, usable = np.empty((COLUMNS * ROWS, 3)), np.empty(COLUMNS * ROWS, dtype=np.bool_)
    inner = 0.25 + 0.5 * (np.arange(_STEPS) + 0.5) / _STEPS
    for number in range(COLUMNS * ROWS):
        row, column = divmod(number, COLUMNS)
        u, v = np.meshgrid((column + inner) / COLUMNS, (row + inner) / ROWS)
        where = np.stack([u.ravel(), v.ravel(), np.ones(u.size)])
        x, y, w = unit_to_photo @ where
        across = np.clip(((x / w - left) / (right - left) * columns).astype(int), 0, columns - 1)
        down = np.clip(((y / w - top) / (bottom - top) * rows).astype(int), 0, rows - 1)
        middles[number] = np.median(pixels.values[down, across], axis=0)
        usable[number] = pixels.clipped[down, across].mean() <= MOST_CLIPPED
    return middles, usable, pixels.primaries


def _homography(corners: FloatArray) -> FloatArray:
    """The 3x3 matrix that maps the unit square (clockwise from its origin) onto four corners (4, 2)."""
    unit = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], dtype=np.float64)
    rows, right = [], []
    for (x, y), (u, v) in zip(unit, corners, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
        right += [u, v]
    solved = np.linalg.solve(np.array(rows), np.array(right))
    matrix: FloatArray = np.append(solved, 1.0).reshape(3, 3)
    return matrix
