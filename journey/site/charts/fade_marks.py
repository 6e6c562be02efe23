"""What is drawn inside one fade plot: the course, its colour, what was measured, what is forecast.

Decides the marks. Height is the share of colour left; under the curve lies the hair's own colour of every
day. Measured days are ringed white dots with thin whiskers. A forecast is combed: wide teeth reach the low
bound, thin teeth the high one, so it can never be taken for something seen.
"""

from bisect import bisect_right
from collections.abc import Sequence

from matplotlib.lines import Line2D
from matplotlib.patches import PathPatch, Polygon
from matplotlib.path import Path

from journey.edition.model import FadePoint, FadeSegment
from journey.site.charts.canvas import Canvas, Plot, add
from journey.site.charts.colour_run import between, vanishes_into_card
from journey.site.charts.thinning import points_that_matter
from journey.site.charts.tokens import BLACK, WHITE, hair

_TOOTH_PX = 4.0
_THIN_TOOTH_PX = 1.5
_CURVE_PX = 2.0
_DOT_PX = 8.0
_THINNING_PX = 0.2


def point_at(points: Sequence[FadePoint], week: float) -> FadePoint:
    """The course at any week between its first and last point: every value half way is half way."""
    later = bisect_right([p.week for p in points], week)
    if later == 0:
        return points[0]
    if later == len(points):
        return points[-1]
    before, after = points[later - 1], points[later]
    t = (week - before.week) / (after.week - before.week)
    return FadePoint(
        week=week,
        share=before.share + (after.share - before.share) * t,
        low=before.low + (after.low - before.low) * t,
        high=before.high + (after.high - before.high) * t,
        hex=between(before.hex, after.hex, t),
    )


def split_at(points: Sequence[FadePoint], week: float) -> tuple[list[FadePoint], list[FadePoint]]:
    """The course up to a week and from it on; where it crosses the week, both hold that point."""
    past = [p for p in points if p.week <= week]
    ahead = [p for p in points if p.week > week]
    if past and ahead:
        here = point_at(points, week)
        past = past if past[-1].week == week else [*past, here]
        ahead = [here, *ahead]
    return past, ahead


def draw_segments(canvas: Canvas, plot: Plot, segments: Sequence[FadeSegment], today: float) -> None:
    """All coats of one place, each followed by a drop line where the next was laid over it at once."""
    previous: FadePoint | None = None
    for segment in segments:
        past, ahead = split_at(segment.points, today)
        _fill(canvas, plot, past)
        _comb(canvas, plot, ahead)
        _curve(plot, past, previous)
        if len(ahead) > 1:
            _line(plot, ahead, BLACK, _CURVE_PX, "forecast", dashes=(4, 3))
        previous = segment.points[-1] if segment.points else None
    _measured(plot, [p for segment in segments for p in segment.measured])


def draw_again(plot: Plot, segments: Sequence[FadeSegment], today: float) -> None:
    """Another place's course as white dashes, to compare with."""
    courses = [split_at(segment.points, today)[0] for segment in segments]
    # Dashes are counted in line widths: the same lengths for the edge and for the white on it.
    for colour, width, part in ((BLACK, 3.0, "again-edge"), (WHITE, 1.5, "again")):
        for past in courses:
            if len(past) > 1:
                _line(plot, past, colour, width, part, dashes=(4.5 / width, 3 / width))


def draw_today(plot: Plot, today: float) -> None:
    _drop(plot, today, 0.0, "today")


def draw_refresh_drops(plot: Plot, segments: Sequence[FadeSegment], refresh: tuple[float, float]) -> None:
    """White lines from the top down to the curve at both ends of the window."""
    course = next((s.points for s in reversed(segments) if s.points), ())
    for week in refresh:
        if course and course[0].week <= week <= course[-1].week:
            _drop(plot, week, point_at(course, week).share, "drop")


def _fill(canvas: Canvas, plot: Plot, points: Sequence[FadePoint]) -> None:
    if len(points) < 2 or points[0].week == points[-1].week:
        return
    course = [(p.week, p.share) for p in _thinned(plot, points)]
    outline = [(points[0].week, 0.0), *course, (points[-1].week, 0.0)]
    colour = _run(canvas, plot, points, points[0].week, points[-1].week)
    add(plot, Polygon(outline, closed=True, facecolor=colour, edgecolor="none", zorder=1), "hair")


