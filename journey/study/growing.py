"""Follows each zone's hair through the record: growth, services, trims, in the order they happened.

It decides how the record's words for a service become an act on the strand; what the act does stands in
`journey.hair.strand`, and what colour results in `journey.study.strand_colours`.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import partial

from journey.colour.reason import Reason
from journey.hair.band import Band as HairBand
from journey.hair.fade_prior import ColourClass as ClassName
from journey.hair.growth import (
    DAYS_PER_MONTH,
    DEFAULT_RATE,
    AcrossGrowth,
    GrowthRate,
    RulerReading,
    across_growth,
    rate_from_rulers,
)
from journey.hair.layers import Layers
from journey.hair.removal import Remover
from journey.hair.strand import LIGHTENER_LEAVES, Strand
from journey.hair.strand_history import StrandHistory
from journey.hair.wash_calendar import WashCalendar
from journey.record.band import Band
from journey.record.model import (
    ColourClass,
    Journey,
    PlannedService,
    Record,
    Service,
    ServiceKind,
    Visit,
    Zone,
)
from journey.study.calendar import entries_in_order, start_day, wash_calendar
from journey.study.model import Place

Kind = ServiceKind

COLOURING = frozenset({Kind.DIRECT_COLOUR, Kind.DEMI, Kind.PERMANENT, Kind.GLOSS, Kind.TONER})
CHANGES_COLOUR = COLOURING | {Kind.LIGHTEN, Kind.COLOUR_REMOVAL}

_CLASS_WITHOUT_PRODUCT: Mapping[Kind, ColourClass] = {
    Kind.DIRECT_COLOUR: ColourClass.DIRECT,
    Kind.DEMI: ColourClass.DEMI,
    Kind.PERMANENT: ColourClass.PERMANENT,
    Kind.GLOSS: ColourClass.ACID,
    Kind.TONER: ColourClass.DEMI,
}

USUAL_VOLUMES = 20.0


@dataclass(frozen=True, slots=True)
class Grown:
    """One zone's hair on every day; days count from week 0."""

    zone: Zone
    history: StrandHistory
    before: Mapping[str, Strand]
    """By service that reached it: the hair right before that service."""

    @property
    def today(self) -> Strand:
        return self.history.latest


def reaches(service: Service | PlannedService, place: Place) -> bool:
    """Whether a service reaches a place: its zone, and its band where both are named."""
    if place.zone not in service.zones:
        return False
    return (
        service.band.is_all
        or service.band.span is not None
        or place.band == "all"
        or place.band in service.band.places
    )


def colour_class(record: Record, service: Service | PlannedService) -> ClassName:
    """Class of the first colour in the bowl, else what the kind of service usually is."""
    products = {product.key: product for product in record.salon.products}
    if service.bowl is not None:
        for line in service.bowl.lines:
            product = products.get(line.product)
            if product is not None and product.colour_class is not None:
                return product.colour_class.value
    return _CLASS_WITHOUT_PRODUCT.get(service.kind, ColourClass.DIRECT).value


def growth_rate(record: Record) -> GrowthRate:
    """Her own rate when written, else her rulers weighed against the literature, else the literature."""
    journey, assumed = record.journey, record.salon.assumptions
    written = journey.hair.growth_mm_per_month
    if written is not None:
        return GrowthRate(written / DAYS_PER_MONTH, assumed.written_growth_error, Reason("growth-written"))
    return rate_from_rulers(
        rulers(journey),
        DEFAULT_RATE,
        ruler_sd_cm=assumed.ruler_error_cm,
        start_sd_cm=assumed.start_error_cm,
    )


def rulers(journey: Journey) -> list[RulerReading]:
    """Rulers on photos, counted from the last service before that day which reached the roots."""
    start, found = start_day(journey), []
    for entry in entries_in_order(journey):
        for photo in entry.photos:
            for ruler in photo.ruler:
                since = _roots_worked_before(journey, ruler.zone, entry.date)
                if since is not None:
                    found.append(
                        RulerReading((entry.date - start).days, ruler.new_growth.cm, (since - start).days)
                    )
    return found


def _roots_worked_before(journey: Journey, zone: str, day: date) -> date | None:
    worked = [
        visit.date
        for visit in journey.visits
        for service in visit.services
        if visit.date < day
        and zone in service.zones
        and service.kind in CHANGES_COLOUR
        and _reaches_roots(service.band)
    ]
    return max(worked, default=None)


def _reaches_roots(band: Band) -> bool:
    return "roots" in band.places or (band.span is not None and band.span.start.cm == 0)


def grow_zones(record: Record, rate: GrowthRate) -> tuple[Grown, ...]:
    """Every zone's hair after each visit."""
    return tuple(_grow_zone(record, zone, rate.mm_per_day / 10) for zone in record.journey.zones)


