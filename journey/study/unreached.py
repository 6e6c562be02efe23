"""Planned colours that this hair does not let through as meant: over too dark, too warm or coloured hair.

It decides what each planned colour meets: the hair as the steps before it in the plan leave it, stretch by
stretch. Whether that stands in the way is judged in `journey.hair.reach`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from journey.hair.level import level_seen
from journey.hair.reach import Obstacle, base_shows_through, colour_does_not_lift
from journey.hair.removal import ON_THE_CUTICLE
from journey.hair.strand import Segment, Strand
from journey.record.model import Option, PlannedService, Record, Role, ServiceKind
from journey.study.bowls import products_of
from journey.study.growing import COLOURING, Grown, act, act_band, colour_class
from journey.study.plan_model import Unreached
from journey.study.removing import RemovalFacts, remaining_share
from journey.study.strand_colours import lab_at

LEAST_CM = 0.3
"""A shorter stretch nobody sees."""

LEAST_LEVELS = 1.0
"""Levels by lightness rest on assumed colours: less than one apart is no difference."""

_CHANGES_WHAT_IS_ON = COLOURING | {ServiceKind.LIGHTEN, ServiceKind.COLOUR_REMOVAL}


def find_unreached(record: Record, option: Option, facts: RemovalFacts) -> tuple[Unreached, ...]:
    """Each obstacle once per planned service and reason, with all zones it holds for."""
    found: dict[tuple[str, str], Unreached] = {}
    for zone in facts.grown:
        strand = zone.history.at(float((facts.as_of - facts.colours.start).days))
        untouched = True
        for service in sorted(option.services, key=lambda one: one.session):
            if zone.zone.key not in service.zones:
                continue
            if service.kind in COLOURING:
                for cm, obstacle in _against(record, zone, strand, service, facts, untouched):
                    was = found.get((service.name, obstacle.code))
                    found[service.name, obstacle.code] = _joined(was, service, zone.zone.key, cm, obstacle)
            untouched = untouched and service.kind not in _CHANGES_WHAT_IS_ON
            strand = act(record, strand, service, key=service.name, day=strand.day, washes=0.0)
    return tuple(found.values())


def _joined(
    was: Unreached | None, service: PlannedService, zone: str, cm: float, obstacle: Obstacle
) -> Unreached:
    """With one more stretch; the longest speaks for all."""
    if was is None:
        return Unreached(service=service.name, zones=(zone,), cm=cm, obstacle=obstacle)
    zones = tuple(dict.fromkeys((*was.zones, zone)))
    return replace(was, zones=zones, cm=max(was.cm, cm), obstacle=obstacle if cm > was.cm else was.obstacle)


def _against(
    record: Record,
    zone: Grown,
    strand: Strand,
    service: PlannedService,
    facts: RemovalFacts,
    untouched: bool,
) -> Iterator[tuple[float, Obstacle]]:
    kind = colour_class(record, service)
    target, volumes = lightest_level(record, service), _volumes(record, service)
    near, far = strand.span_cm(act_band(strand, service.band))
    for piece in strand.profile():
        cm = min(far, piece.to_cm) - max(near, piece.from_cm)
        if cm < LEAST_CM:
            continue
        if target is not None:
            # How dark the hair looks is known for today's colour, not for what the plan leaves of it.
            seen = _level_on_hair(zone, piece, facts) if untouched else None
            if seen is not None and target - seen < LEAST_LEVELS:
                seen = None
            for obstacle in colour_does_not_lift(
                piece.layers,
                target,
                colour_class=kind,
                volumes=volumes,
                level_on_hair=seen,
                remaining=remaining_share(facts),
            ):
                yield cm, obstacle
        shows = base_shows_through(
            piece.layers.level,
            wanted_clear=kind in ON_THE_CUTICLE,
            clean_base=record.salon.assumptions.clean_base_level,
        )
        if shows is not None:
            yield cm, shows


def _level_on_hair(zone: Grown, piece: Segment, facts: RemovalFacts) -> float | None:
    lab = lab_at(facts.colours, zone, (piece.from_cm + piece.to_cm) / 2, facts.as_of)
    return None if lab is None else level_seen(lab)


def lightest_level(record: Record, service: PlannedService) -> float | None:
    """The lightest level that a colour in the bowl is sold as; None where none says one."""
    products = products_of(record)
    lines = () if service.bowl is None else service.bowl.lines
    levels = [products[line.product].level for line in lines]
    return max((level for level in levels if level is not None), default=None)


def _volumes(record: Record, service: PlannedService) -> float | None:
    products = products_of(record)
    lines = () if service.bowl is None else service.bowl.lines
    strengths = [
        peroxide.volumes
        for line in lines
        if products[line.product].role is Role.DEVELOPER
        and (peroxide := products[line.product].peroxide) is not None
    ]
    return max(strengths, default=None)
