"""No edition without a yes that holds today, and no photo against the will of anybody who has a say in it."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache
from typing import Any

import pytest

from journey.edition.consent import Permission, Refusal, age_on, ask_consent
from journey.record.model import Audience, Consent, Grant, Health, Record, Withdrawal
from journey.record.private import Private
from journey.record.reader import read_record
from tests.demo import DEMO, TODAY

SHEET = "bcdf-ghjk-lmnp-qrst-bcdf"


@cache
def demo() -> Record:
    return read_record(DEMO)


def with_grant(audience: Audience, **changes: Any) -> Record:
    """The demo with some fields of her grant for one edition changed."""
    consent = demo().consent
    grants = tuple(
        grant.model_copy(update=changes) if grant.edition is audience else grant for grant in consent.grants
    )
    return with_consent(grants=grants)


def with_consent(**changes: Any) -> Record:
    return demo().model_copy(update={"consent": demo().consent.model_copy(update=changes)})


def reasons(record: Record, audience: Audience, today: date = TODAY, **asked: Any) -> str:
    answer = ask_consent(record, audience, today, **asked)
    assert isinstance(answer, Refusal), "it was permitted"
    return "\n".join(answer.reasons)


def permitted(record: Record, audience: Audience, today: date = TODAY) -> Permission:
    answer = ask_consent(record, audience, today)
    assert isinstance(answer, Permission), answer
    return answer


def class_grant() -> Grant:
    return next(grant for grant in demo().consent.grants if grant.edition is Audience.CLASS)


@pytest.mark.parametrize("audience", list(Audience))
def test_each_edition_needs_its_own_yes(audience: Audience) -> None:
    """Two grants do not make a third; nothing is granted before the day it was given or after it ended."""
    others = tuple(grant for grant in demo().consent.grants if grant.edition is not audience)
    assert "no grant" in reasons(with_consent(grants=others), audience)
    assert "no grant" in reasons(demo(), audience, TODAY - timedelta(days=1))
    last = date(2046, 6, 30)
    assert permitted(demo(), audience, last)
    assert "ended" in reasons(demo(), audience, last + timedelta(days=1))


@pytest.mark.parametrize("missing", ["has_seen", "told_copies_cannot_be_recalled", "told_limits_of_anonymity"])
def test_a_class_needs_her_to_have_seen_it_and_been_told(missing: str) -> None:
    """Each on its own stops the class edition, and none of them the others; all of them may lack to look."""
    changed = with_grant(Audience.CLASS, **{missing: False})
    assert missing in reasons(changed, Audience.CLASS)
    assert isinstance(ask_consent(changed, Audience.CLASS, TODAY, to_look_only=True), Permission)
    assert permitted(with_grant(Audience.CLIENT, **{missing: False}), Audience.CLIENT)


def test_what_she_saw_is_a_sheet_somebody_vouched_for() -> None:
    """Without a code, or with one nobody vouched for, the class edition is not made."""
    assert "seen_sheet" in reasons(with_grant(Audience.CLASS, seen_sheet=None), Audience.CLASS, sheets=[SHEET])
    seen = with_grant(Audience.CLASS, seen_sheet=SHEET)
    assert "vouched" in reasons(seen, Audience.CLASS, sheets=["bcdf-bcdf-bcdf-bcdf-bcdg"])
    assert isinstance(ask_consent(seen, Audience.CLASS, TODAY, sheets=[SHEET]), Permission)


def test_under_age_a_guardian_says_yes_and_later_only_she_does() -> None:
    """By birthday: the day before her eighteenth a guardian has to, from that day on a guardian can not."""
    young = demo().model_copy(
        update={"identity": demo().identity.model_copy(update={"born": Private("2008-06-14")})}
    )
    assert age_on("2008-06-14", TODAY) == 17
    assert "guardian" in reasons(young, Audience.CLIENT)
    guarded = tuple(g.model_copy(update={"capacity": "guardian"}) for g in demo().consent.grants)
    hers = young.model_copy(update={"consent": demo().consent.model_copy(update={"grants": guarded})})
    assert permitted(hers, Audience.CLIENT)
    assert "no longer holds" in reasons(hers, Audience.CLIENT, TODAY + timedelta(days=1))


def test_without_a_birthday_her_age_as_told_decides() -> None:
    """A told age of 17 asks for a guardian as well."""
    told = demo().journey.model_copy(update={"health": Health(age=17)})
    record = demo().model_copy(
        update={"journey": told, "identity": demo().identity.model_copy(update={"born": None})}
    )
    assert "under 18" in reasons(record, Audience.ARCHIVE)


def test_a_photo_taken_back_goes_and_a_later_yes_brings_it_again() -> None:
    """For the edition named or for all; never for another one."""
    taken = Withdrawal(on=TODAY, edition=None, photo="violet-back-after", received_by="ilse")
    record = with_consent(withdrawals=(taken,))
    for audience in Audience:
        assert "violet-back-after" not in permitted(record, audience).photos
    only = with_consent(withdrawals=(taken.model_copy(update={"edition": Audience.CLASS}),))
    assert "violet-back-after" not in permitted(only, Audience.CLASS).photos
    assert "violet-back-after" in permitted(only, Audience.CLIENT).photos
    later = class_grant().model_copy(update={"given_on": TODAY + timedelta(days=3)})
    again = record.consent.model_copy(update={"grants": (*record.consent.grants, later)})
    after = permitted(record.model_copy(update={"consent": again}), Audience.CLASS, TODAY + timedelta(days=3))
    assert "violet-back-after" in after.photos


@pytest.mark.parametrize(
    ("photo", "audience", "shown"),
    [
        ("violet-lock-after", Audience.CLASS, True),
        ("consultation-mirror-before", Audience.ARCHIVE, True),
        ("home-two-back", Audience.CLASS, True),
        ("home-one-back", Audience.CLASS, True),
    ],
)
def test_others_have_agreed_where_the_demo_shows_them(photo: str, audience: Audience, shown: bool) -> None:
    """The apprentice's hand, the niece in the mirror, her mother's photo, her own one."""
    assert (photo in permitted(demo(), audience).photos) is shown


@pytest.mark.parametrize(
    ("changes", "photo", "audience"),
    [
        ({"other_people": ()}, "violet-lock-after", Audience.CLASS),
        ({"other_people": ()}, "consultation-mirror-before", Audience.ARCHIVE),
        ({"photographers": ()}, "home-two-back", Audience.CLIENT),
    ],
)
def test_without_their_own_yes_the_photo_is_not_shown(
    changes: dict[str, Any], photo: str, audience: Audience
) -> None:
    """Hers does not stand for others in the photo, nor for whoever took it; the ledger says whose it was."""
    permission = permitted(with_consent(**changes), audience)
    assert photo not in permission.photos
    assert photo in permission.others_say_no


def _apprentice(**changes: Any) -> Consent:
    consent = demo().consent
    people = []
    for person in consent.other_people:
        if person.key == "apprentice":
            grants = tuple(grant.model_copy(update=changes) for grant in person.grants)
            people.append(person.model_copy(update={"grants": grants}))
        else:
            people.append(person)
    return consent.model_copy(update={"other_people": tuple(people)})


@pytest.mark.parametrize(
    "changes",
    [
        {"photos": ("measuring-profile-after",)},
        {"expires_on": TODAY - timedelta(days=1)},
        {"given_on": TODAY + timedelta(days=1)},
        {"edition": Audience.ARCHIVE},
        {"told_limits_of_anonymity": False},
        {"told_copies_cannot_be_recalled": False},
    ],
    ids=lambda changes: next(iter(changes)),
)
def test_the_yes_of_another_is_judged_like_hers(changes: dict[str, Any]) -> None:
    """Photo by photo, edition by edition, in its time, and told what a class means."""
    record = demo().model_copy(update={"consent": _apprentice(**changes)})
    assert "violet-lock-after" in permitted(record, Audience.CLASS).others_say_no


def test_another_can_take_their_yes_back() -> None:
    """The apprentice's withdrawal takes out the one photo, and leaves hers as granted in the ledger."""
    taken = Withdrawal(
        on=TODAY, edition=Audience.CLASS, photo="violet-lock-after", person="apprentice", received_by="ilse"
    )
    permission = permitted(with_consent(withdrawals=(taken,)), Audience.CLASS)
    assert "violet-lock-after" in permission.others_say_no
    assert "violet-lock-after" not in permission.withdrawn_photos
    assert "violet-lock-after" in permitted(with_consent(withdrawals=(taken,)), Audience.CLIENT).photos


