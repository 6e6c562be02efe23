"""The key beside a hue path: each mark once, small, with its words.

Decides which marks need explaining: only those the figure draws.
"""

from collections.abc import Callable, Sequence

from journey.edition.model import HueFigure, HuePoint
from journey.site.charts import hue_marks
from journey.site.charts.canvas import Canvas, Plot, Point
from journey.site.charts.labels import wrap
from journey.site.charts.tokens import INK2
from journey.site.charts.words import ChartWords

_SAMPLE = (52.0, 24.0)
"""Size in px of a mark's piece of card; its plane has one unit to the px."""
_ROW_PX = 42.0

KeyEntry = tuple[str, Callable[[Canvas, Plot], None]]


def key_entries(figure: HueFigure, words: ChartWords) -> list[KeyEntry]:
    """(words, drawing) of every kind of mark in the figure."""
    paths = [s.path for s in figure.stretches if len(s.path) > 1]
    forecasts = [s.forecast for s in figure.stretches if s.forecast]
    measured = [p for s in figure.stretches for p in s.measured]
    entries: list[KeyEntry] = []
    if paths:
        entries.append((words.fading, lambda c, p: hue_marks.draw_path(c, p, _laid_out(paths[0]))))
    if measured:
        entries.append((words.measured, lambda _, p: hue_marks.draw_measured(p, [_at(measured[0], 26)])))
    if sum(bool(s.path) for s in figure.stretches) > 1:
        ends = _at(figure.base, 4), _at(figure.base, 50)
        entries.append((words.service, lambda _, p: hue_marks.draw_service(p, *ends)))
    if forecasts:
        squares = [_at(forecasts[-1][0], x, week=x) for x in (12, 26, 40)]
        entries.append((words.forecast, lambda _, p: hue_marks.draw_forecast(p, squares)))
    if any(s.straight for s in figure.stretches):
        straight = [_at(figure.base, 6), _at(figure.base, 46)]
        entries.append((words.straight_line, lambda _, p: hue_marks.draw_straight(p, straight)))
    entries.append((words.base, lambda _, p: hue_marks.draw_base(p, _at(figure.base, 26))))
    return entries


def key_height(entries: int) -> float:
    """Room in px for the key under a phone's plot, two to a row."""
    return -(-entries // 2) * _ROW_PX


def draw_key(canvas: Canvas, entries: Sequence[KeyEntry], corner: Point, columns: int) -> None:
    """Samples with their words to the right, row by row from the top left corner."""
    pitch = (canvas.width - corner[0]) / columns
    for index, (text, draw) in enumerate(entries):
        row, column = divmod(index, columns)
        left, top = corner[0] + column * pitch, corner[1] + row * _ROW_PX
        draw(canvas, canvas.plot((left, top, *_SAMPLE), (0, _SAMPLE[0]), (0, _SAMPLE[1])))
        room = pitch - _SAMPLE[0] - 14
        lines = wrap(text, room, canvas.text_width)
        for number, line in enumerate(lines):
            middle = top + _SAMPLE[1] / 2 + canvas.text_px * 0.36
            baseline = middle + (number - (len(lines) - 1) / 2) * (canvas.text_px + 2)
            canvas.write((left + _SAMPLE[0] + 8, baseline), line, colour=INK2)


def _laid_out(path: Sequence[HuePoint]) -> list[HuePoint]:
    """A path's colours along a straight sample."""
    step = (_SAMPLE[0] - 16) / (len(path) - 1)
    return [_at(p, 8 + step * n) for n, p in enumerate(path)]


def _at(p: HuePoint, x: float, week: float | None = None) -> HuePoint:
    return HuePoint(week=p.week if week is None else week, a=x, b=_SAMPLE[1] / 2, hex=p.hex)
