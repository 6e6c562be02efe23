"""When to come back: the days between which the leading colour goes from worth refreshing to thin.

It decides which fade sets the date (the leading place's) and asks every washing habit the same question.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from journey.hair.absent import Absent
from journey.hair.wash_calendar import RefreshWindow, WashCalendar, compare_rhythms, refresh_window
from journey.record.model import Salon
from journey.study.calendar import washes_since
from journey.study.fading import latest_fade
from journey.study.model import Fade, Place, RefreshStudy, WashWhatIf

RHYTHMS = (1, 2, 3, 4, 5)


def study_refresh(
    salon: Salon, fades: Sequence[Fade], leading: Place, washes: WashCalendar, as_of: date
) -> RefreshStudy | Absent:
    """The refresh window of the colour that is on the leading place now."""
    fade = latest_fade(fades, leading)
    if fade is None:
        return Absent("no-fresh-reading")
    calendar = washes_since(washes, fade.applied)
    window = refresh_window(
        fade.posterior, calendar, best_from=salon.refresh_from, latest=salon.refresh_until
    )
    compared = compare_rhythms(
        fade.posterior,
        calendar,
        as_of,
        rhythms_per_week=RHYTHMS,
        best_from=salon.refresh_from,
        latest=salon.refresh_until,
    )
    return RefreshStudy(
        place=leading,
        fade=fade.key,
        window=_window(window, as_of),
        earliest=window.best_from.early,
        latest=window.best_from.late,
        probability_never=window.never_latest,
        what_if=tuple(
            WashWhatIf(
                washes_a_week=int(rhythm),
                window=_window(found, as_of),
                probability_never=found.never_latest,
            )
            for rhythm, found in compared
        ),
    )


def _window(window: RefreshWindow, as_of: date) -> tuple[date, date] | Absent:
    """Median days of both marks; a first mark already passed means from today."""
    first, last = window.best_from.expected, window.latest.expected
    if first is None:
        return Absent("stays-as-stain")
    if last is None:
        return Absent("may-never-go-thin", day=first)
    if last < as_of:
        return Absent("thin-already")
    return max(first, as_of), last
