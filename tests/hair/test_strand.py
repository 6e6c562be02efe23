"""One zone's hair followed through growth, cuts and services."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journey.hair.band import ALL, ENDS, MID_LENGTHS, NAMED_BANDS, ROOTS, Band
from journey.hair.layers import Coat, Layers
from journey.hair.strand import Segment, Strand

RATE = 0.035


def hair(length_cm=30.0, rate=RATE, before=()):
    return Strand.start("crown", length_cm=length_cm, natural_level=5, growth_cm_per_day=rate, before=before)


def colour(strand, day, band, name="coral rose", colour_class="direct"):
    return strand.lay_colour(
        day, band, service=name, colour_class=colour_class, name=name, washes_before=day / 3
    )


# ------------------------------------------------------------------ promises for any order of operations

SHARES = st.floats(0, 1)
BANDS = st.sampled_from([Band(name) for name in NAMED_BANDS]) | st.builds(
    lambda near, width: Band.between(near, near + width), st.floats(0, 30), st.floats(0.1, 30)
)
OPERATIONS = st.one_of(
    st.tuples(st.just("trim"), SHARES),
    st.tuples(st.just("clip"), st.floats(0, 40)),
    st.tuples(st.just("lighten"), BANDS, st.integers(1, 10)),
    st.tuples(st.just("colour"), BANDS, st.sampled_from(["direct", "permanent"])),
    st.tuples(st.just("remove"), BANDS, SHARES),
    st.tuples(st.just("treat"), BANDS),
)
JOURNEYS = st.lists(st.tuples(st.integers(0, 60), OPERATIONS), max_size=8)


def perform(strand, day, number, operation):
    match operation:
        case ("trim", share):
            return strand.trim(day, share * strand.length_cm(day))
        case ("clip", length_cm):
            return strand.clip_to(day, length_cm)
        case ("lighten", band, level):
            return strand.lighten(day, band, service=f"s{number}", to_level=level)
        case ("colour", band, colour_class):
            return colour(strand, day, band, f"s{number}", colour_class)
        case ("remove", band, left):
            return strand.remove_colour(day, band, leaves={"direct": left})
        case ("treat", band):
            return strand.treat(day, band, service=f"s{number}")
    raise AssertionError(operation)


def follow(length_cm, journey):
    states, day = [hair(length_cm)], 0
    for number, (days_later, operation) in enumerate(journey):
        day += days_later
        states.append(perform(states[-1], day, number, operation))
    return states


@settings(max_examples=150)
@given(length_cm=st.floats(0, 60), journey=JOURNEYS)
def test_no_hair_is_made_or_lost(length_cm, journey):
    """Whatever is done, initial + grown = present + cut, and the profile runs gapless from scalp to tip."""
    for state in follow(length_cm, journey):
        present = state.length_cm()
        assert present >= 0
        assert state.initial_cm + state.grown_cm(state.day) == pytest.approx(present + state.cut_cm, abs=1e-7)
        pieces = state.profile()
        assert math.fsum(piece.length_cm for piece in pieces) == pytest.approx(present, abs=1e-6)
        assert not pieces or pieces[0].from_cm == pytest.approx(0, abs=1e-7)
        for near, far in pairwise(pieces):
            assert near.to_cm == pytest.approx(far.from_cm, abs=1e-7)
            assert near.layers != far.layers


@settings(max_examples=150)
@given(length_cm=st.floats(1, 60), journey=JOURNEYS, place=st.floats(0.01, 0.99))
def test_coats_only_fade_and_levels_only_rise(length_cm, journey, place):
    """At one place of the fibre a coat never gains, is never forgotten, and the fibre never darkens."""
    x = place * length_cm
    seen: dict[str, float] = {}
    level = 0.0
    for state in follow(length_cm, journey):
        layers = state.layers_at(x + state.grown_cm(state.day))
        if layers is None:
            return
        now = {coat.service: coat.share for coat in layers.coats}
        assert all(now[service] <= share for service, share in seen.items())
        assert layers.level >= level
        seen, level = now, layers.level


@settings(max_examples=100)
@given(first=BANDS, second=BANDS)
def test_order_matters_exactly_where_services_overlap(first, second):
    """Two colours laid in either order differ where both lie, and nowhere else."""
    one_way = colour(colour(hair(), 0, first, "pink"), 0, second, "violet")
    other_way = colour(colour(hair(), 0, second, "violet"), 0, first, "pink")
    spans = [hair().span_cm(band, 0) for band in (first, second)]
    for tenth in range(300):
        cm = tenth / 10 + 0.05
        if any(abs(cm - edge) < 1e-6 for span in spans for edge in span):
            continue
        both = all(near < cm < far for near, far in spans)
        assert (one_way.layers_at(cm) != other_way.layers_at(cm)) == both


@given(day=st.floats(0, 400), cm=st.floats(0, 30))
def test_a_service_travels_with_its_hair(day, cm):
    """What was laid at a distance from the scalp is found so much farther out as hair has grown."""
    band = Band.between(cm, cm + 1)
    coloured = colour(hair(), 0, band)
    later = coloured.layers_at(cm + 0.5 + RATE * day, day)
    assert later == coloured.layers_at(cm + 0.5, 0)


# ---------------------------------------------------------------------------------- single situations


def test_growth_is_natural():
    """After twelve weeks at 0.35 mm a day, 2.94 cm of natural hair lie before the colour."""
    coloured = colour(hair().lighten(0, Band(ALL), service="lift", to_level=9), 0, Band(ALL))
    near, far = coloured.profile(84)
    assert near.layers == Layers(natural_level=5)
    assert (near.to_cm, far.to_cm) == (pytest.approx(2.94), pytest.approx(32.94))
    assert coloured.new_growth_cm(84) == pytest.approx(2.94)


def test_places_at_the_ends():
    """The scalp belongs to the hair, the tip no longer, and a line to its far side."""
    banded = colour(hair(), 0, Band.between(4, 30))
    scalp, line = banded.layers_at(0), banded.layers_at(4)
    assert scalp is not None
    assert line is not None
    assert (len(scalp.coats), len(line.coats)) == (0, 1)
    assert banded.layers_at(30) is None
    assert banded.layers_at(-0.1) is None


def test_clipped_to_a_quarter_inch():
    """Hair clipped to 0.6 cm has lost all colour laid a month before (common practice, no source)."""
    nape = colour(hair(0.6), 0, Band(ALL)).clip_to(30, 0.6)
    assert nape.length_cm() == pytest.approx(0.6)
    assert all(not piece.layers.coats for piece in nape.profile())
    kept = colour(hair(0.6), 0, Band(ALL)).clip_to(10, 0.6)
    assert any(piece.layers.coats for piece in kept.profile())


def test_clipping_longer_than_the_hair_cuts_nothing():
    """Hair shorter than the guard is left as it is."""
    assert hair(2).clip_to(0, 5).length_cm() == 2


def test_touch_up_joins_at_the_line():
    """Lightening and colouring only the new growth reaches exactly to the old colour, on one day."""
    first = colour(hair().lighten(0, Band(ALL), service="lift", to_level=9), 0, Band(ALL))
    lifted = first.lighten(84, Band(ROOTS), service="roots", to_level=9)
    assert lifted.span_cm(Band(ROOTS)) == (0, pytest.approx(2.94))
    both = colour(lifted, 84, Band(ROOTS), "rose again")
    assert [(round(piece.to_cm, 2), len(piece.layers.lifts)) for piece in both.profile()] == [
        (2.94, 1),
        (32.94, 1),
    ]
    assert both.new_growth_cm() == 0


def test_mid_lengths_and_ends_after_a_trim():
    """Ends are the last quarter of what is left after the cut made before them."""
    cut = hair().trim(0, 10)
    assert cut.span_cm(Band(ENDS)) == (15, 20)
    assert cut.span_cm(Band(MID_LENGTHS)) == (2, 15)


def test_virgin_hair_before_coloured_ends_is_no_new_growth():
    """Ends coloured far from the scalp leave no regrowth line at the roots."""
    dipped = colour(hair(), 0, Band(ENDS))
    assert dipped.new_growth_cm(30) is None
    assert dipped.span_cm(Band(ROOTS), 30) == (0, 2)


def test_new_growth_since_colour_or_lightening():
    """A gloss over the lightened part moves the colour's line and leaves the lightener's."""
    lifted = hair().lighten(0, Band(ALL), service="lift", to_level=9)
    glossed = colour(lifted, 40, Band(ALL), "gloss", "demi")
    assert glossed.new_growth_cm(60, since="lightening") == pytest.approx(60 * RATE)
    assert glossed.new_growth_cm(60, since="colour") == pytest.approx(20 * RATE)
    with pytest.raises(ValueError, match="lightening, colour or either"):
        glossed.new_growth_cm(60, since="cut")


def test_hair_that_came_coloured():
    """Colour laid before the first visit is part of the first day, with its own regrowth."""
    old = Coat(service="before", colour_class="permanent", name="black", applied_day=-60, washes_before=-20)
    came = hair(before=[Segment(2.1, 30, Layers(natural_level=5, coats=(old,)))])
    assert came.new_growth_cm() == pytest.approx(2.1)
    assert came.span_cm(Band(ROOTS)) == (0, pytest.approx(2.1))


def test_lightener_takes_colour_with_it():
    """Lightener over a permanent colour leaves none of it; the caller may say otherwise."""
    black = colour(hair(), 0, Band(ALL), "black", "permanent")
    taken = black.lighten(0, Band(ALL), service="lift", to_level=7).layers_at(5)
    kept = black.lighten(0, Band(ALL), service="lift", to_level=7, leaves={"permanent": 0.4}).layers_at(5)
    assert taken is not None
    assert kept is not None
    assert taken.standing() == ()
    assert kept.coats[0].share == 0.4


def test_porosity_note_stays_with_the_hair():
    """Porosity noted at the ends moves out with them and changes no colour."""
    noted = hair().note_porosity(0, Band(ENDS), "high")
    far = noted.layers_at(29 + 10 * RATE, 10)
    assert far == Layers(natural_level=5, porosity="high")


def test_extensions():
    """Added hair moves out with the growth, takes what is laid to the tip, and goes when it is taken out."""
    added = Layers(natural_level=10)
    longer = hair(20).extensions_in(0, at_cm=1, length_cm=40, layers=added)
    coloured = colour(longer, 0, Band(ENDS))
    grown = coloured.extension_profile(30)
    assert grown[0].from_cm == pytest.approx(1 + 30 * RATE)
    assert [bool(piece.layers.coats) for piece in grown] == [False, True]
    assert grown[-1].to_cm == pytest.approx(41 + 30 * RATE)
    later = hair(20).extensions_in(30, at_cm=1, length_cm=40, layers=added)
    assert later.extension_profile(30)[0].from_cm == pytest.approx(1)
    assert coloured.clip_to(30, 35).extension_profile()[-1].to_cm == pytest.approx(35)
    assert coloured.extensions_out(40).extension_profile() == ()
    assert coloured.length_cm() == 20
    with pytest.raises(ValueError, match="take those out first"):
        longer.extensions_in(1, at_cm=1, length_cm=40, layers=added)
    with pytest.raises(ValueError, match="no extensions in"):
        hair().extensions_out(3)
    with pytest.raises(ValueError, match="can not be put in"):
        hair().extensions_in(3, at_cm=1, length_cm=0, layers=added)


@given(length_cm=st.floats(1, 60), at_cm=st.floats(0, 3), added_cm=st.floats(1, 60), day=st.floats(0, 200))
def test_added_hair_changes_nothing_of_hers(length_cm, at_cm, added_cm, day):
    """With pieces in, coloured and out again, her own hair is what it is without them."""
    without = colour(hair(length_cm), 1, Band(ENDS)).grow_to(day + 2)
    added = Layers(natural_level=10)
    pieces = hair(length_cm).extensions_in(0, at_cm=at_cm, length_cm=added_cm, layers=added)
    assert colour(pieces, 1, Band(ENDS)).extensions_out(day + 2) == without


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        (lambda: hair().trim(0, 31), "can not be cut off 30.00 cm"),
        (lambda: hair().trim(0, -1), "can not be cut off"),
        (lambda: hair().trim(0, math.nan), "can not be cut off"),
        (lambda: hair().clip_to(0, -1), "can not be clipped"),
        (lambda: hair().grow_to(10).grow_to(9), "order of their days"),
        (lambda: hair().grow_to(10).length_cm(9), "order of their days"),
        (lambda: hair(-1), "numbers from 0 up"),
        (lambda: hair(rate=math.inf), "numbers from 0 up"),
    ],
)
def test_what_can_not_be_done(wrong, message):
    """Impossible cuts, lengths and days are refused with the zone's name."""
    with pytest.raises(ValueError, match=message) as refusal:
        wrong()
    assert "'crown'" in str(refusal.value)


def test_bald_and_grown_again():
    """Shaved hair has no profile, and what grows after is natural."""
    shaved = colour(hair(), 0, Band(ALL)).trim(0, 30)
    assert shaved.profile() == ()
    assert shaved.layers_at(0) is None
    (again,) = shaved.profile(20)
    assert again.layers.is_untouched
    assert again.to_cm == pytest.approx(20 * RATE)


def test_growth_in_steps_is_growth_at_once():
    """Growing day by day gives the strand that one step gives."""
    steps = hair()
    for day in range(1, 31):
        steps = steps.grow_to(day)
    once = hair().grow_to(30)
    assert replace(steps, segments=()) == replace(once, segments=())
    assert [piece.layers for piece in steps.segments] == [piece.layers for piece in once.segments]
    assert steps.segments[0].from_cm == pytest.approx(once.segments[0].from_cm)
