"""What a touch-up of just the new growth takes: past bowls brought down to the hair that has grown since.

It decides which bowl says what to mix (the last of its kind that reached the roots), which says how much (the
one whose stretch of hair was most like it), which hair is new for it, and which day is asked about: the first
day worth refreshing, or today. How grams follow from hair stands in `journey.hair.bowl`.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from journey.hair.absent import Absent
from journey.hair.bowl import Bowl, Coverage, bowl_for
from journey.hair.growth import GrowthRate, across_growth
from journey.hair.interval import Interval
from journey.hair.strand import Strand
from journey.record.model import Record, Service, ServiceKind, Visit
from journey.study.bowls import mixed
from journey.study.growing import COLOURING, Grown, act_band
from journey.study.model import RefreshStudy
from journey.study.plan_model import TouchUp

Kind = ServiceKind
_KINDS = ((Kind.BOND_PROTECTION,), (Kind.LIGHTEN,), tuple(COLOURING))
"""What a touch-up is made of, in the order it is done."""

SCALE_STEP_G = 1.0
LEAST_GROWTH_CM = 0.1
"""Less than this is no new growth anybody would touch up."""


@dataclass(frozen=True, slots=True)
class _Pattern:
    """A service of the past whose bowl tells what to mix, and how much of it for how much hair."""

    visit: Visit
    service: Service
    zones: tuple[Grown, ...]
    bowl: Bowl
    did: Coverage
    """The hair it was for, as it came in that day."""
    even_shares: bool


def study_touch_ups(
    record: Record,
    grown: Sequence[Grown],
    rate: GrowthRate,
    refresh: RefreshStudy | Absent,
    start: date,
    as_of: date,
) -> tuple[TouchUp, ...]:
    """One for each kind of bowl that a touch-up needs; none where nothing has grown or nothing was mixed."""
    day = as_of
    if not isinstance(refresh, Absent) and not isinstance(refresh.window, Absent):
        day = max(as_of, refresh.window[0])
    return tuple(
        touch_up
        for kinds in _KINDS
        if (patterns := _patterns(record, grown, kinds, start))
        if (touch_up := _touch_up(patterns, rate, start, day)) is not None
    )


def _patterns(
    record: Record, grown: Sequence[Grown], kinds: tuple[ServiceKind, ...], start: date
) -> list[_Pattern]:
    """Services of these kinds that were mixed for and reached the roots, in order of day."""
    patterns = []
    for visit in sorted(record.journey.visits, key=lambda one: one.date):
        for service in visit.services:
            if service.kind not in kinds or service.bowl is None or visit.date < start:
                continue
            day = float((visit.date - start).days)
            zones = tuple(zone for zone in grown if zone.zone.key in service.zones)
            shares, even = _shares(zones)
            spans = [_span(zone, service, day) for zone in zones]
            if any(near == 0 for zone, (near, _) in zip(zones, spans, strict=True) if not _clipped(zone)):
                did = _coverage(
                    [(share, far - near) for share, (near, far) in zip(shares, spans, strict=True)]
                )
                patterns.append(_Pattern(visit, service, zones, mixed(record, service.bowl), did, even))
    return patterns


def _clipped(zone: Grown) -> bool:
    """A zone that is clipped short has lost its colour before a touch-up is due."""
    return zone.zone.clipped_to is not None


def _span(zone: Grown, service: Service, day: float) -> tuple[float, float]:
    """Stretch the service worked on, on the hair as it came in that day."""
    before = [state for state in zone.history.states if state.day < day]
    strand = (before[-1] if before else zone.history.states[0]).grow_to(day)
    near, far = strand.span_cm(act_band(strand, service.band))
    return near, min(far, strand.length_cm())


def _touch_up(patterns: Sequence[_Pattern], rate: GrowthRate, start: date, day: date) -> TouchUp | None:
    recipe, then = patterns[-1], float((day - start).days)
    kept = [zone for zone in recipe.zones if not _clipped(zone)]
    shares, _ = _shares(recipe.zones)
    share_of = dict(zip((zone.zone.key for zone in recipe.zones), shares, strict=True))
    growth = [(share_of[zone.zone.key], _new_growth(zone.history.at(then), recipe.service)) for zone in kept]
    growth = [(share, cm) for share, cm in growth if cm >= LEAST_GROWTH_CM]
    if not growth:
        return None
    will = _coverage(growth)
    # A bowl for whole lengths says little about roots, where hair is densest: the nearest stretch tells most.
    amount = min(reversed(patterns), key=lambda one: abs(math.log(one.did.stretch_cm / will.stretch_cm)))
    spread = across_growth(rate, lambda cm_per_day: cm_per_day / (rate.mm_per_day / 10))
    grown = Interval(*(will.stretch_cm * factor for factor in (spread.slow, 1.0, spread.fast)))
    needed_g = Interval(
        *(bowl_for(amount.bowl, amount.did, Coverage(will.head_share, cm)).total_g for cm in grown)
    )
    mix = recipe.bowl.scaled(needed_g.high / recipe.bowl.total_g).rounded_up(SCALE_STEP_G)
    return TouchUp(
        service=recipe.service.key,
        entry=recipe.visit.key,
        amount_of=amount.service.key,
        day=day,
        zones=tuple(zone.zone.key for zone in kept),
        did_cm=amount.did.stretch_cm,
        did_g=bowl_for(amount.bowl, amount.did, amount.did).total_g,
        grown_cm=grown,
        needed=recipe.bowl.scaled(needed_g.median / recipe.bowl.total_g),
        needed_g=needed_g,
        mix=mix,
        left_over_g=mix.total_g - needed_g.median,
        even_shares=recipe.even_shares,
    )


def _shares(zones: Sequence[Grown]) -> tuple[list[float], bool]:
    """Share of the head in each zone, as written, else all zones alike; and whether it was the latter."""
    written = [zone.zone.share_of_head for zone in zones]
    known = [share for share in written if share is not None]
    return (known, False) if len(known) == len(written) else ([1 / len(written)] * len(written), True)


def _coverage(parts: Sequence[tuple[float, float]]) -> Coverage:
    """Several zones as one: all their hair, over the length it has on average."""
    share = sum(part for part, _ in parts)
    return Coverage(min(1.0, share), sum(part * cm for part, cm in parts) / share)


def _new_growth(strand: Strand, service: Service) -> float:
    """Cm at the scalp that this kind of service has not met, up to the hair it last reached."""
    lightens = service.kind in (Kind.LIGHTEN, Kind.BOND_PROTECTION)
    since = "lightening" if lightens or any(p.layers.lifts for p in strand.segments) else "colour"
    return strand.new_growth_cm(since=since) or 0.0
