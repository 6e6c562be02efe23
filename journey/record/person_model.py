"""identity.yaml and consent.yaml: who she is, and what she agreed to."""

from __future__ import annotations

from typing import Literal

from journey.record.fields import (
    Day,
    Key,
    NoteName,
    PrivateDay,
    PrivateText,
    Region,
    Sha256,
    ShortText,
    Truth,
)
from journey.record.parts import Audience, Part


class Identity(Part):
    """Who she is. Read only to know what to strip and to check that it is gone."""

    name: PrivateText
    """First names and surnames, as she writes them."""
    nicknames: tuple[PrivateText, ...] = ()
    born: PrivateDay | None = None
    """The day, year-month-day."""
    phones: tuple[PrivateText, ...] = ()
    emails: tuple[PrivateText, ...] = ()
    addresses: tuple[PrivateText, ...] = ()
    places: tuple[PrivateText, ...] = ()
    """Towns, quarters, villages: wherever a text may place her."""
    handles: tuple[PrivateText, ...] = ()
    urls: tuple[PrivateText, ...] = ()
    workplaces: tuple[PrivateText, ...] = ()
    """Where she works or studies."""
    relatives: tuple[PrivateText, ...] = ()
    """Family, household and friends whom a text may mention."""
    plates: tuple[PrivateText, ...] = ()
    """Number plates."""
    numbers: tuple[PrivateText, ...] = ()
    """Card, file and licence numbers, device serials: anything that belongs to one person."""
    region: Region = "ES"
    """Country whose way of writing phone numbers is tried first."""


class Wording(Part):
    """The text she agreed to, by its hash, so that it can be proved later."""

    key: Key
    language: ShortText
    """In which language it was put to her."""
    note: NoteName
    """File under notes/ that holds the text."""
    sha256: Sha256
    """Hash of that file as it was when she agreed."""


class Grant(Part):
    """One yes for one edition. There is no 'all' switch."""

    edition: Audience
    given_on: Day
    method: Literal["signed", "email", "message", "in person"]
    asked_by: Key
    """Stylist who asked her."""
    wording: Key
    """Which text she agreed to."""
    expires_on: Day
    """The last day on which this yes holds."""
    photos: tuple[Key, ...]
    """Photos she agreed to for this edition; a new photo is not covered by an old yes."""
    capacity: Literal["self", "guardian"] = "self"
    """Who said yes: she, or her guardian."""
    has_seen: Truth = False
    """Whether she saw what will be shown."""
    told_copies_cannot_be_recalled: Truth = False
    told_limits_of_anonymity: Truth = False
    health: Truth = False
    """Whether facts about health may be shown, asked apart."""


class Withdrawal(Part):
    on: Day
    """The day she said so."""
    edition: Audience | None = None
    """Left out: every edition."""
    photo: Key | None = None
    """Left out: all of the edition."""
    received_by: Key
    """Stylist who heard it."""


class Consent(Part):
    wordings: tuple[Wording, ...]
    grants: tuple[Grant, ...] = ()
    withdrawals: tuple[Withdrawal, ...] = ()
