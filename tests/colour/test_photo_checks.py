"""Whether a photo is fit to be measured."""

import numpy as np
import pytest
from scipy import ndimage
from skimage.measure import blur_effect

from journey.colour.photo_checks import (
    MOST_BLUR,
    PhotoCheck,
    blur,
    clipping_check,
    evenness_check,
    noise,
    patch_checks,
    photo_checks,
    profile_check,
    sharpness_check,
    size_check,
)
from journey.colour.reason import Reason
from journey.colour.spaces import FloatArray
from tests.simulators.strands import photographed, render_strands


def strands(seed: int = 1) -> FloatArray:
    """An encoded picture of strands in 0..255, (300, 400, 3)."""
    rng = np.random.default_rng(seed)
    picture = render_strands(rng, [(0.4, 0.1, 0.1)], [1.0], height=300, width=400, pixels_per_strand=6)
    return photographed(rng, picture) * 255


def failed(checks: tuple[PhotoCheck, ...]) -> list[str]:
    return [check.name for check in checks if not check.passed]


def test_blur_agrees_with_another_implementation() -> None:
    """Per direction as in Crété-Roffet 2007 by scikit-image: ours lies between its two directions."""
    luma = strands().mean(axis=-1) / 255
    per_direction = blur_effect(luma, h_size=11, reduce_func=None)  # type: ignore[no-untyped-call]
    assert min(per_direction) <= blur(luma) <= max(per_direction)
    both_alike = luma[:, :300] + luma[:, :300].T
    theirs = blur_effect(both_alike, h_size=11)  # type: ignore[no-untyped-call]
    assert blur(both_alike) == pytest.approx(float(theirs), abs=0.01)


def test_blur_grows_with_blurring() -> None:
    """More blur never reads as sharper."""
    luma = strands().mean(axis=-1)
    values = [blur(ndimage.gaussian_filter(luma, sigma)) for sigma in (0.0, 1.0, 2.0, 3.0, 5.0)]
    assert values == sorted(values)


def test_sharp_passes_and_blurred_does_not() -> None:
    """Strands in focus pass; the same strands blurred by 4 pixels are told to be blurred."""
    sharp = strands()
    assert sharpness_check(sharp).passed
    found = sharpness_check(ndimage.gaussian_filter(sharp, (4, 4, 0)))
    assert not found.passed
    assert found.reason == Reason("blurred")


def test_noise_of_known_size_is_found() -> None:
    """White noise over a slope, within 2 %; strands add to it, never take away."""
    rng = np.random.default_rng(4)
    slope = np.add.outer(np.linspace(0, 90, 300), np.linspace(0, 60, 400))
    assert noise(slope) == pytest.approx(0, abs=1e-4)
    assert noise(slope + rng.normal(0, 3, slope.shape)) == pytest.approx(3, rel=0.02)
    assert noise(strands().mean(axis=-1) + rng.normal(0, 3, slope.shape)) > 2.9


@pytest.mark.parametrize(("sigma", "contrast", "reason"), [(5, 1.0, "blurred"), (5, 0.2, "noise-hides-blur")])
def test_noise_does_not_make_a_blurred_picture_sharp(sigma: int, contrast: float, reason: str) -> None:
    """Faint strands out of focus beside a noise of one code: judged by steps alone they were sharp."""
    rng = np.random.default_rng(5)
    faint = 128 + contrast * (strands() - 128)
    blurred = ndimage.gaussian_filter(faint, (sigma, sigma, 0)) + rng.normal(0, 1, faint.shape)
    found = sharpness_check(blurred)
    assert (found.passed, found.reason.key) == (False, reason)


def test_sharpness_is_judged_at_one_size() -> None:
    """A photo 4800 pixels wide that is soft only at its own pixels is sharp."""
    sharp = np.tile(strands(), (1, 4, 1))
    large = ndimage.gaussian_filter(np.kron(sharp, np.ones((3, 3, 1))), (2.5, 2.5, 0))
    assert blur(large[:600, :600].mean(axis=-1)) > MOST_BLUR
    assert sharpness_check(large).passed


def test_tiny_picture_has_no_sharpness() -> None:
    """Too small to judge: no value, and no reproach."""
    found = sharpness_check(np.zeros((20, 20, 3)))
    assert (found.value, found.passed) == (None, True)


def test_clipping_is_counted_without_gaps() -> None:
    """A tenth of the pixels clipped in red fails; as many black ones are gaps."""
    linear = np.full((50, 50, 3), 0.3)
    clipped = np.zeros((50, 50), dtype=np.bool_)
    clipped[:5] = True
    assert clipping_check(linear, clipped).value == pytest.approx(0.1)
    assert not clipping_check(linear, clipped).passed
    linear[:5] = 0.0
    assert clipping_check(linear, clipped).value == 0
    assert clipping_check(linear, clipped).passed


def test_small_patch_is_told() -> None:
    """A patch of 30 x 30 is too small, one of 40 x 40 is not."""
    assert not size_check(np.zeros((30, 30))).passed
    assert size_check(np.zeros((40, 40))).passed


@pytest.mark.parametrize(("change", "passes"), [(0.0, True), (0.06, True), (0.2, False)])
@pytest.mark.parametrize("axis", [0, 1])
def test_light_across_the_card_is_measured(change: float, passes: bool, axis: int) -> None:
    """A card lit a fifth brighter on one side fails, whichever side, also through noise."""
    rng = np.random.default_rng(2)
    ramp = np.linspace(0, np.log1p(change), 60)
    light = np.exp(ramp[:, None] if axis == 0 else ramp[None, :]) * np.ones((60, 60))
    card = 0.18 * light[..., None] * rng.normal(1, 0.03, (60, 60, 3))
    found = evenness_check(card)
    assert found.value == pytest.approx(change, abs=0.02)
    assert found.passed is passes


def test_unreadable_card_has_no_evenness() -> None:
    """A card of two pixels, or a black one, gives no value and no reproach."""
    for card in (np.full((2, 2, 3), 0.2), np.zeros((30, 30, 3))):
        assert (evenness_check(card).value, evenness_check(card).passed) == (None, True)


def test_checks_come_together() -> None:
    """A photo is checked for sharpness, and with a card for its light; a patch for size and clipping."""
    assert [check.name for check in photo_checks(strands())] == ["sharpness"]
    card = np.full((40, 40, 3), 0.18)
    assert [check.name for check in photo_checks(strands(), card)] == ["sharpness", "even light"]
    assert failed(patch_checks(np.full((9, 9, 3), 0.2), np.ones((9, 9), dtype=np.bool_))) == [
        "patch size",
        "clipping",
    ]
    for check in photo_checks(strands(), card):
        assert check.reason.key


def test_a_lamp_chart_goes_stale_with_age_and_with_another_light() -> None:
    """Two months serve, a day more does not; in a light of another name none does, each for its own reason."""
    fresh, old = profile_check(60, same_light=True), profile_check(61, same_light=True)
    other = profile_check(3, same_light=False)
    assert (fresh.passed, old.passed, other.passed) == (True, False, False)
    assert [check.reason.key for check in (fresh, old, other)] == [
        "profile-fresh",
        "profile-stale",
        "profile-of-another-light",
    ]
