"""Level, undertone, lift, and what colour alone can not reach."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest

from journey.colour.difference import delta_e_2000
from journey.hair.absent import Absent
from journey.hair.layers import Coat, Layers
from journey.hair.level import (
    COMPLEMENTS,
    LIGHTENED_LAB,
    NATURAL_LAB,
    UNDERTONES,
    assumed_lab,
    lightening_sessions,
    session_steps,
    typical_lift,
    undertone_at,
)
from journey.hair.reach import base_shows_through, colour_does_not_lift

# Underlying-pigment chart printed in a trade magazine (askmags.com, chart 126), typed from it.
TRADE_CHART = [
    (10, "pale yellow", "violet"),
    (9, "yellow", "violet"),
    (8, "deep yellow", "violet"),
    (7, "gold", "blue-violet"),
    (6, "gold-orange", "blue-violet"),
    (5, "orange", "blue"),
    (4, "red-orange", "blue-green"),
    (3, "red", "green"),
    (2, "red-violet", "green"),
    (1, "plum-black", "green"),
]

# Places on the painter's wheel in steps of 30 degrees, as the trade teaches it (common practice, no source).
WHEEL = {
    "red": 0, "red-orange": 30, "orange": 60, "gold-orange": 75, "gold": 90, "deep yellow": 110,
    "yellow": 120, "pale yellow": 120, "green": 180, "blue-green": 210, "blue": 240, "blue-violet": 270,
    "violet": 300,
}  # fmt: skip


@pytest.mark.parametrize(("level", "undertone", "neutraliser"), TRADE_CHART)
def test_undertones(level, undertone, neutraliser):
    """Undertone and neutraliser are those of the trade's chart; a half level shows the darker undertone."""
    found = undertone_at(level)
    assert (found.name, found.neutraliser) == (undertone, neutraliser)
    if level < 10:
        assert undertone_at(level + 0.5) == found


def test_neutralisers_lie_across_the_wheel():
    """Every neutraliser lies within a twelfth of the wheel of its undertone's complement.

    The complements are those of North Carolina cosmetology 7.2: violet and yellow, blue and orange, green
    and red.  Left out: plum-black and red-violet (levels 1 and 2), whose chart neutraliser, green, answers
    the red in them and not the violet.
    """
    for one, other in COMPLEMENTS:
        assert (WHEEL[one] - WHEEL[other]) % 360 == 180
    for tone in UNDERTONES[2:]:
        apart = (WHEEL[tone.neutraliser] - WHEEL[tone.name]) % 360
        assert abs(apart - 180) <= 30, tone


def test_lightening_order():
    """Assumed colours of lightened hair go through red, red-gold, gold, yellow and pale yellow in that order.

    The order is that of North Carolina cosmetology 7.2.  Hue turns from red to yellow and lightness rises at
    every step; from level 8 on the yellow grows paler.
    """
    L, a, b = np.array(LIGHTENED_LAB).T
    assert (np.diff(L) > 0).all()
    assert (np.diff(np.degrees(np.arctan2(b, a))) > 0).all()
    assert (np.diff(np.hypot(a, b)[7:]) < 0).all()


def test_natural_hair_gets_lighter_and_warm():
    """Assumed natural colours rise in lightness; from dark brown on they lie on the yellow side of red."""
    L, a, b = np.array(NATURAL_LAB).T
    assert (np.diff(L) > 0).all()
    assert ((b > a) & (a > 0))[2:].all()
    assert (np.diff(np.degrees(np.arctan2(b, a))) > 0).all()


# Tresses by spectrophotometer, D65/10°, specular in and out or strands laid two ways (J. Cosmet. Sci. 51(5)).
@pytest.mark.parametrize(
    ("lab", "level"),
    [
        ((18.37, -0.05, -0.84), 1),
        ((18.00, 0.02, -0.91), 1),
        ((22.48, 4.10, 5.13), 3),
        ((23.04, 4.04, 4.72), 3),
    ],
)
def test_measured_hair_is_nearest_to_its_level(lab, level):
    """Measured black is nearest to level 1, dark brown to level 3 (which name is which level: no source)."""
    apart = [float(delta_e_2000(np.array(lab), assumed_lab(one, lightened=False))) for one in range(1, 11)]
    assert 1 + int(np.argmin(apart)) == level


def test_half_levels_lie_between():
    """A half level lies between its neighbours; ends of the scale are met exactly."""
    for table, lightened in ((NATURAL_LAB, False), (LIGHTENED_LAB, True)):
        assert assumed_lab(1, lightened=lightened).tolist() == list(table[0])
        assert assumed_lab(10, lightened=lightened).tolist() == list(table[9])
        middle = assumed_lab(6.5, lightened=lightened)
        assert middle == pytest.approx((np.array(table[5]) + np.array(table[6])) / 2)


