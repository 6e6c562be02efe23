"""Whether those who said yes, or took a photo, are told apart as they must be."""

from __future__ import annotations

from collections.abc import Iterator

from journey.record.draft import Doubt, Draft
from journey.record.model import HERSELF


def guardians_are_named(draft: Draft) -> Iterator[Doubt]:
    """A yes by a guardian says who that is and by what right; a yes of one's own has no guardian."""
    for route, grant in draft.grants():
        told = (grant.guardian is not None, grant.guardian_is is not None)
        if grant.capacity == "guardian" and not all(told):
            what = "a guardian said yes and is not named"
            yield Doubt(draft.consent, (*route, "capacity"), what, "guardian and guardian_is as well")
        if grant.capacity == "self" and any(told):
            what = "a guardian is named and did not say yes"
            yield Doubt(draft.consent, (*route,), what, "'capacity: guardian', or leave the guardian out")


def minors_have_guardians(draft: Draft) -> Iterator[Doubt]:
    """Nobody under age says yes alone."""
    for route, person in draft.other_people():
        for place, grant in enumerate(person.grants):
            if person.minor and grant.capacity != "guardian":
                what = f"{person.key} is under age"
                yield Doubt(draft.consent, (*route, "grants", place), what, "'capacity: guardian' and who that is")


def photographers_are_others(draft: Draft) -> Iterator[Doubt]:
    """The word for a photo she took herself can not name somebody else."""
    for route, one in draft.photographers():
        if one.key == HERSELF:
            what = f"{HERSELF!r} stands for herself"
            yield Doubt(draft.consent, (*route, "key"), what, "another key")
