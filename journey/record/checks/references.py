"""Whether every key that is named exists, and is given once."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator

from journey.record.draft import Doubt, Draft, Route
from journey.record.model import HERSELF, Withdrawal
from journey.record.nodes import Step
from journey.record.salvage import AnyPage


def zones_exist(draft: Draft) -> Iterator[Doubt]:
    """Services, patches, conditions, rulers and magnified photos lie in zones that are followed."""
    named: list[tuple[Route, str]] = []
    for route, service in draft.all_services():
        named += [((*route, "zones", place), zone) for place, zone in enumerate(service.zones)]
    for route, visit in draft.visits():
        for place, condition in enumerate(visit.conditions):
            named.append(((*route, "conditions", place, "zone"), condition.zone))
    for route, photo in draft.photos():
        named += [((*route, "patches", i, "zone"), patch.zone) for i, patch in enumerate(photo.patches)]
        named += [((*route, "ruler", i, "zone"), reading.zone) for i, reading in enumerate(photo.ruler)]
        if photo.magnified is not None:
            named.append(((*route, "magnified", "zone"), photo.magnified.zone))
    yield from _unknown(draft.journey, named, "zone", draft.keys(draft.journey, "zones"))


def products_exist(draft: Draft) -> Iterator[Doubt]:
    """What is in a bowl, and what was patch tested, is among the salon's products."""
    named: list[tuple[Route, str]] = []
    for route, service in draft.all_services():
        lines = service.bowl.lines if service.bowl is not None else ()
        named += [((*route, "bowl", "lines", i, "product"), line.product) for i, line in enumerate(lines)]
    for route, visit in draft.visits():
        for place, test in enumerate(visit.tests):
            if test.product is not None:
                named.append(((*route, "tests", place, "product"), test.product))
    yield from _unknown(draft.journey, named, "product", draft.keys(draft.salon, "products"))


def stylists_exist(draft: Draft) -> Iterator[Doubt]:
    """Whoever did the hair, asked for consent or received a withdrawal works in the salon."""
    known = draft.keys(draft.salon, "stylists")
    at_visits: list[tuple[Route, str]] = [
        ((*route, "stylist"), visit.stylist) for route, visit in draft.visits()
    ]
    at_visits += [((*route, "by"), allowed.by) for route, allowed in draft.allowed_sentences()]
    yield from _unknown(draft.journey, at_visits, "stylist", known)
    for_traits = [
        ((*route, "shown_in", place, "by"), shown.by)
        for route, trait in draft.traits()
        for place, shown in enumerate(trait.shown_in)
    ]
    yield from _unknown(draft.identity, for_traits, "stylist", known)
    grants, withdrawals = draft.grants(), draft.withdrawals()
    in_consent: list[tuple[Route, str]] = [((*route, "asked_by"), grant.asked_by) for route, grant in grants]
    in_consent += [((*route, "received_by"), withdrawal.received_by) for route, withdrawal in withdrawals]
    yield from _unknown(draft.consent, in_consent, "stylist", known)


def traits_exist(draft: Draft) -> Iterator[Doubt]:
    """What a photo shows of her is among the rare traits of identity.yaml."""
    named: list[tuple[Route, str]] = [
        ((*route, "shows", place), key)
        for route, photo in draft.photos()
        for place, key in enumerate(photo.shows)
    ]
    yield from _unknown(draft.journey, named, "rare trait", draft.keys(draft.identity, "rare_traits"))


def photos_exist(draft: Draft) -> Iterator[Doubt]:
    """Photos named in consent.yaml, or as taken under the same lamp, are in journey.yaml."""
    known = draft.photo_keys()
    lamps: list[tuple[Route, str]] = [
        ((*route, "lamp_from"), photo.lamp_from) for route, photo in draft.photos() if photo.lamp_from
    ]
    yield from _unknown(draft.journey, lamps, "photo", known)
    named: list[tuple[Route, str]] = []
    for route, grant in draft.grants():
        named += [((*route, "photos", place), photo) for place, photo in enumerate(grant.photos)]
    named += [(route, photo) for route, photo in _withdrawn(draft.withdrawals())]
    yield from _unknown(draft.consent, named, "photo", known)


def wordings_exist(draft: Draft) -> Iterator[Doubt]:
    """What she agreed to is one of the wordings on record."""
    named: list[tuple[Route, str]] = [((*route, "wording"), grant.wording) for route, grant in draft.grants()]
    yield from _unknown(draft.consent, named, "wording", draft.keys(draft.consent, "wordings"))


