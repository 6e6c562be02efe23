"""What is in a bowl: totals, ratio, thinning, peroxide strength, cost, and the same bowl for other hair.

Decides numbers that follow from the grams on the scale.  Whether they are right is left to
``bowl_checks``; what a service may be mixed from, to ``service_rules``.

Everything is by mass, because a bowl stands on a scale.  Peroxide strength of a bottle is read as grams in
100 g; bottles that mean grams in 100 ml are off by their density, some hundredths of the value.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from journey.hair.absent import Absent

ROLES = ("colour", "clear", "developer", "lightener", "remover", "water", "additive")
"""What an ingredient does in a bowl."""

BASE_ROLES = ("colour", "clear", "lightener", "remover")
"""What a developer ratio is counted against; water and additives stand outside it."""

DILUENT_ROLES = ("clear", "water", "additive")
"""What thins a colour.  The developer is part of the recipe and does not count as thinning."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BowlLine:
    """One ingredient as weighed."""

    name: str
    role: str
    grams: float
    peroxide_percent: float | None = None
    """Strength of a developer; ``None`` for everything else, and for a developer nobody noted."""
    price_per_g: float | None = None
    """In the salon's currency."""

    def __post_init__(self) -> None:
        if self.role not in ROLES:
            raise ValueError(f"{self.name}: {self.role!r} is no role in a bowl; write {', '.join(ROLES)}")
        if not 0 <= self.grams < math.inf:
            raise ValueError(f"{self.name}: a bowl holds grams from 0 up, not {self.grams!r}")
        if self.peroxide_percent is not None and not 0 <= self.peroxide_percent <= 100:
            raise ValueError(f"{self.name}: peroxide runs from 0 to 100 %, not {self.peroxide_percent!r}")
        if self.peroxide_percent is not None and self.role not in ("developer", "remover", "lightener"):
            raise ValueError(f"{self.name}: only a developer is given a peroxide strength, not a {self.role}")


