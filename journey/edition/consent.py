"""The gate before every edition: no consent on record, nothing is made, and it says what is missing.

It decides from the written record alone; whether what was written is true stays with the people who wrote
it. Anchors: GDPR Art. 7 (provable, separate, as easy to withdraw as to give) and Art. 9 (health), and the
recommendation of the ICMJE that the person has seen what will be shown. Not legal advice.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from journey.record.model import Audience, Consent, Grant, Health

ADULT_AGE = 18


@dataclass(frozen=True, slots=True)
class Permission:
    """What she agreed to for one edition, as of a day."""

    audience: Audience
    grant: Grant
    photos: frozenset[str]
    """Keys of photos that may be shown: granted and not withdrawn."""
    withdrawn_photos: frozenset[str]
    health: bool


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why an edition is not made: one sentence each, saying what to do."""

    audience: Audience
    reasons: tuple[str, ...]


def ask_consent(consent: Consent, health: Health, audience: Audience, today: date) -> Permission | Refusal:
    """Permission for `audience` on `today`, or every reason against it at once."""
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
    reasons = (*_no_longer(consent, grant, today), *_not_enough(grant, health))
    if reasons:
        return Refusal(audience, reasons)
    withdrawn = frozenset(
        withdrawal.photo
        for withdrawal in consent.withdrawals
        if withdrawal.photo is not None
        and withdrawal.on <= today
        and withdrawal.edition in (None, audience)
        and withdrawal.on >= grant.given_on
    )
    return Permission(audience, grant, frozenset(grant.photos) - withdrawn, withdrawn, grant.health)


def _no_longer(consent: Consent, grant: Grant, today: date) -> tuple[str, ...]:
    """Expired, or taken back."""
    reasons = []
    if grant.expires_on < today:
        reasons.append(
            f"her consent to the {grant.edition} edition ended on {grant.expires_on}; ask again, add a new grant"
        )
    for withdrawal in consent.withdrawals:
        whole = withdrawal.photo is None and withdrawal.edition in (None, grant.edition)
        if whole and grant.given_on <= withdrawal.on <= today:
            reasons.append(
                f"she withdrew the {grant.edition} edition on {withdrawal.on}; it stays unpublished"
            )
    return tuple(reasons)


def _not_enough(grant: Grant, health: Health) -> tuple[str, ...]:
    """Given, but not the way this edition needs it."""
    reasons = []
    if health.age is not None and health.age < ADULT_AGE and grant.capacity != "guardian":
        reasons.append(f"she is under {ADULT_AGE}; the {grant.edition} edition needs a grant by a guardian")
    if grant.edition is Audience.CLASS:
        needed = {
            "has_seen": grant.has_seen,
            "told_copies_cannot_be_recalled": grant.told_copies_cannot_be_recalled,
            "told_limits_of_anonymity": grant.told_limits_of_anonymity,
        }
        reasons += [
            f"the class edition needs '{key}: yes' in its grant; do it, then write it"
            for key, said in needed.items()
            if not said
        ]
    return tuple(reasons)
