"""Micrometres per pixel and the width of fibres, on drawn fibres of known width."""

import numpy as np
import pytest
from scipy import ndimage

from journey.colour.micro_scale import (
    MicroScale,
    NoFibreError,
    fibre_width,
    scale_from_field,
    scale_from_magnification,
    typical_fibre_width,
)
from journey.colour.reason import Reason
from journey.colour.spaces import FloatArray

ONE_UM = MicroScale(1.0, 0.03)
SIDE = 300


def fibre(
    width_px: float, *, angle_degrees: float = 0.0, blur_px: float = 1.0, dark: bool = True, seed: int = 0
) -> FloatArray:
    """Luminance (300, 300) of one round fibre on lit or dark ground, drawn at twice the size."""
    y, x = np.mgrid[: 2 * SIDE, : 2 * SIDE] / 2
    angle = np.radians(angle_degrees)
    u = 2 * ((x - SIDE / 2) * np.cos(angle) + (y - SIDE / 2) * np.sin(angle)) / width_px
    round_off = np.sqrt(np.clip(1 - u * u, 0, 1))
    body, ground = (0.25 + 0.2 * round_off, 0.75) if dark else (0.15 + 0.5 * round_off, 0.05)
    picture = ndimage.gaussian_filter(np.where(np.abs(u) < 1, body, ground), 2 * blur_px)
    picture = picture.reshape(SIDE, 2, SIDE, 2).mean(axis=(1, 3))
    noisy: FloatArray = picture + np.random.default_rng(seed).normal(0, 0.01, picture.shape)
    return noisy


def test_scale_from_a_ruler() -> None:
    """A field of 2 mm on 1600 pixels is 1.25 micrometres a pixel."""
    assert scale_from_field(2.0, 1600).um_per_px == pytest.approx(1.25)


def test_scale_from_optics() -> None:
    """Ten times onto a sensor of 6.4 mm shows 0.64 mm: on 3200 pixels, 0.2 micrometres each."""
    assert scale_from_magnification(10, 6.4, 3200).um_per_px == pytest.approx(0.2)


@pytest.mark.parametrize(("field_mm", "width_px"), [(0.0, 100), (1.0, 0), (-1.0, 100)])
def test_impossible_scales_are_refused(field_mm: float, width_px: int) -> None:
    """No field, or no picture, has no scale."""
    with pytest.raises(ValueError, match="no scale"):
        scale_from_field(field_mm, width_px)


def test_impossible_optics_are_refused() -> None:
    """No magnification has no scale."""
    with pytest.raises(ValueError, match="no scale"):
        scale_from_magnification(0, 6.4, 3200)


@pytest.mark.parametrize("dark", [True, False], ids=["on lit ground", "on dark ground"])
@pytest.mark.parametrize("angle", [0.0, 20.0])
@pytest.mark.parametrize("width", [20.0, 70.0, 100.0])
def test_width_is_found(width: float, angle: float, dark: bool) -> None:
    """A fibre in focus, straight or askew to the line: within 12 %, and inside the stated range."""
    found = fibre_width(
        fibre(width, angle_degrees=angle, dark=dark), (150 - width, 155), (150 + width, 150), ONE_UM
    )
    assert found.width_um == pytest.approx(width, rel=0.12)
    assert found.low_um <= width <= found.high_um
    assert not found.warnings


def test_width_scales_with_the_picture() -> None:
    """At half a micrometre a pixel the same picture shows half the width."""
    picture = fibre(70)
    at_one = fibre_width(picture, (80, 150), (220, 150), ONE_UM)
    at_half = fibre_width(picture, (80, 150), (220, 150), MicroScale(0.5, 0.03))
    assert at_half.width_um == pytest.approx(at_one.width_um / 2)


def test_blurred_fibre_warns_and_widens_its_range() -> None:
    """Out of focus the range grows, still holds the truth, and a warning says why."""
    sharp = fibre_width(fibre(40, blur_px=1), (90, 150), (210, 150), ONE_UM)
    soft = fibre_width(fibre(40, blur_px=10), (90, 150), (210, 150), ONE_UM)
    assert soft.high_um - soft.low_um > 1.5 * (sharp.high_um - sharp.low_um)
    assert soft.low_um <= 40 <= soft.high_um
    assert soft.warnings == (Reason("fibre-edges-blurred"),)
    assert soft.edge_um > sharp.edge_um


@pytest.mark.parametrize(
    ("start", "end", "words"),
    [
        ((10, 150), (60, 150), "no-clear-edges"),
        ((10, 10), (12, 10), "line-too-short"),
        ((150, 10), (150, 290), "no-clear-edges"),
    ],
    ids=["beside the fibre", "too short", "along the fibre"],
)
def test_line_that_crosses_no_fibre_is_refused(
    start: tuple[float, float], end: tuple[float, float], words: str
) -> None:
    """Ground alone, a dot, or a line along the fibre give no width."""
    with pytest.raises(NoFibreError, match=words):
        fibre_width(fibre(70), start, end, ONE_UM)


def test_thin_fibre_is_refused() -> None:
    """Below six pixels there is nothing to measure."""
    with pytest.raises(NoFibreError, match="fibre-too-thin"):
        fibre_width(fibre(4, blur_px=0.5), (130, 150), (170, 150), ONE_UM)


def test_many_fibres_have_a_typical_width() -> None:
    """Three fibres of 30, 36 and 40 pixels that cross a fourth: typical within 10 % of 36, range around all."""
    rows, columns = np.mgrid[:400, :600]
    hair = np.zeros((400, 600), dtype=np.bool_)
    for centre, width in ((80, 30), (200, 36), (320, 40)):
        hair |= np.abs(rows - centre - 0.05 * columns) < width / 2
    hair |= np.abs(columns - 300 - 0.3 * rows) < 18
    found = typical_fibre_width(hair, ONE_UM)
    assert found.width_um == pytest.approx(36, rel=0.10)
    assert found.low_um < 30
    assert found.high_um > 40


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_picture_without_ground_or_hair_has_no_width(share: float) -> None:
    """All ground, or all hair, shows no single fibre."""
    with pytest.raises(NoFibreError, match="no-single-fibres"):
        typical_fibre_width(np.full((200, 200), share > 0.5), ONE_UM)


def test_shards_of_fibres_do_not_widen_the_range() -> None:
    """Specks beside fibres, and what a card leaves of one, are not fibres a few micrometres thick."""
    hair = np.zeros((400, 600), dtype=np.bool_)
    for top in (40, 160, 280):
        hair[top : top + 70, :] = True
    clean = typical_fibre_width(hair, scale_from_field(0.6, 600))
    for top in (6, 24, 120, 138, 240, 258, 360, 378):
        for column in range(10, 580, 20):
            hair[top : top + 10, column : column + 10] = True
    split = typical_fibre_width(hair, scale_from_field(0.6, 600))
    assert split.width_um == pytest.approx(clean.width_um, rel=0.05)
    assert split.low_um > 30
