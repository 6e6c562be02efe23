"""Grade: how much each place has changed, on the grey scale textile laboratories use (ISO 105-A05).

Decides the plot: 5, no change, at the top; each place its own shape and line, so that nothing depends on
colour; hollow where the change is within the measuring error, a thin stroke for the grades it may be as well;
names at the ends of the lines, no legend.
Every coat is compared with its own fresh colour, so each line starts at 5 on the day of its service and none
leads from one coat to the next. Where it is not known when coats began, points stand alone.
"""

import math
from collections.abc import Sequence

from matplotlib.lines import Line2D

from journey.edition.model import Edition, GradeFigure, GradePoint
from journey.site.charts.canvas import Canvas, Plot, add
from journey.site.charts.labels import push_apart, wrap
from journey.site.charts.time_axis import (
    SAME_MOMENT_WEEKS,
    axis_height,
    counts_weeks,
    draw_time_axis,
    moment,
    start_moment,
)
from journey.site.charts.tokens import BLACK, CARD, INK, INK2, WHITE

_PLOT_PX = {"phone": 220.0, "wide": 280.0}
_GRADES = (5, 4, 3, 2, 1)
_SHOWN = (0.8, 5.2)
_NAMES_PX = {"phone": 112.0, "wide": 190.0}
_SHAPES = "osD^vP"
_SIZES = (9.0, 8.0, 8.0, 9.5, 9.5, 9.5)
_DASHES: tuple[tuple[float, ...], ...] = ((), (), (8, 5), (8, 5), (2, 4), (2, 4))


def draw_grade(edition: Edition, canvas: Canvas) -> None:
    """Rating over time, one line a place, the names at the right."""
    figure = edition.grade
    if figure is None:
        raise ValueError("this edition has no grade figure")
    left = canvas.text_width("5") + 12
    top = canvas.text_px + 10
    height = _PLOT_PX[canvas.kind]
    titled = counts_weeks(edition)
    foot = axis_height(canvas, titled)
    hollow = _any_hollow(figure)
    canvas.open(top + height + foot + (canvas.text_px + 8 if hollow else 0))
    width = canvas.width - left - _NAMES_PX[canvas.kind]
    starts = [_starts(edition, place) for place, _ in figure.series]
    plot = canvas.plot((left, top, width, height), _weeks(figure, starts), _SHOWN)
    _draw_grade_words(canvas, plot)
    for index, (_, points) in enumerate(figure.series):
        for run in runs(points, starts[index]):
            _draw_run(plot, index, run)
    for index, (_, points) in enumerate(figure.series):
        _draw_ranges(plot, index, points)
        _draw_points(plot, index, points)
    _draw_names(canvas, plot, figure)
    moments = [moment(edition, p.when) for _, points in figure.series for p in points]
    moments += [start_moment(edition, week, canvas.words) for weeks in starts for week in weeks]
    draw_time_axis(canvas, plot, moments, canvas.words.weeks_axis if titled else "")
    if hollow:
        baseline = plot.bottom + foot + canvas.text_px
        canvas.write((plot.left, baseline), canvas.words.not_distinguishable, colour=INK2)


def runs(points: Sequence[GradePoint], starts: Sequence[float]) -> list[list[tuple[float, float]]]:
    """(week, grade) of every coat's line: from no change on its first day through its readings.

    A reading on the day of a service was taken before it and belongs to the coat that went.
    """
    lines: list[list[tuple[float, float]]] = []
    for start, end in zip(starts, [*starts, math.inf][1:], strict=True):
        read = [(p.when.week, p.grade) for p in points if start + SAME_MOMENT_WEEKS < p.when.week]
        read = [at for at in read if at[0] <= end + SAME_MOMENT_WEEKS]
        lines.append([(start, float(_GRADES[0])), *read])
    return [line for line in lines if len(line) > 1]


def _starts(edition: Edition, place: str) -> list[float]:
    """Weeks in which coats of this place began, as the fade figure knows them."""
    if edition.fade is None:
        return []
    segments = [s for series in edition.fade.series if series.place == place for s in series.segments]
    known = [s.points[0].week for s in segments if s.points]
    return sorted(known or {m.when.week for m in edition.fade.marks if m.is_service})


