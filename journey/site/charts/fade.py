"""Fade: how much of each colour was left, week by week, in the colour it was.

Decides the sheet around the plot: service labels above, the refresh window as a bar, time below; one large
plot for a single place, a row of small ones (a column on a phone) when places are compared. What stands in a
plot is left to `fade_marks`.
"""

from collections.abc import Callable, Sequence
from itertools import chain

from journey.edition.model import Edition, FadeFigure, FadeSeries
from journey.site.charts.canvas import Canvas, Plot
from journey.site.charts.fade_marks import (
    draw_again,
    draw_refresh_drops,
    draw_segments,
    draw_today,
)
from journey.site.charts.labels import Flag, stack_rows
from journey.site.charts.time_axis import (
    Moment,
    axis_height,
    counts_weeks,
    draw_time_axis,
    moment,
    week_number,
)
from journey.site.charts.tokens import INK, INK2, PAPER, WHITE

_SHARES = (1.0, 0.5, 0.0)
_BAR_PX = 6.0
_PLOT_PX = {"phone": 240.0, "wide": 300.0}
_SMALL_PLOT_PX = {"phone": 150.0, "wide": 270.0}
_RIGHT_PX = 8.0
_PANEL_GAP_PX = 20.0
_PANELS_IN_ROW = 3


def draw_fade(edition: Edition, canvas: Canvas) -> None:
    """One large plot for one place, small ones side by side for several."""
    figure = _figure(edition)
    if len(figure.series) == 1:
        draw_fade_place(edition, 0, canvas)
    else:
        _draw_places(edition, figure, canvas)


def draw_fade_place(edition: Edition, place_index: int, canvas: Canvas) -> None:
    """One place in one large plot. IndexError for a place the figure does not have."""
    figure = _figure(edition)
    series = figure.series[place_index]
    left = _left_px(canvas)
    box_width = canvas.width - left - _RIGHT_PX
    weeks = _span(figure, [series])
    px_per_week = box_width / (weeks[1] - weeks[0])
    flags = _flags(figure, canvas, lambda week: left + (week - weeks[0]) * px_per_week)
    top = _flags_height(canvas, flags) + _bar_height(figure)
    height = _PLOT_PX[canvas.kind]
    titled = counts_weeks(edition)
    canvas.open(top + height + axis_height(canvas, titled))
    plot = canvas.plot((left, top, box_width, height), weeks, _shares_shown([series]))
    _draw_share_words(canvas, plot)
    _draw_flags(canvas, plot, flags, _bar_height(figure))
    _draw_place(canvas, plot, figure, series)
    draw_time_axis(canvas, plot, _moments(edition, figure), canvas.words.weeks_axis if titled else "")