def test_a_niece_under_age_needs_her_guardian() -> None:
    """A yes in her own name does not count, whatever wrote it."""
    niece = demo().consent.other_people[0]
    alone = tuple(grant.model_copy(update={"capacity": "self"}) for grant in niece.grants)
    people = (niece.model_copy(update={"grants": alone}), *demo().consent.other_people[1:])
    permission = permitted(with_consent(other_people=people), Audience.ARCHIVE)
    assert "consultation-mirror-before" in permission.others_say_no


@pytest.mark.parametrize(
    "changes",
    [
        {"editions": (Audience.CLIENT,)},
        {"expires_on": TODAY - timedelta(days=1)},
        {"granted_on": TODAY + timedelta(days=1)},
    ],
    ids=lambda changes: next(iter(changes)),
)
def test_a_photographers_licence_is_for_editions_and_a_time(changes: dict[str, Any]) -> None:
    """Another edition, ended, or not yet given: the photo stays out of the class."""
    mother = demo().consent.photographers[0].model_copy(update=changes)
    permission = permitted(with_consent(photographers=(mother,)), Audience.CLASS)
    assert "home-two-back" in permission.others_say_no


def test_a_photo_from_home_says_who_took_it_before_a_class_sees_it() -> None:
    """Nobody of the salon was there; her own page may show it."""
    journey = demo().journey
    check_ins = tuple(
        one.model_copy(update={"photos": tuple(p.model_copy(update={"photographer": None}) for p in one.photos)})
        for one in journey.check_ins
    )
    record = demo().model_copy(update={"journey": journey.model_copy(update={"check_ins": check_ins})})
    assert "home-one-back" in permitted(record, Audience.CLASS).others_say_no
    assert "home-one-back" in permitted(record, Audience.CLIENT).photos
