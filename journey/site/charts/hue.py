"""Hue path: where a colour wanders in the a*b* plane while it fades.

Decides the plane: equal scales both ways, rings of equal chroma, room for everything drawn, weeks on paper
tabs. Distance from the centre is how strong the colour is, direction is its hue. How the marks look is left
to `hue_marks`, their explanation to `hue_key`.
"""

import math
from collections.abc import Sequence
from itertools import pairwise

from matplotlib.lines import Line2D
from matplotlib.patches import Circle

from journey.edition.model import Edition, HueFigure
from journey.site.charts import hue_marks
from journey.site.charts.canvas import Canvas, Plot, add
from journey.site.charts.hue_key import draw_key, key_entries, key_height
from journey.site.charts.hue_tabs import draw_tabs
from journey.site.charts.tokens import RING_GREY

_CHROMA_RINGS = (20.0, 40.0, 60.0)
_TICK_STEP = 20
_MARGIN_UNITS = 9.0
_SMALLEST_SPAN = 40.0
_WIDE_PLOT = (430.0, 440.0)
_PHONE_MOST_PX = 420.0


def draw_hue(edition: Edition, canvas: Canvas) -> None:
    """One place's colours in the a*b* plane, with a key to the marks beside or below."""
    figure = edition.hue
    if figure is None:
        raise ValueError("this edition has no hue figure")
    left = canvas.text_width("−40") + 10
    top = canvas.text_px + 10
    a_span, b_span = _spans(figure)
    width, height = _plot_size(canvas, left, a_span, b_span)
    key = key_entries(figure, canvas.words)
    foot = canvas.text_px * 2 + (28 if canvas.is_phone else 18)
    canvas.open(top + height + foot + (key_height(len(key)) if canvas.is_phone else 0))
    plot = canvas.plot((left, top, width, height), *_equal_scales(a_span, b_span, width, height))
    _draw_plane(canvas, plot)
    _draw_marks(canvas, plot, figure)
    draw_tabs(edition, figure, canvas, plot)
    corner = (0.0, plot.bottom + foot) if canvas.is_phone else (plot.right + 28, plot.top)
    draw_key(canvas, key, corner, columns=2 if canvas.is_phone else 1)


def _draw_marks(canvas: Canvas, plot: Plot, figure: HueFigure) -> None:
    for stretch in figure.stretches:
        hue_marks.draw_straight(plot, stretch.straight)
    for earlier, later in pairwise(s for s in figure.stretches if s.path):
        hue_marks.draw_service(plot, earlier.path[-1], later.path[0])
    for stretch in figure.stretches:
        hue_marks.draw_path(canvas, plot, stretch.path)
        hue_marks.draw_forecast(plot, stretch.forecast)
        hue_marks.draw_measured(plot, stretch.measured)
    hue_marks.draw_base(plot, figure.base)


def _spans(figure: HueFigure) -> tuple[tuple[float, float], tuple[float, float]]:
    """Ends of a* and b* that hold every point and the neutral centre, with a margin."""
    points = [figure.base]
    for s in figure.stretches:
        points += [*s.path, *s.forecast, *s.measured, *s.straight]
    return _span([p.a for p in points]), _span([p.b for p in points])


def _span(values: Sequence[float]) -> tuple[float, float]:
    low = min(0.0, *values) - _MARGIN_UNITS
    high = max(0.0, *values) + _MARGIN_UNITS
    return _stretched((low, high), _SMALLEST_SPAN)


def _stretched(span: tuple[float, float], length: float) -> tuple[float, float]:
    extra = max(length - (span[1] - span[0]), 0.0) / 2
    return span[0] - extra, span[1] + extra


def _plot_size(
    canvas: Canvas, left: float, a: tuple[float, float], b: tuple[float, float]
) -> tuple[float, float]:
    """Size in px: a phone fixes the width and lets the height follow, a wide sheet has a fixed frame."""
    if not canvas.is_phone:
        return _WIDE_PLOT
    width = canvas.width - left - 2
    return width, min(width * (b[1] - b[0]) / (a[1] - a[0]), _PHONE_MOST_PX)


def _equal_scales(
    a: tuple[float, float], b: tuple[float, float], width: float, height: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    """Widen one of the two until a unit is as long both ways."""
    unit = min(width / (a[1] - a[0]), height / (b[1] - b[0]))
    return _stretched(a, width / unit), _stretched(b, height / unit)


def _draw_plane(canvas: Canvas, plot: Plot) -> None:
    for chroma in _CHROMA_RINGS:
        ring = Circle((0, 0), chroma, facecolor="none", edgecolor=RING_GREY, linewidth=1, zorder=0)
        add(plot, ring, "ring", clip=True)
    for arm in (((-1.5, 1.5), (0, 0)), ((0, 0), (-1.5, 1.5))):
        add(plot, Line2D(*arm, color=RING_GREY, linewidth=1.5, zorder=0), "neutral")
    (a_low, a_high), (b_low, b_high) = plot.axes.get_xlim(), plot.axes.get_ylim()
    for value in _ticks(a_low, a_high):
        x = plot.x_px(value)
        canvas.rule([(x, plot.bottom), (x, plot.bottom + 5)], part="tick")
        baseline = plot.bottom + 7 + canvas.text_px
        canvas.write((x, baseline), _signed(value), anchor="center")
    for value in _ticks(b_low, b_high):
        middle = plot.y_px(value) + canvas.text_px * 0.36
        canvas.write((plot.left - 8, middle), _signed(value), anchor="right")
    canvas.write((0, canvas.text_px), canvas.words.b_axis)
    at = (plot.right, plot.bottom + 12 + canvas.text_px * 2)
    canvas.write(at, canvas.words.a_axis, anchor="right")


def _ticks(low: float, high: float) -> list[int]:
    first, last = math.ceil((low + 2) / _TICK_STEP), math.floor((high - 2) / _TICK_STEP)
    return [n * _TICK_STEP for n in range(first, last + 1)]


def _signed(value: int) -> str:
    return str(value).replace("-", "−")
