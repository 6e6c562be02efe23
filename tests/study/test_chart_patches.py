"""The patches of a chart in a photo, found from its corners and read whatever lies on them."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PIL import Image

from journey.colour.chart_reference import CHART_XYZ
from journey.colour.spaces import encode_srgb, xyz_to_linear_rgb
from journey.record.intake import PhotoFolder
from journey.study.chart_patches import COLUMNS, ROWS, chart_colours

SIDE = 60
CORNERS = ((0.1, 0.1), (0.9, 0.1), (0.9, 0.9), (0.1, 0.9))


def _chart() -> np.ndarray:
    """A chart that fills the middle of a photo, codes (rows, columns, 3), dimmed so that no patch clips."""
    linear = np.clip(xyz_to_linear_rgb(CHART_XYZ), 0.01, 1) * 0.8
    codes = np.rint(encode_srgb(linear) * 255).reshape(ROWS, COLUMNS, 3).astype(np.uint8)
    chart = codes.repeat(SIDE, axis=0).repeat(SIDE, axis=1)
    rows, columns = chart.shape[0] // 8, chart.shape[1] // 8
    return np.pad(chart, ((rows, rows), (columns, columns), (0, 0)), constant_values=90)


def test_specks_and_a_few_clipped_pixels_do_not_move_a_patch(tmp_path: Path) -> None:
    """White specks on 3 % of the chart: below the share at which a patch is given up, and without effect."""
    clean = _chart()
    specked = clean.copy()
    specked[np.random.default_rng(3).random(clean.shape[:2]) < 0.03] = 255
    for name, codes in (("clean", clean), ("specked", specked)):
        Image.fromarray(codes).save(tmp_path / f"{name}.png")
    shelf = PhotoFolder(tmp_path)
    read = {}
    for name in ("clean", "specked"):
        with shelf.opened(f"{name}.png") as photograph:
            read[name] = chart_colours(photograph, CORNERS)
    assert read["specked"][1].sum() >= 20
    usable = read["specked"][1]
    np.testing.assert_array_equal(read["specked"][0][usable], read["clean"][0][usable])
    truth = np.clip(xyz_to_linear_rgb(CHART_XYZ), 0.01, 1) * 0.8
    np.testing.assert_allclose(read["clean"][0], truth, atol=0.006)
