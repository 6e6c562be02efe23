"""What colour alone can not reach, and what has to come before it.

Decides whether a level can be had with a colour of some class on hair that carries what it carries.  Lifting
in numbers is ``level``; taking colour off is ``removal``.

The rule behind it, colour does not lift colour, is common practice, no source: a tint lifts natural
pigment with its developer, but what a tint has laid down only a remover or a lightener takes away.  A colour
without developer only adds.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from journey.hair.absent import Absent
from journey.hair.layers import Layers, Remaining, unwashed
from journey.hair.level import CLEAN_BASE_LEVEL, check_level, typical_lift, undertone_at

SOURCE = "common practice, no source"

OXIDATIVE = ("demi", "permanent")
"""Colour classes that develop in the fibre; the others sit on or under the cuticle."""


Said = Mapping[str, str | float]
"""What fills a sentence in."""


@dataclass(frozen=True, slots=True)
class Obstacle:
    """One reason why colour alone does not get there, and what would."""

    code: str
    """Key of its sentence."""
    values: Said
    """What fills it in."""
    first: str
    """What has to be done before: one of ``FIRSTS``."""
    source: str = SOURCE


FIRSTS = ("lighten", "lighten-after-strand-test", "remove-or-lighten", "neutralise-or-lighten", "weaker-developer")


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
        values: Said = {"coat": standing[-1].name, "level": level_on_hair, "target": target_level}
        obstacles.append(Obstacle("colour-over-colour", values, "remove-or-lighten"))
    lift = target_level - layers.level
    if lift <= 0:
        return tuple(obstacles)
    if volumes is None or colour_class != "permanent":
        below: Said = {"class": colour_class, "level": layers.level, "lift": lift, "target": target_level}
        obstacles.append(Obstacle("adds-only", below, "lighten"))
    elif oxidative:
        top = {"coat": oxidative[-1].name, "class": oxidative[-1].colour_class}
        obstacles.append(Obstacle("colour-does-not-lift-colour", top, "remove-or-lighten"))
    else:
        obstacles += _beyond_the_developer(layers, target_level, volumes)
    return tuple(obstacles)


def _beyond_the_developer(layers: Layers, target_level: float, volumes: float) -> list[Obstacle]:
    lift = target_level - layers.level
    if layers.lifts:
        return [Obstacle("lightened-before", {"level": layers.level}, "lighten-after-strand-test")]
    most = typical_lift(volumes)
    if isinstance(most, Absent):
        return [Obstacle("strength-unknown", {"volumes": volumes}, "weaker-developer")]
    if lift > most[1]:
        levels = {"lift": lift, "level": layers.level, "target": target_level}
        values: Said = {"volumes": volumes, "most": most[1], **levels}
        return [Obstacle("beyond-the-developer", values, "lighten", "North Carolina cosmetology 7.2")]
    return []


def base_shows_through(
    level: float, *, wanted_clear: bool, clean_base: float = CLEAN_BASE_LEVEL
) -> Obstacle | None:
    """What stands against a clear or pastel hue on this level; ``None`` when nothing does."""
    if not wanted_clear or level >= clean_base:
        return None
    tone = undertone_at(level)
    values: Said = {"level": level, "undertone": tone.name, "wanted": clean_base, "hue": tone.neutraliser}
    return Obstacle("undertone-shows", values, "neutralise-or-lighten")
