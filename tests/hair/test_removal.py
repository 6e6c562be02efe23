"""Taking colour off.  Facts of the trade here are common practice, no source."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.hair.absent import Absent
from journey.hair.band import ALL, Band
from journey.hair.layers import Coat, Layers
from journey.hair.removal import (
    COLOUR_OVER,
    LIGHTEN,
    PRACTICE,
    REMOVE,
    REST,
    Remover,
    level_after_removing_tint,
    passes_needed,
    residue_notes,
    shares_left,
    spread_of,
    take_off,
    take_off_again,
    way_on,
)
from journey.hair.strand import Strand


def coat(name, colour_class="direct"):
    return Coat(service=name, colour_class=colour_class, name=name, applied_day=0, washes_before=0)


NATURAL = Layers(natural_level=5)
LIFTED = NATURAL.lightened("lift", 0, 9, {})
COLOURED = LIFTED.coated(coat("coral")).coated(coat("violet"))


def test_reverse_order():
    """Layers come off in the reverse order they were laid."""
    steps = take_off(COLOURED, Remover()).steps
    assert [step.coat.name for step in steps] == ["violet", "coral"]


def test_level_underneath_stays():
    """Without developer a remover lifts nothing: the lightened level is what it uncovers."""
    removal = take_off(COLOURED, Remover(), leaves=0.0)
    assert removal.shows_after is None
    assert removal.level_under == 9


def test_developer_decides_what_is_reached():
    """Without developer a tint stays; with 20 volumes it is taken too."""
    over_tint = NATURAL.coated(coat("black", "permanent")).coated(coat("violet"))
    without = take_off(over_tint, Remover(), leaves=0.0)
    assert [step.reached for step in without.steps] == [True, False]
    assert without.shows_after is not None
    assert without.shows_after.name == "black"
    assert take_off(over_tint, Remover(20), leaves=0.0).shows_after is None


def test_washing_and_removal_multiply():
    """Half washed out, of which a removal leaves a fifth, is a tenth."""
    (step,) = take_off(LIFTED.coated(coat("coral")), Remover(), leaves=0.2, remaining=lambda _: 0.5).steps
    assert (step.left_before, step.left_after) == (0.5, pytest.approx(0.1))


def test_removal_on_a_strand_is_the_same_removal():
    """The shares a remover leaves can be handed to a strand, which then carries what was foretold."""
    strand = Strand.start("nape", length_cm=10, natural_level=5, growth_cm_per_day=0.035)
    strand = strand.lay_colour(0, Band(ALL), service="coral", colour_class="direct", name="coral")
    left = strand.remove_colour(30, Band(ALL), leaves=Remover().leaves(0.25)).layers_at(5)
    assert left is not None
    assert left.coats[0].share == 0.25
    with pytest.raises(ValueError, match="share from 0 to 1"):
        Remover().leaves(1.5)


def test_black_with_twenty_volumes():
    """An oxidative black (level 1) comes to about level 7 with 20 volumes; other cases are not made up."""
    assert level_after_removing_tint(1, 20) == 7
    for level, volumes in ((1, None), (3, 20), (1, 10)):
        assert isinstance(level_after_removing_tint(level, volumes), Absent)


def test_passes():
    """A removal that leaves half needs four to come under a tenth; one that takes nothing never does."""
    assert passes_needed(1.0, 0.1, 0.5) == 4
    assert passes_needed(0.1, 0.1) == 0
    assert isinstance(passes_needed(1.0, 0.1, 1.0), Absent)
    assert isinstance(passes_needed(1.0, 0.01, 0.9), Absent)
    with pytest.raises(ValueError, match="shares lie between"):
        passes_needed(1.0, 0.0)


def test_residue():
    """Fine hair, wide sections and saturation not checked each leave colour behind; careful work does not."""
    assert residue_notes("crown", cross_checked=True, section_width_cm=1.27) == ()
    notes = residue_notes("nape", cross_checked=False, section_width_cm=2.5)
    keys = [note.key.removeprefix("residue-") for note in notes]
    assert keys == ["fine-hair", "wide-sections", "not-cross-checked"]
    assert dict(notes[1].values)["most"] == 1.27  # half an inch
    unknown = residue_notes("crown", cross_checked=None, section_width_cm=None)
    assert [note.key for note in unknown] == ["residue-cross-check-not-noted"]


@pytest.mark.parametrize(
    ("layers", "options", "step"),
    [
        (COLOURED, {"wanted_level": 10}, REMOVE),  # direct colour goes first, lightener need not meet it
        (COLOURED, {"wanted_level": 9}, REMOVE),
        (COLOURED, {"wanted_level": 9, "colour_may_stay": True}, COLOUR_OVER),
        (
            COLOURED,
            {"wanted_level": 9, "remaining": lambda _: 0.1},
            COLOUR_OVER,
        ),  # a stain is in nobody's way
        (NATURAL.coated(coat("black", "permanent")), {"wanted_level": 8}, LIGHTEN),
        (NATURAL.coated(coat("black", "permanent")), {"wanted_level": 5}, REMOVE),
        (LIFTED.coated(coat("brown", "demi")), {"wanted_level": 10}, REMOVE),  # lightener again is overlap
        (NATURAL, {"wanted_level": 8}, LIGHTEN),
        (NATURAL, {"wanted_level": 4}, COLOUR_OVER),
        (COLOURED, {"wanted_level": 10, "weakened": True}, REST),
    ],
)
def test_way_on(layers, options, step):
    """Remover, lightener, colour or rest: the gentlest step that brings the hair nearer."""
    way = way_on(layers, **options)
    assert way.step == step
    assert way.because.key
    assert way.source == PRACTICE


def test_way_on_warns_of_overlap():
    """Lightener over hair lightened before is named as such."""
    assert way_on(LIFTED, wanted_level=10).because.key == "way-lift-lightened"
    assert way_on(NATURAL, wanted_level=8).because.key == "way-lift-natural"


CLASSES = st.sampled_from(["direct", "acid", "temporary", "demi", "permanent"])


@given(
    classes=st.lists(CLASSES, min_size=1, max_size=5),
    leaves=st.floats(0, 1),
    washed=st.floats(0.02, 1),
    volumes=st.sampled_from([None, 10.0, 20.0]),
)
def test_no_removal_leaves_more_than_it_met(classes, leaves, washed, volumes):
    """Over five removals no coat ever grows, none swaps its place, and the level underneath stays."""
    layers = LIFTED
    for number, name in enumerate(classes):
        layers = layers.coated(coat(f"{name} {number}", name))
    done = take_off_again(layers, Remover(volumes), 5, leaves=leaves, remaining=lambda _: washed)
    assert {removal.level_under for removal in done} == {9}
    for removal in done:
        assert all(0 <= step.left_after <= step.left_before for step in removal.steps)
    together = [1.0, *shares_left(done)]
    assert all(0 <= later <= earlier for earlier, later in pairwise(together))
    for earlier, later in pairwise(done):
        left = {step.coat.name: step.left_after for step in earlier.steps}
        for step in later.steps:
            assert step.left_before == pytest.approx(left[step.coat.name])
        order = [step.coat.name for step in earlier.steps]
        assert [step.coat.name for step in later.steps] == [
            name for name in order if name in {step.coat.name for step in later.steps}
        ]


@given(left_now=st.floats(0, 1), wanted=st.floats(0.05, 1), leaves=st.floats(0, 0.9))
def test_passes_needed_is_the_first_that_is_enough(left_now, wanted, leaves):
    """After the passes named, no more than wanted is left, and one fewer would not have done."""
    passes = passes_needed(left_now, wanted, leaves)
    if isinstance(passes, Absent):
        assert left_now * leaves**6 > wanted
        return
    assert left_now * leaves**passes <= wanted + 1e-9
    assert passes == 0 or left_now * leaves ** (passes - 1) > wanted


@given(st.floats(0, 1))
def test_spread_is_in_order(leaves):
    """A remover that does little leaves at least what is expected, one that does much at most that."""
    little, expected, much = spread_of(leaves)
    assert 1 >= little >= expected >= much >= 0
    assert expected == leaves
    with pytest.raises(ValueError, match="share from 0 to 1"):
        spread_of(1.1)

