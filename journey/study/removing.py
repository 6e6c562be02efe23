"""Taking colour off this hair: what would come off, what would stay, and what did when it was done before.

It decides what a removal is taken to leave: what the stylist saw at the last one, or what the photos read where
they clearly differ, else what the salon usually sees. Which coats a remover takes and which way to go on stands in
`journey.hair.removal`; colours follow the dye that is between the bare hair and today's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from journey.colour.difference import delta_e_2000
from journey.colour.dye import dye_between
from journey.colour.fade_path import TRACKING_K_L
from journey.colour.layering import lay_over
from journey.colour.reason import Reason
from journey.hair.condition import ConditionNote
from journey.hair.interval import Interval
from journey.hair.layers import Layers, Remaining
from journey.hair.level import LIGHTEST
from journey.hair.read_share import read_share
from journey.hair.removal import (
    Removal,
    Remover,
    Way,
    passes_needed,
    residue_notes,
    shares_left,
    spread_of,
    take_off_again,
    way_on,
)
from journey.hair.wash_calendar import WashCalendar
from journey.record.band import Band
from journey.record.model import PlannedService, Record, Service, ServiceKind, Visit
from journey.study.assumed import remover_effect, stretch_limits
from journey.study.bases import Bases, middle_cm
from journey.study.growing import Grown, act_band, reaches, remover_of
from journey.study.model import Fade, Place, Reading
from journey.study.plan_model import RemovalCheck, RemovalPass, RemovalStudy, RemovedCoat
from journey.study.strand_colours import StrandColours, lab_at

BANDS = ("roots", "mid-lengths", "ends")
MOST_PASSES = 3
"""More than this nobody plans in a row: hair and scalp have met enough."""

AIMS = ("another-hue", "lighter", "over-it")
"""What may be wanted next: a clear new hue on this base, a lighter base, or a hue over what is there."""


@dataclass(frozen=True, slots=True)
class RemovalFacts:
    record: Record
    grown: Sequence[Grown]
    colours: StrandColours
    bases: Bases
    as_of: date
    leaves: float
    leaves_from: str


def removal_facts(
    record: Record,
    grown: Sequence[Grown],
    colours: StrandColours,
    bases: Bases,
    checks: Sequence[RemovalCheck],
    as_of: date,
) -> RemovalFacts:
    """With the share a removal leaves on her hair, from the best there is to know it by."""
    leaves, source = _usual(record, checks)
    return RemovalFacts(record, grown, colours, bases, as_of, leaves, source)


def _usual(record: Record, checks: Sequence[RemovalCheck]) -> tuple[float, str]:
    """What the last removal left: as seen, unless the photos say that it was clearly otherwise."""
    told = [check for check in checks if check.delta_e > check.limit]
    if told and len(told) * 2 > len(checks):
        return min(1.0, float(np.median([check.read_share.median for check in told]))), "read"
    seen = [
        service.leaves
        for visit in _visits(record)
        for service in visit.services
        if service.kind is ServiceKind.COLOUR_REMOVAL and service.leaves is not None
    ]
    return (seen[-1], "seen") if seen else (record.salon.removal_leaves, "usual")


def study_removals(facts: RemovalFacts) -> tuple[RemovalStudy, ...]:
    """For every place along every zone that has hair today."""
    return tuple(
        _study(facts, zone, band, Remover(), facts.leaves, facts.leaves_from)
        for zone in facts.grown
        for band in BANDS
        if _has_hair(facts, zone, band)
    )


def planned_removal(facts: RemovalFacts, service: PlannedService) -> tuple[RemovalStudy, ...]:
    """What one planned removal would do at the places it reaches, zone by zone."""
    leaves, source = facts.leaves, facts.leaves_from
    if service.leaves is not None:
        leaves, source = service.leaves, "planned"
    return tuple(
        _study(facts, zone, band, remover_of(service), leaves, source)
        for zone in facts.grown
        for band in BANDS
        if reaches(service, Place(zone.zone.key, band)) and _has_hair(facts, zone, band)
    )


def _has_hair(facts: RemovalFacts, zone: Grown, band: str) -> bool:
    strand = zone.history.at(_today(facts))
    near, far = strand.span_cm(act_band(strand, Band.parse(band)))
    return min(far, strand.length_cm()) - near > 0.05


def _today(facts: RemovalFacts) -> float:
    return float((facts.as_of - facts.colours.start).days)


def remaining_share(facts: RemovalFacts) -> Remaining:
    """Share of a coat that washing has left today."""
    return lambda coat: facts.colours.remaining(coat, facts.as_of)


def _study(
    facts: RemovalFacts, zone: Grown, band: str, remover: Remover, leaves: float, source: str
) -> RemovalStudy:
    place = Place(zone.zone.key, band)
    strand = zone.history.at(_today(facts))
    layers = strand.layers_at(middle_cm(strand, band)) or Layers(natural_level=strand.natural_level)
    done = take_off_again(layers, remover, MOST_PASSES, leaves=leaves, remaining=remaining_share(facts))
    coats = _coats(done)
    left_now = max((coat.left[0] for coat in coats if coat.reached), default=0.0)
    return RemovalStudy(
        place=place,
        coats=coats,
        passes=_passes(facts, zone, place, layers, remover, leaves) if coats else (),
        needed=passes_needed(left_now, facts.record.salon.assumptions.stain_share, leaves),
        leaves=leaves,
        leaves_from=source,
        level_under=layers.level,
        ways=_ways(facts, layers, place),
        residue=residue_notes(place.zone, cross_checked=True, section_width_cm=None) if coats else (),
    )


def _coats(done: Sequence[Removal]) -> tuple[RemovedCoat, ...]:
    """Coats of today, top first, each with its share before and after every removal."""
    coats = []
    for step in done[0].steps:
        left = [step.left_before, step.left_after]
        for later in done[1:]:
            same = [one for one in later.steps if one.coat.service == step.coat.service]
            left.append(same[0].left_after if same else 0.0)
        coats.append(
            RemovedCoat(
                service=step.coat.service,
                name=step.coat.name,
                colour_class=step.coat.colour_class,
                reached=step.reached,
                left=tuple(left),
            )
        )
    return tuple(coats)


def _passes(
    facts: RemovalFacts, zone: Grown, place: Place, layers: Layers, remover: Remover, leaves: float
) -> tuple[RemovalPass, ...]:
    """Colours by the dye that lies between bare and today, thinned as its coats are together."""
    remaining = remaining_share(facts)
    middle = middle_cm(zone.history.at(_today(facts)), place.band)
    now = lab_at(facts.colours, zone, middle, facts.as_of)
    if now is None:
        return ()
    bare = facts.bases.under(place, facts.as_of).lab
    dye = dye_between(bare, now)
    courses = [
        shares_left(take_off_again(layers, remover, MOST_PASSES, leaves=one, remaining=remaining))
        for one in spread_of(leaves, remover_effect(facts.record.salon.assumptions))
    ]
    passes = [RemovalPass(number=0, share=1.0, light=now, expected=now, strong=now)]
    for number in range(1, MOST_PASSES + 1):
        shares = np.array([course[number - 1] for course in courses])
        light, expected, strong = lay_over(bare, [(dye, shares)])
        share = float(shares[1])
        passes.append(RemovalPass(number=number, share=share, light=light, expected=expected, strong=strong))
    return tuple(passes)


def _ways(facts: RemovalFacts, layers: Layers, place: Place) -> tuple[tuple[str, Way], ...]:
    weakened = _weakened(facts.record, place)
    wanted = {"another-hue": layers.level, "lighter": layers.level + 1, "over-it": layers.level}
    return tuple(
        (
            aim,
            way_on(
                layers,
                wanted_level=wanted[aim],
                colour_may_stay=aim == "over-it",
                weakened=weakened,
                stain=facts.record.salon.assumptions.stain_share,
                remaining=remaining_share(facts),
            ),
        )
        for aim in AIMS
        if wanted[aim] <= LIGHTEST
    )


def _weakened(record: Record, place: Place) -> bool:
    """What the last note on this place said; the one after a service comes after the one before it."""
    notes = [
        ConditionNote(elasticity_wet_percent=one.elasticity_wet_percent, porosity=one.porosity)
        for visit in _visits(record)
        for one in sorted(visit.conditions, key=lambda note: note.moment == "after")
        if one.zone == place.zone and place.band in one.band.places
    ]
    return bool(notes) and notes[-1].is_weakened(stretch_limits(record.salon.assumptions))


def check_removals(
    record: Record, fades: Sequence[Fade], readings: Sequence[Reading], washes: WashCalendar
) -> tuple[RemovalCheck, ...]:
    """Every removal of the past, at every place a photo read between the removal and the next colour."""
    return tuple(
        check
        for visit in _visits(record)
        for service in visit.services
        if service.kind is ServiceKind.COLOUR_REMOVAL
        for reading in readings
        if reading.entry == visit.key and reading.stage == "removed" and reaches(service, reading.place)
        if (check := _check(record, visit, service, reading, fades, washes)) is not None
    )


def _check(
    record: Record,
    visit: Visit,
    service: Service,
    reading: Reading,
    fades: Sequence[Fade],
    washes: WashCalendar,
) -> RemovalCheck | None:
    before = [fade for fade in fades if fade.place == reading.place and fade.applied < visit.date]
    if not before:
        return None
    fade = max(before, key=lambda one: one.applied)
    had = washes.washes_by(visit.date) - washes.washes_by(fade.applied)
    left_before = fade.posterior.share_at(had).median
    seen = service.leaves is not None
    leaves = service.leaves if service.leaves is not None else record.salon.removal_leaves
    spread = spread_of(leaves, remover_effect(record.salon.assumptions))
    light, expected, strong = (fade.path.lab_at(left_before * share) for share in spread)
    found = read_share(fade.path, reading.body_lab, delta_e_noise=reading.mean_error)
    return RemovalCheck(
        service=service.key,
        entry=visit.key,
        place=reading.place,
        left_before=left_before,
        leaves=leaves,
        leaves_from="seen" if seen else "usual",
        light=light,
        expected=expected,
        strong=strong,
        read=reading.body_lab,
        reading=reading.key,
        read_share=Interval(*(share / left_before for share in found)),
        delta_e=float(delta_e_2000(expected, reading.body_lab, k_L=TRACKING_K_L)),
        limit=reading.limit.other_lamp,
    )


def residue_then(record: Record) -> tuple[Reason, ...]:
    """Where the last removal may have left colour behind, by how it was done; each note once."""
    done = [
        service
        for visit in _visits(record)
        for service in visit.services
        if service.kind is ServiceKind.COLOUR_REMOVAL
    ]
    notes: list[Reason] = []
    for service in done[-1:]:
        width = None if service.section_width is None else service.section_width.cm
        for zone in service.zones:
            notes += residue_notes(zone, cross_checked=service.cross_checked, section_width_cm=width)
    return tuple(note for number, note in enumerate(notes) if note not in notes[:number])


def _visits(record: Record) -> list[Visit]:
    return sorted(record.journey.visits, key=lambda visit: visit.date)
