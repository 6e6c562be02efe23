"""Fits how each colour fades on each place, from the day it was laid to the next service there.

It decides which readings say something about which colour. A coat is followed as the whole of what lies
over the lightened hair: after a gloss over coral, what fades from then on is the two together. What hair
looks like between fresh and gone is `journey.colour.fade_path`, how fast it goes `journey.hair.fade`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from journey.colour.fade_path import FadePath, NoFadePathError
from journey.colour.reason import Reason
from journey.hair.absent import Absent
from journey.hair.fade import FadePosterior, fit_fade, prior_from_posteriors
from journey.hair.fade_prior import ColourClass, FadePrior
from journey.hair.interval import Interval
from journey.hair.read_share import read_share
from journey.hair.wash_calendar import WashCalendar
from journey.record.model import Record, Service, Visit
from journey.study.assumed import fade_prior
from journey.study.bases import Bases
from journey.study.growing import CHANGES_COLOUR, COLOURING, Grown, colour_class, reaches
from journey.study.model import Fade, Place, Reading

MOST_NEW_GROWTH_CM = 0.5
"""Roots that have grown more than this since the service show natural hair in the patch, not the colour."""
MOST_CLIPPED_SHARE = 0.5
"""Of a patch cut off for the larger part, what is left was chosen by its darkness: it does not tell the colour."""


@dataclass(frozen=True, slots=True)
class _Course:
    """One service on one place, until the next one there."""

    visit: Visit
    service: Service
    place: Place
    until: date | None


def fit_fades(
    record: Record,
    readings: Sequence[Reading],
    grown: Sequence[Grown],
    bases: Bases,
    washes: WashCalendar,
    as_of: date,
) -> tuple[Fade, ...]:
    """Every colour on every place that was read fresh, in order of day; earlier ones teach later ones."""
    fades: list[Fade] = []
    zones = {one.zone.key: one for one in grown}
    for course in _courses(record, readings):
        fresh = _fresh(readings, course)
        if fresh is not None:
            fade = _fit(record, course, fresh, readings, zones, bases, washes, as_of, fades)
            if fade is not None:
                fades.append(fade)
    return tuple(fades)


def _courses(record: Record, readings: Sequence[Reading]) -> list[_Course]:
    """The last colouring service of each visit on each place that was ever read."""
    places = sorted({reading.place for reading in readings})
    visits = sorted(record.journey.visits, key=lambda visit: visit.date)
    found = []
    for number, visit in enumerate(visits):
        for place in places:
            service = _last_colour(visit, place)
            if service is None:
                continue
            later = (
                other.date
                for other in visits[number + 1 :]
                if any(reaches(one, place) and one.kind in CHANGES_COLOUR for one in other.services)
            )
            found.append(_Course(visit, service, place, next(later, None)))
    return found


def _last_colour(visit: Visit, place: Place) -> Service | None:
    on_place = [one for one in visit.services if reaches(one, place) and one.kind in COLOURING]
    return on_place[-1] if on_place else None


def _fresh(readings: Sequence[Reading], course: _Course) -> Reading | None:
    """The reading of the place right after the service, in the view that shows it later on.

    Light falls on a lock on a board otherwise than on a head: like is compared with like, and among equals
    a chart comes before a card, a sound reading before a weak one.
    """
    on_place = [reading for reading in readings if reading.place == course.place]
    found = [
        reading for reading in on_place if reading.entry == course.visit.key and reading.stage == "after"
    ]
    later = [reading.view for reading in on_place if _is_later(reading, course)]
    return min(
        found,
        key=lambda one: (
            -later.count(one.view),
            one.trend_only,
            len(one.weak),
            one.uncertainty.delta_e_90,
            one.key,
        ),
        default=None,
    )


def _is_later(reading: Reading, course: _Course) -> bool:
    """After the service, and not after the next one."""
    if reading.day <= course.visit.date or (course.until is not None and reading.day > course.until):
        return False
    return reading.day != course.until or reading.stage == "before"


def _fit(
    record: Record,
    course: _Course,
    fresh: Reading,
    readings: Sequence[Reading],
    zones: dict[str, Grown],
    bases: Bases,
    washes: WashCalendar,
    as_of: date,
    earlier: Sequence[Fade],
) -> Fade | None:
    base = bases.under(course.place, course.visit.date)
    try:
        path = FadePath.between(base.lab, fresh.body_lab)
    except NoFadePathError:
        return None
    zone = zones.get(course.place.zone)
    used, left_out = _follow_ups(course, fresh, readings, zone)
    kind = colour_class(record, course.service)
    prior = _prior(record, kind, course.place, earlier)
    photos = [(_between(washes, course.visit.date, reading.day), reading.body_lab) for reading in used]
    posterior = fit_fade(
        path,
        photos,
        delta_e_noise=fresh.mean_error,
        prior=prior,
        photo_delta_e=[reading.mean_error for reading in used],
        bare_delta_e=base.mean_error,
    )

    def share(reading: Reading) -> Interval:
        return read_share(
            path,
            reading.body_lab,
            delta_e_noise=reading.mean_error,
            fresh_delta_e=fresh.mean_error,
            bare_delta_e=base.mean_error,
        )

    return Fade(
        key=f"{course.service.key}.{course.place.zone}.{course.place.band}",
        service=course.service.key,
        label=course.service.name,
        colour_class=kind,
        place=course.place,
        applied=course.visit.date,
        until=course.until,
        substrate_lab=base.lab,
        substrate_from=base.source,
        dyed_lab=fresh.body_lab,
        fresh=fresh.key,
        path=path,
        posterior=posterior,
        measured=tuple(
            (reading.day, count, share(reading), reading.key)
            for reading, (count, _) in zip(used, photos, strict=True)
        ),
        left_out=left_out,
        share_now=_share_now(course, zone, posterior, washes, as_of),
        prior_from=prior.source,
    )


def _share_now(
    course: _Course, zone: Grown | None, posterior: FadePosterior, washes: WashCalendar, as_of: date
) -> Interval | Absent:
    if course.until is not None and course.until <= as_of:
        return Absent("service-followed")
    if zone is not None and _is_clipped_off(course, zone, as_of):
        return Absent("clipped-off")
    return posterior.share_at(_between(washes, course.visit.date, as_of))


def _follow_ups(
    course: _Course, fresh: Reading, readings: Sequence[Reading], zone: Grown | None
) -> tuple[list[Reading], tuple[tuple[str, Reason], ...]]:
    """Readings of this colour as it fades, and those that are not, each with its reason."""
    used, left_out = [], []
    for reading in readings:
        if reading.place != course.place or not _is_later(reading, course):
            continue
        reason = _says_nothing(reading, course, zone)
        if reason is None and reading.view != fresh.view:
            reason = Reason("another-view")
        if reason is None:
            used.append(reading)
        else:
            left_out.append((reading.key, reason))
    return used, tuple(left_out)


def _says_nothing(reading: Reading, course: _Course, zone: Grown | None) -> Reason | None:
    if reading.trend_only:
        return Reason("trend-only")
    if reading.clipped_share > MOST_CLIPPED_SHARE:
        return Reason("clipped", percent=100 * reading.clipped_share)
    if zone is None:
        return None
    day = float((reading.day - course.visit.date).days)
    grown = zone.today.growth_cm_per_day * day
    if reading.place.band == "roots" and grown > MOST_NEW_GROWTH_CM:
        return Reason("grown-into-patch", cm=grown)
    return Reason("clipped-off") if _is_clipped_off(course, zone, reading.day) else None


def _is_clipped_off(course: _Course, zone: Grown, day: date) -> bool:
    """Whether hair that is clipped short has lost the part that was coloured."""
    clipped = zone.zone.clipped_to
    grown = zone.today.growth_cm_per_day * (day - course.visit.date).days
    return clipped is not None and grown >= clipped.cm


def _prior(record: Record, kind: ColourClass, place: Place, earlier: Sequence[Fade]) -> FadePrior:
    """The colour class's prior, replaced by what her own earlier colours on this place have shown."""
    own = [fade.posterior for fade in earlier if fade.place == place and fade.colour_class == kind]
    return prior_from_posteriors(
        fade_prior(record.salon.assumptions, kind), own, within_log_sd=record.salon.assumptions.own_fades_spread
    )


def _between(washes: WashCalendar, earlier: date, later: date) -> float:
    return washes.washes_by(later) - washes.washes_by(earlier)


def latest_fade(fades: Sequence[Fade], place: Place) -> Fade | None:
    """The colour that is on a place now."""
    found = [fade for fade in fades if fade.place == place]
    return max(found, key=lambda fade: fade.applied, default=None)
