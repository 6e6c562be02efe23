"""Whether everybody but the client who has a say in a photo agrees that an edition shows it.

It decides for others in the picture, and for whoever took it. Covered or not, who is in a photo is asked: a
cover is not anonymity.
"""

from __future__ import annotations

from datetime import date

from journey.record.model import HERSELF, Audience, Consent, OtherPerson, Photo, Photographer


def others_refusal(consent: Consent, photo: Photo, audience: Audience, today: date) -> str | None:
    """Who has not agreed that this edition shows this photo: the key of the first; None when all have."""
    people = {person.key: person for person in consent.other_people}
    takers = {taker.key: taker for taker in consent.photographers}
    for key in photo.people:
        if key not in people or not _agrees(consent, people[key], photo, audience, today):
            return key
    taker = photo.photographer
    if taker is not None and taker != HERSELF and not _licensed(takers.get(taker), audience, today):
        return taker
    if taker is None and photo.moment == "home" and audience is Audience.CLASS:
        # Nobody who works here was there.
        return HERSELF
    return None


def _agrees(consent: Consent, person: OtherPerson, photo: Photo, audience: Audience, today: date) -> bool:
    """A yes of their own that holds today, given to this photo, and not taken back since."""
    grants = [
        grant
        for grant in person.grants
        if grant.edition is audience
        and photo.key in grant.photos
        and grant.given_on <= today <= grant.expires_on
        and (grant.capacity == "guardian") >= person.minor
    ]
    if audience is Audience.CLASS:
        grants = [one for one in grants if one.told_copies_cannot_be_recalled and one.told_limits_of_anonymity]
    if not grants:
        return False
    latest = max(grant.given_on for grant in grants)
    return not any(
        withdrawal.person == person.key
        and withdrawal.edition in (None, audience)
        and withdrawal.photo in (None, photo.key)
        and latest <= withdrawal.on <= today
        for withdrawal in consent.withdrawals
    )


def _licensed(taker: Photographer | None, audience: Audience, today: date) -> bool:
    return (
        taker is not None
        and audience in taker.editions
        and taker.granted_on <= today
        and (taker.expires_on is None or today <= taker.expires_on)
    )
