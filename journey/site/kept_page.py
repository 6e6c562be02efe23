"""A page kept from last time, as long as nothing it shows and nothing it is filled from has changed.

It decides what a page depends on: the edition but for the pixels of its photos, the sizes they were written in,
and the theme. Filling it is left to `journey.site.pages`.
"""

from __future__ import annotations

import pickle
from collections.abc import Mapping
from dataclasses import fields
from typing import Any, Final

from journey.alike import Writer, bytes_of
from journey.cache import NOT_KEPT, Shelf
from journey.edition.model import Edition, Picture
from journey.site.derivatives import PictureSize
from journey.site.pages import WrittenPage, write_page
from journey.site.theme import Theme

_SHOWN_OF_A_PICTURE: Final = tuple(one.name for one in fields(Picture) if one.name != "source")


class _WithoutPixels(Writer):
    """An edition as bytes; where the pixels of a photo come from is no part of it, their fingerprint is."""

    def reducer_override(self, value: Any) -> Any:
        if isinstance(value, Picture):
            return tuple, ([getattr(value, name) for name in _SHOWN_OF_A_PICTURE],)
        return super().reducer_override(value)


def page_or_kept(
    edition: Edition, theme: Theme, pictures: Mapping[str, tuple[PictureSize, ...]], shelf: Shelf = NOT_KEPT
) -> WrittenPage:
    """As `write_page`; the `shelf` keeps the finished page."""

    def fill() -> bytes:
        return pickle.dumps(write_page(edition, theme, pictures, shelf))

    shown = bytes_of((edition, sorted(pictures.items())), _WithoutPixels)
    page: WrittenPage = pickle.loads(  # noqa: S301 - as in `journey.workshop`
        shelf.remembered("page", (shown, theme.content(edition.language)), fill)
    )
    return page
