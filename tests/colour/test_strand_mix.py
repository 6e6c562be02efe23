"""Single strands and their mixture, from pictures whose strands are known."""

import numpy as np
import pytest

from journey.colour.difference import delta_e_2000
from journey.colour.spaces import decode_srgb, lab_to_xyz, linear_rgb_to_xyz, xyz_to_lab
from journey.colour.strand_mix import StrandMix, bright_ground, strand_mix
from journey.colour.swatch import NotReadableError
from tests.accuracy.strand_mix import against_ordinary_photos, share_errors, suggestions_right
from tests.simulators.strands import Light, photographed, render_strands

CORAL, VIOLET, BLONDE = (0.50, 0.10, 0.10), (0.12, 0.05, 0.22), (0.65, 0.52, 0.28)


def mix_of(*albedos: tuple[float, float, float], colours: int | None = None, seed: int = 1) -> StrandMix:
    rng = np.random.default_rng(seed)
    picture = render_strands(rng, albedos, np.full(len(albedos), 1 / len(albedos)))
    return strand_mix(linear_rgb_to_xyz(decode_srgb(photographed(rng, picture))), colours=colours)


@pytest.mark.parametrize("pixels_per_strand", [12.0, 5.0])
def test_shares_of_two_colours_are_found(pixels_per_strand: float) -> None:
    """Two declared colours: the mean over heads of the largest share error is at most 0.05."""
    errors = share_errors(seed=31, heads=12, colours=2, pixels_per_strand=pixels_per_strand)
    assert errors.mean() <= 0.05


def test_shares_of_three_colours_are_found_less_well() -> None:
    """Three declared colours: at most 0.12 in the mean."""
    assert share_errors(seed=32, heads=8, colours=3, pixels_per_strand=12).mean() <= 0.12


@pytest.mark.parametrize(("colours", "least"), [(1, 0.9), (2, 0.8)])
def test_number_of_colours_is_suggested(colours: int, least: float) -> None:
    """One and two colours are told apart, gloss or not. Three is a suggestion at best, so untested."""
    assert suggestions_right(seed=33, heads=10, colours=colours) >= least


def test_mixture_agrees_with_an_ordinary_photo() -> None:
    """A field of few strands stands for the head: mean within 5 of an independent photo (k_L 1.5)."""
    assert against_ordinary_photos(seed=34, heads=8, pixels_per_strand=5).mean() < 5


def test_mixture_is_formed_in_linear_light() -> None:
    """From afar is the shares' sum of XYZ; the mean of the strands' CIELAB would be another colour."""
    mix = mix_of(BLONDE, VIOLET, colours=2)
    shares = np.array([strand.share for strand in mix.strands])
    labs = np.array([strand.lab for strand in mix.strands])
    assert shares.sum() == pytest.approx(1)
    assert mix.from_afar_lab == pytest.approx(xyz_to_lab(shares @ lab_to_xyz(labs)))
    assert delta_e_2000(mix.from_afar_lab, shares @ labs) > 3


def test_strand_colours_are_those_of_the_strands() -> None:
    """Each colour found has the hue of one of the strands drawn, within 12 degrees."""
    mix = mix_of(CORAL, VIOLET, colours=2)
    found = sorted(np.degrees(np.arctan2(strand.lab[2], strand.lab[1])) for strand in mix.strands)
    drawn_lab = [xyz_to_lab(linear_rgb_to_xyz(np.array(albedo))) for albedo in (CORAL, VIOLET)]
    drawn = sorted(np.degrees(np.arctan2(lab[2], lab[1])) for lab in drawn_lab)
    assert found == pytest.approx(drawn, abs=12)


def test_colours_come_largest_first_and_label_their_pixels() -> None:
    """Shares fall, and label i covers share i of the sorted pixels."""
    mix = mix_of(CORAL, VIOLET, BLONDE, colours=3)
    shares = [strand.share for strand in mix.strands]
    assert shares == sorted(shares, reverse=True)
    counts = np.bincount(mix.labels[mix.labels >= 0], minlength=3)
    assert counts / counts.sum() == pytest.approx(shares)


