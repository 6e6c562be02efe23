"""Pages rendered from the example editions without writing a picture."""

from __future__ import annotations

from functools import cache

from journey.edition.model import Edition
from journey.record.model import Audience
from journey.site.derivatives import PictureSize, edges_for, fallback_edge
from journey.site.pages import WrittenPage, write_page
from journey.site.theme import Theme, load_theme
from journey.site.writer import pictures_of
from tests.edition_example import example_edition


def render(edition: Edition, theme: Theme | None = None) -> WrittenPage:
    sizes = {
        picture.name: tuple(
            PictureSize(f"{picture.name}-{edge}", edge, edge, has_jpeg=edge == fallback_edge(edges_for(picture)))
            for edge in edges_for(picture)
        )
        for picture in pictures_of(edition)
    }
    return write_page(edition, theme or load_theme(), sizes)


@cache
def example_page(audience: Audience) -> WrittenPage:
    return render(example_edition(audience))
