"""Writes the finished folder of one edition: page, styles, pictures, rasters, data, calendar.

Decides file names, none of which comes from what anybody wrote. Publishing the folder is left to
`journey.site.publish`, judging its bytes to `journey.audit`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from concurrent.futures import Executor
from pathlib import Path
from typing import Final

from journey.cache import NOT_KEPT, Shelf
from journey.edition.model import Edition, Picture
from journey.site.charts import CHART_CSS
from journey.site.derivatives import write_pictures
from journey.site.kept_page import page_or_kept
from journey.site.page_order import edition_renamed, files_renamed, names_by_place, page_renamed
from journey.site.theme import Theme

_DATA_NAME: Final = re.compile(r"[a-z0-9][a-z0-9-]*\.(csv|json)")
_RIBBON_RULE: Final = ".ribbon{background-image:url(strands/ribbon.webp)}\n"


def write_site(
    edition: Edition,
    staging: Path,
    *,
    theme: Theme,
    shelf: Shelf = NOT_KEPT,
    executor: Executor | None = None,
) -> Edition:
    """Write the whole site of `edition` into `staging`; gives the edition back with its pictures in page order.

    An `executor` shares the work on pictures; the `shelf` spares the work done last time.
    Raises ValueError for a data file whose name is not plain, ThemeError for missing words.
    """
    staging.mkdir(parents=True, exist_ok=True)
    pictures = write_pictures(pictures_of(edition), staging / "pictures", cache=shelf.cache, executor=executor)
    page = page_or_kept(edition, theme, pictures, shelf)
    names = names_by_place(page.html)
    files_renamed(staging / "pictures", names)
    _write(staging / "index.html", page_renamed(page.html, names))
    _write(staging / "style.css", theme.style(edition.audience) + CHART_CSS)
    _write(staging / "hair.css", (_RIBBON_RULE if page.rasters else "") + page.hair_css)
    for raster in page.rasters:
        (staging / "strands").mkdir(exist_ok=True)
        (staging / "strands" / raster.name).write_bytes(raster.data)
    for data in edition.data:
        if not _DATA_NAME.fullmatch(data.name):
            raise ValueError(f"not a plain file name: {data.name!r}")
        (staging / "data").mkdir(exist_ok=True)
        _write(staging / "data" / data.name, data.text)
    if edition.calendar is not None:
        _write(staging / "calendar.ics", edition.calendar)
    return edition_renamed(edition, names)


def pictures_of(edition: Edition) -> Iterator[Picture]:
    """Every picture an edition shows, perhaps more than once."""
    yield from (picture for _, picture in edition.before_now)
    yield from (picture for entry in edition.entries for picture in entry.pictures)
    yield from (picture for _, row in edition.contact for _, picture, _ in row if picture)
    yield from (figure.picture for figure in edition.fibres)
    yield from (one for pair in edition.condition_pairs for side in pair.sides for one in side.pictures)


def _write(path: Path, text: str) -> None:
    # Bytes, because a text file would turn line ends into the platform's own, and calendars need CRLF.
    path.write_bytes(text.encode("utf-8"))
