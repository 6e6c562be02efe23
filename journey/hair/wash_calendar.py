"""Washes and dates: how many washes lie between two days, and on which day a forecast falls due.

Decides how counted washes and an assumed rhythm combine: a count the client gave holds, days between two
counts share the washes evenly, and beyond the last count her usual rhythm runs on. From a fade it makes the
refresh window, and the same window for washing more or less often. Leaves the fade itself to `fade`, whose
clock is washes alone, so that another rhythm needs no other fit.
"""

import math
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from typing import Final

from journey.hair.fade import USUAL_THRESHOLD, FadePosterior
from journey.hair.interval import USUAL_COVERAGE, Interval

BEST_FROM_SHARE: Final = 0.5
"""Share left from which a refresh pays: half. An assumption the stylist can change."""

RHYTHMS_TO_COMPARE: Final = (1, 2, 3, 4, 5, 6, 7)
_ROUNDING_SLACK_DAYS: Final = 1e-9


def washes_between(day_a: date, day_b: date, washes_per_week: float) -> float:
    """Washes from day_a to day_b at an even rhythm; a fraction, since nobody knows the hour.

    ValueError when day_b comes first or the rhythm is negative.

    >>> washes_between(date(2024, 3, 4), date(2024, 3, 18), 2.5)
    5.0
    """
    if day_b < day_a:
        raise ValueError(f"{day_b} lies before {day_a}")
    return (day_b - day_a).days / 7 * _rhythm(washes_per_week)


@dataclass(frozen=True, slots=True)
class WashCalendar:
    """The washes of one colour since the day it was laid.

    ValueError for a negative rhythm, or counts out of order, before the day of laying, or falling.
    """

    laid_on: date
    washes_per_week: float
    """The rhythm where nothing was counted; 0 for hair that is not washed."""

    counted: tuple[tuple[date, float], ...] = ()
    """Days with the washes counted since `laid_on`, in order. They override the rhythm."""

    def __post_init__(self) -> None:
        _rhythm(self.washes_per_week)
        for (day, washes), (next_day, next_washes) in zip(self._known(), self.counted, strict=False):
            if next_day <= day or not washes <= next_washes < math.inf:
                raise ValueError(f"{next_washes} washes by {next_day} can not follow {washes} by {day}")

    def washes_by(self, day: date) -> float:
        """Washes since the colour was laid. ValueError for a day before that."""
        if day < self.laid_on:
            raise ValueError(f"{day} lies before the colour was laid on {self.laid_on}")
        known = self._known()
        for (start, before), (end, after) in pairwise(known):
            if day < end:
                return before + (after - before) * ((day - start).days / (end - start).days)
        last_day, counted = known[-1]
        return counted + washes_between(last_day, day, self.washes_per_week)

    def day_of(self, washes: float) -> date | None:
        """The first day by which there were as many washes; None when that day never comes."""
        known = self._known()
        for (start, before), (end, after) in pairwise(known):
            if washes <= after:
                return _days_after(start, (washes - before) / ((after - before) or 1.0) * (end - start).days)
        last_day, counted = known[-1]
        if washes <= counted:
            return last_day
        if self.washes_per_week == 0:
            return None
        return _days_after(last_day, (washes - counted) / self.washes_per_week * 7)

    def with_rhythm_from(self, day: date, washes_per_week: float) -> "WashCalendar":
        """The same washes up to `day`, another rhythm after it; later counts are dropped."""
        kept = tuple(count for count in self.counted if count[0] < day)
        if day > self.laid_on:
            kept = (*kept, (day, self.washes_by(day)))
        return replace(self, washes_per_week=washes_per_week, counted=kept)

    def _known(self) -> tuple[tuple[date, float], ...]:
        return ((self.laid_on, 0.0), *self.counted)


@dataclass(frozen=True, slots=True)
class DateRange:
    """An interval in days; None for a day that never comes."""

    early: date | None
    expected: date | None
    late: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class RefreshWindow:
    """When a refresh starts to pay and when the colour counts as faded."""

    best_from: DateRange
    latest: DateRange
    never_best_from: float
    """Probability that the share never falls to the first threshold."""

    never_latest: float
    """Probability that it never falls to the second."""


def refresh_window(
    posterior: FadePosterior,
    calendar: WashCalendar,
    *,
    best_from: float = BEST_FROM_SHARE,
    latest: float = USUAL_THRESHOLD,
    coverage: float = USUAL_COVERAGE,
) -> RefreshWindow:
    """The days between which the share left falls from `best_from` to `latest`, each with its interval.

    ValueError unless 0 < latest < best_from <= 1.
    """
    if not latest < best_from:
        raise ValueError(f"a colour passes {best_from} before {latest} only if it is the larger share")
    opens = posterior.washes_until(best_from, coverage=coverage)
    closes = posterior.washes_until(latest, coverage=coverage)
    return RefreshWindow(
        best_from=_dates(calendar, opens.interval),
        latest=_dates(calendar, closes.interval),
        never_best_from=opens.probability_never,
        never_latest=closes.probability_never,
    )


def compare_rhythms(
    posterior: FadePosterior,
    calendar: WashCalendar,
    from_day: date,
    *,
    rhythms_per_week: Iterable[float] = RHYTHMS_TO_COMPARE,
    best_from: float = BEST_FROM_SHARE,
    latest: float = USUAL_THRESHOLD,
    coverage: float = USUAL_COVERAGE,
) -> tuple[tuple[float, RefreshWindow], ...]:
    """(washes per week, refresh window) for each rhythm, were it kept from `from_day` on."""
    return tuple(
        (
            rhythm,
            refresh_window(
                posterior,
                calendar.with_rhythm_from(from_day, rhythm),
                best_from=best_from,
                latest=latest,
                coverage=coverage,
            ),
        )
        for rhythm in rhythms_per_week
    )


def _dates(calendar: WashCalendar, washes: Interval) -> DateRange:
    return DateRange(*(calendar.day_of(count) for count in washes))


def _days_after(day: date, days: float) -> date | None:
    """The first whole day not earlier; None beyond what a calendar can hold."""
    if not math.isfinite(days):
        return None
    try:
        return day + timedelta(days=max(0, math.ceil(days - _ROUNDING_SLACK_DAYS)))
    except OverflowError:
        return None


def _rhythm(washes_per_week: float) -> float:
    if not 0 <= washes_per_week < math.inf:
        raise ValueError(f"washes per week are counted from 0 up, got {washes_per_week}")
    return washes_per_week
