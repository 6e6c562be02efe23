"""A page is filled anew when something it shows or is filled from has changed, and only then."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from journey.cache import Cache, Shelf
from journey.edition.model import Edition
from journey.record.model import Audience
from journey.site import kept_page
from journey.site.derivatives import PictureSize
from journey.site.kept_page import page_or_kept
from journey.site.pages import WrittenPage, write_page
from journey.site.theme import Theme, load_theme
from journey.site.writer import pictures_of
from tests.edition_example import example_edition

Fill = Callable[[Edition, Theme], tuple[WrittenPage, bool]]


@pytest.fixture
def fill(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Fill:
    """The page, and whether it was filled anew."""
    filled: list[object] = []

    def counted(*what: object) -> WrittenPage:
        filled.append(what)
        return write_page(*what)  # type: ignore[arg-type]

    monkeypatch.setattr(kept_page, "write_page", counted)
    shelf = Shelf(Cache.at(tmp_path / "kept"), ("a photo",))

    def page(edition: Edition, theme: Theme) -> tuple[WrittenPage, bool]:
        before = len(filled)
        return page_or_kept(edition, theme, sizes_of(edition), shelf), len(filled) > before

    return page


def sizes_of(edition: Edition) -> dict[str, tuple[PictureSize, ...]]:
    return {
        one.name: (PictureSize(f"{one.name}-480", one.width, one.height, has_jpeg=True),)
        for one in pictures_of(edition)
    }


@pytest.mark.parametrize("audience", Audience)
def test_the_same_page_is_not_filled_twice(audience: Audience, fill: Fill) -> None:
    """What is kept is what would be filled."""
    edition, theme = example_edition(audience), load_theme()
    first, again = fill(edition, theme), fill(example_edition(audience), theme)
    assert (first[1], again[1]) == (True, False)
    assert again[0] == first[0] == write_page(edition, theme, sizes_of(edition))


def test_whatever_a_page_shows_fills_it_anew(fill: Fill) -> None:
    """A word, a caption, another photo under the same name, another colour of a strand."""
    edition, theme = example_edition(Audience.CLIENT), load_theme()
    (when, picture), *others = edition.before_now
    (strand, *strands) = edition.strands
    rgba = strand.rgba.copy()
    rgba[40:, :, 0] ^= 64
    fill(edition, theme)
    for changed in (
        replace(edition, lead="Said otherwise."),
        replace(edition, before_now=((when, replace(picture, caption="Another caption")), *others)),
        replace(edition, before_now=((when, replace(picture, fingerprint="of another")), *others)),
        replace(edition, strands=(replace(strand, rgba=rgba), *strands)),
    ):
        assert fill(changed, theme)[1]
        assert not fill(changed, theme)[1]
    moved = replace(picture, source=elsewhere)
    assert not fill(replace(edition, before_now=((when, moved), *others)), theme)[1]


def elsewhere(long_edge: int) -> Image.Image:
    """The same photo in a folder that was moved."""
    raise NotImplementedError


def test_another_word_of_the_theme_fills_it_anew(fill: Fill, tmp_path: Path) -> None:
    """A label, a template, the script."""
    shutil.copytree(load_theme().folder, tmp_path / "theme")
    edition, theme = example_edition(Audience.CLIENT), Theme(tmp_path / "theme")
    fill(edition, theme)
    for file in ("words/en/labels.yaml", "templates/client.html", "bench.js"):
        with (theme.folder / file).open("a", encoding="utf-8") as more:
            more.write("\n")
        assert fill(edition, theme)[1], file
        assert not fill(edition, theme)[1], file
