"""The gate before every edition: no consent on record, nothing is made, and it says what is missing.

It decides from the written record alone; whether what was written is true stays with the people who wrote
it. Hers is asked for here, and put together with that of others who have a say in a photo
(`journey.edition.photo_consent`). Anchors: GDPR Art. 7 (provable, separate, as easy to withdraw as to give)
and Art. 9 (health), and the recommendation of the ICMJE that the person has seen what will be shown. Not
legal advice.
"""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date

from journey.edition.photo_consent import others_refusal
from journey.record.model import Audience, Consent, Grant, Identity, Record
from journey.record.private import reveal

ADULT_AGE = 18


@dataclass(frozen=True, slots=True)
class Permission:
    """What she agreed to for one edition, as of a day."""

    audience: Audience
    grant: Grant
    photos: frozenset[str]
    """Keys of photos that may be shown: granted, not withdrawn, and agreed to by all who have a say."""
    withdrawn_photos: frozenset[str]
    others_say_no: frozenset[str]
    """Photos she granted that somebody else in them, or whoever took them, has not."""
    health: bool


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why an edition is not made: one sentence each, saying what to do."""

    audience: Audience
    reasons: tuple[str, ...]


def ask_consent(
    record: Record,
    audience: Audience,
    today: date,
    *,
    sheets: Collection[str] | None = None,
    to_look_only: bool = False,
) -> Permission | Refusal:
    """Permission for `audience` on `today`, or every reason against it at once.

    Args:
        record: the folder.
        audience: whom the edition is for.
        today: the day it is asked for.
        sheets: codes of contact sheets that somebody vouched for: what she saw must be one of them;
            None when that is not asked.
        to_look_only: for the contact sheet itself, which she has to see before she can have seen it.
    """
    consent = record.consent
    grants = [grant for grant in consent.grants if grant.edition is audience and grant.given_on <= today]
    if not grants:
        return Refusal(
            audience,
            (
                f"consent.yaml holds no grant for the {audience} edition given by {today}; "
                "ask her, then add one under grants",
            ),
        )
    grant = max(grants, key=lambda one: one.given_on)
    reasons = [*_no_longer(consent, grant, today), *_minor(record, grant, today)]
    if audience is Audience.CLASS and not to_look_only:
        reasons += _not_told(grant)
        reasons += _not_seen(grant, sheets) if sheets is not None else []
    if reasons:
        return Refusal(audience, tuple(reasons))
    withdrawn = frozenset(
        withdrawal.photo
        for withdrawal in consent.withdrawals
        if withdrawal.photo is not None
        and withdrawal.person is None
        and withdrawal.on <= today
        and withdrawal.edition in (None, audience)
        and withdrawal.on >= grant.given_on
    )
    granted = frozenset(grant.photos) - withdrawn
    refused = frozenset(
        photo.key
        for photo in record.journey.photos
        if photo.key in granted and others_refusal(consent, photo, audience, today) is not None
    )
    return Permission(audience, grant, granted - refused, withdrawn, refused, grant.health)


def age_on(born: str, day: date) -> int:
    """Whole years between a birthday ('1991-03-14') and a day.

    >>> age_on("2008-11-25", date(2026, 11, 24)), age_on("2008-11-25", date(2026, 11, 25))
    (17, 18)
    """
    birth = date.fromisoformat(born)
    return day.year - birth.year - ((day.month, day.day) < (birth.month, birth.day))


def _no_longer(consent: Consent, grant: Grant, today: date) -> list[str]:
    """Expired, or taken back."""
    reasons = []
    if grant.expires_on < today:
        reasons.append(
            f"her consent to the {grant.edition} edition ended on {grant.expires_on}; ask again, add a new grant"
        )
    for withdrawal in consent.withdrawals:
        whole = (
            withdrawal.photo is None and withdrawal.person is None and withdrawal.edition in (None, grant.edition)
        )
        if whole and grant.given_on <= withdrawal.on <= today:
            reasons.append(f"she withdrew the {grant.edition} edition on {withdrawal.on}; it stays unpublished")
    return reasons


def _minor(record: Record, grant: Grant, today: date) -> list[str]:
    """Under age a guardian says yes; of age, only she does."""
    age = _age(record.identity, record.journey.health.age, today)
    if age is None:
        return []
    if age < ADULT_AGE and grant.capacity != "guardian":
        return [f"she is under {ADULT_AGE}; the {grant.edition} edition needs a grant by a guardian"]
    if age >= ADULT_AGE and grant.capacity == "guardian" and record.identity.born is not None:
        return [f"she is {ADULT_AGE} by now: a guardian's yes no longer holds; ask her, then add a new grant"]
    return []


def _age(identity: Identity, told: int | None, today: date) -> int | None:
    """By her birthday, else as she told it."""
    if identity.born is None:
        return told
    return age_on(reveal(identity.born, because="to know whether a guardian has to say yes"), today)


def _not_told(grant: Grant) -> list[str]:
    """Given, but not the way a class needs it."""
    needed = {
        "has_seen": grant.has_seen,
        "told_copies_cannot_be_recalled": grant.told_copies_cannot_be_recalled,
        "told_limits_of_anonymity": grant.told_limits_of_anonymity,
    }
    return [
        f"the class edition needs '{key}: yes' in its grant; do it, then write it"
        for key, said in needed.items()
        if not said
    ]


def _not_seen(grant: Grant, sheets: Collection[str]) -> list[str]:
    """What she saw has to be a sheet somebody vouched for, not just anything."""
    if not grant.has_seen:
        return []
    if grant.seen_sheet is None:
        return ["the class edition needs 'seen_sheet' in its grant: the code on the contact sheet she saw"]
    if grant.seen_sheet not in sheets:
        return [
            f"nobody has vouched for the contact sheet she saw ({grant.seen_sheet}); show her the one that was, "
            "then write its code"
        ]
    return []
