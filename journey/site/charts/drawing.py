"""Which charts there are, in the order of a page, and how one is drawn from an edition.

Decides what each chart is found by and drawn with; a chart itself is drawn by the module of its name.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Protocol

from journey.edition.model import Edition
from journey.site.charts.canvas import Canvas, draw_svg
from journey.site.charts.fade import draw_fade, draw_fade_place
from journey.site.charts.fibres import draw_fibre_shares, draw_fibres
from journey.site.charts.grade import draw_grade
from journey.site.charts.hue import draw_hue
from journey.site.charts.ladder import draw_ladder
from journey.site.charts.words import ChartWords, Width


class Described(Protocol):
    """A figure of the edition, with the words that stand in for its drawing."""

    @property
    def alt(self) -> str: ...


@dataclass(frozen=True, slots=True)
class Chart:
    """One kind of chart: `figure` finds it in an edition, `draw` puts it on a canvas."""

    key: str
    figure: Callable[[Edition], Described | None]
    draw: Callable[[Edition, Canvas], None]


CHARTS: Final = (
    Chart("fade", lambda edition: edition.fade if edition.fade and edition.fade.series else None, draw_fade),
    Chart("hue", lambda edition: edition.hue, draw_hue),
    Chart(
        "grade", lambda edition: edition.grade if edition.grade and edition.grade.series else None, draw_grade
    ),
    Chart(
        "ladder",
        lambda edition: edition.ladder if edition.ladder and edition.ladder.steps else None,
        draw_ladder,
    ),
    Chart("fibres", lambda edition: next(iter(edition.fibres), None), draw_fibres),
)
"""In page order."""


def render_chart(key: str, edition: Edition, width: Width, words: ChartWords) -> str | None:
    """SVG text of a chart, None where the edition has nothing to draw in it. KeyError for an unknown key."""
    chart = {chart.key: chart for chart in CHARTS}[key]
    figure = chart.figure(edition)
    if figure is None:
        return None
    return draw_svg(key, figure.alt, width, words, lambda canvas: chart.draw(edition, canvas))


def render_fade_series(
    edition: Edition, place_index: int, width: Width, words: ChartWords
) -> str | None:
    """The large fade plot of one place, None without a fade figure. IndexError for a place not there."""
    if edition.fade is None:
        return None
    place = edition.fade.series[place_index].place
    return draw_svg(
        f"fade{place_index}",
        f"{place}. {edition.fade.alt}",
        width,
        words,
        lambda canvas: draw_fade_place(edition, place_index, canvas),
    )


def render_fibre_shares(
    edition: Edition, figure_index: int, width: Width, words: ChartWords
) -> str | None:
    """Shares of one strand mix, None where the edition has none of that number."""
    if figure_index >= len(edition.fibres):
        return None
    return draw_svg(
        f"fibres{figure_index}",
        edition.fibres[figure_index].alt,
        width,
        words,
        lambda canvas: draw_fibre_shares(edition, figure_index, canvas),
    )
