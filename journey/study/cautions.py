"""Cautions: what the record says against what was done, or is planned, before it can hurt somebody.

It decides which cautions apply; it never diagnoses, and every one of them defers to the product's
instructions, local rules and licensed practice. `CAUTIONS` lists the rules in the order in which they are
told; words stand in the theme under `caution.<key>`. What a service by its kind may and may not do is judged
by `journey.hair.service_rules`, for every service done or planned. Weights: 'stop' not before this is settled,
'ask' find out first, 'mind' keep in mind.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from journey.colour.reason import Value
from journey.hair.bowl_checks import REFUSED
from journey.hair.service_rules import MIND, objections
from journey.record.model import Bowl, Record, Role, ServiceKind, Visit
from journey.study.bowls import problems_of, products_of
from journey.study.growing import COLOURING, Grown
from journey.study.model import Caution, OptionStudy
from journey.study.service_facts import Judged, done_services, planned_services

Kind = ServiceKind

FDA = "US FDA, hair dye safety: test two days before, each time"
EU_LABEL = "EU warning labels for hair dyes (Tukes): content of the label"
EU_LIMIT = "Regulation (EC) No 1223/2009, Annex III, entry 12(a)"
PRACTICE = "common practice, no source"

PATCH_TEST_HOURS = 48
"""The longer of the two periods that public sources and training texts name (24 and 48 hours)."""
YOUNGEST = 16


@dataclass(frozen=True, slots=True)
class CautionFacts:
    record: Record
    grown: Sequence[Grown]
    options: Sequence[OptionStudy]
    start: date
    as_of: date


@dataclass(frozen=True, slots=True)
class CautionRule:
    key: str
    weight: str
    source: str
    find: Callable[[CautionFacts], Iterator[tuple[str, dict[str, Value]]]]
    """Yields (entry or option it belongs to, values for its words)."""


Found = Iterator[tuple[str, dict[str, Value]]]


def _asks_patch_test(record: Record, bowl: Bowl | None) -> int | None:
    """Hours before use that this bowl's products ask for; None when nothing in it colours or develops."""
    if bowl is None:
        return None
    products = products_of(record)
    asked = [
        products[line.product].patch_test_hours or PATCH_TEST_HOURS
        for line in bowl.lines
        if products[line.product].role in (Role.COLOUR, Role.DEVELOPER, Role.LIGHTENER)
    ]
    return max(asked, default=None)


def _visits(record: Record) -> list[Visit]:
    return sorted(record.journey.visits, key=lambda visit: visit.date)


def _patch_test_missing(facts: CautionFacts) -> Found:
    """Each visit with colour needs its own test, done long enough before and after the visit before."""
    tests = [test for visit in _visits(facts.record) for test in visit.tests if test.kind == "patch"]
    before: date | None = None
    for visit in _visits(facts.record):
        hours = [_asks_patch_test(facts.record, service.bowl) for service in visit.services]
        needed = max((one for one in hours if one is not None), default=None)
        if needed is None:
            continue
        latest = visit.date - timedelta(hours=needed)
        fits = [test for test in tests if test.on <= latest and (before is None or test.on >= before)]
        if not fits:
            yield visit.key, {"title": visit.title, "day": visit.date, "hours": needed}
        before = visit.date


def _test_reaction(facts: CautionFacts) -> Found:
    for visit in _visits(facts.record):
        for test in visit.tests:
            if test.kind == "patch" and test.result == "reaction":
                yield visit.key, {"day": test.on}


def _strand_test_missing(facts: CautionFacts) -> Found:
    """Before lightening or taking colour off, on the same day or earlier."""
    tests = [test for visit in _visits(facts.record) for test in visit.tests if test.kind == "strand"]
    before: date | None = None
    for visit in _visits(facts.record):
        if not any(service.kind in (Kind.LIGHTEN, Kind.COLOUR_REMOVAL) for service in visit.services):
            continue
        if not any(test.on <= visit.date and (before is None or test.on > before) for test in tests):
            yield visit.key, {"title": visit.title, "day": visit.date}
        before = visit.date


def _strand_test_bad(facts: CautionFacts) -> Found:
    for visit in _visits(facts.record):
        for test in visit.tests:
            if test.kind == "strand" and test.result in ("stretchy", "breaks"):
                yield visit.key, {"day": test.on, "result": test.result}


def _earlier_reaction(facts: CautionFacts) -> Found:
    if facts.record.journey.health.earlier_reaction:
        yield "", {}


def _black_henna(facts: CautionFacts) -> Found:
    if facts.record.journey.health.black_henna_tattoo:
        yield "", {}


def _too_young(facts: CautionFacts) -> Found:
    age = facts.record.journey.health.age
    if age is not None and age < YOUNGEST:
        yield "", {"youngest": YOUNGEST}


def _scalp(facts: CautionFacts) -> Found:
    scalp = facts.record.journey.health.scalp
    if scalp is not None and scalp not in ("healthy", "clear"):
        yield "", {}


def _ask_medicines(facts: CautionFacts) -> Found:
    if facts.record.journey.health.pregnancy_or_medicines == "not asked":
        yield "", {}


def _metallic_salts(facts: CautionFacts) -> Found:
    """In her hair's past, or in a product of a bowl; they can heat and break hair with peroxide."""
    if facts.record.journey.hair.metallic_salts:
        yield "", {}
    products = products_of(facts.record)
    for visit in _visits(facts.record):
        for service in visit.services:
            if service.bowl and any(products[line.product].metallic_salts for line in service.bowl.lines):
                yield visit.key, {}


def _henna(facts: CautionFacts) -> Found:
    if facts.record.journey.hair.henna:
        yield "", {}


