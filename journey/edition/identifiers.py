"""Which declared values must not appear in which edition.

The client may read her own name nowhere on her page either: the link could be forwarded, and nothing on the
page needs it. The archive is the salon's own: it keeps the names of stylist and salon and the dates, and
drops contact details and other people.
"""

from __future__ import annotations

from journey.identifiers import Identifier, IdentifierKind
from journey.record.model import Audience, Consent, RareTrait, Record
from journey.record.private import Private, reveal
from journey.study.calendar import entries_in_order

Kind = IdentifierKind

_ARCHIVE_KEEPS = frozenset({Kind.STYLIST, Kind.SALON, Kind.DATE, Kind.NUMBER_OF_LOT})
_CLIENT_KEEPS = frozenset({Kind.DATE})


def must_not_appear(record: Record, audience: Audience) -> tuple[Identifier, ...]:
    """Every declared identifier that `audience` must not find, unwrapped for filter and audit."""
    keeps = {Audience.CLIENT: _CLIENT_KEEPS, Audience.ARCHIVE: _ARCHIVE_KEEPS}.get(audience, frozenset())
    return tuple(one for one in _all_of(record, audience) if one.kind not in keeps)


def hidden_traits(record: Record, audience: Audience) -> tuple[RareTrait, ...]:
    """Rare traits that nobody decided to show to `audience`."""
    return tuple(
        trait
        for trait in record.identity.rare_traits
        if all(shown.edition is not audience for shown in trait.shown_in)
    )


def _others_with_a_say(consent: Consent) -> list[Private[str]]:
    """Guardians, others in a photo and photographers."""
    grants = [*consent.grants, *(grant for person in consent.other_people for grant in person.grants)]
    return [
        *(grant.guardian for grant in grants if grant.guardian is not None),
        *(person.name for person in consent.other_people),
        *(one.name for one in consent.photographers),
    ]


def _all_of(record: Record, audience: Audience) -> list[Identifier]:
    because = f"to keep it out of the {audience} edition"

    def plain(kind: Kind, *values: Private[str] | None) -> list[Identifier]:
        return [Identifier(kind, reveal(value, because=because)) for value in values if value is not None]

    her, salon, journey = record.identity, record.salon, record.journey
    found = [
        *plain(Kind.CLIENT, her.name),
        *plain(Kind.NICKNAME, *her.nicknames),
        *plain(Kind.BIRTHDAY, her.born),
        *plain(Kind.PHONE, *her.phones, salon.phone),
        *plain(Kind.EMAIL, *her.emails, salon.email),
        *plain(Kind.PLACE, *her.addresses, *her.places, salon.address),
        *plain(Kind.HANDLE, *her.handles, *salon.handles),
        *plain(Kind.URL, *her.urls),
        *plain(Kind.WORKPLACE, *her.workplaces),
        *plain(Kind.RELATIVE, *her.relatives),
        *plain(Kind.PLATE, *her.plates),
        *plain(Kind.NUMBER, *her.numbers),
        *plain(Kind.TRAIT, *(word for trait in hidden_traits(record, audience) for word in trait.says)),
        *plain(Kind.SALON, salon.name),
        *plain(Kind.STYLIST, *(stylist.name for stylist in salon.stylists)),
        *plain(Kind.OTHER_CLIENT, *salon.other_clients),
        *plain(Kind.RELATIVE, *_others_with_a_say(record.consent)),
    ]
    entries = entries_in_order(journey)
    found += [Identifier(Kind.DATE, entry.date.isoformat()) for entry in entries]
    found += [Identifier(Kind.FILE_NAME, photo.file) for entry in entries for photo in entry.photos]
    found += [
        Identifier(Kind.NUMBER_OF_LOT, line.lot)
        for visit in journey.visits
        for service in visit.services
        if service.bowl is not None
        for line in service.bowl.lines
        if line.lot is not None
    ]
    return found