def _comb(canvas: Canvas, plot: Plot, points: Sequence[FadePoint]) -> None:
    if len(points) < 2 or points[0].week == points[-1].week:
        return
    first, last = plot.x_px(points[0].week), plot.x_px(points[-1].week)
    lefts = [first + _TOOTH_PX + 2 * _TOOTH_PX * n for n in range(int((last - first) / (2 * _TOOTH_PX)))]
    wide: list[Path] = []
    thin: list[Path] = []
    for left in lefts:
        here = point_at(points, plot.at_x_px(left + _TOOTH_PX / 2))
        wide.append(_tooth(plot, left, _TOOTH_PX, 0.0, here.low))
        thin.append(
            _tooth(plot, left + (_TOOTH_PX - _THIN_TOOTH_PX) / 2, _THIN_TOOTH_PX, here.low, here.high)
        )
    if not lefts:
        return
    colour = _run(canvas, plot, points, points[0].week, points[-1].week)
    outlined = vanishes_into_card([p.hex for p in points])
    # Half a px around a thin tooth, so that the line around it does not become the tooth.
    for teeth, edge_px, part in ((thin, 0.5, "thin-teeth"), (wide, 1.0, "teeth")):
        comb = PathPatch(
            Path.make_compound_path(*teeth),
            facecolor=colour,
            edgecolor=BLACK if outlined else "none",
            linewidth=edge_px,
            zorder=1,
        )
        add(plot, comb, part)


def _tooth(plot: Plot, left_px: float, width_px: float, low: float, high: float) -> Path:
    left, right = plot.at_x_px(left_px), plot.at_x_px(left_px + width_px)
    return Path([(left, low), (left, high), (right, high), (right, low), (left, low)], closed=True)


def _run(canvas: Canvas, plot: Plot, points: Sequence[FadePoint], first: float, last: float) -> str:
    stops = [((p.week - first) / (last - first), hair(p.hex)) for p in points]
    return canvas.gradient((plot.x_px(first), 0), (plot.x_px(last), 0), stops)


def _thinned(plot: Plot, points: Sequence[FadePoint]) -> list[FadePoint]:
    """The course without the points that a line between their neighbours meets anyway."""
    heights = [[plot.y_px(p.share)] for p in points]
    return [points[i] for i in points_that_matter([p.week for p in points], heights, _THINNING_PX)]


def _curve(plot: Plot, points: Sequence[FadePoint], previous: FadePoint | None) -> None:
    if not points:
        return
    touches = previous is not None and plot.x_px(points[0].week) - plot.x_px(previous.week) < 3
    if touches and previous is not None:
        line = [(points[0].week, previous.share), (points[0].week, points[0].share)]
        add(plot, _stroke(line, BLACK, 1.5), "renewed")
    if len(points) > 1:
        _line(plot, points, BLACK, _CURVE_PX, "course")


def _measured(plot: Plot, points: Sequence[FadePoint]) -> None:
    if not points:
        return
    top = plot.axes.get_ylim()[1]
    whiskers = [
        Path([(p.week, max(p.low, 0.0)), (p.week, min(p.high, top))]) for p in points if p.high > p.low
    ]
    for colour, width in ((BLACK, 3.5), (WHITE, 1.5)) if whiskers else ():
        add(
            plot,
            PathPatch(
                Path.make_compound_path(*whiskers),
                facecolor="none",
                edgecolor=colour,
                linewidth=width,
                zorder=4,
            ),
            "whiskers",
        )
    dots = Line2D(
        [p.week for p in points],
        [p.share for p in points],
        linestyle="none",
        marker="o",
        markersize=_DOT_PX,
        markerfacecolor=WHITE,
        markeredgecolor=BLACK,
        markeredgewidth=2,
        zorder=5,
    )
    add(plot, dots, "measured")


def _drop(plot: Plot, week: float, down_to: float, part: str) -> None:
    top = plot.axes.get_ylim()[1]
    add(plot, _stroke([(week, top), (week, down_to)], WHITE, 2.0), part)


def _line(
    plot: Plot,
    points: Sequence[FadePoint],
    colour: str,
    width: float,
    part: str,
    dashes: tuple[float, float] | None = None,
) -> None:
    line = _stroke([(p.week, p.share) for p in _thinned(plot, points)], colour, width)
    if dashes is not None:
        line.set_linestyle((0, dashes))
        line.set_dash_capstyle("butt")
    add(plot, line, part)


def _stroke(points: Sequence[tuple[float, float]], colour: str, width: float) -> Line2D:
    return Line2D(
        [x for x, _ in points],
        [y for _, y in points],
        color=colour,
        linewidth=width,
        solid_capstyle="butt",
        solid_joinstyle="round",
        zorder=3,
    )