def people_exist(draft: Draft) -> Iterator[Doubt]:
    """Others in a photo, whoever took it, and whoever took a yes back, are in consent.yaml."""
    people = draft.keys(draft.consent, "other_people")
    takers = draft.keys(draft.consent, "photographers")
    in_photos: list[tuple[Route, str]] = []
    taken_by: list[tuple[Route, str]] = []
    for route, photo in draft.photos():
        in_photos += [((*route, "people", place), person) for place, person in enumerate(photo.people)]
        if photo.photographer is not None and photo.photographer != HERSELF:
            taken_by.append(((*route, "photographer"), photo.photographer))
    yield from _unknown(draft.journey, in_photos, "person", people)
    yield from _unknown(draft.journey, taken_by, "photographer", takers)
    withdrawn: list[tuple[Route, str]] = [
        ((*route, "person"), one.person) for route, one in draft.withdrawals() if one.person is not None
    ]
    yield from _unknown(draft.consent, withdrawn, "person", people)


def keys_given_once(draft: Draft) -> Iterator[Doubt]:
    """A key names one thing."""
    salon, consent, journey = draft.salon.value, draft.consent.value, draft.journey.value
    if salon is not None:
        yield from _repeated(draft.salon, ((("stylists", i), x.key) for i, x in enumerate(salon.stylists)))
        yield from _repeated(draft.salon, ((("products", i), x.key) for i, x in enumerate(salon.products)))
    yield from _repeated(draft.identity, ((route, trait.key) for route, trait in draft.traits()))
    if consent is not None:
        yield from _repeated(
            draft.consent, ((("wordings", i), x.key) for i, x in enumerate(consent.wordings))
        )
        yield from _repeated(draft.consent, ((route, person.key) for route, person in draft.other_people()))
        yield from _repeated(draft.consent, ((route, taker.key) for route, taker in draft.photographers()))
    if journey is not None:
        yield from _repeated(draft.journey, ((("zones", i), x.key) for i, x in enumerate(journey.zones)))
        yield from _repeated(draft.journey, ((("options", i), x.key) for i, x in enumerate(journey.options)))
        yield from _repeated(draft.journey, ((route, entry.key) for route, entry in draft.entries()))
        yield from _repeated(draft.journey, ((route, service.key) for route, service in draft.services()))
        yield from _repeated(draft.journey, ((route, photo.key) for route, photo in draft.photos()))
        rules = ((("care", i), override.rule) for i, override in enumerate(journey.care))
        yield from _repeated(draft.journey, rules, "rule")


def nothing_named_twice(draft: Draft) -> Iterator[Doubt]:
    """One service names a zone once, one bowl a product once, one grant a photo once."""
    for route, service in draft.all_services():
        yield from _twice(draft.journey, (*route, "zones"), service.zones)
        if service.bowl is not None:
            products = tuple(line.product for line in service.bowl.lines)
            yield from _twice(draft.journey, (*route, "bowl", "lines"), products)
    for route, grant in draft.grants():
        yield from _twice(draft.consent, (*route, "photos"), grant.photos)


def _withdrawn(withdrawals: Iterable[tuple[Route, Withdrawal]]) -> Iterator[tuple[Route, str]]:
    for route, withdrawal in withdrawals:
        if withdrawal.photo is not None:
            yield (*route, "photo"), withdrawal.photo


def _unknown(
    page: AnyPage, named: Iterable[tuple[Route, str]], kind: str, known: frozenset[str] | None
) -> Iterator[Doubt]:
    """Keys that are named and do not exist; silent when the file that would hold them could not be read."""
    if known is None:
        return
    for route, key in named:
        if key not in known:
            yield Doubt(page, route, f"there is no {kind} {key!r}", _instead(key, known))


def _instead(key: str, known: frozenset[str]) -> str:
    close = difflib.get_close_matches(key, sorted(known), n=1, cutoff=0.6)
    if close:
        return repr(close[0])
    return "one of: " + ", ".join(sorted(known)) if known and len(known) <= 12 else ""


def _repeated(page: AnyPage, keyed: Iterable[tuple[Route, str]], name: str = "key") -> Iterator[Doubt]:
    seen: set[str] = set()
    for route, key in keyed:
        if key in seen:
            yield Doubt(page, (*route, name), f"the {name} {key!r} is taken already", "another one")
        seen.add(key)


def _twice(page: AnyPage, route: Route, names: tuple[str, ...]) -> Iterator[Doubt]:
    for place, name in enumerate(names):
        step: Step = place
        if name in names[:place]:
            yield Doubt(page, (*route, step), f"{name!r} is named twice here; keep one")
