"""Home care: rules over facts of this hair, each with its because and, where it can be worked out, its gain.

It decides which advice applies. `CARE` lists the rules in the order in which they are told; the words stand in
the theme under `care.<key>`, and a salon's own words replace them by key. None of it is medical.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date

from journey.hair.absent import Absent
from journey.record.assumptions import Assumptions
from journey.record.model import CareOverride, Journey
from journey.study.model import Advice, Fade, RefreshStudy

PRACTICE = "common practice, no source"
LIGHT_STUDY = "PMID 16538296: light fades dyed hair more than washing does, lightened hair most"
WATER_STUDY = "J. Cosmet. Sci. 59(4), p. 366: water itself and the first shampoo take much of the colour"
ALKALINE_STUDY = "doi 10.1186/s40691-022-00326-4: an alkaline shampoo takes the most colour"



@dataclass(frozen=True, slots=True)
class CareFacts:
    """What the rules look at."""

    journey: Journey
    assumed: Assumptions
    fade: Fade | None
    """The colour on the leading place now."""
    refresh: RefreshStudy | Absent
    as_of: date

    @property
    def is_direct(self) -> bool:
        return self.fade is not None and self.fade.colour_class in ("direct", "acid", "temporary")


@dataclass(frozen=True, slots=True)
class CareRule:
    key: str
    source: str
    applies: Callable[[CareFacts], Advice | None]


def _advice(key: str, gain_days: int | None = None, **values: str | float | date) -> Advice:
    return Advice(rule=key, values=values, gain_days=gain_days)


def _fewer_washes(facts: CareFacts) -> Advice | None:
    """One wash a week less, and the days that buys, from her own fade."""
    now = round(facts.journey.hair.washes_a_week)
    if now < 2 or isinstance(facts.refresh, Absent):
        return None
    dates = {choice.washes_a_week: choice.window for choice in facts.refresh.what_if}
    mine, fewer = dates.get(now), dates.get(now - 1)
    if mine is None or fewer is None or isinstance(mine, Absent) or isinstance(fewer, Absent):
        return _advice("fewer-washes", n=now - 1)
    return _advice("fewer-washes", gain_days=max(0, (fewer[1] - mine[1]).days) or None, n=now - 1)


def _cool_water(facts: CareFacts) -> Advice | None:
    return _advice("cool-water") if facts.journey.hair.wash_temperature in ("warm", "hot") else None


def _mild_shampoo(facts: CareFacts) -> Advice | None:
    return _advice("mild-shampoo") if facts.is_direct else None


def _first_wash(facts: CareFacts) -> Advice | None:
    if facts.fade is None:
        return None
    lost = facts.fade.posterior.lost_in_first_wash().median
    return _advice("wait-to-wash", lost=f"{100 * lost:.0f}")


def _heat(facts: CareFacts) -> Advice | None:
    heat = facts.journey.hair.heat
    if heat is None or heat.temperature is None or heat.temperature.celsius <= facts.assumed.hot_tool_celsius:
        return None
    return _advice("less-heat", tool=heat.tool, limit=facts.assumed.hot_tool_celsius, now=heat.temperature.celsius)


def _pool(facts: CareFacts) -> Advice | None:
    return _advice("before-the-pool") if facts.journey.hair.swims_a_week else None


def _sun(facts: CareFacts) -> Advice | None:
    return _advice("hat") if facts.journey.hair.sun_hours_a_week >= facts.assumed.much_sun_hours else None


def _hard_water(facts: CareFacts) -> Advice | None:
    return _advice("hard-water") if facts.journey.hair.water == "hard" else None


def _porous(facts: CareFacts) -> Advice | None:
    return _advice("conditioner") if facts.journey.hair.porosity == "high" else None


def _rubs_off(facts: CareFacts) -> Advice | None:
    """Fresh direct colour on a pillow."""
    if not facts.is_direct or facts.fade is None:
        return None
    days = (facts.as_of - facts.fade.applied).days
    return _advice("dark-towel") if days <= facts.assumed.rubs_off_days else None


def _stop_when_sore(_facts: CareFacts) -> Advice | None:
    return _advice("tell-us-when-sore")


CARE: tuple[CareRule, ...] = (
    CareRule("fewer-washes", WATER_STUDY, _fewer_washes),
    CareRule("wait-to-wash", WATER_STUDY, _first_wash),
    CareRule("cool-water", PRACTICE, _cool_water),
    CareRule("mild-shampoo", ALKALINE_STUDY, _mild_shampoo),
    CareRule("less-heat", PRACTICE, _heat),
    CareRule("hat", LIGHT_STUDY, _sun),
    CareRule("before-the-pool", PRACTICE, _pool),
    CareRule("hard-water", PRACTICE, _hard_water),
    CareRule("conditioner", PRACTICE, _porous),
    CareRule("dark-towel", PRACTICE, _rubs_off),
    CareRule("tell-us-when-sore", "EU label wording for hair colour: stop and seek advice", _stop_when_sore),
)


def study_care(facts: CareFacts) -> tuple[Advice, ...]:
    """Advice that applies, in the order of `CARE`; the salon's own words replace a rule's or follow at the end."""
    own = {override.rule: override for override in facts.journey.care}
    found: list[Advice] = []
    for rule in CARE:
        advice = rule.applies(facts)
        if advice is None:
            continue
        override = own.pop(rule.key, None)
        if override is not None:
            advice = Advice(
                rule=rule.key,
                values=advice.values,
                gain_days=advice.gain_days,
                do=override.do,
                because=override.because,
            )
        found.append(advice)
    found += _added(own.values(), {rule.key for rule in CARE})
    return tuple(found)


def _added(overrides: Iterable[CareOverride], known: set[str]) -> list[Advice]:
    """Rules of the salon's own. One that names a rule of ours which does not apply stays silent with it."""
    return [
        Advice(rule=one.rule, values={}, do=one.do, because=one.because)
        for one in overrides
        if one.rule not in known
    ]
