"""Marks in the a*b* plane: paths, arrows, squares and rings.

Decides how each is drawn, in the plane and, small, in the key beside it. On the card only black, white and
hair are used, so shapes alone tell the marks apart.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from matplotlib.lines import Line2D
from matplotlib.patches import Polygon

from journey.edition.model import HuePoint
from journey.site.charts.canvas import Canvas, Plot, add
from journey.site.charts.thinning import points_that_matter
from journey.site.charts.tokens import BLACK, WHITE, hair

_PATH_PX, _PATH_EDGE_PX = 5.5, 8.0
_FORECAST_STEP_WEEKS = 1.0
_THINNING_PX = 0.2
_HEAD_PX = 11.0
_CLEAR_PX = 6.0
"""An arrow keeps this far from the marks at its ends."""


def weekly(points: Sequence[HuePoint]) -> list[HuePoint]:
    """Forecast points thinned to one a week, so that their spacing shows the speed."""
    kept: list[HuePoint] = []
    for p in points:
        if not kept or p.week - kept[-1].week >= _FORECAST_STEP_WEEKS - 1e-6:
            kept.append(p)
    return kept


def draw_straight(plot: Plot, points: Sequence[HuePoint]) -> None:
    if len(points) > 1:
        add(plot, _line(_thinned(plot, points), BLACK, 1.2, dashes=(4, 3)), "straight")


def draw_service(plot: Plot, start: HuePoint, end: HuePoint) -> None:
    """An arrow from where one colour had got to, to where the next began, short of both marks."""
    (x1, y1), (x2, y2) = ((plot.x_px(p.a), plot.y_px(p.b)) for p in (start, end))
    length = math.hypot(x2 - x1, y2 - y1)
    if length < 2 * _CLEAR_PX:
        return
    ahead = (x2 - x1) / length, (y2 - y1) / length
    tail = x1 + ahead[0] * _CLEAR_PX, y1 + ahead[1] * _CLEAR_PX
    tip = x2 - ahead[0] * _CLEAR_PX, y2 - ahead[1] * _CLEAR_PX
    neck = tip[0] - ahead[0] * _HEAD_PX, tip[1] - ahead[1] * _HEAD_PX
    half = _HEAD_PX * 0.45
    wings = [(neck[0] - ahead[1] * side, neck[1] + ahead[0] * side) for side in (half, -half)]
    for colour, width in ((BLACK, 3.5), (WHITE, 1.8)):
        shaft = Line2D(
            [plot.at_x_px(tail[0]), plot.at_x_px(neck[0])],
            [plot.at_y_px(tail[1]), plot.at_y_px(neck[1])],
            color=colour,
            linewidth=width,
            solid_capstyle="butt",
            zorder=2 if colour == BLACK else 2.2,
        )
        add(plot, shaft, "service" if colour == WHITE else "service-edge")
    corners = [(plot.at_x_px(x), plot.at_y_px(y)) for x, y in (tip, *wings)]
    head = Polygon(corners, closed=True, facecolor=WHITE, edgecolor=BLACK, linewidth=1, zorder=2.1)
    add(plot, head, "head")


def draw_path(canvas: Canvas, plot: Plot, points: Sequence[HuePoint]) -> None:
    if len(points) < 2:
        return
    add(plot, _line(_thinned(plot, points), BLACK, _PATH_EDGE_PX, zorder=3), "path")
    for run in _runs(points):
        colour = _run_colour(canvas, plot, run)
        add(plot, _line(_thinned(plot, run), colour, _PATH_PX, zorder=3.1), "path-colour")


def _thinned(plot: Plot, points: Sequence[HuePoint]) -> list[HuePoint]:
    """The path without the points a line between their neighbours meets anyway."""
    places = [(plot.x_px(p.a), plot.y_px(p.b)) for p in points]
    return [points[i] for i in points_that_matter([p.week for p in points], places, _THINNING_PX)]


def _runs(points: Sequence[HuePoint]) -> list[list[HuePoint]]:
    """The path cut where it turns back on itself, so that in each piece a straight gradient fits."""
    runs: list[list[HuePoint]] = [[points[0]]]
    for previous, here in pairwise(points):
        run = runs[-1]
        if len(run) > 1:
            ahead = (run[-1].a - run[0].a) * (here.a - previous.a)
            ahead += (run[-1].b - run[0].b) * (here.b - previous.b)
            if ahead <= 0:
                runs.append([previous])
        runs[-1].append(here)
    return runs


def _run_colour(canvas: Canvas, plot: Plot, run: Sequence[HuePoint]) -> str:
    """A gradient along the piece's chord, each point's colour where the point falls on it."""
    ends = [(plot.x_px(p.a), plot.y_px(p.b)) for p in run]
    (x1, y1), (x2, y2) = ends[0], ends[-1]
    length_2 = (x2 - x1) ** 2 + (y2 - y1) ** 2
    if length_2 < 1:
        return hair(run[len(run) // 2].hex)
    offsets = [((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / length_2 for x, y in ends]
    stops = [(min(max(t, 0.0), 1.0), hair(p.hex)) for t, p in zip(offsets, run, strict=True)]
    return canvas.gradient((x1, y1), (x2, y2), sorted(stops, key=lambda stop: stop[0]))


def draw_forecast(plot: Plot, points: Sequence[HuePoint]) -> None:
    for p in weekly(points):
        square = _mark(p, "s", 5.5, hair(p.hex), 1.3)
        add(plot, square, "forecast")


def draw_measured(plot: Plot, points: Sequence[HuePoint]) -> None:
    for p in points:
        add(plot, _mark(p, "o", 9, hair(p.hex), 2, zorder=4), "measured")


def draw_base(plot: Plot, base: HuePoint) -> None:
    add(plot, _mark(base, "o", 17, "none", 3.5, zorder=4), "base-edge")
    add(plot, _mark(base, "o", 17, "none", 1.8, edge=WHITE, zorder=4.1), "base-edge")
    add(plot, _mark(base, "o", 8, hair(base.hex), 1.5, zorder=4.2), "base")


def _mark(
    p: HuePoint, shape: str, size: float, fill: str, edge_px: float, edge: str = BLACK, zorder: float = 3.5
) -> Line2D:
    return Line2D(
        [p.a],
        [p.b],
        linestyle="none",
        marker=shape,
        markersize=size,
        markerfacecolor=fill,
        markeredgecolor=edge,
        markeredgewidth=edge_px,
        zorder=zorder,
    )


def _line(
    points: Sequence[HuePoint],
    colour: str,
    width: float,
    dashes: tuple[float, float] | None = None,
    zorder: float = 1,
) -> Line2D:
    line = Line2D(
        [p.a for p in points],
        [p.b for p in points],
        color=colour,
        linewidth=width,
        solid_capstyle="round",
        solid_joinstyle="round",
        zorder=zorder,
    )
    if dashes:
        line.set_linestyle((0, dashes))
        line.set_dash_capstyle("butt")
    return line
