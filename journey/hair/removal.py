"""Taking colour off: which layer comes first, what stays, and whether to remove or go on to lightener.

Decides order, remainder and the way to go for one place of the fibre.  Where along the strand that is, is
left to ``strand``; whether the mixture and the minutes suit, to ``service_rules``.

Facts leaned on, each common practice, no source: layers come off in the reverse order they were laid;
a remover for direct colour works without developer, 20 to 30 minutes, in half-inch sections, mixed with
deionised water, and lifts nothing natural; with 20 volume a remover may bring an oxidative black (level 1)
to about level 7.  What a product's instructions say goes before all of it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from journey.colour.reason import Reason
from journey.hair.absent import Absent
from journey.hair.layers import Coat, Layers, Remaining, unwashed

PRACTICE = "common practice, no source"

MINUTES_FOR_DIRECT = (20, 30)
"""Time a remover of direct colour is left on."""

SECTION_CM = 1.27
"""Half an inch: the widest section a remover still soaks through."""

ON_THE_CUTICLE = ("direct", "acid", "temporary")
"""Classes a remover takes without developer."""

IN_THE_FIBRE = ("demi", "permanent")
"""Classes it takes only with developer (common practice, no source).  Removers that undo oxidative colour without
one exist too; where such a one is used, the stylist's own share goes straight to ``Strand.remove_colour``."""

USUALLY_LEAVES = 0.3
"""Assumption, until the eye or a photo says better: three tenths of a coat stay after one removal."""

BLACK_LEVEL, BLACK_LIFTS_TO, BLACK_VOLUMES = 1.0, 7.0, 20.0
"""An oxidative black at level 1 comes to about level 7 with 20 volumes."""

REMOVER_EFFECT = (0.6, 1.0, 1.4)
"""Assumption: how much a remover does on other hair, little, as expected, much.  It scales what is taken off
as a density, so a removal that should leave .3 leaves .3 to the power of .6, 1 or 1.4: .49, .30 or .19."""

FINE_ZONES = ("hairline", "nape")
"""Finer hair, reached last and rinsed worst: colour is most often left here."""

THIN_SHARE = 0.15
"""Assumption: with less than this left, lightener or the next colour copes with the rest."""


@dataclass(frozen=True, slots=True)
class Remover:
    """How colour is taken off: with developer of so many volumes, or without any."""

    volumes: float | None = None

    @property
    def takes(self) -> tuple[str, ...]:
        """Colour classes it works on."""
        return ON_THE_CUTICLE if self.volumes is None else ON_THE_CUTICLE + IN_THE_FIBRE

    def leaves(self, share: float = USUALLY_LEAVES) -> Mapping[str, float]:
        """Share left of each class it takes, in the form ``Strand.remove_colour`` wants."""
        if not 0 <= share <= 1:
            raise ValueError(f"a removal leaves a share from 0 to 1, not {share!r}")
        shares = {name: 0.0 if name == "temporary" else share for name in self.takes}
        return MappingProxyType(shares)


@dataclass(frozen=True, slots=True)
class RemovalStep:
    """One coat in the order it is met, and what becomes of it."""

    coat: Coat
    left_before: float
    left_after: float
    """Of what was once laid, 0 to 1, washing and earlier removals included."""
    reached: bool
    """Whether the remover works on this class."""


@dataclass(frozen=True, slots=True)
class Removal:
    steps: tuple[RemovalStep, ...]
    """Top coat first: the reverse of the order they were laid."""
    shows_after: Coat | None
    """The coat that shows then; ``None`` when the bare fibre does."""
    level_under: float
    """Level of the fibre, which no remover changes without developer."""


def take_off(
    layers: Layers,
    remover: Remover,
    *,
    leaves: float = USUALLY_LEAVES,
    remaining: Remaining = unwashed,
) -> Removal:
    """What one removal does here, coat by coat from the top.

    A coat the remover does not work on stays, but does not shelter what lies under it: direct colours stain
    through each other, and no source says how well one shields another.
    """
    shares = remover.leaves(leaves)
    steps = []
    for coat in reversed(layers.standing(remaining)):
        before = coat.share * remaining(coat)
        left = shares.get(coat.colour_class, 1.0)
        steps.append(RemovalStep(coat, before, before * left, coat.colour_class in remover.takes))
    after = layers.stripped(shares).standing(remaining)
    return Removal(tuple(steps), after[-1] if after else None, layers.level)


def take_off_again(
    layers: Layers,
    remover: Remover,
    times: int,
    *,
    leaves: float = USUALLY_LEAVES,
    remaining: Remaining = unwashed,
) -> tuple[Removal, ...]:
    """One removal after another, ``times`` of them, each leaving the same share of what it meets.

    Steps say what that one removal did: each begins with what the one before has left.
    """
    done = []
    for _ in range(times):
        done.append(take_off(layers, remover, leaves=leaves, remaining=remaining))
        layers = layers.stripped(remover.leaves(leaves))
    return tuple(done)


