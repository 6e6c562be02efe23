"""Every class of 45 CFR 164.514(b)(2)(i) has a rule that works."""

from __future__ import annotations

import subprocess
from dataclasses import replace
from pathlib import Path

import pytest

from journey.audit.canaries import Canaries
from journey.audit.views import View
from journey.edition.identifiers import must_not_appear
from journey.edition.model import Edition
from journey.edition.text_filter import TextFilter
from journey.identifiers import IdentifierKind
from journey.pipeline import prepare
from journey.record.intake import PhotoFolder
from journey.record.model import Audience, Record
from journey.record.photograph_intake import PhotographRefusedError, photograph_from
from journey.record.private import reveal
from journey.site.theme import load_theme
from tests.demo import TODAY, studied_demo
from tests.persona import IDENTIFIERS, NEUTRAL_WORDS
from tests.safe_harbor import CLASSES, HarborClass

PLANTED = [(one, text) for one in CLASSES for text in one.planted]
CLEANER = TextFilter(IDENTIFIERS, NEUTRAL_WORDS)
CANARIES = Canaries(IDENTIFIERS)


def test_all_eighteen_classes_have_something_planted_or_a_proof() -> None:
    """A to R, each with a rule in words; a proof that is named is a test of this module."""
    assert "".join(one.letter for one in CLASSES) == "ABCDEFGHIJKLMNOPQR"
    assert all(one.rule and (one.planted or one.proof) for one in CLASSES)
    assert all(one.proof in globals() for one in CLASSES if one.proof)


@pytest.mark.parametrize(("harbor", "text"), PLANTED, ids=[f"{one.letter}-{text}" for one, text in PLANTED])
def test_a_planted_text_is_cleaned_by_the_filter_and_refused_by_the_audit(
    harbor: HarborClass, text: str
) -> None:
    """What the filter leaves passes the audit; what was planted does not."""
    assert list(CANARIES.hits(View("text", text)))
    cleaned = CLEANER.clean(text).text
    assert cleaned != text
    assert not list(CANARIES.hits(View("text", cleaned)))


def test_published_pixels_carry_no_serial_number(tmp_path: Path) -> None:
    """exiftool finds a serial number in the demo's source and none in what is made of it."""
    photos = studied_demo().folder / "photos"
    name = "maribel-2026-03-07-threequarter-after.jpg"
    with PhotoFolder(photos).opened(name) as photo:
        made = tmp_path / "p01.jpg"
        photo.srgb_image(at_least=320).save(made)
    assert "Serial" in _exiftool(photos / name)
    assert "Serial" not in _exiftool(made)


def _exiftool(path: Path) -> str:
    return subprocess.run(["exiftool", "-a", str(path)], capture_output=True, text=True, check=True).stdout


def test_only_pictures_are_taken_in() -> None:
    """A voice or a fingerprint template is no picture, whatever it is called."""
    for data in (b"RIFF\x24\x00\x00\x00WAVEfmt " + bytes(40), b"FMR\x00 20\x00" + bytes(60)):
        with pytest.raises(PhotographRefusedError):
            photograph_from(data, "voice.jpg")


def _class_edition(record: Record) -> Edition:
    made = prepare(
        replace(studied_demo(), record=record),
        Audience.CLASS,
        today=TODAY,
        theme=load_theme(),
        to_look_only=True,
    )
    assert isinstance(made, Edition)
    return made


def _with_photo(record: Record, key: str, **changes: object) -> Record:
    visits = tuple(
        visit.model_copy(
            update={
                "photos": tuple(
                    photo.model_copy(update=changes) if photo.key == key else photo for photo in visit.photos
                )
            }
        )
        for visit in record.journey.visits
    )
    return record.model_copy(update={"journey": record.journey.model_copy(update={"visits": visits})})


def _shown(edition: Edition, key: str) -> bool:
    return any(item.picture is not None and key in item.name for item in edition.leaving)


def test_a_photo_nobody_looked_at_stays_out() -> None:
    """Neither said to be without a face nor covered: not in the class edition."""
    record, key = studied_demo().record, "coral-rose-back-after"
    assert _shown(_class_edition(record), key)
    assert not _shown(_class_edition(_with_photo(record, key, no_face=False, covers=())), key)


def test_a_photo_of_a_rare_trait_stays_out_until_somebody_decides() -> None:
    """No part of it goes; the same photo goes when it shows nothing rare."""
    record, key = studied_demo().record, "coral-rose-back-after"
    assert _shown(_class_edition(record), key)
    assert not _shown(_class_edition(_with_photo(record, key, shows=("swallow",))), key)


def test_a_rare_trait_is_said_only_where_somebody_decided() -> None:
    """Hidden words are among what must not appear for a class, and not for the client whose trait it is."""
    record = studied_demo().record
    words = {reveal(word, because="a test") for trait in record.identity.rare_traits for word in trait.says}
    for audience, hidden in ((Audience.CLASS, True), (Audience.CLIENT, False)):
        kept = {one.value for one in must_not_appear(record, audience) if one.kind is IdentifierKind.TRAIT}
        assert kept == (words if hidden else set())
