"""Whether a photo was framed like the one before, on drawn heads."""

import numpy as np
import pytest

from journey.colour.framing import frame_change, frame_checks, frame_outline
from journey.colour.spaces import FloatArray

CORAL, VIOLET = (225, 120, 110), (95, 60, 130)


def head(
    hair: tuple[int, int, int],
    *,
    scale: float = 1.0,
    right: float = 0.0,
    down: float = 0.0,
    profile: bool = False,
    seed: int = 1,
) -> FloatArray:
    """A head of hair over a cape on grey, (400, 320, 3), moved by shares of the longer side."""
    rng = np.random.default_rng(seed)
    y, x = np.mgrid[:400, :320] / 400.0
    x, y = (x - 0.4 - right) / scale, (y - 0.5 - down) / scale
    picture = np.full((400, 320, 3), 150.0)
    spread, start = (0.05, 0.30) if profile else (0.24, 0.22)
    shoulders = (y > start) & (np.abs(x) < spread + 0.5 * (y - start))
    picture[shoulders] = 45
    if profile:
        picture[((x + 0.10) ** 2 / 0.12**2 + (y + 0.10) ** 2 / 0.17**2) < 1] = (190, 150, 130)
        shape = ((x - 0.04) ** 2 / 0.15**2 + (y + 0.14) ** 2 / 0.18**2 < 1) | (
            (np.abs(x - 0.12) < 0.07) & (np.abs(y) < 0.2)
        )
    else:
        shape = (x**2 / 0.17**2 + (y + 0.12) ** 2 / 0.22**2 < 1) | ((np.abs(x) < 0.17) & (np.abs(y - 0.05) < 0.22))
    picture[shape] = hair
    texture = rng.normal(0, 12, (400, 320, 1))
    return np.clip(picture + texture, 0, 255)


def outlines(now: FloatArray, before: FloatArray):  # type: ignore[no-untyped-def]
    return frame_outline(now), frame_outline(before)


@pytest.mark.parametrize("scale", [0.8, 1.0, 1.1, 1.25])
def test_distance_is_found_whatever_the_hair_colour(scale: float) -> None:
    """The same head nearer or farther, coral before and violet now: scale within 5 %, same side."""
    change = frame_change(*outlines(head(VIOLET, scale=scale, seed=2), head(CORAL)))
    assert change.scale == pytest.approx(scale, rel=0.05)
    assert change.likeness > 0.5


@pytest.mark.parametrize(("right", "down"), [(0.08, 0.0), (-0.10, 0.05), (0.0, -0.06)])
def test_place_is_found(right: float, down: float) -> None:
    """The head moved in the frame: the shift within 2 % of the longer side."""
    change = frame_change(*outlines(head(VIOLET, right=right, down=down, seed=3), head(CORAL)))
    assert change.shift == pytest.approx((right, down), abs=0.02)


def test_same_frame_passes() -> None:
    """The same framing in another colour passes all three checks."""
    assert all(check.passed for check in frame_checks(*outlines(head(VIOLET, seed=4), head(CORAL))))


def test_each_difference_is_told_by_its_own_check() -> None:
    """Nearer, moved aside, and from the side: one check each says so."""
    before = head(CORAL)

    def failed(now: FloatArray) -> list[str]:
        return [check.name for check in frame_checks(*outlines(now, before)) if not check.passed]

    assert failed(head(VIOLET, scale=1.3)) == ["same distance"]
    assert failed(head(VIOLET, right=0.16)) == ["same place"]
    assert failed(head(VIOLET, profile=True)) == ["same side"]


def test_other_side_leaves_distance_unmeasured() -> None:
    """What can not be compared has no value and is no reproach."""
    seen, distance, place = frame_checks(*outlines(head(VIOLET, profile=True), head(CORAL)))
    assert seen.value is not None
    assert (distance.value, place.value) == (None, None)
    assert distance.passed
    assert place.passed


def test_empty_picture_matches_nothing() -> None:
    """A blank photo is unlike any other, without an error."""
    blank = np.full((400, 320, 3), 128.0)
    assert not frame_checks(*outlines(blank, head(CORAL)))[0].passed


def test_size_of_the_photo_does_not_matter() -> None:
    """The same picture at twice the pixels gives the same outline."""
    small = frame_outline(head(CORAL))
    large = frame_outline(np.kron(head(CORAL), np.ones((2, 2, 1))))
    change = frame_change(large, small)
    assert change.likeness > 0.97
    assert change.scale == pytest.approx(1)
