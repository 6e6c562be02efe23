"""Level, undertone, neutralising hue, and the lift from one level to another.

Decides what a level means, how far one session goes, and what colour alone can not do.  Whether the hair
can stand it is left to ``service_rules`` and ``condition``, and in the end to the strand test and the
product's instructions.

Levels run from 1 (black) to 10 (lightest blond), in halves where wanted.  Other scales are in use (1-12,
Japan 1-20): a level from elsewhere is converted by a person, not by the tool.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.spaces import FloatArray
from journey.hair.absent import Absent

DARKEST, LIGHTEST = 1, 10
SCALE = "1-10"


@dataclass(frozen=True, slots=True)
class Undertone:
    """The warm colour that lightening to a level lays bare, and the hue that cancels it."""

    level: int
    name: str
    neutraliser: str


UNDERTONES: tuple[Undertone, ...] = (
    Undertone(1, "plum-black", "green"),
    Undertone(2, "red-violet", "green"),
    Undertone(3, "red", "green"),
    Undertone(4, "red-orange", "blue-green"),
    Undertone(5, "orange", "blue"),
    Undertone(6, "gold-orange", "blue-violet"),
    Undertone(7, "gold", "blue-violet"),
    Undertone(8, "deep yellow", "violet"),
    Undertone(9, "yellow", "violet"),
    Undertone(10, "pale yellow", "violet"),
)
"""The trade's underlying-pigment chart, as printed in a trade magazine (askmags.com, chart 126).  Charts of
other houses name some steps otherwise; none is a standard."""

COMPLEMENTS = (("violet", "yellow"), ("blue", "orange"), ("green", "red"))
"""Hues that cancel each other, of the painter's wheel the trade teaches (North Carolina cosmetology 7.2)."""

LIFT_BY_VOLUMES: dict[float, tuple[int, int]] = {10: (0, 0), 20: (1, 2), 30: (2, 3), 40: (3, 4)}
"""Levels a permanent colour or high-lift tint typically lifts natural hair by, least and most, with a
developer of so many volumes; 10 volumes deposits only (North Carolina cosmetology 7.2)."""

SAFE_STEP_LEVELS = 3.0
"""Assumption each salon may change: most levels to lift in one session."""

CLEAN_BASE_LEVEL = 9.0
"""Assumption: a pastel or a clear violet, blue or silver wants at least this level under it, or the
undertone shows through (common practice, no source)."""

NATURAL_LAB: tuple[tuple[float, float, float], ...] = (
    (18.2, 0.0, -0.9),
    (20.2, 2.1, 2.4),
    (22.5, 4.1, 5.1),
    (26.0, 4.2, 8.8),
    (30.0, 4.4, 11.8),
    (35.0, 4.7, 14.4),
    (41.0, 4.9, 16.5),
    (48.0, 4.8, 17.9),
    (55.5, 4.3, 18.4),
    (63.0, 3.5, 17.9),
)
"""ASSUMPTION, not data: CIELAB (D65) of natural hair at levels 1 to 10, as no published table by level was
found.  Levels 1 and 3 are set to the two colours that were measured on tresses, black and dark brown
(J. Cosmet. Sci. 51(5), D65/10°).  From level 4 on lightness steps were chosen, and a* and b* follow melanin
absorption laws (eumelanin as wavelength^-3.33, a quarter pheomelanin as ^-4.75) in a Kubelka-Munk layer."""

LIGHTENED_LAB: tuple[tuple[float, float, float], ...] = (
    (18.2, 5.0, -1.0),
    (22.0, 13.0, 5.0),
    (27.0, 20.0, 14.0),
    (32.0, 23.0, 21.0),
    (38.0, 23.0, 28.0),
    (44.0, 20.0, 33.0),
    (51.0, 16.0, 36.0),
    (58.0, 11.0, 37.0),
    (67.0, 5.5, 32.0),
    (75.0, 2.0, 24.0),
)
"""ASSUMPTION, not data: CIELAB (D65) of hair lightened to levels 1 to 10, chosen so that its hue runs through
the undertones' names, from red-violet over orange to pale yellow.  A photo of her own lightened hair
replaces it."""


