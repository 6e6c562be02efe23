"""What is known of each service, done or planned, so that the trade's rules can judge it.

It decides which hair a service met: the strands of its zones as they were right before it, a plan's as they
will be after the steps before it. What may be done to such hair is judged by `journey.hair.service_rules`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from journey.hair.absent import Absent
from journey.hair.bowl import Bowl
from journey.hair.condition import ConditionNote
from journey.hair.peroxide import volumes_from_percent
from journey.hair.service_rules import ServiceFacts
from journey.hair.strand import Strand
from journey.hair.strand_questions import level_range, overlap_cm
from journey.record.model import Option, PlannedService, Record, Role, Service, ServiceKind, Visit
from journey.study.bowls import mixed, products_of
from journey.study.growing import Grown, act, act_band

Strands = Mapping[str, Strand]
"""By zone."""


@dataclass(frozen=True, slots=True)
class Judged:
    """One service to be judged: where it stands, and what is known of it."""

    about: str
    """Key of its visit or option."""
    name: str
    is_planned: bool
    facts: ServiceFacts


def done_services(record: Record, grown: Sequence[Grown]) -> Iterator[Judged]:
    """Every service of every visit, over the hair as it was right before it."""
    for visit in sorted(record.journey.visits, key=lambda one: one.date):
        for number, service in enumerate(visit.services):
            strands = {one.zone.key: one.before[service.key] for one in grown if service.key in one.before}
            notes = condition_notes(record, visit.date, visit)
            before = visit.services[:number]
            yield Judged(
                visit.key, service.name, False, _facts(record, service, strands, before, notes, visit.date)
            )


def planned_services(
    record: Record, grown: Sequence[Grown], as_of: date, start: date
) -> Iterator[tuple[Option, Judged]]:
    """Every step of every option, over today's hair with the steps before it done."""
    today = float((as_of - start).days)
    notes = condition_notes(record, as_of, None)
    for option in record.journey.options:
        strands = {one.zone.key: one.history.at(today) for one in grown}
        done: list[PlannedService] = []
        for number, service in enumerate(sorted(option.services, key=lambda one: one.session)):
            day = today + 7 * (service.session - 1) * (option.weeks_between or 0)
            strands = {zone: strand.grow_to(day) for zone, strand in strands.items()}
            same_day = [one for one in done if one.session == service.session]
            met = {zone: strands[zone] for zone in service.zones if zone in strands}
            facts = _facts(record, service, met, same_day, notes, as_of)
            yield option, Judged(option.key, service.name, True, facts)
            key = f"{option.key}.{number}"
            acted = {
                zone: act(record, strand, service, key=key, day=day, washes=0.0) for zone, strand in met.items()
            }
            strands = {**strands, **acted}
            done.append(service)


def condition_notes(
    record: Record, until: date, at: Visit | None
) -> Mapping[tuple[str, str], tuple[date, ConditionNote]]:
    """The latest note on each zone and band up to a day; of the visit itself only what was felt before."""
    found: dict[tuple[str, str], tuple[date, ConditionNote]] = {}
    for visit in sorted(record.journey.visits, key=lambda one: one.date):
        if visit.date > until:
            continue
        for note in sorted(visit.conditions, key=lambda one: one.moment == "after"):
            if at is not None and visit.key == at.key and note.moment == "after":
                continue
            felt = ConditionNote(elasticity_wet_percent=note.elasticity_wet_percent, porosity=note.porosity)
            found[(note.zone, str(note.band))] = (visit.date, felt)
    return found


