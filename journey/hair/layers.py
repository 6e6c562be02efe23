"""What one place of the fibre carries: the natural level, what lightened it, the coats laid on it.

Decides what is still there and in which order.  Where on the strand that place lies is left to
``strand``; how much of a coat washing has left, to the fade model, which is handed in as a function.

Facts leaned on (common practice, no source): a direct colour sits on the cuticle over whatever level the
hair has; the level a lightener reached stays underneath; layers come off in the reverse order they were
laid.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

COLOUR_CLASSES = ("direct", "acid", "demi", "permanent", "temporary")
"""How a colour holds on hair; it decides how it fades and what takes it off."""

LEAST_SHARE = 0.02
"""A convention of counting: below a fiftieth of what was laid, a coat is not listed any more."""

POROSITIES = ("low", "medium", "high")


@dataclass(frozen=True, slots=True, kw_only=True)
class Coat:
    """One colour laid on the fibre."""

    service: str
    """Key of the service that laid it."""
    colour_class: str
    name: str
    applied_day: float
    washes_before: float
    """Washes counted on this head, from day 0 on, when it was laid: washes since are a difference."""
    share: float = 1.0
    """What removals and lighteners have left of it, 0 to 1; washing is not in it."""

    def __post_init__(self) -> None:
        if self.colour_class not in COLOUR_CLASSES:
            raise ValueError(f"{self.colour_class!r} is no colour class; write {', '.join(COLOUR_CLASSES)}")
        if not 0 <= self.share <= 1:
            raise ValueError(f"a coat keeps a share from 0 to 1 of itself, not {self.share!r}")


Remaining = Callable[[Coat], float]
"""Share of a coat that washing has left, 0 to 1, on the day that is asked about."""


def unwashed(_coat: Coat) -> float:
    """The ``Remaining`` of hair that was never washed."""
    return 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One lightening: the level the fibre had reached when it was rinsed."""

    service: str
    day: float
    to_level: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Layers:
    """Everything at one place of the fibre, oldest first.  Equal layers look and behave alike."""

    natural_level: float
    lifts: tuple[Lift, ...] = ()
    coats: tuple[Coat, ...] = ()
    """All that was ever laid, bottom first; those with nothing left stay in as history."""
    porosity: str | None = None
    """As last noted by the stylist; ``None`` when it never was."""
    treatments: tuple[str, ...] = ()
    """Keys of care and bond services, oldest first."""

    @property
    def lifted_level(self) -> float | None:
        return self.lifts[-1].to_level if self.lifts else None

    @property
    def level(self) -> float:
        """Level under all coats: the lifted one, or the natural one where nothing was lightened."""
        return self.natural_level if not self.lifts else self.lifts[-1].to_level

    @property
    def is_untouched(self) -> bool:
        """Neither lightened nor ever coloured."""
        return not self.lifts and not self.coats

    def standing(self, remaining: Remaining = unwashed, least: float = LEAST_SHARE) -> tuple[Coat, ...]:
        """Coats of which more than ``least`` is left, bottom first."""
        return tuple(coat for coat in self.coats if coat.share * remaining(coat) > least)

    def under_the_top(self, remaining: Remaining = unwashed) -> Coat | float:
        """What would show if the top coat were gone: the next coat, or the level of the fibre."""
        standing = self.standing(remaining)
        return standing[-2] if len(standing) > 1 else self.level

    def lightened(self, service: str, day: float, to_level: float, leaves: Mapping[str, float]) -> Layers:
        """After a lightener; it never darkens, and it takes coats with it."""
        lift = Lift(service=service, day=day, to_level=max(self.level, to_level))
        return replace(self.stripped(leaves), lifts=(*self.lifts, lift))

    def coated(self, coat: Coat) -> Layers:
        return replace(self, coats=(*self.coats, coat))

    def stripped(self, leaves: Mapping[str, float]) -> Layers:
        """With each coat cut down to the share ``leaves`` names for its class; classes not named stay."""
        for colour_class, left in leaves.items():
            if colour_class not in COLOUR_CLASSES or not 0 <= left <= 1:
                raise ValueError(f"a removal leaves a share from 0 to 1 of a colour class, not {leaves!r}")
        coats = tuple(
            replace(coat, share=coat.share * leaves.get(coat.colour_class, 1.0)) for coat in self.coats
        )
        return replace(self, coats=coats)

    def treated(self, service: str) -> Layers:
        return replace(self, treatments=(*self.treatments, service))

    def found_porous(self, porosity: str) -> Layers:
        if porosity not in POROSITIES:
            raise ValueError(f"{porosity!r} is no porosity; write {', '.join(POROSITIES)}")
        return replace(self, porosity=porosity)