def _draw_places(edition: Edition, figure: FadeFigure, canvas: Canvas) -> None:
    left = _left_px(canvas)
    columns = 1 if canvas.is_phone else min(_PANELS_IN_ROW, max(len(figure.series), 1))
    rows = -(-len(figure.series) // columns)
    width = (canvas.width - left - _RIGHT_PX - _PANEL_GAP_PX * (columns - 1)) / columns
    head = canvas.text_px + 8 + _bar_height(figure)
    height = _SMALL_PLOT_PX[canvas.kind]
    foot = axis_height(canvas, titled=False)
    pitch = head + height + foot + 8
    titled = counts_weeks(edition)
    key_rows = _key_rows(canvas, figure, left)
    canvas.open(pitch * rows - 8 + (canvas.text_px + 8) * (key_rows + titled))
    weeks, shares = _span(figure, figure.series), _shares_shown(figure.series)
    compared = (len(figure.series) - 1) // 2
    for index, series in enumerate(figure.series):
        row, column = divmod(index, columns)
        x, y = left + column * (width + _PANEL_GAP_PX), row * pitch + head
        plot = canvas.plot((x, y, width, height), weeks, shares)
        _draw_place_name(canvas, plot, series, y - _bar_height(figure) - 7)
        if column == 0:
            _draw_share_words(canvas, plot)
        _draw_place(canvas, plot, figure, series)
        if index != compared:
            draw_again(plot, figure.series[compared].segments, figure.today.week)
        # Words of neighbouring plots keep apart: each has half the gap, the outer ones all there is outside.
        room = (
            0 if column == 0 else x - _PANEL_GAP_PX / 2 + 4,
            canvas.width if column == columns - 1 else x + width + _PANEL_GAP_PX / 2 - 4,
        )
        draw_time_axis(canvas, plot, _moments(edition, figure), room=room)
    y = pitch * rows - 8
    if titled:
        canvas.write((left, y + canvas.text_px), canvas.words.weeks_axis)
        y += canvas.text_px + 8
    _draw_key(canvas, figure, (left, y + canvas.text_px), figure.series[compared].place)


def _draw_place(canvas: Canvas, plot: Plot, figure: FadeFigure, series: FadeSeries) -> None:
    draw_segments(canvas, plot, series.segments, figure.today.week)
    if figure.last_week > figure.today.week:
        draw_today(plot, figure.today.week)
    if figure.refresh:
        draw_refresh_drops(plot, series.segments, figure.refresh)
        start, end = (plot.x_px(week) for week in _shown_window(plot, figure.refresh))
        bar = [(start - 1, plot.top - _BAR_PX / 2 - 1), (end + 1, plot.top - _BAR_PX / 2 - 1)]
        canvas.rule(bar, INK, _BAR_PX, part="refresh")


def _draw_place_name(canvas: Canvas, plot: Plot, series: FadeSeries, baseline: float) -> None:
    canvas.write((plot.left, baseline), series.place, bold=True)
    room = plot.width - canvas.text_width(series.place, bold=True) - 8
    if canvas.text_width(series.today_text) <= room:
        canvas.write((plot.right, baseline), series.today_text, anchor="right")


def _draw_share_words(canvas: Canvas, plot: Plot) -> None:
    for share in _SHARES:
        number = f"{share * 100:.0f}"
        text = canvas.words.percent.format(number=number) if share == 1 else number
        canvas.write((plot.left - 8, plot.y_px(share) + canvas.text_px * 0.36), text, anchor="right")


def _key_rows(canvas: Canvas, figure: FadeFigure, left: float) -> int:
    """Whether both marks have room beside each other."""
    if not figure.refresh:
        return 1
    place = figure.series[(len(figure.series) - 1) // 2].place
    again = 32 + canvas.text_width(canvas.words.same_again.format(place=place)) + 24
    return 1 if left + again + 30 + canvas.text_width(canvas.words.refresh_window) <= canvas.width else 2


def _draw_key(canvas: Canvas, figure: FadeFigure, at: tuple[float, float], place: str) -> None:
    """Under small plots: the two marks that have no label of their own."""
    x, baseline = at
    middle = baseline - canvas.text_px * 0.36
    for dash in range(3):
        corner = (x + dash * 9, middle - 1.75)
        canvas.box(corner, (6.5, 3.5), WHITE, edge=INK)
    text = canvas.words.same_again.format(place=place)
    canvas.write((x + 32, baseline), text, colour=INK2)
    if figure.refresh:
        if _key_rows(canvas, figure, x) == 1:
            x += 32 + canvas.text_width(text) + 24
        else:
            middle, baseline = (y + canvas.text_px + 8 for y in (middle, baseline))
        canvas.rule([(x, middle), (x + 22, middle)], INK, _BAR_PX)
        canvas.write((x + 30, baseline), canvas.words.refresh_window, colour=INK2)


def _flags(figure: FadeFigure, canvas: Canvas, x_px: Callable[[float], float]) -> list[Flag]:
    """Labels over the plot in order of time: services, today, the refresh window."""
    named = [(m.when.week, m.label, False) for m in figure.marks if m.is_service]
    if figure.last_week > figure.today.week:
        named.append((figure.today.week, canvas.words.today, True))
    low, high = _span(figure, figure.series)
    flags = [_flag(canvas, x_px(week), text, bold) for week, text, bold in named if low <= week <= high]
    if figure.refresh:
        middle = x_px(sum(min(max(week, low), high) for week in figure.refresh) / 2)
        text = canvas.words.refresh_window
        width = canvas.text_width(text, bold=True)
        flush_right = middle + width / 2 > canvas.width
        left = canvas.width - width if flush_right else max(middle - width / 2, 0)
        flags.append(Flag(middle, left, width, text, bold=True, flush_right=flush_right))
    return sorted(flags, key=lambda flag: flag.x)


def _flag(canvas: Canvas, x: float, text: str, bold: bool) -> Flag:
    """Text to the right of its line, or to the left where the sheet ends."""
    width = canvas.text_width(text, bold=bold)
    left = x + 4 if x + 4 + width <= canvas.width else max(x - 4 - width, 0)
    return Flag(x, left, width, text, bold)


def _draw_flags(canvas: Canvas, plot: Plot, flags: Sequence[Flag], bar: float) -> None:
    rows = stack_rows(flags)
    pitch = canvas.text_px + 5
    foot = plot.top - bar
    for flag, row in zip(flags, rows, strict=True):
        # The window's own label sits on its bar and needs no line, unless something lies between.
        if flag.text != canvas.words.refresh_window or row:
            end = foot if flag.text == canvas.words.refresh_window else plot.top
            reach = foot - row * pitch - canvas.text_px
            canvas.rule([(flag.x, reach), (flag.x, end)], INK, 1.5, part="flag")
    for flag, row in zip(flags, rows, strict=True):
        baseline = foot - row * pitch - 4
        crossed = any(
            other_row > row and flag.left < other.x < flag.right
            for other, other_row in zip(flags, rows, strict=True)
        )
        if crossed:
            corner = (flag.left - 3, baseline - canvas.text_px + 1)
            canvas.box(corner, (flag.width + 6, canvas.text_px + 3), PAPER, over=True)
        at = flag.right if flag.flush_right else flag.left
        canvas.write(
            (at, baseline), flag.text, bold=flag.bold, anchor="right" if flag.flush_right else "left"
        )


def _flags_height(canvas: Canvas, flags: Sequence[Flag]) -> float:
    return (max(stack_rows(flags), default=0) + 1) * (canvas.text_px + 5) + 2


def _bar_height(figure: FadeFigure) -> float:
    return _BAR_PX + 3 if figure.refresh else 0.0


def _left_px(canvas: Canvas) -> float:
    return canvas.text_width(canvas.words.percent.format(number="100")) + 10


def _span(figure: FadeFigure, series: Sequence[FadeSeries]) -> tuple[float, float]:
    """First and last week shown; a week wide where all there is lies on one day."""
    segments = list(chain.from_iterable(s.segments for s in series))
    weeks = [p.week for s in segments for p in (*s.points, *s.measured)]
    first = min([*weeks, figure.today.week])
    return first, max([*weeks, figure.last_week, first + 1])


def _shares_shown(series: Sequence[FadeSeries]) -> tuple[float, float]:
    """From nothing to all; higher where a reading came out above all, which must not be cut off."""
    measured = [p.share for s in series for segment in s.segments for p in segment.measured]
    return 0.0, max([1.0, *measured])


def _shown_window(plot: Plot, refresh: tuple[float, float]) -> tuple[float, float]:
    low, high = plot.axes.get_xlim()
    return min(max(refresh[0], low), high), min(max(refresh[1], low), high)


def _moments(edition: Edition, figure: FadeFigure) -> list[Moment]:
    """Services and today; the ends of the refresh window first, because they are what is asked for."""
    moments = [moment(edition, m.when, rank=2) for m in figure.marks if m.is_service]
    moments.append(moment(edition, figure.today, rank=3))
    if figure.refresh and counts_weeks(edition):
        moments += [Moment(week, week_number(week), rank=4) for week in figure.refresh]
    elif figure.refresh and edition.refresh.window:
        moments += [moment(edition, when, rank=0) for when in edition.refresh.window]
    return moments


def _figure(edition: Edition) -> FadeFigure:
    if edition.fade is None:
        raise ValueError("this edition has no fade figure")
    return edition.fade
