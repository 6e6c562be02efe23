"""What could come next, worked out: options, taking colour off, a touch-up of the new growth.

Part of the study's results (`journey.study.model`); values carry the record's own keys and days.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from journey.colour.dye import Dye
from journey.colour.reason import Reason
from journey.hair.absent import Absent
from journey.hair.bowl import Bowl
from journey.hair.interval import Interval
from journey.hair.reach import Obstacle
from journey.hair.removal import Way
from journey.study.place import Lab, Place


@dataclass(frozen=True, slots=True, kw_only=True)
class Prediction:
    """Colour of one place at one time after an option, from light to strong uptake."""

    place: Place
    weeks: float
    light: Lab
    expected: Lab
    strong: Lab


@dataclass(frozen=True, slots=True, kw_only=True)
class Unreached:
    """A planned colour that this hair does not let through as meant, and where."""

    service: str
    """Name of the planned service."""
    zones: tuple[str, ...]
    cm: float
    """Longest stretch along the strand for which it holds."""
    obstacle: Obstacle


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovedCoat:
    """One coat in the order it is met, and how much of it is left after each removal."""

    service: str
    name: str
    colour_class: str
    reached: bool
    """Whether the remover works on this class."""
    left: tuple[float, ...]
    """Of what was once laid, 0 to 1: today, after one removal, after two, ..."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalPass:
    """The colour after so many removals; light where the remover did little, strong where it did much."""

    number: int
    """0 is today."""
    share: float
    """Share of today's colour that is expected to be left."""
    light: Lab
    expected: Lab
    strong: Lab


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalStudy:
    """What taking colour off would do at one place, beginning from today's hair or before an option's colour."""

    place: Place
    coats: tuple[RemovedCoat, ...]
    """Top coat first: the reverse of the order they were laid.  Empty where there is nothing to take off."""
    passes: tuple[RemovalPass, ...]
    needed: int | Absent
    """Removals until no more is left than lightener or the next colour copes with."""
    leaves: float
    """Share one removal is taken to leave."""
    leaves_from: str
    """'read' from her own photos, 'seen' by the stylist then, 'planned', or 'usual' for this salon."""
    level_under: float
    ways: tuple[tuple[str, Way], ...]
    """(aim, way): aims are 'another-hue', 'lighter', 'over-it'."""
    residue: tuple[Reason, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class RemovalCheck:
    """A removal of the past at one place: what it should have left, and what the photo read."""

    service: str
    entry: str
    place: Place
    left_before: float
    """Share of the coat that washing had left on the day."""
    leaves: float
    leaves_from: str
    light: Lab
    expected: Lab
    strong: Lab
    read: Lab
    reading: str
    read_share: Interval
    """Share of what was there before that the photo found left, 0 to 1 or a little above."""
    delta_e: float
    """CIEDE2000 between expected and read, with k_L = 1.5."""
    limit: float
    """What two readings of unchanged hair may differ by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TouchUp:
    """A bowl of the past brought down to the new growth alone."""

    service: str
    """The service whose bowl says what to mix: the last of its kind at the roots."""
    entry: str
    amount_of: str
    """The service whose bowl says how much: the one for a stretch most like the new growth."""
    day: date
    zones: tuple[str, ...]
    did_cm: float
    """Length along the strand that one was for, averaged over the zones by their share of the head."""
    did_g: float
    """What it took, without what was left over."""
    grown_cm: Interval
    """New growth on that day, averaged likewise."""
    needed: Bowl
    """For the middle of the growth."""
    needed_g: Interval
    mix: Bowl
    """For the upper end of the growth, each ingredient up to the next gram."""
    left_over_g: float
    """Mixed, less what the middle of the growth takes."""
    even_shares: bool
    """Whether the zones' shares of the head were taken as even, for want of what the stylist thinks."""


@dataclass(frozen=True, slots=True)
class Darker:
    """A planned colour with a level, at the place where it comes out darkest."""

    service: str
    place: Place
    target: float
    level: float
    """As it would look, by the assumed lightnesses of natural hair."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionStudy:
    key: str
    predictions: tuple[Prediction, ...]
    strip: tuple[tuple[float, Lab], ...]
    """(weeks, colour) at the leading place: 0 is today, then from right after the service."""
    minutes: int
    sessions: int
    weeks_between: int | None
    grams: float
    cost: float | Absent
    upkeep_per_month: float | Absent
    refresh_weeks: float | Absent
    """Weeks until the new colour passes the salon's lower mark."""
    bare_lab: Lab
    coats: tuple[tuple[Dye, float], ...]
    """What lies on the leading place right after it, lowest first: each dye and how much of it."""
    turns_muddy: bool
    darker: tuple[Darker, ...] = ()
    """Colours that come out darker than the level they are sold as, for what lies there already."""
    unreached: tuple[Unreached, ...] = ()
    """Colours of the plan that the hair under them does not let through as meant."""
    removals: tuple[RemovalStudy, ...] = ()
    """What its colour removal would do, place by place; empty when it holds none."""
