"""Days, weeks and washes: when things happened, and how often the hair was washed in between.

Washes are counted where she counted them (`washes_since_last`), else estimated from her habit. They are
kept apart from days on purpose: with regular washing the two can not be told apart, so only washes drive
the fade (see `journey.hair.fade`).
"""

from __future__ import annotations

from datetime import date

from journey.hair.wash_calendar import WashCalendar, washes_between
from journey.record.model import CheckIn, Journey, Visit
from journey.study.model import Moment

DAYS_PER_WEEK = 7.0


def entries_in_order(journey: Journey) -> tuple[Visit | CheckIn, ...]:
    """Visits and check-ins by day; a visit comes before a check-in of the same day."""
    both: list[Visit | CheckIn] = [*journey.visits, *journey.check_ins]
    return tuple(sorted(both, key=lambda entry: (entry.date, isinstance(entry, CheckIn), entry.key)))


def start_day(journey: Journey) -> date:
    """Week 0: the first visit at which something was done to the hair, else the first entry."""
    worked = [visit.date for visit in journey.visits if visit.services]
    return min(worked) if worked else entries_in_order(journey)[0].date


def wash_calendar(journey: Journey) -> WashCalendar:
    """Washes since week 0: counts written at check-ins hold for the stretch before them, her habit elsewhere."""
    rate, start = journey.hair.washes_a_week, start_day(journey)
    day, washes, known = start, 0.0, []
    for entry in entries_in_order(journey):
        if entry.date <= day:
            continue
        counted = entry.washes_since_last if isinstance(entry, CheckIn) else None
        washes += washes_between(day, entry.date, rate) if counted is None else counted
        day = entry.date
        known.append((day, washes))
    return WashCalendar(start, rate, tuple(known))


def washes_since(calendar: WashCalendar, day: date) -> WashCalendar:
    """The same washes counted from a later day: the clock of one colour."""
    before = calendar.washes_by(day)
    later = tuple((known, washes - before) for known, washes in calendar.counted if known > day)
    return WashCalendar(day, calendar.washes_per_week, later)


def moments(journey: Journey) -> tuple[Moment, ...]:
    """Every entry as a point in time."""
    start, washes = start_day(journey), wash_calendar(journey)
    return tuple(
        Moment(
            key=entry.key,
            day=entry.date,
            is_visit=isinstance(entry, Visit),
            week=(entry.date - start).days / DAYS_PER_WEEK,
            washes=washes.washes_by(max(entry.date, start)),
        )
        for entry in entries_in_order(journey)
    )