def check_level(level: float) -> float:
    """The level itself; ``ValueError`` when it is not on the scale."""
    if not DARKEST <= level <= LIGHTEST:
        raise ValueError(f"{level!r} is no level; levels run from {DARKEST} (black) to {LIGHTEST}")
    return level


def assumed_lab(
    level: float, *, lightened: bool, known: Mapping[int, ArrayLike] = MappingProxyType({})
) -> FloatArray:
    """Assumed CIELAB, shape (3,), of bare hair at a level; halves lie midway between their neighbours.

    ``known`` holds the CIELAB (3,) of levels whose colour somebody has read.

    >>> assumed_lab(8.5, lightened=True).tolist()
    [62.5, 8.25, 34.5]
    """
    table = np.array(LIGHTENED_LAB if lightened else NATURAL_LAB)
    for step, lab in known.items():
        table[round(check_level(step)) - 1] = lab
    below = min(math.floor(check_level(level)), LIGHTEST - 1)
    near, far = table[below - 1], table[below]
    found: FloatArray = near + (level - below) * (far - near)
    return found


def level_seen(lab: ArrayLike, *, lightened: bool = True) -> float:
    """How dark a colour, CIELAB (3,), looks, in half levels: that of lightened hair as light as it is.

    By the assumed lightnesses of ``LIGHTENED_LAB``, or of ``NATURAL_LAB`` for a colour that is to pass for hair
    that was never lightened; hue does not enter, as a level is a step of depth.

    >>> level_seen((67.0, 5.5, 32.0)), level_seen((35.0, 30.0, -20.0))
    (9.0, 4.5)
    >>> level_seen((30.0, 4.4, 11.8), lightened=False)
    5.0
    """
    lightness = [step[0] for step in (LIGHTENED_LAB if lightened else NATURAL_LAB)]
    level = np.interp(np.asarray(lab, dtype=np.float64)[0], lightness, np.arange(DARKEST, LIGHTEST + 1))
    return float(np.round(2 * level) / 2)


def undertone_at(level: float) -> Undertone:
    """The undertone laid bare at a level; between two levels the darker one's still shows."""
    return UNDERTONES[math.floor(check_level(level)) - 1]


def levels_to_lift(present: float, target: float) -> float:
    """Levels still to be lifted; 0 when the hair is already as light as wanted."""
    return max(0.0, check_level(target) - check_level(present))


def lightening_sessions(present: float, target: float, safe_step: float = SAFE_STEP_LEVELS) -> int:
    """Sessions with lightener, none lifting more than ``safe_step`` levels.

    >>> lightening_sessions(5, 9), lightening_sessions(5, 9, safe_step=4), lightening_sessions(9, 7)
    (2, 1, 0)
    """
    if not safe_step > 0:
        raise ValueError(f"a session lifts more than 0 levels, not {safe_step!r}")
    return math.ceil(levels_to_lift(present, target) / safe_step - 1e-9)


def session_steps(present: float, target: float, safe_step: float = SAFE_STEP_LEVELS) -> tuple[float, ...]:
    """Level to reach in each session, in even steps.

    >>> session_steps(5, 9)
    (7.0, 9.0)
    """
    count = lightening_sessions(present, target, safe_step)
    lift = levels_to_lift(present, target)
    return tuple(present + lift * (number + 1) / count for number in range(count))


def typical_lift(volumes: float) -> tuple[int, int] | Absent:
    """Fewest and most levels a developer lets a permanent colour lift natural hair by.

    Between two strengths of the table the answer spans both; beyond the table there is none.

    >>> typical_lift(20), typical_lift(25)
    ((1, 2), (1, 3))
    """
    if volumes < 10:
        return 0, 0
    above = [strength for strength in LIFT_BY_VOLUMES if strength >= volumes - 1e-6]
    if not above:
        return Absent("lift-not-published", volumes=volumes)
    below = max(strength for strength in LIFT_BY_VOLUMES if strength <= volumes + 1e-6)
    return LIFT_BY_VOLUMES[below][0], LIFT_BY_VOLUMES[min(above)][1]
