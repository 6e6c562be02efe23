"""Fibre shares: which colours single strands have under magnification, and how much of each there is.

Decides the bars: one a colour, as long as its share, on the card; below them, at full length, the one colour
all of them make together from afar.
"""

from journey.edition.model import Edition, FibreFigure
from journey.site.charts.canvas import Canvas, Plot
from journey.site.charts.colour_run import vanishes_into_card
from journey.site.charts.tokens import BLACK, INK2, hair

_ROW_PX = 34.0
_BAR_PX = 22.0
_CARD_PX = {"phone": 190.0, "wide": 460.0}
_PAD_PX = 6.0


def draw_fibres(edition: Edition, canvas: Canvas) -> None:
    """The edition's first strand mix."""
    draw_fibre_shares(edition, 0, canvas)


def draw_fibre_shares(edition: Edition, figure_index: int, canvas: Canvas) -> None:
    """One strand mix, in the edition's order of colours. IndexError where there is none."""
    figure = edition.fibres[figure_index]
    rows = len(figure.colours) + 1
    canvas.open(rows * _ROW_PX + 2 * _PAD_PX + 8)
    box = (0.0, 0.0, _CARD_PX[canvas.kind], rows * _ROW_PX + 2 * _PAD_PX + 8)
    plot = canvas.plot(box, (0, 1), (0, rows))
    for index, colour in enumerate(figure.colours):
        _draw_bar(canvas, plot, index * _ROW_PX, colour.hex, colour.share, f"share-{index}")
        number = canvas.words.percent.format(number=f"{colour.share * 100:.0f}")
        _draw_words(canvas, plot, index * _ROW_PX, number, colour.name)
    _draw_whole(canvas, plot, figure)


def _draw_whole(canvas: Canvas, plot: Plot, figure: FibreFigure) -> None:
    top = len(figure.colours) * _ROW_PX + 8
    _draw_bar(canvas, plot, top, figure.from_afar.hex, 1.0, "from-afar")
    canvas.write((plot.right + 12, _baseline(canvas, top)), canvas.words.from_afar, bold=True)


def _draw_bar(canvas: Canvas, plot: Plot, top: float, colour: str, share: float, part: str) -> None:
    corner = (plot.left + _PAD_PX, plot.top + _PAD_PX + top + (_ROW_PX - _BAR_PX) / 2)
    size = ((plot.width - 2 * _PAD_PX) * share, _BAR_PX)
    edge = BLACK if vanishes_into_card([colour]) else None
    canvas.box(corner, size, hair(colour), edge=edge, part=part)


def _draw_words(canvas: Canvas, plot: Plot, top: float, number: str, name: str) -> None:
    column = canvas.text_width(canvas.words.percent.format(number="100"))
    canvas.write((plot.right + 12 + column, _baseline(canvas, top)), number, anchor="right")
    canvas.write((plot.right + 22 + column, _baseline(canvas, top)), name, colour=INK2)


def _baseline(canvas: Canvas, top: float) -> float:
    return _PAD_PX + top + _ROW_PX / 2 + canvas.text_px * 0.36
