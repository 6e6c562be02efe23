"""Pictures are numbered as they stand on the page, everywhere an edition names them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import pytest

from journey.edition.model import Edition, Picture
from journey.pipeline import prepare
from journey.record.model import Audience
from journey.site.page_order import UNSHOWN, edition_renamed
from journey.site.theme import load_theme
from journey.site.writer import pictures_of
from tests.demo import TODAY, studied_demo


def pictures_in(value: object) -> Iterator[Picture]:
    """Wherever they stand."""
    if isinstance(value, Picture):
        yield value
    elif is_dataclass(value):
        for one in fields(value):
            yield from pictures_in(getattr(value, one.name))
    elif isinstance(value, tuple):
        for part in value:
            yield from pictures_in(part)


@pytest.mark.parametrize("audience", Audience)
def test_no_part_of_an_edition_keeps_an_old_name(audience: Audience) -> None:
    """The demo has photos in every part that can have one."""
    edition = prepare(studied_demo(), audience, today=TODAY, theme=load_theme(), to_look_only=True)
    assert isinstance(edition, Edition)
    names = {picture.name: f"new-{picture.name}" for picture in pictures_of(edition)}
    renamed = edition_renamed(edition, names)
    before, after = list(pictures_in(edition)), list(pictures_in(renamed))
    assert len(before) == len(after) > 10
    assert [names.get(one.name, UNSHOWN) for one in before] == [one.name for one in after]
