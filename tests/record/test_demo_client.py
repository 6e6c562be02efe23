"""The demo client reads, exercises every part of the record, and holds what must vanish."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

import pytest
from pydantic import BaseModel

from journey.record.model import (
    Audience,
    Identity,
    Photo,
    Record,
    Role,
    ServiceKind,
    TeachingPoint,
)
from journey.record.private import Private, reveal
from journey.record.reader import read_record
from tests.record.demo_photos import JOURNEY, drawn_photos, renewed
from tests.record.folders import DEMO

LEFT_OUT = {ServiceKind.PERMANENT, ServiceKind.TONER}
"""Kinds this client had no use for."""
UNUSED_FIELDS = {
    "Product.metallic_salts",
    "Zone.natural_level",
    "Hair.growth_mm_per_month",
    "Hair.metallic_salts",
    "Hair.henna",
    "Magnified.magnification",
    "Magnified.sensor_width_mm",
}
"""What a client like her does not have, or the photos do not show."""


@pytest.fixture(scope="module")
def record() -> Record:
    return read_record(DEMO)


def parts_of(value: object) -> Iterator[BaseModel]:
    """A part and everything below it."""
    if isinstance(value, BaseModel):
        yield value
        for name in type(value).model_fields:
            yield from parts_of(getattr(value, name))
    elif isinstance(value, tuple):
        for entry in value:
            yield from parts_of(entry)


def texts_of(value: object) -> Iterator[str]:
    """Every text that could reach a page."""
    for part in parts_of(value):
        for name in type(part).model_fields:
            held = getattr(part, name)
            if isinstance(held, str):
                yield held
            elif isinstance(held, tuple):
                yield from (entry for entry in held if isinstance(entry, str))


def photos_of(record: Record) -> list[Photo]:
    """Photos of visits, then of check-ins."""
    at_visits = [photo for visit in record.journey.visits for photo in visit.photos]
    return at_visits + [photo for check_in in record.journey.check_ins for photo in check_in.photos]


def test_every_field_is_used(record: Record) -> None:
    """What a folder may hold, the demo shows in use, but for a few fields that are named here."""
    used: set[str] = set()
    known: set[str] = set()
    for part in parts_of(record):
        kind = type(part).__name__
        known |= {f"{kind}.{name}" for name in type(part).model_fields}
        used |= {f"{kind}.{name}" for name in part.model_fields_set}
    assert known - used == UNUSED_FIELDS


def test_every_kind_of_service_is_used(record: Record) -> None:
    """Each kind of service was done, or is offered, but for those named here."""
    done = {service.kind for visit in record.journey.visits for service in visit.services}
    offered = {service.kind for option in record.journey.options for service in option.services}
    assert done | offered == set(ServiceKind) - LEFT_OUT
    assert {product.role for product in record.salon.products} == set(Role)


def test_every_figure_has_its_question(record: Record) -> None:
    """Students find a question at each figure."""
    figures = set(get_args(TeachingPoint.model_fields["figure"].annotation))
    assert {point.figure for point in record.journey.teaching} == figures


@pytest.mark.parametrize("name", sorted(Identity.model_fields))
def test_identifiers_stand_where_they_must_vanish(name: str, record: Record) -> None:
    """Something of every kind of identifier is written in a text, a caption or a file name of the journey."""
    if name in ("region", "born"):
        return
    held = getattr(record.identity, name)
    values = held if isinstance(held, tuple) else (held,)
    if name == "rare_traits":
        values = tuple(word for trait in record.identity.rare_traits for word in trait.says)
    assert values
    texts = " ".join(texts_of(record.journey)).replace("\n", " ")
    assert any(_is_in(value, texts) for value in values), name


def _is_in(value: Private[str], texts: str) -> bool:
    plain = reveal(value, because="to see that the demo gives the filter something to do")
    return any(word in texts for word in (plain, plain.split()[0] if " " in plain else plain))


def test_other_people_and_the_salon_are_named_too(record: Record) -> None:
    """Stylist, salon and another client stand in texts as well."""
    texts = " ".join(texts_of(record.journey))
    for value in (record.salon.name, record.salon.stylists[0].name, record.salon.other_clients[0]):
        assert reveal(value, because="to see that it is planted") in texts


def test_photos_on_disk_are_the_photos_in_the_record(record: Record) -> None:
    """No photo lies about unnamed, and none is named that is not there."""
    named = sorted(photo.file for photo in photos_of(record))
    assert named == sorted(file.name for file in (DEMO / "photos").iterdir())


def test_patches_are_where_the_pictures_were_drawn(record: Record) -> None:
    """Rectangles are those the drawing wrote down; `python -m tests.record.demo_photos` renews them."""
    text = JOURNEY.read_text(encoding="utf-8")
    assert text == renewed(text, drawn_photos())
    drawn = {fact["file"]: fact for fact in drawn_photos()}
    for photo in photos_of(record):
        assert {str(patch.rect) for patch in photo.patches} <= {
            " ".join(f"{side:g}" for side in patch["rect"]) for patch in drawn[photo.file].get("patches", ())
        }


def test_faces_are_covered_or_absent(record: Record) -> None:
    """Each photo says that nobody can be recognised, or covers whoever could be (and any label with a day)."""
    for photo in photos_of(record):
        assert photo.no_face or photo.covers, photo.key


def test_consent_differs_by_edition(record: Record) -> None:
    """Every edition has its own yes; the class has fewer photos, and one of those was taken back."""
    grants = {grant.edition: grant for grant in record.consent.grants}
    assert set(grants) == set(Audience)
    assert set(grants[Audience.CLASS].photos) < set(grants[Audience.CLIENT].photos)
    assert set(grants[Audience.CLIENT].photos) < set(grants[Audience.ARCHIVE].photos)
    withdrawn = [withdrawal.photo for withdrawal in record.consent.withdrawals]
    assert withdrawn
    assert set(withdrawn) <= set(grants[Audience.CLASS].photos)
    assert {withdrawal.person for withdrawal in record.consent.withdrawals} == {None, "apprentice"}