@pytest.mark.parametrize("level", [0, 0.5, 10.5, math.nan])
def test_levels_off_the_scale(level):
    """A level outside 1 to 10 is refused, wherever it is asked about."""
    for ask in (
        undertone_at,
        lambda one: assumed_lab(one, lightened=True),
        lambda one: session_steps(1, one),
    ):
        with pytest.raises(ValueError, match="levels run from 1"):
            ask(level)


def test_sessions():
    """No session lifts more than the safe step, and the steps end at the target."""
    assert lightening_sessions(5, 9) == 2
    assert lightening_sessions(5, 8) == 1
    assert lightening_sessions(1, 10) == 3
    assert lightening_sessions(9, 5) == 0
    assert session_steps(9, 5) == ()
    for present in range(1, 11):
        for target in range(present, 11):
            steps = (present, *session_steps(present, target, 2.5))
            assert steps[-1] == target
            assert all(0 < far - near <= 2.5 for near, far in pairwise(steps))
    with pytest.raises(ValueError, match="more than 0 levels"):
        lightening_sessions(5, 9, 0)


@pytest.mark.parametrize(("volumes", "lift"), [(10, (0, 0)), (20, (1, 2)), (30, (2, 3)), (40, (3, 4))])
def test_typical_lift(volumes, lift):
    """10 volumes deposit; 20 lift 1-2 levels, 30 lift 2-3, 40 lift 3-4 (North Carolina cosmetology 7.2)."""
    assert typical_lift(volumes) == lift


def test_lift_off_the_table():
    """Between two strengths both are spanned; above 40 volumes there is no answer."""
    assert typical_lift(15) == (0, 2)
    assert typical_lift(6) == (0, 0)
    assert isinstance(typical_lift(45), Absent)


# ------------------------------------------------------------------------------ colour does not lift colour

NATURAL = Layers(natural_level=5)


def with_coat(layers, colour_class):
    return layers.coated(
        Coat(service="a", colour_class=colour_class, name="black", applied_day=0, washes_before=0)
    )


def codes(*args, **kwargs):
    return [obstacle.code for obstacle in colour_does_not_lift(*args, **kwargs)]


def test_tint_lifts_natural_hair_only():
    """A tint with 20 volumes lifts natural level 5 to 7, not to 8, and lifts no colour (no source)."""
    assert codes(NATURAL, 7, colour_class="permanent", volumes=20) == []
    assert codes(NATURAL, 8, colour_class="permanent", volumes=20) == ["beyond-the-developer"]
    black = with_coat(NATURAL, "permanent")
    assert codes(black, 7, colour_class="permanent", volumes=20) == ["colour-does-not-lift-colour"]
    lifted = NATURAL.lightened("lift", 0, 6, {})
    assert codes(lifted, 7, colour_class="permanent", volumes=20) == ["lightened-before"]
    assert codes(NATURAL, 9, colour_class="permanent", volumes=60) == ["strength-unknown"]


def test_without_developer_colour_only_adds():
    """A direct colour reaches no level above the fibre's; at or below it, nothing stands against it."""
    assert codes(NATURAL, 8, colour_class="direct") == ["adds-only"]
    assert codes(NATURAL, 5, colour_class="direct") == []
    assert codes(NATURAL, 6, colour_class="demi", volumes=10) == ["adds-only"]
    assert codes(NATURAL, 6, colour_class="permanent") == ["adds-only"]


def test_lighter_colour_over_darker_colour():
    """A light colour over a dark one does not show, though the fibre underneath is light enough."""
    lifted = NATURAL.lightened("lift", 0, 9, {})
    dark = with_coat(lifted, "direct")
    assert codes(dark, 8, colour_class="direct", level_on_hair=4) == ["colour-over-colour"]
    assert codes(dark, 8, colour_class="direct") == []
    assert codes(dark, 4, colour_class="direct", level_on_hair=4) == []
    washed_out = codes(dark, 8, colour_class="direct", level_on_hair=4, remaining=lambda _: 0.0)
    assert washed_out == []


def test_undertone_under_a_pastel():
    """A clear hue on level 7 shows the gold underneath; on level 9 it does not matter."""
    shows = base_shows_through(7, wanted_clear=True)
    assert shows is not None
    assert shows.values["undertone"] == "gold"
    assert shows.values["hue"] == "blue-violet"
    assert base_shows_through(9, wanted_clear=True) is None
    assert base_shows_through(7, wanted_clear=False) is None
