"""How the hair felt before and after each visit, and what that means for the next one.

It decides which notes belong together: those on one zone and band at one visit. What they mean is advised by
`journey.hair.condition`.
"""

from __future__ import annotations

from journey.hair.condition import ConditionNote, StretchLimits, condition_advice
from journey.record.model import Condition, Record, Visit
from journey.study.assumed import stretch_limits
from journey.study.model import ConditionStudy, Place


def study_conditions(record: Record) -> tuple[ConditionStudy, ...]:
    """One per visit, zone and band that was felt, in the order written."""
    visits = sorted(record.journey.visits, key=lambda one: one.date)
    limits = stretch_limits(record.salon.assumptions)
    return tuple(one for visit in visits for one in _of_visit(visit, limits))


def _of_visit(visit: Visit, limits: StretchLimits) -> list[ConditionStudy]:
    places = dict.fromkeys(Place(one.zone, str(one.band)) for one in visit.conditions)
    return [
        ConditionStudy(
            entry=visit.key,
            place=place,
            advice=condition_advice(_note(visit, place, "before"), _note(visit, place, "after"), limits),
        )
        for place in places
    ]


def _note(visit: Visit, place: Place, moment: str) -> ConditionNote | None:
    """The last note of a moment on a place."""
    found: list[Condition] = [
        one for one in visit.conditions if one.moment == moment and Place(one.zone, str(one.band)) == place
    ]
    if not found:
        return None
    return ConditionNote(elasticity_wet_percent=found[-1].elasticity_wet_percent, porosity=found[-1].porosity)
