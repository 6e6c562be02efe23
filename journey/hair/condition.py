"""How the hair feels, before and after: stretch and porosity turned into advice.

Decides what such notes mean for the next step.  It judges hair, never a scalp or a person, and says nothing
medical; what a product's instructions ask, and a strand test, go before it.

Sources.  Wet hair stretched into its yield region recovers in water, and is damaged once stretched beyond,
above about 30 % (wool and hair mechanics: post-yield region; laboratories use 15-20 %).  The trade's rule of
"up to 50 % wet" lies near the breaking point (55-60 % wet, Robbins, from memory) and is no test target.
"""

from __future__ import annotations

from dataclasses import dataclass

from journey.colour.reason import Reason
from journey.hair.layers import POROSITIES

MOST_WET_STRETCH_PERCENT = 30.0
"""Most a wet strand is stretched in a test, and most it should give."""

LEAST_WET_STRETCH_PERCENT = 10.0
"""Assumption: wet hair that gives less is stiff, from protein or dryness."""

NOTABLE_CHANGE_PERCENT = 10.0
"""Assumption: a change of this many points between before and after is more than the hand's own error."""

MECHANICS = "keratin mechanics: post-yield beyond about 30 % (J. Cosmet. Sci.; wool)"
PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class StretchLimits:
    """By how much wet hair should give, and what is a change of it; per cent of its length."""

    most_percent: float = MOST_WET_STRETCH_PERCENT
    least_percent: float = LEAST_WET_STRETCH_PERCENT
    notable_percent: float = NOTABLE_CHANGE_PERCENT


USUAL_LIMITS = StretchLimits()


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionNote:
    """What was felt on one band of one zone; each value ``None`` when nobody noted it."""

    elasticity_wet_percent: float | None = None
    """How much longer a wet strand gets when pulled gently, in % of its length, before it resists."""
    springs_back: bool | None = None
    porosity: str | None = None

    def __post_init__(self) -> None:
        stretch = self.elasticity_wet_percent
        if stretch is not None and not 0 <= stretch <= 100:
            raise ValueError(f"a strand stretches from 0 to 100 %, not {stretch!r}")
        if self.porosity is not None and self.porosity not in POROSITIES:
            raise ValueError(f"{self.porosity!r} is no porosity; write {', '.join(POROSITIES)}")

    def is_weakened(self, limits: StretchLimits = USUAL_LIMITS) -> bool:
        """Whether what was noted speaks against lightener or developer now."""
        stretch = self.elasticity_wet_percent
        return self.springs_back is False or (stretch is not None and stretch > limits.most_percent)


@dataclass(frozen=True, slots=True)
class ConditionAdvice:
    """What to do about it; the sentence stands in the theme under ``reason.<key>``."""

    reason: Reason
    source: str

    @property
    def code(self) -> str:
        return self.reason.key


def condition_advice(
    before: ConditionNote | None, after: ConditionNote | None, limits: StretchLimits = USUAL_LIMITS
) -> tuple[ConditionAdvice, ...]:
    """What the notes of one place say, gravest first; empty when nothing was noted or nothing is amiss.

    The state that counts is the one after, where there is one.
    """
    now = after if after is not None else before
    if now is None:
        return ()
    found = [*_of_stretch(now, limits), *_of_porosity(now)]
    if before is not None and after is not None:
        found += _of_change(before, after, limits)
    return tuple(found)


def _of_stretch(note: ConditionNote, limits: StretchLimits) -> list[ConditionAdvice]:
    stretch = note.elasticity_wet_percent
    if stretch is not None and stretch > limits.most_percent:
        reason = Reason("let-it-rest", percent=stretch, limit=limits.most_percent)
        return [ConditionAdvice(reason, MECHANICS)]
    if note.is_weakened(limits):
        return [ConditionAdvice(Reason("does-not-spring-back"), MECHANICS)]
    if stretch is not None and stretch < limits.least_percent:
        return [ConditionAdvice(Reason("stiff-when-wet", percent=stretch), PRACTICE)]
    return []


def _of_porosity(note: ConditionNote) -> list[ConditionAdvice]:
    if note.porosity == "high":
        return [ConditionAdvice(Reason("porous"), PRACTICE)]
    if note.porosity == "low":
        return [ConditionAdvice(Reason("tight"), PRACTICE)]
    return []


def _of_change(before: ConditionNote, after: ConditionNote, limits: StretchLimits) -> list[ConditionAdvice]:
    advice = []
    was, now = before.elasticity_wet_percent, after.elasticity_wet_percent
    if was is not None and now is not None and now - was >= limits.notable_percent:
        advice.append(ConditionAdvice(Reason("lost-hold", was=was, now=now), PRACTICE))
    if (
        before.porosity
        and after.porosity
        and POROSITIES.index(after.porosity) > POROSITIES.index(before.porosity)
    ):
        advice.append(ConditionAdvice(Reason("more-porous"), PRACTICE))
    return advice
