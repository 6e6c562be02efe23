"""The fade as a figure: each place's colour left from service to service, with its own colours and forecast.

It decides which places are drawn for whom (the client sees the leading one, a class the bands of its zone) and
how densely; the numbers are the study's.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from journey.colour.spaces import lab_to_hex
from journey.edition.desk import Desk
from journey.edition.marks import service_marks
from journey.edition.model import Cell, FadeFigure, FadePoint, FadeSegment, FadeSeries, Table
from journey.hair.absent import Absent
from journey.hair.interval import Interval
from journey.study.calendar import wash_calendar
from journey.study.model import Fade, Place
from journey.study.strand_study import FORECAST_WEEKS

DAYS_A_POINT = 3.5


def fade_figure(desk: Desk) -> FadeFigure | None:
    """None when no colour was read fresh anywhere."""
    study = desk.study
    places = _places(desk)
    if not places:
        return None
    last_day = study.as_of + timedelta(weeks=FORECAST_WEEKS)
    series = tuple(_series(desk, place, last_day) for place in places)
    window = None if isinstance(study.refresh, Absent) else study.refresh.window
    refresh = None
    note = ""
    if window is None or isinstance(window, Absent):
        reason = study.refresh if isinstance(study.refresh, Absent) else window
        note = desk.words.say("fade.no-window", reason=desk.because(reason)) if reason is not None else ""
    else:
        refresh = (desk.week(window[0]), desk.week(window[1]))
    return FadeFigure(
        title=_title(desk, places),
        alt=_alt(desk, series),
        series=series,
        marks=service_marks(desk, study.leading),
        today=desk.words.when(study.as_of),
        last_week=desk.week(last_day),
        refresh=refresh,
        table=_table(desk, places),
        note=note or desk.words.say("fade.note"),
    )


def _places(desk: Desk) -> tuple[Place, ...]:
    followed = {fade.place for fade in desk.study.fades}
    leading = desk.study.leading
    if leading not in followed:
        return ()
    if desk.is_client:
        return (leading,)
    # A place whose colour was never read again has only the colour class's assumption to show: no finding.
    seen = {fade.place for fade in desk.study.fades if not fade.posterior.prior_only}
    return tuple(place for place in desk.study.places if place in seen and place.zone == leading.zone)


def fades_of(desk: Desk, place: Place) -> list[Fade]:
    return [fade for fade in desk.study.fades if fade.place == place]


def _series(desk: Desk, place: Place, last_day: date) -> FadeSeries:
    fades = fades_of(desk, place)
    now = fades[-1].share_now if fades else None
    text = desk.words.percent(now.median) if isinstance(now, Interval) else desk.words.say("fade.none")
    return FadeSeries(
        place=desk.place(place),
        segments=tuple(_segment(desk, fade, last_day) for fade in fades),
        today_text=text,
    )


def course(desk: Desk, fade: Fade, first: date, last: date) -> Iterator[tuple[float, Interval]]:
    """(week, share left) along the fitted course, about two points a week."""
    washes = wash_calendar(desk.record.journey)
    days = (last - first).days
    for ahead in np.linspace(0, days, max(2, round(days / DAYS_A_POINT) + 1)):
        day = first + timedelta(days=float(ahead))
        share = fade.posterior.share_at(washes.washes_by(day) - washes.washes_by(fade.applied))
        yield desk.week(first) + float(ahead) / 7, share


def _segment(desk: Desk, fade: Fade, last_day: date) -> FadeSegment:
    points = tuple(
        FadePoint(
            week=week,
            share=share.median,
            low=share.low,
            high=share.high,
            hex=lab_to_hex(fade.path.lab_at(share.median)).text,
        )
        for week, share in course(desk, fade, fade.applied, fade.until or last_day)
    )
    fresh = FadePoint(
        week=desk.week(fade.applied), share=1.0, low=1.0, high=1.0, hex=lab_to_hex(fade.dyed_lab).text
    )
    readings = {reading.key: reading for reading in desk.study.readings}
    measured = tuple(
        FadePoint(
            week=desk.week(day),
            share=share.median,
            low=share.low,
            high=share.high,
            hex=lab_to_hex(readings[key].body_lab).text,
        )
        for day, _, share, key in fade.measured
    )
    return FadeSegment(
        label=desk.gate.text("Service.name", fade.label), points=points, measured=(fresh, *measured)
    )


def _title(desk: Desk, places: tuple[Place, ...]) -> str:
    """The finding: which of the drawn places loses its colour fastest, and by how much."""
    latest = {place: fades_of(desk, place)[-1] for place in places}
    rates = {place: fade.posterior.rate().median for place, fade in latest.items()}
    slow, fast = min(rates, key=lambda one: rates[one]), max(rates, key=lambda one: rates[one])
    if slow == fast or rates[fast] < 1.1 * rates[slow]:
        return desk.words.say("fade.title.even", place=desk.place(desk.study.leading))
    return desk.words.say(
        "fade.title.faster",
        fast=desk.band(fast.band),
        slow=desk.band(slow.band),
        more=desk.words.percent(rates[fast] / rates[slow] - 1),
    )


def _alt(desk: Desk, series: tuple[FadeSeries, ...]) -> str:
    parts = []
    for one in series:
        for segment in one.segments:
            last = segment.measured[-1]
            parts.append(
                desk.words.say(
                    "fade.alt",
                    place=one.place,
                    colour=segment.label,
                    start=segment.points[0].week,
                    share=desk.words.percent(last.share),
                    week=last.week,
                )
            )
    return " ".join(parts)


def _table(desk: Desk, places: tuple[Place, ...]) -> Table:
    rows = []
    for place in places:
        for fade in fades_of(desk, place):
            for day, washes, share, key in fade.measured:
                trace = f"fade.{fade.key}.share.{key}"
                rows.append(
                    (
                        Cell(text=desk.words.day(day)),
                        Cell(text=desk.place(place)),
                        Cell(text=desk.gate.text("Service.name", fade.label)),
                        Cell(text=desk.words.number(washes, 0), number=True),
                        Cell(
                            text=desk.words.say(
                                "fade.share",
                                share=desk.words.percent(share.median),
                                low=desk.words.percent(share.low),
                                high=desk.words.percent(share.high),
                            ),
                            number=True,
                            trace=trace if desk.is_archive else None,
                        ),
                    )
                )
    return Table(
        key="fade",
        title=desk.words.say("fade.table.title"),
        columns=tuple(
            desk.words.say(f"fade.table.{name}") for name in ("when", "place", "colour", "washes", "left")
        ),
        rows=tuple(rows),
        note=desk.words.say("fade.table.note"),
    )
