"""What is wrong with a bowl, or should be looked at: grams against what was said about them, and the law.

Decides problems of one bowl by itself.  What may be mixed for a service is left to ``service_rules``.
"""

from __future__ import annotations

from dataclasses import dataclass

from journey.colour.reason import Reason
from journey.hair.absent import Absent
from journey.hair.bowl import BASE_ROLES, Bowl
from journey.hair.peroxide import EU_LIMIT_PERCENT, over_eu_limit

REFUSED = "refused"
CAUTION = "caution"

RATIO_TOLERANCE = 0.05
"""Assumption: a ratio within a twentieth of what was meant is the same ratio, poured by hand."""

TOUCH_PERCENT = 1e-6
"""Strengths that differ by less are one strength."""

SUM_TOLERANCE_G = 1.0
"""Assumption: a salon scale reads whole grams."""


@dataclass(frozen=True, slots=True)
class BowlProblem:
    reason: Reason
    severity: str
    """``refused``: it can not or must not be so.  ``caution``: it may be so, and should be looked at."""
    source: str

    @property
    def code(self) -> str:
        return self.reason.key


def bowl_problems(
    bowl: Bowl,
    *,
    stated_total_g: float | None = None,
    stated_parts: float | None = None,
    allowed_parts: tuple[float, float] | None = None,
    stated_developer_percent: float | None = None,
    ratio_tolerance: float = RATIO_TOLERANCE,
    sum_tolerance_g: float = SUM_TOLERANCE_G,
) -> tuple[BowlProblem, ...]:
    """Every problem of a bowl at once, gravest first.

    ``stated_parts``: parts of developer to one of the rest, as the stylist wrote; ``allowed_parts``: least
    and most that the product's instructions allow; ``stated_developer_percent``: strength that the developers,
    and water if any, were to give together.
    """
    found = (
        _over_the_limit(bowl),
        _sum_mismatch(bowl, stated_total_g, sum_tolerance_g),
        _strength_out_of_reach(bowl, stated_developer_percent),
        _strength_mismatch(bowl, stated_developer_percent, ratio_tolerance),
        _ratio_mismatch(bowl, stated_parts, ratio_tolerance),
        _ratio_not_allowed(bowl, allowed_parts, ratio_tolerance),
        _lightener_without_developer(bowl),
        _developer_alone(bowl),
        _strength_unknown(bowl),
        _strong_bottle(bowl),
        _developer_in_water(bowl),
    )
    problems = [problem for problem in found if problem is not None]
    return tuple(sorted(problems, key=lambda problem: problem.severity != REFUSED))


_ARITHMETIC = "arithmetic"
_INSTRUCTIONS = "the product's instructions"
_PRACTICE = "common practice, no source"
_LAW = "Regulation (EC) No 1223/2009, Annex III, entry 12(a)"


def _over_the_limit(bowl: Bowl) -> BowlProblem | None:
    percent = bowl.peroxide_percent
    if isinstance(percent, Absent) or not over_eu_limit(percent):
        return None
    return BowlProblem(Reason("over-the-limit", percent=percent, limit=EU_LIMIT_PERCENT), REFUSED, _LAW)


def _strong_bottle(bowl: Bowl) -> BowlProblem | None:
    strong = [line for line in bowl.lines if line.peroxide_percent and over_eu_limit(line.peroxide_percent)]
    if not strong or _over_the_limit(bowl):
        return None
    named = tuple(line.name for line in strong)
    percent = max(line.peroxide_percent or 0.0 for line in strong)
    reason = Reason("strong-bottle", limit=EU_LIMIT_PERCENT, products=named, percent=percent)
    return BowlProblem(reason, CAUTION, _LAW)


def _sum_mismatch(bowl: Bowl, stated_total_g: float | None, tolerance_g: float) -> BowlProblem | None:
    if stated_total_g is None or abs(stated_total_g - bowl.total_g) <= tolerance_g:
        return None
    reason = Reason("sum-mismatch", total=bowl.total_g, stated=stated_total_g)
    return BowlProblem(reason, REFUSED, _ARITHMETIC)


def _strength_out_of_reach(bowl: Bowl, stated: float | None) -> BowlProblem | None:
    """No mixture is stronger than its strongest part or weaker than its weakest; water is of strength 0."""
    low, high = bowl.developer_range_percent
    if stated is None or high is None or low - TOUCH_PERCENT <= stated <= high + TOUCH_PERCENT:
        return None
    reason = Reason("strength-out-of-reach", stated=stated, low=low, high=high)
    return BowlProblem(reason, REFUSED, _ARITHMETIC)


def _strength_mismatch(bowl: Bowl, stated: float | None, tolerance: float) -> BowlProblem | None:
    got = bowl.thinned_developer_percent
    if stated is None or isinstance(got, Absent) or _strength_out_of_reach(bowl, stated):
        return None
    if abs(got - stated) <= tolerance * stated:
        return None
    return BowlProblem(Reason("strength-mismatch", percent=got, stated=stated), REFUSED, _ARITHMETIC)


def _ratio_mismatch(bowl: Bowl, stated_parts: float | None, tolerance: float) -> BowlProblem | None:
    if stated_parts is None:
        return None
    parts = bowl.developer_parts
    if isinstance(parts, Absent):
        reason = Reason("ratio-without-parts", stated=stated_parts, why=parts)
        return BowlProblem(reason, REFUSED, _ARITHMETIC)
    if abs(parts - stated_parts) <= tolerance * stated_parts:
        return None
    return BowlProblem(Reason("ratio-mismatch", parts=parts, stated=stated_parts), REFUSED, _ARITHMETIC)


def _ratio_not_allowed(
    bowl: Bowl, allowed: tuple[float, float] | None, tolerance: float
) -> BowlProblem | None:
    parts = bowl.developer_parts
    if allowed is None or isinstance(parts, Absent):
        return None
    least, most = allowed
    if least * (1 - tolerance) <= parts <= most * (1 + tolerance):
        return None
    reason = (
        Reason("ratio-not-allowed", parts=parts, least=least, most=most)
        if most > least
        else Reason("ratio-not-the-one", parts=parts, least=least)
    )
    return BowlProblem(reason, REFUSED, _INSTRUCTIONS)


def _lightener_without_developer(bowl: Bowl) -> BowlProblem | None:
    if not bowl.grams_of("lightener") or bowl.grams_of("developer"):
        return None
    return BowlProblem(Reason("lightener-without-developer"), CAUTION, _PRACTICE)


def _developer_alone(bowl: Bowl) -> BowlProblem | None:
    if bowl.grams_of(*BASE_ROLES) or not bowl.grams_of("developer"):
        return None
    return BowlProblem(Reason("developer-alone"), CAUTION, _PRACTICE)


def _developer_in_water(bowl: Bowl) -> BowlProblem | None:
    if not bowl.grams_of("developer") or not bowl.grams_of("water"):
        return None
    return BowlProblem(Reason("developer-in-water"), CAUTION, _PRACTICE)


def _strength_unknown(bowl: Bowl) -> BowlProblem | None:
    percent = bowl.peroxide_percent
    if not isinstance(percent, Absent):
        return None
    return BowlProblem(Reason("strength-unknown", why=percent), CAUTION, _ARITHMETIC)