def grow_across(record: Record, rate: GrowthRate) -> tuple[AcrossGrowth[Grown], ...]:
    """Every zone's hair after each visit, for slow, expected and fast growth."""
    return tuple(across_growth(rate, partial(_grow_zone, record, zone)) for zone in record.journey.zones)


def _grow_zone(record: Record, zone: Zone, cm_per_day: float) -> Grown:
    journey = record.journey
    start, washes = start_day(journey), wash_calendar(journey)
    strand = Strand.start(
        zone.key,
        length_cm=zone.length.cm,
        natural_level=zone.natural_level or journey.hair.natural_level,
        growth_cm_per_day=cm_per_day,
    )
    history = StrandHistory.of(strand)
    before: dict[str, Strand] = {}
    for visit in sorted(journey.visits, key=lambda one: one.date):
        if visit.date >= start:
            strand = _after_visit(record, strand, zone, visit, start, washes, before)
            history = history.then(strand)
    return Grown(zone, history, before)


def _after_visit(
    record: Record,
    strand: Strand,
    zone: Zone,
    visit: Visit,
    start: date,
    washes: WashCalendar,
    before: dict[str, Strand],
) -> Strand:
    """The strand when she got up; the hair each service met is put into ``before``."""
    day = float((visit.date - start).days)
    strand = strand.grow_to(day)
    for condition in visit.conditions:
        if condition.zone == zone.key and condition.porosity is not None:
            strand = strand.note_porosity(day, act_band(strand, condition.band), condition.porosity)
    for service in visit.services:
        if zone.key in service.zones:
            before[service.key] = strand
            strand = act(
                record, strand, service, key=service.key, day=day, washes=washes.washes_by(visit.date)
            )
    return strand


def act_band(strand: Strand, band: Band) -> HairBand:
    """The record's band as one stretch on this hair today, before anything is done to it."""
    if band.is_all:
        return HairBand("all")
    if band.span is not None:
        return HairBand.between(band.span.start.cm, band.span.to.cm)
    spans = [strand.span_cm(HairBand(str(place))) for place in band.places]
    near, far = min(span[0] for span in spans), max(span[1] for span in spans)
    if "ends" in band.places or far >= strand.length_cm():
        far = math.inf
    return HairBand.between(near, far) if far > near else HairBand.between(near, near + 1e-6)


def act(
    record: Record,
    strand: Strand,
    service: Service | PlannedService,
    *,
    key: str,
    day: float,
    washes: float,
) -> Strand:
    """The strand after one service."""
    band = act_band(strand, service.band)
    kind = service.kind
    if kind is Kind.TRIM:
        to_length = service.to_length if isinstance(service, Service) else None
        if to_length is not None:
            return strand.clip_to(day, to_length.cm)
        return strand.trim(day, min(service.cut.cm if service.cut else 0.0, strand.length_cm()))
    if kind is Kind.LIGHTEN and service.to_level is not None:
        leaves = lightener_leaves(record)
        return strand.lighten(day, band, service=key, to_level=service.to_level, leaves=leaves)
    if kind is Kind.COLOUR_REMOVAL:
        return strand.remove_colour(day, band, leaves=removal_leaves(record, service))
    if kind in COLOURING:
        return strand.lay_colour(
            day,
            band,
            service=key,
            colour_class=colour_class(record, service),
            name=service.name,
            washes_before=washes,
        )
    if kind is Kind.EXTENSIONS_IN and isinstance(service, Service) and service.added_length is not None:
        fixed_cm = 0.0 if service.fixed_at is None else service.fixed_at.cm
        level = service.added_level
        added = Layers(natural_level=strand.natural_level if level is None else level)
        return strand.extensions_in(day, at_cm=fixed_cm, length_cm=service.added_length.cm, layers=added)
    if kind is Kind.EXTENSIONS_OUT and strand.extension:
        return strand.extensions_out(day)
    if kind in (Kind.TREATMENT, Kind.BOND_PROTECTION):
        return strand.treat(day, band, service=key)
    return strand


def lightener_leaves(record: Record) -> Mapping[str, float]:
    """Share of each colour class still there after a lightener."""
    left = record.salon.assumptions.lightener_leaves
    return {name: left if share else share for name, share in LIGHTENER_LEAVES.items()}


def remover_of(service: Service | PlannedService) -> Remover:
    """Only whether there is a developer decides what comes off, not how strong it is."""
    return Remover(volumes=USUAL_VOLUMES if service.with_developer else None)


def removal_leaves(record: Record, service: Service | PlannedService) -> Mapping[str, float]:
    """Share of each colour class a removal leaves: direct and acid always, oxidative ones with developer."""
    left = service.leaves if service.leaves is not None else record.salon.removal_leaves
    return remover_of(service).leaves(left)
