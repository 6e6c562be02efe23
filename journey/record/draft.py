"""The folder while it is being judged: four files as far as they could be read, and what they name.

Gives the cross-checks one way to walk over visits, services and photos with the route to each, and to ask
which keys exist. A key counts as existing when it is written anywhere, even in a part that could not be
read, so that one mistake is not told twice.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import NamedTuple

from journey.errors import Problem
from journey.record.model import (
    AllowedSentence,
    CheckIn,
    Consent,
    Grant,
    Identity,
    Journey,
    OtherPerson,
    Photo,
    Photographer,
    PlannedService,
    Product,
    RareTrait,
    Record,
    Salon,
    Service,
    Visit,
    Withdrawal,
)
from journey.record.nodes import Listing, Mapping, Node, Scalar, Step, nearest
from journey.record.notes import NoteShelf
from journey.record.salvage import AnyPage, Page

Route = tuple[Step, ...]


class Doubt(NamedTuple):
    """Something that is well formed and makes no sense: where, what, and what to write instead."""

    page: AnyPage
    route: Route
    what: str
    instead: str = ""


@dataclass(frozen=True)
class Draft:
    """Four pages and their folder."""

    folder: Path
    notes: NoteShelf
    salon: Page[Salon]
    identity: Page[Identity]
    consent: Page[Consent]
    journey: Page[Journey]

    @property
    def pages(self) -> tuple[AnyPage, ...]:
        return (self.salon, self.identity, self.consent, self.journey)

    def record(self) -> Record:
        """The finished record; only for a draft without problems."""
        salon, identity = self.salon.value, self.identity.value
        consent, journey = self.consent.value, self.journey.value
        assert salon is not None
        assert identity is not None
        assert consent is not None
        assert journey is not None
        return Record(salon=salon, identity=identity, consent=consent, journey=journey)

    def visits(self) -> Iterator[tuple[Route, Visit]]:
        visits = self.journey.value.visits if self.journey.value is not None else ()
        for place, visit in enumerate(visits):
            yield ("visits", place), visit

    def entries(self) -> Iterator[tuple[Route, Visit | CheckIn]]:
        """Visits, then check-ins."""
        yield from self.visits()
        check_ins = self.journey.value.check_ins if self.journey.value is not None else ()
        for place, check_in in enumerate(check_ins):
            yield ("check_ins", place), check_in

    def services(self) -> Iterator[tuple[Route, Service]]:
        """Services done."""
        for route, visit in self.visits():
            for place, service in enumerate(visit.services):
                yield (*route, "services", place), service

    def planned(self) -> Iterator[tuple[Route, PlannedService]]:
        """Services offered."""
        options = self.journey.value.options if self.journey.value is not None else ()
        for option_place, option in enumerate(options):
            for place, service in enumerate(option.services):
                yield ("options", option_place, "services", place), service

    def all_services(self) -> Iterator[tuple[Route, Service | PlannedService]]:
        yield from self.services()
        yield from self.planned()

    def photos(self) -> Iterator[tuple[Route, Photo]]:
        for route, entry in self.entries():
            for place, photo in enumerate(entry.photos):
                yield (*route, "photos", place), photo

    def traits(self) -> Iterator[tuple[Route, RareTrait]]:
        traits = self.identity.value.rare_traits if self.identity.value is not None else ()
        for place, trait in enumerate(traits):
            yield ("rare_traits", place), trait

    def allowed_sentences(self) -> Iterator[tuple[Route, AllowedSentence]]:
        allowed = self.journey.value.allowed_sentences if self.journey.value is not None else ()
        for place, one in enumerate(allowed):
            yield ("allowed_sentences", place), one

    def grants(self) -> Iterator[tuple[Route, Grant]]:
        """Hers, then those of others in photos."""
        for place, grant in enumerate(self.consent.value.grants if self.consent.value is not None else ()):
            yield ("grants", place), grant
        for route, person in self.other_people():
            for place, grant in enumerate(person.grants):
                yield (*route, "grants", place), grant

    def other_people(self) -> Iterator[tuple[Route, OtherPerson]]:
        people = self.consent.value.other_people if self.consent.value is not None else ()
        for place, person in enumerate(people):
            yield ("other_people", place), person

    def photographers(self) -> Iterator[tuple[Route, Photographer]]:
        known = self.consent.value.photographers if self.consent.value is not None else ()
        for place, photographer in enumerate(known):
            yield ("photographers", place), photographer

    def withdrawals(self) -> Iterator[tuple[Route, Withdrawal]]:
        withdrawals = self.consent.value.withdrawals if self.consent.value is not None else ()
        for place, withdrawal in enumerate(withdrawals):
            yield ("withdrawals", place), withdrawal

    @cached_property
    def products(self) -> dict[str, Product]:
        """Products that could be read, by key."""
        products = self.salon.value.products if self.salon.value is not None else ()
        return {product.key: product for product in products}

    def keys(self, page: AnyPage, *lists: str, having: str = "key") -> frozenset[str] | None:
        """Every key written in a list (`"visits", "photos"`: in a list within a list); None when unread.

        ``having`` narrows it to entries in which that is written too.
        """
        if page.written is None:
            return None
        return frozenset(_keys(page.written, lists, having))

    def photo_keys(self, *, having: str = "key") -> frozenset[str] | None:
        """Every photo's key, of visits and check-ins."""
        at_visits = self.keys(self.journey, "visits", "photos", having=having)
        between = self.keys(self.journey, "check_ins", "photos", having=having)
        return at_visits | between if at_visits is not None and between is not None else None

    def problem(self, doubt: Doubt) -> Problem | None:
        """The doubt with its line; None when something inside that place was left out and may explain it."""
        assert doubt.page.kept is not None
        node = nearest(doubt.page.kept, doubt.route)
        if any(lost.startswith((f"{node.place}.", f"{node.place}[")) for lost in doubt.page.lost):
            return None
        return Problem(doubt.page.name, node.line, node.place, doubt.what, doubt.instead)


def _keys(node: Node, lists: tuple[str, ...], having: str) -> Iterator[str]:
    listing = node.values.get(lists[0]) if isinstance(node, Mapping) else None
    for item in listing.items if isinstance(listing, Listing) else ():
        if len(lists) > 1:
            yield from _keys(item, lists[1:], having)
        elif (
            isinstance(item, Mapping)
            and having in item.values
            and isinstance(key := item.values.get("key"), Scalar)
        ):
            yield key.text.strip()
