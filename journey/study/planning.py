"""Each way to go from today, worked out: colours then and later, minutes, grams, cost, upkeep.

It decides which places an option is judged at, and its order of steps; colours are predicted in
`journey.study.predicting`, what speaks against it is found in `journey.study.cautions`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from journey.colour.layering import lay_over
from journey.colour.spaces import lab_to_lch
from journey.hair.absent import Absent
from journey.hair.bowl import Bowl
from journey.hair.level import level_seen
from journey.hair.wash_calendar import WashCalendar
from journey.record.model import Option, PlannedService, Record, ServiceKind
from journey.study import predicting
from journey.study.bases import Bases
from journey.study.bowls import mixed
from journey.study.fading import latest_fade
from journey.study.growing import COLOURING, reaches
from journey.study.model import Fade, OptionStudy, Place, Prediction
from journey.study.plan_model import Darker
from journey.study.removing import RemovalFacts, planned_removal
from journey.study.unreached import find_unreached, lightest_level

LOOK_AHEAD_WEEKS = (0.0, 4.0, 8.0, 12.0)
STRIP_WEEKS = tuple(float(week) for week in range(13))
WEEKS_PER_MONTH = 365.25 / 12 / 7
MOST_WEEKS_AHEAD = 52


@dataclass(frozen=True, slots=True)
class _Plan:
    record: Record
    option: Option
    fades: Sequence[Fade]
    bases: Bases
    washes: WashCalendar
    removing: RemovalFacts

    @property
    def as_of(self) -> date:
        return self.removing.as_of


def study_options(
    record: Record,
    fades: Sequence[Fade],
    places: Sequence[Place],
    bases: Bases,
    washes: WashCalendar,
    removing: RemovalFacts,
) -> tuple[OptionStudy, ...]:
    """Every option in the order written; `places` are judged in their order, the first leads."""
    return tuple(
        _study(_Plan(record, option, fades, bases, washes, removing), places)
        for option in record.journey.options
    )


def _study(plan: _Plan, places: Sequence[Place]) -> OptionStudy:
    option, record = plan.option, plan.record
    leading = places[0]
    bowls = [mixed(record, service.bowl) for service in option.services if service.bowl is not None]
    minutes = sum(service.time.minutes for service in option.services)
    cost = _cost(record, bowls, minutes)
    then = {place: _after_plan(plan, place) for place in places}
    weeks_good = _weeks_good(plan, then[leading])
    return OptionStudy(
        key=option.key,
        predictions=tuple(
            _prediction(plan, place, then[place], weeks) for place in places for weeks in LOOK_AHEAD_WEEKS
        ),
        strip=_strip(plan, _today(plan, leading), then[leading]),
        minutes=round(minutes),
        sessions=max((service.session for service in option.services), default=0),
        weeks_between=option.weeks_between,
        grams=sum(bowl.total_g for bowl in bowls),
        cost=cost,
        upkeep_per_month=_upkeep(cost, weeks_good),
        refresh_weeks=weeks_good,
        bare_lab=then[leading].bare_lab,
        coats=tuple((coat.dye, coat.share) for coat in then[leading].coats),
        turns_muddy=_turns_muddy(plan, leading, then[leading]),
        darker=_darker(plan, places),
        unreached=find_unreached(record, option, plan.removing),
        removals=tuple(
            removal
            for service in option.services
            if service.kind is ServiceKind.COLOUR_REMOVAL
            for removal in planned_removal(plan.removing, service)
        ),
    )


def _today(plan: _Plan, place: Place) -> predicting.Place:
    fade = latest_fade(plan.fades, place)
    if fade is not None and not plan.bases.still_carries(place, fade.service, plan.as_of):
        fade = None
    base = plan.bases.under(place, plan.as_of)
    since = 0.0 if fade is None else plan.washes.washes_by(plan.as_of) - plan.washes.washes_by(fade.applied)
    return predicting.today(fade, base.lab, since)


def _after_plan(plan: _Plan, place: Place) -> predicting.Place:
    *_, (_, last) = _through_plan(plan, place)
    return last


def _through_plan(
    plan: _Plan, place: Place
) -> Iterator[tuple[PlannedService | None, predicting.Place]]:
    """Today, then after each service that reaches the place; from one visit to the next it is washed."""
    state, session = _today(plan, place), 1
    yield None, state
    for service in sorted(plan.option.services, key=lambda one: one.session):
        state = state.washed((service.session - session) * _washes(plan, plan.option.weeks_between or 0))
        session = service.session
        if reaches(service, place):
            state = predicting.after(plan.record, state, service, plan.fades)
            yield service, state


def _darker(plan: _Plan, places: Sequence[Place]) -> tuple[Darker, ...]:
    """Each colour with a level that comes out darker than it, where it does so most."""
    worst: dict[str, Darker] = {}
    least = plan.record.salon.assumptions.darker_by_levels
    for place in places:
        for service, state in _through_plan(plan, place):
            target = None if service is None else lightest_level(plan.record, service)
            if service is None or target is None:
                continue
            level = level_seen(state.lab(), lightened=False)
            known = worst.get(service.name)
            if target - level >= least and (known is None or level < known.level):
                worst[service.name] = Darker(service.name, place, target, level)
    return tuple(worst.values())


def _washes(plan: _Plan, weeks: float) -> float:
    return weeks * plan.record.journey.hair.washes_a_week


def _prediction(plan: _Plan, place: Place, state: predicting.Place, weeks: float) -> Prediction:
    washes = _washes(plan, weeks)
    coated = any(service.kind in COLOURING and reaches(service, place) for service in plan.option.services)
    spread = plan.record.salon.assumptions.uptake_spread if coated else 0.0
    light, expected, strong = 1 - spread, 1.0, 1 + spread
    return Prediction(
        place=place,
        weeks=weeks,
        light=state.lab(washes, light),
        expected=state.lab(washes, expected),
        strong=state.lab(washes, strong),
    )


def _strip(
    plan: _Plan, now: predicting.Place, then: predicting.Place
) -> tuple[tuple[float, np.ndarray], ...]:
    """Today, then right after the plan, then week by week."""
    return (
        (-1.0, now.lab()),
        *((week, then.lab(_washes(plan, week))) for week in STRIP_WEEKS),
    )


def _cost(record: Record, bowls: Sequence[Bowl], minutes: float) -> float | Absent:
    """What is mixed plus time in the chair."""
    hour = record.salon.chair_hour
    if hour is None:
        return Absent("chair-hour-not-written")
    parts = [bowl.cost for bowl in bowls]
    missing = [part for part in parts if isinstance(part, Absent)]
    if missing:
        return missing[0]
    return sum(part for part in parts if not isinstance(part, Absent)) + float(hour.amount) * minutes / 60


def _weeks_good(plan: _Plan, state: predicting.Place) -> float | Absent:
    """Weeks until the coat laid last passes the salon's lower mark."""
    if not state.coats or not any(service.kind in COLOURING for service in plan.option.services):
        return Absent("nothing-to-refresh")
    coat = state.coats[-1]
    fresh = coat.share_after(0.0)
    for week in range(1, MOST_WEEKS_AHEAD + 1):
        if coat.share_after(_washes(plan, week)) < plan.record.salon.refresh_until * fresh:
            return float(week)
    return Absent("not-thin-within-a-year")


def _upkeep(cost: float | Absent, weeks: float | Absent) -> float | Absent:
    if isinstance(cost, Absent):
        return cost
    if isinstance(weeks, Absent):
        return weeks
    return cost / weeks * WEEKS_PER_MONTH


def _turns_muddy(plan: _Plan, place: Place, then: predicting.Place) -> bool:
    """Whether a colour that is laid comes out without much of a hue over what is there."""
    if not any(service.kind in COLOURING and reaches(service, place) for service in plan.option.services):
        return False
    swatch = [
        float(lab_to_lch(lay_over(plan.bases.under(place, plan.as_of).lab, [(dye, np.asarray(1.0))]))[1])
        for service in plan.option.services
        if service.bowl is not None and (dye := predicting.bowl_dye(plan.record, service.bowl)) is not None
    ]
    meant = max(swatch, default=0.0)
    got = float(lab_to_lch(then.lab())[1])
    muddy = plan.record.salon.assumptions.muddy_below_chroma
    return meant > muddy and got < min(muddy, 0.6 * meant)
