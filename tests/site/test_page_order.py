"""Pictures are numbered as they stand on the page, everywhere an edition names them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import get_args, get_type_hints

import pytest

from journey.edition.model import Edition, Picture
from journey.record.model import Audience
from journey.site.page_order import UNSHOWN, edition_renamed
from journey.site.writer import pictures_of
from tests.demo import demo_edition


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


def test_the_demo_has_a_photo_in_every_part_that_can_have_one() -> None:
    """So that a part that is forgotten shows."""
    hints = get_type_hints(Edition)
    can = {name for name, hint in hints.items() if Picture in held_by(hint)}
    has = {
        one.name
        for audience in Audience
        for one in fields(Edition)
        if any(True for _ in pictures_in(getattr(demo_edition(audience), one.name)))
    }
    assert {"entries", "contact", "leaving"} < can == has


def held_by(hint: object) -> list[object]:
    """Every type that a value of this type can hold."""
    held: list[object] = [hint]
    for one in held:
        inside = [*get_args(one)]
        if isinstance(one, type) and is_dataclass(one):
            inside += get_type_hints(one).values()
        held += [part for part in inside if part not in held]
    return held


@pytest.mark.parametrize("audience", Audience)
def test_no_part_of_an_edition_keeps_an_old_name(audience: Audience) -> None:
    """Wherever it stands."""
    edition = demo_edition(audience)
    names = {picture.name: f"new-{picture.name}" for picture in pictures_of(edition)}
    renamed = edition_renamed(edition, names)
    before, after = list(pictures_in(edition)), list(pictures_in(renamed))
    assert len(before) == len(after) > 10
    assert [names.get(one.name, UNSHOWN) for one in before] == [one.name for one in after]
