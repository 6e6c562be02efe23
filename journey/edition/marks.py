"""Labelled moments on rasters and charts: services that reached a zone, and today."""

from __future__ import annotations

from journey.edition.desk import Desk
from journey.edition.model import Mark
from journey.record.model import Service, ServiceKind, Visit
from journey.study.growing import CHANGES_COLOUR, reaches
from journey.study.model import Place

_SEEN_ON_STRAND = CHANGES_COLOUR | {ServiceKind.TRIM}


def service_marks(desk: Desk, place: Place) -> tuple[Mark, ...]:
    """Visits that changed the colour of a place, named by the last colour laid, then today."""
    found = [
        Mark(when=desk.words.when(visit.date), label=desk.gate.text("Service.name", colours[-1].name))
        for visit in _visits(desk)
        if (colours := [one for one in visit.services if reaches(one, place) and one.kind in CHANGES_COLOUR])
    ]
    return (*found, _today(desk))


def zone_marks(desk: Desk, zone: str) -> tuple[Mark, ...]:
    """Visits that left something to see on a zone's strand: the last colour laid and what was cut."""
    found = []
    for visit in _visits(desk):
        on_zone = [one for one in visit.services if zone in one.zones and one.kind in _SEEN_ON_STRAND]
        named = [one for one in on_zone if one.kind in CHANGES_COLOUR][-1:]
        label = desk.words.listing(
            [*(desk.gate.text("Service.name", one.name) for one in named), *_cuts(desk, on_zone)]
        )
        if label:
            found.append(Mark(when=desk.words.when(visit.date), label=label))
    return (*found, _today(desk))


def _cuts(desk: Desk, services: list[Service]) -> list[str]:
    said = []
    for one in services:
        if one.kind is not ServiceKind.TRIM:
            continue
        if one.to_length is not None:
            said.append(desk.words.say("mark.clipped", cm=one.to_length.cm))
        elif one.cut is not None:
            said.append(desk.words.say("mark.cut", cm=one.cut.cm))
    return said


def _visits(desk: Desk) -> list[Visit]:
    return sorted(
        (visit for visit in desk.record.journey.visits if visit.date >= desk.study.start),
        key=lambda visit: visit.date,
    )


def _today(desk: Desk) -> Mark:
    when = desk.words.when(desk.study.as_of)
    return Mark(when=when, label=desk.words.say("mark.today"), is_service=False)