def _bowl_refused(facts: CautionFacts) -> Found:
    for about, service, bowl in _bowls(facts.record):
        for problem in problems_of(facts.record, bowl):
            if problem.severity == REFUSED:
                yield about, {"service": service, "problem": problem.reason, "source": problem.source}


def _bowl_looked_at(facts: CautionFacts) -> Found:
    for about, service, bowl in _bowls(facts.record):
        for problem in problems_of(facts.record, bowl):
            if problem.severity != REFUSED:
                yield about, {"service": service, "problem": problem.reason, "source": problem.source}


def _bowls(record: Record) -> Iterator[tuple[str, str, Bowl]]:
    for visit in _visits(record):
        for service in visit.services:
            if service.bowl is not None:
                yield visit.key, service.name, service.bowl
    for option in record.journey.options:
        for planned in option.services:
            if planned.bowl is not None:
                yield option.key, planned.name, planned.bowl


def _muddy(facts: CautionFacts) -> Found:
    for option in facts.options:
        if option.turns_muddy:
            yield option.key, {}


def _darker_than_meant(facts: CautionFacts) -> Found:
    for option in facts.options:
        for one in option.darker:
            zone = next(zone.name for zone in facts.record.journey.zones if zone.key == one.place.zone)
            yield (
                option.key,
                {
                    "service": one.service,
                    "zone": zone,
                    "band": one.place.band,
                    "level": one.level,
                    "target": one.target,
                },
            )


def _patch_test_next(facts: CautionFacts) -> Found:
    """Any option that colours needs a new test first."""
    for option in facts.record.journey.options:
        hours = [_asks_patch_test(facts.record, service.bowl) for service in option.services]
        needed = max((one for one in hours if one is not None), default=None)
        if needed is not None:
            yield option.key, {"hours": needed}


def _strand_test_next(facts: CautionFacts) -> Found:
    for option in facts.record.journey.options:
        if any(service.kind in (Kind.LIGHTEN, Kind.COLOUR_REMOVAL) for service in option.services):
            yield option.key, {}


def _always(facts: CautionFacts) -> Found:
    if any(
        service.kind in COLOURING | {Kind.LIGHTEN}
        for visit in _visits(facts.record)
        for service in visit.services
    ):
        yield "", {}


CAUTIONS: tuple[CautionRule, ...] = (
    CautionRule("patch-test-missing", "stop", FDA, _patch_test_missing),
    CautionRule("patch-test-reaction", "stop", EU_LABEL, _test_reaction),
    CautionRule("earlier-reaction", "stop", EU_LABEL, _earlier_reaction),
    CautionRule("black-henna-tattoo", "stop", EU_LABEL, _black_henna),
    CautionRule("too-young", "stop", EU_LABEL, _too_young),
    CautionRule("scalp", "stop", EU_LABEL, _scalp),
    CautionRule("metallic-salts", "stop", PRACTICE, _metallic_salts),
    CautionRule("bowl-refused", "stop", EU_LIMIT, _bowl_refused),
    CautionRule("strand-test-bad", "stop", PRACTICE, _strand_test_bad),
    CautionRule("strand-test-missing", "ask", PRACTICE, _strand_test_missing),
    CautionRule("henna", "ask", PRACTICE, _henna),
    CautionRule("medicines", "ask", PRACTICE, _ask_medicines),
    CautionRule("patch-test-next", "ask", FDA, _patch_test_next),
    CautionRule("strand-test-next", "ask", PRACTICE, _strand_test_next),
    CautionRule("muddy", "mind", "predicted from today's colour", _muddy),
    CautionRule("darker-than-meant", "mind", "predicted from today's colour", _darker_than_meant),
    CautionRule("bowl-look-again", "mind", "the product's instructions", _bowl_looked_at),
    CautionRule("gloves-and-air", "mind", EU_LABEL, _always),
    CautionRule("instructions", "mind", EU_LABEL, _always),
)


def study_cautions(facts: CautionFacts) -> tuple[Caution, ...]:
    """Every caution that applies, gravest first, each once per entry or option."""
    found = [
        Caution(
            rule=rule.key,
            weight=rule.weight,
            values={name: value for name, value in values.items() if name != "source"},
            source=str(values.get("source", rule.source)),
            about=about,
        )
        for rule in CAUTIONS
        for about, values in rule.find(facts)
    ]
    order = ("stop", "ask", "mind")
    found += service_cautions(facts)
    return tuple(sorted(_once(found), key=lambda caution: order.index(caution.weight)))


def _once(found: Iterable[Caution]) -> list[Caution]:
    """What is said alike of several services of one visit or option is said once, and names them all."""
    alike: dict[object, list[Caution]] = {}
    for one in found:
        rest = tuple((name, value) for name, value in one.values.items() if name != "service")
        alike.setdefault((one.rule, one.weight, one.source, one.about, rest), []).append(one)
    return [replace(same[0], values=_naming_all(same)) for same in alike.values()]


def _naming_all(same: Sequence[Caution]) -> Mapping[str, Value]:
    services = tuple(dict.fromkeys(str(one.values["service"]) for one in same if "service" in one.values))
    return {**same[0].values, "service": services} if len(services) > 1 else same[0].values


def service_cautions(facts: CautionFacts) -> list[Caution]:
    """What the rules of services say against each one; what is done already can only be kept in mind."""
    planned = planned_services(facts.record, facts.grown, facts.as_of, facts.start)
    judged = [*done_services(facts.record, facts.grown), *(one for _, one in planned)]
    return [caution for one in judged for caution in _against(one)]


def _against(judged: Judged) -> list[Caution]:
    return [
        Caution(
            rule=objection.code,
            weight=objection.weight if judged.is_planned else MIND,
            values={**objection.values, "service": judged.name},
            source=objection.source,
            about=judged.about,
        )
        for objection in objections(judged.facts)
    ]