def shares_left(done: Sequence[Removal]) -> tuple[float, ...]:
    """Share of all coats together that is left after each of several removals, each coat weighed by how much
    of it was there before the first.

    >>> coat = Coat(service="a", colour_class="direct", name="a", applied_day=0, washes_before=0)
    >>> done = take_off_again(Layers(natural_level=5).coated(coat), Remover(), 2, leaves=0.3)
    >>> [round(share, 2) for share in shares_left(done)]
    [0.3, 0.09]
    """
    before = sum(step.left_before for step in done[0].steps) if done else 0.0
    return tuple(sum(step.left_after for step in one.steps) / before if before else 0.0 for one in done)


def spread_of(
    leaves: float, effect: tuple[float, float, float] = REMOVER_EFFECT
) -> tuple[float, float, float]:
    """Share left where the remover does little, what is expected, and much (``effect``, see there).

    >>> [round(share, 2) for share in spread_of(0.3)]
    [0.49, 0.3, 0.19]
    """
    if not 0 <= leaves <= 1:
        raise ValueError(f"a removal leaves a share from 0 to 1, not {leaves!r}")
    little, expected, much = (leaves**one for one in effect)
    return little, expected, much


def level_after_removing_tint(level_on_hair: float, volumes: float | None) -> float | Absent:
    """Level an oxidative colour comes to with a remover, where practice tells.

    Only one case is told: black (level 1) with 20 volumes comes to about 7.  Without developer a remover
    lifts nothing natural, and nothing is said about how light an oxidative colour then gets.

    >>> level_after_removing_tint(1, 20)
    7.0
    """
    if volumes is None:
        return Absent("remover-without-developer")
    if level_on_hair == BLACK_LEVEL and volumes == BLACK_VOLUMES:
        return BLACK_LIFTS_TO
    return Absent("tint-removal-untold", told_volumes=BLACK_VOLUMES, level=level_on_hair, volumes=volumes)


def passes_needed(left_now: float, wanted: float, leaves: float = USUALLY_LEAVES) -> int | Absent:
    """Removals until no more than ``wanted`` of a coat is left, if each leaves the same share.

    >>> passes_needed(1.0, 0.1, 0.3), passes_needed(0.05, 0.1)
    (2, 0)
    """
    if not (0 <= left_now <= 1 and 0 < wanted <= 1 and 0 <= leaves <= 1):
        raise ValueError(f"shares lie between 0 and 1, not {left_now!r}, {wanted!r}, {leaves!r}")
    passes = 0
    while left_now > wanted + 1e-12:
        if leaves == 1 or passes == 6:
            return Absent("too-many-removals")
        left_now, passes = left_now * leaves, passes + 1
    return passes


def residue_notes(
    zone: str, *, cross_checked: bool | None, section_width_cm: float | None
) -> tuple[Reason, ...]:
    """Where and why colour may have been left behind; empty when nothing points to it."""
    notes = []
    if zone in FINE_ZONES:
        notes.append(Reason("residue-fine-hair", zone=zone))
    if section_width_cm is not None and section_width_cm > SECTION_CM + 1e-6:
        notes.append(Reason("residue-wide-sections", cm=section_width_cm, most=SECTION_CM))
    if cross_checked is False:
        notes.append(Reason("residue-not-cross-checked"))
    elif cross_checked is None:
        notes.append(Reason("residue-cross-check-not-noted"))
    return tuple(notes)


REMOVE, LIGHTEN, COLOUR_OVER, REST = "remove", "lighten", "colour-over", "rest"


@dataclass(frozen=True, slots=True)
class Way:
    """What to do next, and why."""

    step: str
    """``REMOVE``, ``LIGHTEN``, ``COLOUR_OVER`` or ``REST``."""
    because: Reason
    source: str = PRACTICE


def way_on(
    layers: Layers,
    *,
    wanted_level: float,
    colour_may_stay: bool = False,
    weakened: bool = False,
    remaining: Remaining = unwashed,
    stain: float = THIN_SHARE,
) -> Way:
    """Remover, lightener, or neither: the gentlest step that brings this hair nearer to what is wanted.

    ``colour_may_stay`` says that the next hue goes over what is left; ``weakened``, that elasticity or a
    strand test spoke against more.
    """
    if weakened:
        return Way(REST, Reason("way-weakened"))
    thick = [coat for coat in layers.standing(remaining) if coat.share * remaining(coat) > stain]
    lift = wanted_level > layers.level
    if thick and (lift or not colour_may_stay):
        return _clear_the_way(layers, thick, lift)
    if lift:
        why = Reason(
            "way-lift-lightened" if layers.lifts else "way-lift-natural",
            level=layers.level,
            wanted=wanted_level,
        )
        return Way(LIGHTEN, why)
    return Way(COLOUR_OVER, Reason("way-clear", level=layers.level))


def _clear_the_way(layers: Layers, thick: list[Coat], lift: bool) -> Way:
    cuticle = [coat.name for coat in thick if coat.colour_class in ON_THE_CUTICLE]
    fibre = [coat.name for coat in thick if coat.colour_class in IN_THE_FIBRE]
    if cuticle:
        return Way(REMOVE, Reason("way-remover-spares", coat=cuticle[-1]))
    if layers.lifts:
        return Way(REMOVE, Reason("way-overlap", coat=fibre[-1]))
    if lift:
        return Way(LIGHTEN, Reason("way-takes-both", coat=fibre[-1]))
    return Way(REMOVE, Reason("way-level-enough", coat=fibre[-1]))