def _facts(
    record: Record,
    service: Service | PlannedService,
    strands: Strands,
    before: Sequence[Service | PlannedService],
    notes: Mapping[tuple[str, str], tuple[date, ConditionNote]],
    day: date,
) -> ServiceFacts:
    assumed = record.salon.assumptions
    spans = {zone: _span(strand, service) for zone, strand in strands.items()}
    bowl = None if service.bowl is None else mixed(record, service.bowl)
    has_developer = service.with_developer if bowl is None else bowl.grams_of("developer") > 0
    done = service if isinstance(service, Service) else None
    return ServiceFacts(
        kind=service.kind.value,
        has_developer=has_developer,
        volumes=_volumes(bowl),
        developer_parts=_parts(bowl),
        instructions_give_a_ratio=_has_own_ratio(record, service),
        has_water=None if bowl is None else bowl.grams_of(Role.WATER) > 0,
        heat=service.heat not in (None, "none"),
        minutes=None if service.time is None else service.time.minutes,
        section_width_cm=None if done is None or done.section_width is None else done.section_width.cm,
        cross_checked=None if done is None else done.cross_checked,
        soaked=None if done is None else done.soaked,
        covered=None if done is None else done.covered,
        reaches_scalp=any(near == 0 < far for near, far in spans.values()),
        present_level=_darkest(strands, spans),
        target_level=service.to_level,
        level_on_hair=service.level_before,
        classes_on_hair=_classes(strands, spans),
        lightened_before_cm=max((overlap_cm(strands[z], *spans[z]) for z in strands), default=0.0),
        bond_protection_before=any(one.kind is ServiceKind.BOND_PROTECTION for one in before),
        elasticity_wet_percent=_stretch(strands, spans, notes, record),
        added_hair=any(strand.extension for strand in strands.values()),
        safe_step_levels=float(record.salon.safe_lift_per_session),
        most_wet_stretch_percent=100 * assumed.most_wet_stretch,
        off_scalp_volumes=assumed.off_scalp_volumes,
        widest_section_cm=assumed.widest_section_cm,
        usual_minutes=(assumed.least_minutes, assumed.most_minutes),
    )


def _span(strand: Strand, service: Service | PlannedService) -> tuple[float, float]:
    near, far = strand.span_cm(act_band(strand, service.band))
    return near, min(far, strand.length_cm())


def _volumes(bowl: Bowl | None) -> float | None:
    """Of the strongest developer in the bowl."""
    strengths = [
        line.peroxide_percent
        for line in (() if bowl is None else bowl.lines)
        if line.role == "developer" and line.peroxide_percent is not None
    ]
    return volumes_from_percent(max(strengths)) if strengths else None


def _parts(bowl: Bowl | None) -> float | None:
    parts = None if bowl is None else bowl.developer_parts
    return None if isinstance(parts, Absent) else parts


def _has_own_ratio(record: Record, service: Service | PlannedService) -> bool:
    products = products_of(record)
    lines = () if service.bowl is None else service.bowl.lines
    return any(products[line.product].ratio is not None for line in lines)


def _darkest(strands: Strands, spans: Mapping[str, tuple[float, float]]) -> float | None:
    levels = [
        level_range(strand, *spans[zone])[0]
        for zone, strand in strands.items()
        if spans[zone][1] - spans[zone][0] > 1e-3
    ]
    return min(levels, default=None)


def _classes(strands: Strands, spans: Mapping[str, tuple[float, float]]) -> tuple[str, ...]:
    """Classes of the coats on the band, washing left out: what has faded may still be in the fibre."""
    found: dict[str, None] = {}
    for zone, strand in strands.items():
        near, far = spans[zone]
        for piece in strand.profile():
            if piece.to_cm > near + 1e-3 and piece.from_cm < far - 1e-3:
                found |= dict.fromkeys(coat.colour_class for coat in piece.layers.standing())
    return tuple(found)


def _stretch(
    strands: Strands,
    spans: Mapping[str, tuple[float, float]],
    notes: Mapping[tuple[str, str], tuple[date, ConditionNote]],
    record: Record,
) -> float | None:
    """The widest stretch last noted on any band that the service meets."""
    felt = []
    noted = {(one.zone, str(one.band)): one.band for visit in record.journey.visits for one in visit.conditions}
    for place, (_, note) in notes.items():
        zone = place[0]
        if zone not in strands or note.elasticity_wet_percent is None:
            continue
        near, far = strands[zone].span_cm(act_band(strands[zone], noted[place]))
        if min(far, spans[zone][1]) - max(near, spans[zone][0]) > 1e-3:
            felt.append(note.elasticity_wet_percent)
    return max(felt, default=None)
