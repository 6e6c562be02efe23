"""Grade: how much each place has changed, on the grey scale textile laboratories use (ISO 105-A05).

Decides the plot: 5, no change, at the top; each place its own shape and line, so that nothing depends on
colour; hollow where the change is within the measuring error; names at the ends of the lines, no legend.
A point without any difference is where comparing starts anew, so no line leads to it.
"""

from collections.abc import Sequence

from matplotlib.lines import Line2D

from journey.edition.model import Edition, GradeFigure, GradePoint
from journey.site.charts.canvas import Canvas, Plot, add
from journey.site.charts.labels import push_apart, wrap
from journey.site.charts.time_axis import axis_height, counts_weeks, draw_time_axis, moment
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
    plot = canvas.plot((left, top, width, height), _weeks(figure), _SHOWN)
    _draw_grade_words(canvas, plot)
    for index, (_, points) in enumerate(figure.series):
        for run in runs(points):
            _draw_run(plot, index, run)
    for index, (_, points) in enumerate(figure.series):
        _draw_points(plot, index, points)
    _draw_names(canvas, plot, figure)
    moments = [moment(edition, p.when) for _, points in figure.series for p in points]
    draw_time_axis(canvas, plot, moments, canvas.words.weeks_axis if titled else "")
    if hollow:
        baseline = plot.bottom + foot + canvas.text_px
        canvas.write((plot.left, baseline), canvas.words.not_distinguishable, colour=INK2)


def runs(points: Sequence[GradePoint]) -> list[list[GradePoint]]:
    """Points that share a starting point: a new run begins wherever there is no difference at all."""
    found: list[list[GradePoint]] = []
    for p in points:
        if not found or p.delta_e == 0:
            found.append([])
        found[-1].append(p)
    return found


def _weeks(figure: GradeFigure) -> tuple[float, float]:
    weeks = [p.when.week for _, points in figure.series for p in points] or [0.0]
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


def _draw_run(plot: Plot, index: int, run: Sequence[GradePoint]) -> None:
    if len(run) < 2:
        return
    body, _ = _shade(index)
    line = Line2D([p.when.week for p in run], [p.grade for p in run], color=body, linewidth=2, zorder=2)
    dashes = _DASHES[index % len(_DASHES)]
    if dashes:
        line.set_linestyle((0, tuple(d / 2 for d in dashes)))
    add(plot, line, f"line-{index}")


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
