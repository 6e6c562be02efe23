"""The weeks under a chart: short ticks at the moments that matter, with as many words as fit.

Decides that a class reads week numbers and everybody else the dates the edition lets them read; a moment the
edition has no words for is a week number too.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from journey.edition.model import Edition, When
from journey.record.model import Audience
from journey.site.charts.canvas import Canvas, Plot
from journey.site.charts.labels import with_room
from journey.site.charts.words import ChartWords

_TICK_PX = 5
SAME_MOMENT_WEEKS = 0.08
"""Half a day: two moments closer than this are one."""


@dataclass(frozen=True, slots=True)
class Moment:
    """A place on the time axis; a lower rank keeps its words when room is short."""

    week: float
    text: str
    rank: int = 1


def counts_weeks(edition: Edition) -> bool:
    """Whether this audience reads weeks instead of dates."""
    return edition.audience is Audience.CLASS


def week_number(week: float) -> str:
    """'4', or '4.5' where the day lies between.

    >>> week_number(4.02), week_number(4.5), week_number(-0.01)
    ('4', '4.5', '0')
    """
    nearest = round(week)
    return str(nearest) if abs(week - nearest) < SAME_MOMENT_WEEKS else f"{week:.1f}"


def moment(edition: Edition, when: When, rank: int = 1) -> Moment:
    return Moment(when.week, week_number(when.week) if counts_weeks(edition) else when.text, rank)


def start_moment(edition: Edition, week: float, words: ChartWords) -> Moment:
    """A moment of which only the week is known; its words go first, for it is where a line begins."""
    text = week_number(week) if counts_weeks(edition) else words_for_week(edition, week, words)
    return Moment(week, text, 0)


def words_for_week(edition: Edition, week: float, words: ChartWords) -> str:
    """What the edition calls this week: an entry's or a mark's words, else 'week 4'."""
    for when in _known(edition):
        if abs(when.week - week) < SAME_MOMENT_WEEKS:
            return when.text
    return words.week.format(number=week_number(week))


def _known(edition: Edition) -> Iterable[When]:
    yield from (entry.when for entry in edition.entries)
    yield from (mark.when for mark in (edition.fade.marks if edition.fade else ()))
    yield edition.as_of


def axis_height(canvas: Canvas, titled: bool) -> float:
    """Room in px under the plot for ticks, words and, where weeks are counted, the axis' name."""
    return _TICK_PX + canvas.text_px + 8 + (canvas.text_px + 6 if titled else 0)


def draw_time_axis(
    canvas: Canvas,
    plot: Plot,
    moments: Sequence[Moment],
    title: str = "",
    room: tuple[float, float] | None = None,
) -> None:
    """A line under the plot, a tick for every moment shown, words under those that have room.

    Words stay within `room` (px), the whole sheet where none is given.
    """
    low, high = plot.axes.get_xlim()
    shown = _each_once([m for m in moments if low - 1e-9 <= m.week <= high + 1e-9])
    canvas.rule([(plot.left, plot.bottom + 0.5), (plot.right, plot.bottom + 0.5)], part="axis")
    for m in shown:
        x = plot.x_px(m.week)
        canvas.rule([(x, plot.bottom), (x, plot.bottom + _TICK_PX)], part="tick")
    seats = [_seat(canvas, plot, m, room or (0, canvas.width)) for m in shown]
    baseline = plot.bottom + _TICK_PX + canvas.text_px + 2
    for index in with_room(seats):
        centre, _, _ = seats[index]
        canvas.write((centre, baseline), shown[index].text, anchor="center")
    if title:
        canvas.write((plot.left, baseline + canvas.text_px + 6), title)


def _seat(canvas: Canvas, plot: Plot, m: Moment, room: tuple[float, float]) -> tuple[float, float, int]:
    """(centre, width, rank) of the words, kept within their room."""
    width = canvas.text_width(m.text)
    centre = min(max(plot.x_px(m.week), room[0] + width / 2), room[1] - width / 2)
    return centre, width, m.rank


def _each_once(moments: Sequence[Moment]) -> list[Moment]:
    kept: list[Moment] = []
    for m in sorted(moments, key=lambda m: (m.week, m.rank)):
        if not kept or m.week - kept[-1].week > SAME_MOMENT_WEEKS:
            kept.append(m)
        elif m.rank < kept[-1].rank:
            kept[-1] = m
    return kept
