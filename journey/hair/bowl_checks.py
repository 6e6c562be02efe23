"""What is wrong with a bowl, or should be looked at: grams against what was said about them, and the law.

Decides problems of one bowl by itself.  What may be mixed for a service is left to ``service_rules``.
"""

from __future__ import annotations

from dataclasses import dataclass

from journey.hair.absent import Absent
from journey.hair.bowl import BASE_ROLES, Bowl
from journey.hair.peroxide import EU_LIMIT_PERCENT, over_eu_limit

REFUSED = "refused"
CAUTION = "caution"

RATIO_TOLERANCE = 0.05
"""Assumption: a ratio within a twentieth of what was meant is the same ratio, poured by hand."""

SUM_TOLERANCE_G = 1.0
"""Assumption: a salon scale reads whole grams."""


@dataclass(frozen=True, slots=True)
class BowlProblem:
    code: str
    severity: str
    """``refused``: it can not or must not be so.  ``caution``: it may be so, and should be looked at."""
    text: str
    source: str


def bowl_problems(
    bowl: Bowl,
    *,
    stated_total_g: float | None = None,
    stated_parts: float | None = None,
    allowed_parts: tuple[float, float] | None = None,
) -> tuple[BowlProblem, ...]:
    """Every problem of a bowl at once, gravest first.

    ``stated_parts``: parts of developer to one of the rest, as the stylist wrote; ``allowed_parts``: least
    and most that the product's instructions allow.
    """
    found = (
        _over_the_limit(bowl),
        _sum_mismatch(bowl, stated_total_g),
        _ratio_mismatch(bowl, stated_parts),
        _ratio_not_allowed(bowl, allowed_parts),
        _lightener_without_developer(bowl),
        _developer_alone(bowl),
        _strength_unknown(bowl),
        _strong_bottle(bowl),
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
    text = f"{percent:.1f} % peroxide in the mixture; the law allows {EU_LIMIT_PERCENT:g} % ready for use"
    return BowlProblem("over-the-limit", REFUSED, text, _LAW)


def _strong_bottle(bowl: Bowl) -> BowlProblem | None:
    strong = [line for line in bowl.lines if line.peroxide_percent and over_eu_limit(line.peroxide_percent)]
    if not strong or _over_the_limit(bowl):
        return None
    named = ", ".join(f"{line.name} ({line.peroxide_percent:g} %)" for line in strong)
    text = (
        f"stronger than {EU_LIMIT_PERCENT:g} % in the bottle: {named}; look again whether per cent or volumes"
    )
    return BowlProblem("strong-bottle", CAUTION, text, _LAW)


def _sum_mismatch(bowl: Bowl, stated_total_g: float | None) -> BowlProblem | None:
    if stated_total_g is None or abs(stated_total_g - bowl.total_g) <= SUM_TOLERANCE_G:
        return None
    text = f"the ingredients weigh {bowl.total_g:g} g together, {stated_total_g:g} g are stated"
    return BowlProblem("sum-mismatch", REFUSED, text, _ARITHMETIC)


def _ratio_mismatch(bowl: Bowl, stated_parts: float | None) -> BowlProblem | None:
    if stated_parts is None:
        return None
    parts = bowl.developer_parts
    if isinstance(parts, Absent):
        text = f"a ratio of 1:{stated_parts:g} is stated, but {parts.reason}"
        return BowlProblem("ratio-mismatch", REFUSED, text, _ARITHMETIC)
    if abs(parts - stated_parts) <= RATIO_TOLERANCE * stated_parts:
        return None
    text = f"the grams give 1:{parts:.2f}, a ratio of 1:{stated_parts:g} is stated"
    return BowlProblem("ratio-mismatch", REFUSED, text, _ARITHMETIC)


def _ratio_not_allowed(bowl: Bowl, allowed: tuple[float, float] | None) -> BowlProblem | None:
    parts = bowl.developer_parts
    if allowed is None or isinstance(parts, Absent):
        return None
    least, most = allowed
    if least * (1 - RATIO_TOLERANCE) <= parts <= most * (1 + RATIO_TOLERANCE):
        return None
    text = f"mixed 1:{parts:.2f}; the instructions allow 1:{least:g}" + (
        f" to 1:{most:g}" if most > least else ""
    )
    return BowlProblem("ratio-not-allowed", CAUTION, text, _INSTRUCTIONS)


def _lightener_without_developer(bowl: Bowl) -> BowlProblem | None:
    if not bowl.grams_of("lightener") or bowl.grams_of("developer"):
        return None
    text = "lightener is in the bowl and no developer; without peroxide it lifts next to nothing"
    return BowlProblem("lightener-without-developer", CAUTION, text, _PRACTICE)


def _developer_alone(bowl: Bowl) -> BowlProblem | None:
    if bowl.grams_of(*BASE_ROLES) or not bowl.grams_of("developer"):
        return None
    return BowlProblem(
        "developer-alone", CAUTION, "developer is in the bowl with nothing for it to act on", _PRACTICE
    )


def _strength_unknown(bowl: Bowl) -> BowlProblem | None:
    percent = bowl.peroxide_percent
    if not isinstance(percent, Absent):
        return None
    text = f"{percent.reason}, so the peroxide in the mixture can not be checked"
    return BowlProblem("strength-unknown", CAUTION, text, _ARITHMETIC)
