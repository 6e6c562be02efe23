"""What must not leave, as plain values: the one shape that the text filter and the audit both receive.

It decides the kinds of identifier there are; how each is looked for is left to
`journey.edition.text_filter` (which replaces) and, in separate code, `journey.audit` (which refuses).
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class IdentifierKind(StrEnum):
    """The kind decides the forms that are looked for and the neutral word that stands instead."""

    CLIENT = "client"
    """Her name, in full or in part."""
    NICKNAME = "nickname"
    RELATIVE = "relative"
    """A person of her family, household or circle."""
    WORKPLACE = "workplace"
    OTHER_CLIENT = "other client"
    STYLIST = "stylist"
    SALON = "salon"
    PLACE = "place"
    """A town, a street, an address."""
    PHONE = "phone"
    EMAIL = "email"
    HANDLE = "handle"
    URL = "url"
    BIRTHDAY = "birthday"
    """ISO date."""
    DATE = "date"
    """ISO date of the record (a visit, a photo); class pages give week offsets instead."""
    PLATE = "plate"
    NUMBER = "number"
    """Any other number or code that belongs to one person: card, file, licence, device serial."""
    NUMBER_OF_LOT = "lot"
    """A pack's lot number: with a salon's purchases it leads back to a visit."""
    TRAIT = "trait"
    """Something rare by which she is known though no name is said."""
    FILE_NAME = "file name"
    """A source file's name: people write names into them."""


@dataclass(frozen=True, slots=True)
class Identifier:
    """One declared value, unwrapped for one stated purpose."""

    kind: IdentifierKind
    value: str
