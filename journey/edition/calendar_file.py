"""A calendar file for the client: the refresh window, a reminder to book, and care (iCalendar, RFC 5545).

Care comes back weekly, with every rule of her page in its text, from the day of the forecast to the window.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, time, timedelta

from icalendar import Calendar, Event

from journey.edition.desk import Desk
from journey.edition.model import CareItem
from journey.hair.absent import Absent

BOOK_AHEAD = timedelta(days=14)


def calendar_text(desk: Desk, care: Sequence[CareItem]) -> str | None:
    """For the client alone, and only when a window can be named."""
    refresh = desk.study.refresh
    if not desk.is_client or isinstance(refresh, Absent) or isinstance(refresh.window, Absent):
        return None
    first, last = refresh.window
    calendar = Calendar()
    calendar.add("prodid", "-//colour journey//EN")
    calendar.add("version", "2.0")
    # The stamp is the day the forecast was made, so that the same folder gives the same bytes.
    stamp = datetime.combine(desk.study.as_of, time(12), UTC)
    window = _event("refresh", desk.words.say("calendar.refresh"), stamp)
    window.add("dtstart", first)
    window.add("dtend", last + timedelta(days=1))
    calendar.add_component(window)
    book = max(first - BOOK_AHEAD, desk.study.as_of)
    reminder = _event("book", desk.words.say("calendar.book"), stamp)
    reminder.add("dtstart", book)
    reminder.add("dtend", book + timedelta(days=1))
    calendar.add_component(reminder)
    if care and desk.study.as_of < first:
        weekly = _event("care", desk.words.say("calendar.care"), stamp)
        lines = (f"{item.do.rstrip('.')}. {item.because.rstrip('.')}." for item in care)
        weekly.add("description", "\n".join(lines))
        weekly.add("dtstart", desk.study.as_of)
        weekly.add("dtend", desk.study.as_of + timedelta(days=1))
        weekly.add("rrule", {"freq": "weekly", "until": first})
        calendar.add_component(weekly)
    text: str = calendar.to_ical().decode("utf-8")
    return text


def _event(key: str, summary: str, stamp: datetime) -> Event:
    event = Event()
    # A plain word, not derived from anybody: two clients' calendars can not be told apart by it.
    event.add("uid", f"{key}@colour-journey.invalid")
    event.add("dtstamp", stamp)
    event.add("summary", summary)
    event.add("transp", "TRANSPARENT")
    return event