@dataclass(frozen=True, slots=True)
class Bowl:
    """Ingredients in the order they went in, and what was left over when the work was done.

    >>> bowl = Bowl((
    ...     BowlLine(name="violet", role="colour", grams=20),
    ...     BowlLine(name="clear", role="clear", grams=60),
    ... ), left_over_g=15)
    >>> bowl.total_g, bowl.used_g, bowl.pure_colour_share
    (80.0, 65.0, 0.25)
    """

    lines: tuple[BowlLine, ...]
    left_over_g: float | None = None

    def __post_init__(self) -> None:
        if not self.total_g > 0:
            raise ValueError("a bowl holds something; give each ingredient its grams")
        if self.left_over_g is not None and not 0 <= self.left_over_g <= self.total_g:
            raise ValueError(f"{self.left_over_g:g} g can not be left over from a bowl of {self.total_g:g} g")

    def grams_of(self, *roles: str) -> float:
        return math.fsum(line.grams for line in self.lines if line.role in roles)

    @property
    def total_g(self) -> float:
        return math.fsum(line.grams for line in self.lines)

    @property
    def used_g(self) -> float | Absent:
        if self.left_over_g is None:
            return Absent("left-over-not-noted")
        return self.total_g - self.left_over_g

    @property
    def pure_colour_share(self) -> float | Absent:
        """Colour over colour and what thins it, 0 to 1: one part in three of clear is 0.25."""
        colour = self.grams_of("colour")
        if not colour:
            return Absent("no-colour-in-bowl")
        return colour / (colour + self.grams_of(*DILUENT_ROLES))

    @property
    def share_in_water(self) -> float | Absent:
        """What is not water over all of it, 0 to 1, of a product thinned with water and used without developer.

        The dilution formula, strength before × amount before = strength after × amount after.
        """
        water = self.grams_of("water")
        if not water:
            return Absent("no-water")
        if self.grams_of("developer"):
            return Absent("water-thins-the-developer")
        return (self.total_g - water) / self.total_g

    @property
    def developer_parts(self) -> float | Absent:
        """Parts of developer to one part of colour, clear, lightener and remover together."""
        base, developer = self.grams_of(*BASE_ROLES), self.grams_of("developer")
        if not developer:
            return Absent("no-developer")
        if not base:
            return Absent("nothing-to-develop")
        return developer / base

    @property
    def developer_percent(self) -> float | Absent:
        """Strength of the developers in the bowl poured together, before anything else joins them."""
        developer = self.grams_of("developer")
        peroxide = self._peroxide_g()
        if not developer:
            return Absent("no-developer")
        return peroxide if isinstance(peroxide, Absent) else 100 * peroxide / developer

    @property
    def thinned_developer_percent(self) -> float | Absent:
        """Strength of the developers with the water of the bowl, before anything else joins them."""
        developer, peroxide = self.grams_of("developer"), self._peroxide_g()
        if not developer:
            return Absent("no-developer")
        if isinstance(peroxide, Absent):
            return peroxide
        return 100 * peroxide / (developer + self.grams_of("water"))

    @property
    def developer_range_percent(self) -> tuple[float, float | None]:
        """Weakest and strongest of the developers in the bowl, water counting 0; ``None`` without a known one."""
        known = [
            line.peroxide_percent
            for line in self.lines
            if line.role == "developer" and line.grams and line.peroxide_percent is not None
        ]
        if not known:
            return 0.0, None
        return (0.0 if self.grams_of("water") else min(known)), max(known)

    @property
    def peroxide_percent(self) -> float | Absent:
        """Peroxide in the mixture ready for use, grams in 100 g; 0 without developer.

        Peroxide that a powder releases besides is not known to the tool and not in it.
        """
        peroxide = self._peroxide_g()
        return peroxide if isinstance(peroxide, Absent) else 100 * peroxide / self.total_g

    def _peroxide_g(self) -> float | Absent:
        unknown = tuple(
            line.name for line in self.lines if line.role == "developer" and line.peroxide_percent is None
        )
        if unknown:
            return Absent("strength-not-noted", products=unknown)
        return math.fsum(line.grams * (line.peroxide_percent or 0.0) / 100 for line in self.lines)

    @property
    def cost(self) -> float | Absent:
        """What was mixed, used or not, in the salon's currency."""
        unpriced = tuple(line.name for line in self.lines if line.grams and line.price_per_g is None)
        if unpriced:
            return Absent("price-not-known", products=unpriced)
        return math.fsum(line.grams * (line.price_per_g or 0.0) for line in self.lines)

    # -------------------------------------------------------- the same for other hair

    def scaled(self, factor: float) -> Bowl:
        """All ingredients times one factor; nothing is said about what will be left over."""
        if not 0 < factor < math.inf:
            raise ValueError(f"a bowl is scaled by a factor above 0, not {factor!r}")
        return Bowl(tuple(replace(line, grams=line.grams * factor) for line in self.lines))

    def rounded_up(self, step_g: float = 1.0) -> Bowl:
        """Each ingredient up to the next whole step of the scale; ratios shift by less than a step."""
        if not step_g > 0:
            raise ValueError(f"a scale reads in steps above 0 g, not {step_g!r}")
        lines = (replace(line, grams=math.ceil(line.grams / step_g - 1e-9) * step_g) for line in self.lines)
        return Bowl(tuple(lines), self.left_over_g)


@dataclass(frozen=True, slots=True)
class Coverage:
    """How much hair a bowl is for: a share of all hair on the head, over a stretch of its length."""

    head_share: float
    """1 for the whole head; a zone's share is the stylist's estimate."""
    stretch_cm: float
    """Length worked on along the strand: for a touch-up the new growth, for the lengths what is below it."""

    def __post_init__(self) -> None:
        if not (0 < self.head_share <= 1 and 0 < self.stretch_cm < math.inf):
            raise ValueError(
                f"a bowl is for a share above 0 and up to 1 of the head over a length above 0, not "
                f"{self.head_share!r} over {self.stretch_cm!r} cm"
            )


def bowl_for(bowl: Bowl, did: Coverage, will: Coverage) -> Bowl:
    """The same mixture in the amount other hair needs, by the surface to be coated.

    Surface goes with the number of strands times the length worked on, so grams go with the share of the
    head times the stretch (assumption: same density, saturation and section width).  What was left over is
    taken off first.

    >>> full = Bowl((BowlLine(name="rose", role="colour", grams=90),), left_over_g=0)
    >>> bowl_for(full, Coverage(1, 30), Coverage(1, 3)).total_g
    9.0
    """
    used = bowl.total_g if isinstance(bowl.used_g, Absent) else bowl.used_g
    if not used > 0:
        raise ValueError("nothing of this bowl was used, so it tells nothing about how much is needed")
    wanted = used * (will.head_share * will.stretch_cm) / (did.head_share * did.stretch_cm)
    return bowl.scaled(wanted / bowl.total_g)
