"""consent.yaml: who agreed to what, in which words, until when, and what was taken back.

Three kinds of people may have a say in one photo: the client, whoever else is in it, and whoever took it.
Whether what is written here suffices for an edition is left to `journey.edition.consent`.
"""

from __future__ import annotations

from typing import Literal

from journey.record.fields import Day, Key, NoteName, PrivateText, Sha256, ShortText, Truth
from journey.record.parts import Audience, Part

HERSELF = "client"
"""Photographer of a photo she took of herself."""


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
    evidence: Sha256 | None = None
    """Hash of the signed paper's scan, or of the message; the file itself is kept elsewhere."""
    asked_by: Key
    """Stylist who asked."""
    wording: Key
    """Which text was agreed to."""
    expires_on: Day
    """The last day on which this yes holds."""
    photos: tuple[Key, ...]
    """Photos agreed to for this edition; a new photo is not covered by an old yes."""
    capacity: Literal["self", "guardian"] = "self"
    """Who said yes: the person, or a guardian."""
    guardian: PrivateText | None = None
    """Name of the guardian who said yes."""
    guardian_is: ShortText | None = None
    """What makes them the guardian: mother, father, appointed by a court."""
    has_seen: Truth = False
    """Whether what will be shown was seen."""
    seen_sheet: Key | None = None
    """Code on the contact sheet that was seen: 'journey disclose' prints it."""
    told_copies_cannot_be_recalled: Truth = False
    told_limits_of_anonymity: Truth = False
    health: Truth = False
    """Whether facts about health may be shown, asked apart."""


class OtherPerson(Part):
    """Somebody else who is in a photo: in the mirror, holding a lock, behind the chair."""

    key: Key
    name: PrivateText
    minor: Truth = False
    """Under age: a guardian has to say yes."""
    grants: tuple[Grant, ...] = ()
    """Their own yes; hers does not stand for them."""


class Photographer(Part):
    """Somebody who took photos and does not work here: copyright is apart from consent."""

    key: Key
    name: PrivateText
    licence: ShortText
    """What was agreed: 'may be shown in lessons, no name asked for'."""
    editions: tuple[Audience, ...]
    """Editions it allows."""
    granted_on: Day
    expires_on: Day | None = None
    """Left out: for good."""


class Withdrawal(Part):
    on: Day
    """The day it was said."""
    edition: Audience | None = None
    """Left out: every edition."""
    photo: Key | None = None
    """Left out: all of the edition."""
    person: Key | None = None
    """Which other person took it back; left out: she herself, or her guardian."""
    received_by: Key
    """Stylist who heard it."""


class Recipient(Part):
    """Somebody who was given a copy or the link, to be told should it be taken back."""

    edition: Audience
    who: PrivateText
    """'evening course, eleven students', and how to reach them."""
    on: Day
    """The day it was given."""


class Consent(Part):
    wordings: tuple[Wording, ...]
    grants: tuple[Grant, ...] = ()
    """Hers."""
    other_people: tuple[OtherPerson, ...] = ()
    photographers: tuple[Photographer, ...] = ()
    recipients: tuple[Recipient, ...] = ()
    withdrawals: tuple[Withdrawal, ...] = ()
