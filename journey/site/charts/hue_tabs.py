"""Tabs in the a*b* plane: paper labels that say when a colour was where.

Decides what is named: the start of every colour, where the last one stands today, and the base. Seats come
from `labels`, which keeps tabs off each other and off the marks.
"""

from itertools import pairwise

from matplotlib.lines import Line2D
from matplotlib.patches import Rectangle

from journey.edition.model import Edition, HueFigure, HuePoint
from journey.site.charts.canvas import Canvas, Plot, add
from journey.site.charts.labels import Tab, place_tab
from journey.site.charts.time_axis import words_for_week
from journey.site.charts.tokens import BLACK, INK, PAPER

_PAD_X, _PAD_Y = 6.0, 4.0


def draw_tabs(edition: Edition, figure: HueFigure, canvas: Canvas, plot: Plot) -> None:
    """Tabs with thin leaders to their points, weeks in bold."""
    bounds = Tab(plot.left + 4, plot.top + 4, plot.width - 8, plot.height - 8)
    avoid = _drawn_points(figure, plot)
    taken: list[Tab] = []
    for point, text in _named_points(edition, figure, canvas):
        at = plot.x_px(point.a), plot.y_px(point.b)
        size = (canvas.text_width(text, bold=True) + 2 * _PAD_X, canvas.text_px + 2 * _PAD_Y)
        tab = place_tab(at, size, bounds, taken, avoid)
        taken.append(tab)
        _draw_tab(canvas, plot, at, tab, text)


def _named_points(edition: Edition, figure: HueFigure, canvas: Canvas) -> list[tuple[HuePoint, str]]:
    named: list[tuple[HuePoint, str]] = [
        (s.path[0], words_for_week(edition, s.path[0].week, canvas.words)) for s in figure.stretches if s.path
    ]
    last = next((s.path for s in reversed(figure.stretches) if s.path), ())
    if len(last) > 1:
        named.append((last[-1], words_for_week(edition, last[-1].week, canvas.words)))
    return [*named, (figure.base, canvas.words.base)]


def _drawn_points(figure: HueFigure, plot: Plot) -> list[tuple[float, float]]:
    points = [figure.base]
    for stretch in figure.stretches:
        points += [*stretch.path, *stretch.forecast, *stretch.measured]
    spots = [(plot.x_px(p.a), plot.y_px(p.b)) for p in points]
    for earlier, later in pairwise(s.path for s in figure.stretches if s.path):
        (x1, y1), (x2, y2) = ((plot.x_px(p.a), plot.y_px(p.b)) for p in (earlier[-1], later[0]))
        spots += [(x1 + (x2 - x1) * n / 20, y1 + (y2 - y1) * n / 20) for n in range(1, 20)]
    return spots


def _draw_tab(canvas: Canvas, plot: Plot, at: tuple[float, float], tab: Tab, text: str) -> None:
    middle = tab.left + tab.width / 2, tab.top + tab.height / 2
    leader = Line2D(
        [plot.at_x_px(at[0]), plot.at_x_px(middle[0])],
        [plot.at_y_px(at[1]), plot.at_y_px(middle[1])],
        color=BLACK,
        linewidth=1,
        zorder=2.5,
    )
    add(plot, leader, "leader")
    corner = plot.at_x_px(tab.left), plot.at_y_px(tab.top + tab.height)
    size = (
        plot.at_x_px(tab.left + tab.width) - corner[0],
        plot.at_y_px(tab.top) - corner[1],
    )
    add(plot, Rectangle(corner, *size, facecolor=PAPER, edgecolor="none", zorder=6), "tab")
    baseline = middle[1] + canvas.text_px * 0.36
    canvas.write((middle[0], baseline), text, bold=True, anchor="center", colour=INK)
