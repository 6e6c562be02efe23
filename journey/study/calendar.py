"""Days, weeks and washes: when things happened, and how often the hair was washed in between.

Washes are counted where she counted them (`washes_since_last`), else estimated from her habit. They are
kept apart from days on purpose: with regular washing the two can not be told apart, so only washes drive
the fade (see `journey.hair.fade`).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

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


@dataclass(frozen=True, slots=True)
class WashCalendar:
    """Washes since week 0 on any day: straight lines between counted days, her habit elsewhere."""

    days: tuple[date, ...]
    washes: tuple[float, ...]
    washes_a_week: float

    @classmethod
    def of(cls, journey: Journey) -> WashCalendar:
        """Counts written at check-ins replace the estimate for the stretch before them."""
        rate = journey.hair.washes_a_week
        days, washes = [start_day(journey)], [0.0]
        for entry in entries_in_order(journey):
            if entry.date <= days[-1]:
                continue
            counted = entry.washes_since_last if isinstance(entry, CheckIn) else None
            since = (entry.date - days[-1]).days * rate / DAYS_PER_WEEK if counted is None else counted
            days.append(entry.date)
            washes.append(washes[-1] + since)
        return cls(tuple(days), tuple(washes), rate)

    def washes_on(self, day: date) -> float:
        """Washes since week 0; negative before it."""
        if day <= self.days[0]:
            return (day - self.days[0]).days * self.washes_a_week / DAYS_PER_WEEK
        for (early, count), (late, after) in zip(
            zip(self.days, self.washes, strict=True),
            zip(self.days[1:], self.washes[1:], strict=True),
            strict=False,
        ):
            if day <= late:
                return count + (after - count) * (day - early).days / (late - early).days
        return self.washes[-1] + (day - self.days[-1]).days * self.washes_a_week / DAYS_PER_WEEK

    def between(self, earlier: date, later: date) -> float:
        return self.washes_on(later) - self.washes_on(earlier)

    def day_after(self, start: date, washes: float, washes_a_week: float | None = None) -> date:
        """The first day on which `washes` have passed since `start`, looking only ahead of it.

        With `washes_a_week` the habit from the last known day on is another one: the what-if.
        """
        known_to = max(start, self.days[-1])
        left = washes - self.between(start, known_to)
        if left <= 0:
            for ahead in range((known_to - start).days + 1):
                if self.between(start, start + timedelta(days=ahead)) >= washes:
                    return start + timedelta(days=ahead)
        rate = self.washes_a_week if washes_a_week is None else washes_a_week
        # A habit of next to no washing, or a wash far ahead, ends at a century: no date lies beyond it.
        days = min(left * DAYS_PER_WEEK / max(rate, 1e-6), 36_500)
        return known_to + timedelta(days=round(days))


def moments(journey: Journey) -> tuple[Moment, ...]:
    """Every entry as a point in time."""
    start, washes = start_day(journey), WashCalendar.of(journey)
    return tuple(
        Moment(
            key=entry.key,
            day=entry.date,
            is_visit=isinstance(entry, Visit),
            week=(entry.date - start).days / DAYS_PER_WEEK,
            washes=washes.washes_on(entry.date),
        )
        for entry in entries_in_order(journey)
    )