def test_gaps_and_sheen_are_no_strands() -> None:
    """Dark gaps and the brightest pixels carry no label."""
    rng = np.random.default_rng(4)
    picture = render_strands(rng, [CORAL, VIOLET], [0.5, 0.5], light=Light(gloss=0.5))
    xyz = linear_rgb_to_xyz(picture.linear)
    mix = strand_mix(xyz, colours=2)
    assert mix.labels[xyz[..., 1] == xyz[..., 1].max()].max() == -1
    gaps = picture.labels == -1
    assert gaps.sum() > 50
    assert (mix.labels[gaps] == -1).mean() > 0.9


def test_declared_and_suggested_are_told_apart() -> None:
    """The colourist's number is kept even where another would be suggested, and doubt is said aloud."""
    suggested = mix_of(CORAL)
    declared = mix_of(CORAL, colours=2)
    assert (len(suggested.strands), suggested.declared, suggested.silhouette) == (1, False, None)
    assert (len(declared.strands), declared.declared) == (2, True)
    assert declared.warnings
    assert not mix_of(CORAL, VIOLET, colours=2).warnings


def test_same_picture_gives_the_same_answer() -> None:
    """Nothing is left to chance: two runs agree to the last digit."""
    first, second = mix_of(CORAL, VIOLET, BLONDE), mix_of(CORAL, VIOLET, BLONDE)
    assert first.strands == second.strands
    assert np.array_equal(first.labels, second.labels)


def test_what_is_outside_is_left_out() -> None:
    """A mask keeps another colour out of the mixture altogether."""
    rng = np.random.default_rng(5)
    left = render_strands(rng, [CORAL], [1.0]).linear
    right = render_strands(rng, [BLONDE], [1.0]).linear
    xyz = linear_rgb_to_xyz(np.concatenate([left, right], axis=1))
    inside = np.zeros(xyz.shape[:2], dtype=np.bool_)
    inside[:, : left.shape[1]] = True
    alone = strand_mix(linear_rgb_to_xyz(left), colours=1)
    masked = strand_mix(xyz, colours=1, inside=inside)
    assert masked.from_afar_lab == pytest.approx(alone.from_afar_lab, abs=1e-9)
    assert masked.labels[:, left.shape[1] :].max() == -1


def test_large_pictures_are_reduced() -> None:
    """A picture of 2600 pixels comes back with labels of at most 1200, and nearly the same mixture."""
    rng = np.random.default_rng(6)
    picture = render_strands(rng, [CORAL, VIOLET], [0.5, 0.5], height=60, width=2600)
    mix = strand_mix(linear_rgb_to_xyz(picture.linear), colours=2)
    assert mix.labels.shape == (20, 866)


@pytest.mark.parametrize("colours", [0, 7])
def test_number_of_colours_is_checked(colours: int) -> None:
    """None, or more than six, is a mistake."""
    with pytest.raises(ValueError, match="from 1 to 6"):
        mix_of(CORAL, colours=colours)


def test_too_little_hair_is_refused() -> None:
    """A picture of a few pixels is no field of strands."""
    with pytest.raises(NotReadableError, match=r"too-little-hair.*all=400"):
        strand_mix(np.full((20, 20, 3), 0.2))


def test_lit_ground_is_found() -> None:
    """Under transmitted light the bright ground is told from coloured fibres, out to their rims."""
    rng = np.random.default_rng(7)
    ground = np.full((200, 300, 3), 0.74) * rng.normal(1, 0.01, (200, 300, 1))
    ground[60:100] = CORAL
    ground[150:180] = (0.08, 0.05, 0.15)
    mask = bright_ground(linear_rgb_to_xyz(ground))
    truth = np.ones((200, 300), dtype=np.bool_)
    truth[60:100] = truth[150:180] = False
    assert (mask == truth).mean() > 0.98
    assert not mask[62:98].any()
