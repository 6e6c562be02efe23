"""Whether days follow each other as days do."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from journey.record.draft import Doubt, Draft, Route


def entries_in_order(draft: Draft) -> Iterator[Doubt]:
    """Visits, and check-ins, stand in the order in which they happened."""
    days: list[tuple[Route, date]] = [(route, entry.date) for route, entry in draft.entries()]
    for (before, earlier), (after, later) in pairwise(days):
        if before[0] == after[0] and later < earlier:
            what = (
                f"{later} lies before the entry above it, {earlier}; put the entries in order of their days"
            )
            yield Doubt(draft.journey, (*after, "date"), what)


def tests_before_visits(draft: Draft) -> Iterator[Doubt]:
    """A patch or strand test cannot have been made after the visit that relies on it."""
    for route, visit in draft.visits():
        for place, test in enumerate(visit.tests):
            if test.on > visit.date:
                what = f"the {test.kind} test of {test.on} comes after the visit of {visit.date}"
                yield Doubt(draft.journey, (*route, "tests", place, "on"), what, "the day it was made")


def consent_in_order(draft: Draft) -> Iterator[Doubt]:
    """A yes ends after it was given, and can only be taken back once given."""
    for route, grant in draft.grants():
        if grant.expires_on <= grant.given_on:
            what = f"it ends on {grant.expires_on}, not after it was given on {grant.given_on}"
            yield Doubt(draft.consent, (*route, "expires_on"), what, "a later day")
    given = [grant.given_on for _, grant in draft.grants()]
    for route, withdrawal in draft.withdrawals():
        if given and withdrawal.on < min(given):
            what = f"nothing had been granted yet on {withdrawal.on}"
            yield Doubt(draft.consent, (*route, "on"), what, f"a day from {min(given)} on")
