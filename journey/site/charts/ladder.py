"""Ladder: levels 1 to 10 with the undertone each shows when lightened, and where this hair stands.

Decides the steps: the lightest on top, longer with every level, undertones beside them in words with what
neutralises each. A level where something stands is set in bold, with a pointer from its words.
"""

from journey.edition.model import Edition, LadderStep
from journey.site.charts.canvas import Canvas, Plot
from journey.site.charts.colour_run import vanishes_into_card
from journey.site.charts.labels import wrap
from journey.site.charts.tokens import BLACK, INK, INK2, hair

_ROW_PX = {"phone": 42.0, "wide": 34.0}
_MARKS_PX = {"phone": 78.0, "wide": 150.0}
_CARD_PX = {"phone": 104.0, "wide": 270.0}
_LEVEL_PX = 34.0
_PAD_PX = 6.0


def draw_ladder(edition: Edition, canvas: Canvas) -> None:
    """All steps from the lightest down. Words stand on paper, undertones on the card."""
    figure = edition.ladder
    if figure is None:
        raise ValueError("this edition has no ladder figure")
    steps = sorted(figure.steps, key=lambda step: step.level, reverse=True)
    row = _ROW_PX[canvas.kind]
    top = canvas.text_px + 10
    canvas.open(top + row * len(steps) + 2 * _PAD_PX)
    left = _MARKS_PX[canvas.kind] + _LEVEL_PX
    longest = max((step.level for step in steps), default=1)
    box = (left, top, _CARD_PX[canvas.kind], row * len(steps) + 2 * _PAD_PX)
    plot = canvas.plot(box, (0, longest), (0, len(steps) or 1))
    _draw_heads(canvas, plot, top - 8)
    for index, step in enumerate(steps):
        _draw_step(canvas, plot, step, top + _PAD_PX + index * row, step.level / longest)


def _draw_heads(canvas: Canvas, plot: Plot, baseline: float) -> None:
    canvas.write((plot.left - 8, baseline), canvas.words.level, anchor="right", colour=INK2)
    canvas.write((plot.right + 12, baseline), canvas.words.undertone, colour=INK2)
    if not canvas.is_phone:
        at = (_neutraliser_left(canvas, plot), baseline)
        canvas.write(at, canvas.words.neutralised_by, colour=INK2)


def _draw_step(canvas: Canvas, plot: Plot, step: LadderStep, top: float, share: float) -> None:
    row = _ROW_PX[canvas.kind]
    middle = top + row / 2
    baseline = middle + canvas.text_px * 0.36
    edge = BLACK if vanishes_into_card([step.hex]) else None
    size = ((plot.width - 2 * _PAD_PX) * share, row)
    corner = (plot.left + _PAD_PX, top)
    canvas.box(corner, size, hair(step.hex), edge=edge, part=f"step-{step.level}")
    stands = bool(step.mark)
    canvas.write((plot.left - 8, baseline), str(step.level), bold=stands, anchor="right")
    if stands:
        _draw_mark(canvas, plot, step.mark, middle)
    words = plot.right + 12
    if canvas.is_phone:
        canvas.write((words, middle - 3), step.undertone, bold=stands)
        under = canvas.words.against.format(neutraliser=step.neutraliser)
        canvas.write((words, middle + canvas.text_px), under if step.neutraliser else "", colour=INK2)
    else:
        canvas.write((words, baseline), step.undertone, bold=stands)
        canvas.write((_neutraliser_left(canvas, plot), baseline), step.neutraliser, bold=stands)


def _draw_mark(canvas: Canvas, plot: Plot, text: str, middle: float) -> None:
    """Words at the far left and a line that leads to the level."""
    room = _MARKS_PX[canvas.kind]
    lines = wrap(text, room, lambda line: canvas.text_width(line, bold=True))
    pitch = canvas.text_px + 1
    for number, line in enumerate(lines):
        baseline = middle + canvas.text_px * 0.36 + (number - (len(lines) - 1) / 2) * pitch
        canvas.write((0, baseline), line, bold=True)
    start = max(canvas.text_width(line, bold=True) for line in lines) + 5
    end = plot.left - 8 - canvas.text_width("10", bold=True) - 5
    if end - start > 6:
        canvas.rule([(start, middle), (end, middle)], INK, 1.5, part="mark")


def _neutraliser_left(canvas: Canvas, plot: Plot) -> float:
    return plot.right + 12 + (canvas.width - plot.right - 12) * 0.5
