"""The hair over time as small pictures."""

from __future__ import annotations

import io
from dataclasses import replace

import numpy as np
import pytest
from PIL import Image

from journey.record.model import Audience
from journey.site.rasters import (
    coarsened,
    curtain_files,
    held,
    map_file,
    ribbon_file,
    vanishing_rows,
    with_keyline,
)
from tests.example_hair import strand


def opened(data: bytes) -> np.ndarray:
    with Image.open(io.BytesIO(data)) as picture:
        return np.asarray(picture.convert("RGBA"))


def test_the_curtain_hangs_and_splits_where_the_forecast_begins() -> None:
    """Turned back and joined, both parts of the curtain are the raster again, pixel for pixel."""
    hair = coarsened(strand(Audience.CLIENT))
    measured, ahead = curtain_files(hair)
    assert ahead is not None
    assert measured.width == round(hair.forecast_from * hair.rows_per_week)
    joined = np.concatenate([opened(measured.data), opened(ahead.data)], axis=1).transpose(1, 0, 2)
    shown = hair.rgba[..., 3] > 0
    assert np.array_equal(joined[..., 3] > 0, shown)
    assert np.array_equal(joined[shown], held(hair.rgba)[shown])


def test_a_colour_is_held_until_it_has_moved_and_no_edge_with_it() -> None:
    """Never more than three codes off, a service and a tip in their own row, and fewer rows that are new."""
    fading = np.zeros((40, 3, 4), dtype=np.uint8)
    fading[..., 0] = np.arange(200, 160, -1)[:, None]
    fading[..., 3] = 255
    fading[20:, :, 2] = 120
    fading[30:, 2, 3] = 0
    kept = held(fading)
    apart = np.abs(kept.astype(int) - fading)
    assert apart[..., :3].max() == 3
    assert np.array_equal(kept[..., 3], fading[..., 3])
    assert np.array_equal(kept[20], fading[20])
    changes = [(one[1:] != one[:-1]).any(axis=(1, 2)).sum() for one in (fading, kept)]
    assert changes[1] <= changes[0] / 3


def test_a_map_shows_no_forecast_and_a_ribbon_all_of_it() -> None:
    """The strand map ends where measuring ended; the ribbon has every row."""
    hair = strand(Audience.CLIENT)
    assert map_file(hair, 1).height == round(hair.forecast_from * hair.rows_per_week)
    assert ribbon_file(hair).height == hair.rgba.shape[0]


def test_silver_hair_gets_a_line_at_its_tips() -> None:
    """Hair near the grey ground ends in two black millimetres past every tip; coral hair stays as it is."""
    silver, coral = strand(Audience.CLIENT, silver=True), strand(Audience.CLIENT)
    assert vanishing_rows(silver.rgba).all()
    assert not vanishing_rows(coral.rgba)[: 10 * 28].any()
    lined = with_keyline(silver.rgba, 2)
    tips = (silver.rgba[..., 3] > 0).sum(axis=1)
    rows = np.arange(len(tips))
    for past in (0, 1):
        assert (lined[rows, tips + past] == (0, 0, 0, 255)).all()
    assert (lined[rows, tips + 2, 3] == 0).all() if lined.shape[1] > tips.max() + 2 else True
    assert np.array_equal(with_keyline(coral.rgba[: 10 * 28], 2), coral.rgba[: 10 * 28])


def test_pictures_are_lossless_small_and_bare() -> None:
    """Each file takes 11 KB at most and holds pixels only: no profile, comment or camera data."""
    hair = strand(Audience.CLIENT)
    for file in (*curtain_files(hair), ribbon_file(hair), map_file(hair, 1)):
        assert file is not None
        assert len(file.data) <= 11 * 1024
        assert not any(chunk in file.data for chunk in (b"EXIF", b"ICCP", b"XMP "))


def test_a_strand_without_measured_rows_is_refused() -> None:
    """A raster that is all forecast has nothing to hang; the error names it."""
    with pytest.raises(ValueError, match="crown"):
        map_file(replace(strand(Audience.CLIENT), forecast_from=0.0), 1)
