"""Writes the hair over time as small lossless pictures: curtain, ribbon and strand maps of one raster.

Decides how the raster is cut, turned, coarsened and compressed, and when a tip needs a line to be seen. Widths,
gaps and the combing of forecasts are left to the styles, so that teeth are 4 px on every screen.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from journey.cache import NOT_KEPT, Shelf
from journey.colour.difference import delta_e_2000
from journey.colour.spaces import decode_srgb, hex_to_lab, linear_rgb_to_xyz, xyz_to_lab
from journey.edition.model import StrandRaster

CARD_HEX: Final = "#767676"
TOO_NEAR_DELTA_E: Final = 12.0
"""Nearer to the ground than this in CIEDE2000, hair seems to vanish into it (seen with silver hair)."""
_MM_OF_LINE: Final = {"curtain": 2, "map": 2, "ribbon": 12}
"""How many 1 mm columns make a line of about 2 px at the size each picture is shown."""

_HELD_CODES: Final = 3
_EFFORTS: Final = (1, 2)
_SHORTEST_GAP_ROWS: Final = 56
"""Two weeks at four rows a day."""

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class RasterFile:
    """One written picture of hair over time."""

    name: str
    """'curtain.webp'."""
    data: bytes
    width: int
    height: int
    cm: float
    """Centimetres from the scalp that the picture spans."""


def curtain_files(strand: StrandRaster, shelf: Shelf = NOT_KEPT) -> tuple[RasterFile, RasterFile | None]:
    """The opening picture, time running right and hair hanging down: measured part, then forecast if any."""
    rgba = with_keyline(strand.rgba, _MM_OF_LINE["curtain"])
    cut = row_at(strand, strand.forecast_from)
    hanging = rgba.transpose(1, 0, 2)
    ahead = hanging[:, cut:]
    return _file("curtain.webp", hanging[:, :cut], rgba, shelf), (
        _file("curtain-ahead.webp", ahead, rgba, shelf) if ahead.shape[1] else None
    )


def ribbon_file(strand: StrandRaster, shelf: Shelf = NOT_KEPT) -> RasterFile:
    """The same hair with time running down, whole: every entry shows its own rows of it."""
    rgba = with_keyline(strand.rgba, _MM_OF_LINE["ribbon"])
    return _file("ribbon.webp", rgba, rgba, shelf)


def map_file(strand: StrandRaster, number: int, shelf: Shelf = NOT_KEPT) -> RasterFile:
    """The measured rows alone, to stand beside a ruler."""
    rgba = with_keyline(strand.rgba, _MM_OF_LINE["map"])
    return _file(f"map-{number}.webp", rgba[: row_at(strand, strand.forecast_from)], rgba, shelf)


def coarsened(strand: StrandRaster, shelf: Shelf = NOT_KEPT) -> StrandRaster:
    """The strand to make files of: of its colours no more than the eye tells apart."""
    rgba = strand.rgba
    codes = shelf.remembered("held", (rgba.tobytes(), str(rgba.shape)), lambda: held(rgba).tobytes())
    return replace(strand, rgba=np.frombuffer(codes, dtype=np.uint8).reshape(rgba.shape))


def held(rgba: Pixels) -> Pixels:
    """The raster (rows, columns, 4) with each colour kept from row to row until it has moved by more than 3 codes.

    Half the bytes. Every colour shown is one that the hair had some hours or days before, about 1 CIEDE2000 off at
    most; rounding each channel by itself saves as much and leaves bands of another hue.
    """
    kept = rgba.copy()
    codes = rgba.astype(np.int16)
    for row in range(1, len(rgba)):
        moved = np.abs(codes[row] - kept[row - 1])
        still = (moved[:, :3].max(axis=-1) <= _HELD_CODES) & (moved[:, 3] == 0)
        kept[row, still] = kept[row - 1, still]
    return kept


def row_at(strand: StrandRaster, week: float) -> int:
    """Row of the raster at which `week` begins, within its bounds.

    Raises ValueError for a raster without rows before the forecast.
    """
    row = round((week - strand.first_week) * strand.rows_per_week)
    if row < 1:
        raise ValueError(f"the raster {strand.key!r} has no row before week {week:g}")
    return int(min(row, strand.rgba.shape[0]))


def vanishing_rows(rgba: Pixels) -> NDArray[np.bool_]:
    """Rows (n,) of a raster (n, columns, 4) whose tip is within `TOO_NEAR_DELTA_E` of the ground.

    Stretches of less than `_SHORTEST_GAP_ROWS` between such rows count too, so that the line is whole.
    """
    opaque = rgba[..., 3] > 0
    rows = np.flatnonzero(opaque.any(axis=1))
    tips = opaque.shape[1] - 1 - np.argmax(opaque[rows, ::-1], axis=1)
    lab = xyz_to_lab(linear_rgb_to_xyz(decode_srgb(rgba[rows, tips, :3] / 255)))
    near = rows[delta_e_2000(lab, hex_to_lab(CARD_HEX)) < TOO_NEAR_DELTA_E]
    found = np.zeros(rgba.shape[0], dtype=bool)
    found[near] = True
    for before, after in pairwise(near):
        if after - before <= _SHORTEST_GAP_ROWS:
            found[before:after] = True
    return found


def with_keyline(rgba: Pixels, columns: int) -> Pixels:
    """The raster, with `columns` black columns past every tip that would vanish into the ground."""
    lined = vanishing_rows(rgba)
    if not lined.any():
        return rgba
    padded = np.pad(rgba, ((0, 0), (0, columns), (0, 0)))
    opaque = padded[..., 3] > 0
    past = opaque.shape[1] - np.argmax(opaque[:, ::-1], axis=1)
    column = np.arange(padded.shape[1])
    line = (column >= past[:, None]) & (column < past[:, None] + columns) & lined[:, None]
    padded[line] = (0, 0, 0, 255)
    return padded


def _file(name: str, pixels: Pixels, whole: Pixels, shelf: Shelf) -> RasterFile:
    clean = np.where(pixels[..., 3:] > 0, pixels, 0).astype(np.uint8)
    height, width = clean.shape[:2]
    data = shelf.remembered("raster", (f"{width}x{height}", clean.tobytes()), lambda: _lossless(clean))
    return RasterFile(name, data, width, height, cm=whole.shape[1] / 10)


def _lossless(pixels: Pixels) -> bytes:
    """The smaller of two encodings: more effort makes most of these pictures larger, and all of them slower."""
    image = Image.fromarray(np.ascontiguousarray(pixels))
    found = []
    for effort in _EFFORTS:
        buffer = io.BytesIO()
        image.save(buffer, "WEBP", lossless=True, quality=100, method=effort)
        found.append(buffer.getvalue())
    return min(found, key=len)
