"""What colour alone can not reach, and what has to come before it.

Decides whether a level can be had with a colour of some class on hair that carries what it carries.  Lifting
in numbers is ``level``; taking colour off is ``removal``.

The rule behind it, colour does not lift colour, is common practice, no source: a tint lifts natural
pigment with its developer, but what a tint has laid down only a remover or a lightener takes away.  A colour
without developer only adds.
"""

from __future__ import annotations

from dataclasses import dataclass

from journey.hair.absent import Absent
from journey.hair.layers import Layers, Remaining, unwashed
from journey.hair.level import CLEAN_BASE_LEVEL, check_level, typical_lift, undertone_at

SOURCE = "common practice, no source"

OXIDATIVE = ("demi", "permanent")
"""Colour classes that develop in the fibre; the others sit on or under the cuticle."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """One reason why colour alone does not get there, and what would."""

    code: str
    text: str
    first: str
    """What has to be done before: lighten, remove, or nothing but another target."""
    source: str = SOURCE


def colour_does_not_lift(
    layers: Layers,
    target_level: float,
    *,
    colour_class: str,
    volumes: float | None = None,
    level_on_hair: float | None = None,
    remaining: Remaining = unwashed,
) -> tuple[Obstacle, ...]:
    """Obstacles between this hair and a target level with colour alone; empty when there are none.

    ``volumes`` is the developer's strength, ``None`` for a colour without developer.  ``level_on_hair`` is
    how dark the colour now on it looks, where that was read or seen; unknown, only the fibre is judged.
    """
    check_level(target_level)
    standing = layers.standing(remaining)
    oxidative = [coat for coat in standing if coat.colour_class in OXIDATIVE]
    obstacles: list[Obstacle] = []
    if standing and level_on_hair is not None and target_level > level_on_hair:
        name = standing[-1].name
        obstacles.append(
            Obstacle(
                "colour-over-colour",
                f"{name} on the hair is at level {level_on_hair:g}; a colour at level {target_level:g} over "
                f"it does not make it lighter",
                "take the colour off, or lighten",
            )
        )
    lift = target_level - layers.level
    if lift <= 0:
        return tuple(obstacles)
    if volumes is None or colour_class != "permanent":
        obstacles.append(
            Obstacle(
                "adds-only",
                f"{colour_class} colour only adds to the level that is there: the fibre is at "
                f"{layers.level:g}, {lift:g} below level {target_level:g}",
                "lighten",
            )
        )
    elif oxidative:
        top = oxidative[-1]
        text = f"a tint does not lift {top.name}, which was laid as {top.colour_class} colour"
        obstacles.append(Obstacle("colour-does-not-lift-colour", text, "take the colour off, or lighten"))
    else:
        obstacles += _beyond_the_developer(layers, target_level, volumes)
    return tuple(obstacles)


def _beyond_the_developer(layers: Layers, target_level: float, volumes: float) -> list[Obstacle]:
    lift = target_level - layers.level
    if layers.lifts:
        text = f"the fibre was lightened to {layers.level:g} before; a tint lifts natural hair only"
        return [Obstacle("lightened-before", text, "lighten, after a strand test")]
    most = typical_lift(volumes)
    if isinstance(most, Absent):
        text = f"no typical lift is published for {volumes:g} volumes"
        return [Obstacle("strength-unknown", text, "choose a developer up to 40 volumes")]
    if lift > most[1]:
        text = (
            f"{volumes:g} volumes lift natural hair by {most[1]} levels at most; {lift:g} are wanted, from "
            f"{layers.level:g} to {target_level:g}"
        )
        return [Obstacle("beyond-the-developer", text, "lighten", "North Carolina cosmetology 7.2")]
    return []


def base_shows_through(level: float, *, wanted_clear: bool) -> Obstacle | None:
    """What stands against a clear or pastel hue on this level; ``None`` when nothing does."""
    if not wanted_clear or level >= CLEAN_BASE_LEVEL:
        return None
    tone = undertone_at(level)
    return Obstacle(
        "undertone-shows",
        f"at level {level:g} the hair is {tone.name} underneath and will show through; a clear hue wants "
        f"level {CLEAN_BASE_LEVEL:g}, or {tone.neutraliser} to quieten it",
        "lighten, or neutralise",
    )
