"""Fills a theme's templates with an edition: one page per audience.

Decides what a template can reach: the edition, labels, placed classes, written pictures, charts, safe
prose. Order and wording of a page stand in its template; what may be said was decided in `journey.edition`.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Final

from markupsafe import Markup

from journey.cache import NOT_KEPT, Shelf
from journey.edition.model import Chip, Edition, Entry, Picture
from journey.record.model import Audience
from journey.site.boards import lay_out_boards, left_over_questions, number_tables
from journey.site.charts import ChartWords, Width
from journey.site.charts.kept import KeptCharts
from journey.site.derivatives import PictureSize
from journey.site.filling import environment, source_hash
from journey.site.hair_styles import HairStyles
from journey.site.kept_together import numbers_kept_together
from journey.site.prose import render_prose
from journey.site.rasters import RasterFile, coarsened, curtain_files, map_file, ribbon_file
from journey.site.strand_views import place_curtain, place_map, ribbon_slice
from journey.site.theme import Theme

PAGES: Final = {
    Audience.CLIENT: "client.html",
    Audience.CLASS: "class.html",
    Audience.ARCHIVE: "archive.html",
}
LINKS_FOR: Final = frozenset({Audience.CLIENT, Audience.ARCHIVE})
"""A class gets no links: an address may say whose page it is."""
TILES_OPEN: Final = 2
"""Tiles of an entry that stand open on the client's phone; the rest is folded, or the page grows too long."""
CARE_OPEN: Final = 4
"""Home care that stands open on the client's phone; the rest is one tap away."""

_WIDTHS: Final[tuple[Width, ...]] = ("phone", "wide")

Tile = tuple[str, Picture | None, Chip | None]


@dataclass(frozen=True, slots=True)
class WrittenPage:
    html: str
    hair_css: str
    rasters: tuple[RasterFile, ...]


def write_page(
    edition: Edition,
    theme: Theme,
    pictures: Mapping[str, tuple[PictureSize, ...]],
    shelf: Shelf = NOT_KEPT,
) -> WrittenPage:
    """The page of one edition, its own style sheet and the rasters both refer to.

    Raises ThemeError for a label the language lacks and jinja2's UndefinedError for a broken template.
    """
    styles = HairStyles()
    rasters: list[RasterFile] = []
    view: dict[str, object] = {"hanging": None, "maps": {}, "ribbon": lambda _entry: None}
    strands = [coarsened(strand, shelf) for strand in edition.strands]
    if strands:
        first = strands[0]
        opening = curtain_files(first, shelf)
        maps = [map_file(strand, number, shelf) for number, strand in enumerate(strands, 1)]
        rasters += [*(f for f in opening if f), ribbon_file(first, shelf), *maps]
        view["hanging"] = place_curtain(first, opening, styles)
        view["maps"] = {
            strand.key: place_map(strand, picture, styles)
            for strand, picture in zip(strands, maps, strict=True)
        }
        view["ribbon"] = lambda entry: ribbon_slice(entry, first, styles)
    boards = lay_out_boards(edition)
    tables = number_tables(edition)
    script = theme.script()
    labels = theme.labels(edition.language)
    page = (
        environment(theme, shelf.cache)
        .get_template(PAGES[edition.audience])
        .render(
            **view,
            edition=edition,
            t=labels,
            css=styles,
            sizes=pictures,
            boards=boards,
            figures={board.kind: board for board in reversed(boards) if board.number},
            tables=tables,
            table_numbers={numbered.table.key: numbered for numbered in tables},
            left_over=left_over_questions(edition, boards),
            tiles=lambda entry: tiles_of(entry, edition),
            glance=lambda entry: glance_at(entry, edition),
            tiles_open=TILES_OPEN,
            care_open=CARE_OPEN,
            prose=lambda text: render_prose(text, links=edition.audience in LINKS_FOR),
            **_charts(edition, theme.chart_words(edition.language), shelf),
            script=Markup(script),  # noqa: S704 - the theme's own file
            script_hash=source_hash(script),
        )
    )
    page = numbers_kept_together(page, labels("with_a_number").split())
    return WrittenPage(page, styles.css(), tuple(rasters))


def tiles_of(entry: Entry, edition: Edition) -> tuple[Tile, ...]:
    """What an entry's tray shows: what the contact sheet pairs for that day, other colours, whole photos.

    A photo the contact sheet already pairs with its colour is not shown twice.
    """
    paired = next((row for when, row in edition.contact if when == entry.when), ())
    crops = {picture.name for _, picture, _ in paired if picture}
    places = {chip.place for _, _, chip in paired if chip}
    photos = [(p.caption, p, None) for p in entry.pictures if p.name not in crops]
    alone = [(c.place, None, c) for c in entry.chips if c.place not in places]
    return (*(tile for tile in paired if tile[1] or tile[2]), *alone, *photos)


def glance_at(entry: Entry, edition: Edition) -> Tile | None:
    """The tile that stands for a folded day: the place the fade chart follows, else the first with a colour."""
    measured = [tile for tile in tiles_of(entry, edition) if tile[2]]
    followed = edition.fade.series[0].place if edition.fade and edition.fade.series else ""
    return next((tile for tile in measured if tile[0] == followed), measured[0] if measured else None)


def _charts(edition: Edition, words: ChartWords, shelf: Shelf) -> dict[str, Callable[..., Markup]]:
    """Functions for templates: each chart at both widths, of which the styles show one."""

    charts = KeptCharts(edition, words, shelf)

    def both(draw: Callable[[Width], str]) -> Markup:
        return Markup("".join(draw(width) for width in _WIDTHS))  # noqa: S704 - drawn and cleaned by us

    return {
        "chart": lambda key: both(lambda width: charts.chart(key, width)),
        "fade_place": lambda index: both(lambda width: charts.fade_place(index, width)),
        "fibre_shares": lambda index: both(lambda width: charts.fibre_shares(index, width)),
    }