def _weeks(figure: GradeFigure, starts: Sequence[Sequence[float]]) -> tuple[float, float]:
    weeks = [p.when.week for _, points in figure.series for p in points] or [0.0]
    weeks += [week for known in starts for week in known]
    first, last = min(weeks), max(max(weeks), min(weeks) + 1)
    margin = (last - first) * 0.04
    return first - margin, last + margin


def _any_hollow(figure: GradeFigure) -> bool:
    return any(not p.distinguishable for _, points in figure.series for p in points)


def _draw_grade_words(canvas: Canvas, plot: Plot) -> None:
    for grade in _GRADES:
        baseline = plot.y_px(grade) + canvas.text_px * 0.36
        canvas.write((plot.left - 8, baseline), str(grade), anchor="right")
    ends = f"5 = {canvas.words.grade_5}, 1 = {canvas.words.grade_1}"
    canvas.write((plot.left, plot.top - 6), ends)


def _shade(index: int) -> tuple[str, str]:
    """(line and body, edge): black and white take turns."""
    return (BLACK, WHITE) if index % 2 == 0 else (WHITE, BLACK)


def _draw_run(plot: Plot, index: int, run: Sequence[tuple[float, float]]) -> None:
    body, _ = _shade(index)
    line = Line2D([week for week, _ in run], [grade for _, grade in run], color=body, linewidth=2, zorder=2)
    dashes = _DASHES[index % len(_DASHES)]
    if dashes:
        line.set_linestyle((0, tuple(d / 2 for d in dashes)))
    add(plot, line, f"line-{index}")


def _draw_ranges(plot: Plot, index: int, points: Sequence[GradePoint]) -> None:
    """A thin upright stroke through each point: the grades it may be as well."""
    for point in points:
        if point.grade_range is not None:
            week = point.when.week
            stroke = Line2D([week, week], list(point.grade_range), color=INK2, linewidth=1, zorder=2.5)
            add(plot, stroke, f"range-{index}")


def _draw_points(plot: Plot, index: int, points: Sequence[GradePoint]) -> None:
    for distinguishable, part in ((True, "points"), (False, "hollow")):
        shown = [p for p in points if p.distinguishable is distinguishable]
        if shown:
            at = [(p.when.week, p.grade) for p in shown]
            add(plot, _shape(index, at, filled=distinguishable), f"{part}-{index}")


def _shape(index: int, at: Sequence[tuple[float, float]], *, filled: bool) -> Line2D:
    body, edge = _shade(index)
    return Line2D(
        [x for x, _ in at],
        [y for _, y in at],
        linestyle="none",
        marker=_SHAPES[index % len(_SHAPES)],
        markersize=_SIZES[index % len(_SIZES)],
        markerfacecolor=body if filled else CARD,
        markeredgecolor=edge if filled else body,
        markeredgewidth=1 if filled else 2,
        zorder=3 + 0.1 * index,
    )


def _draw_names(canvas: Canvas, plot: Plot, figure: GradeFigure) -> None:
    """The place's shape on a piece of card and its name, beside where its line ends."""
    named = [(i, name, points[-1]) for i, (name, points) in enumerate(figure.series) if points]
    room = _NAMES_PX[canvas.kind] - 34
    texts = [wrap(name, room, canvas.text_width) for _, name, _ in named]
    pitch = canvas.text_px + 2
    tallest = max((len(lines) for lines in texts), default=1) * pitch + 8
    wanted = [plot.y_px(p.grade) for _, _, p in named]
    seats = push_apart(wanted, tallest, plot.top + tallest / 2, plot.bottom - tallest / 2)
    for (index, _, p), lines, y in zip(named, texts, seats, strict=True):
        start = (plot.x_px(p.when.week), plot.y_px(p.grade))
        canvas.rule([(plot.right, start[1]), (plot.right + 8, y)], INK, part="leader")
        sample = canvas.plot((plot.right + 8, y - 9, 18, 18), (0, 18), (0, 18))
        add(sample, _shape(index, [(9, 9)], filled=True), "sample")
        for number, line in enumerate(lines):
            baseline = y + canvas.text_px * 0.36 + (number - (len(lines) - 1) / 2) * pitch
            canvas.write((plot.right + 31, baseline), line)
