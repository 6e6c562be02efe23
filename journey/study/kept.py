"""A study kept from last time, as long as nothing it was computed from has changed.

It decides which remarks no computation needs: they are taken out before anything is computed, so that a study
cannot depend on them, and editing one leaves it as it was.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Final

from journey.cache import key_of
from journey.record.intake import PhotoFolder
from journey.record.model import CheckIn, Consent, Photo, Record, Visit
from journey.record.parts import texts_of
from journey.study.assemble import study_record
from journey.study.model import Study
from journey.study.reading_photos import REMARKS_ON_A_PHOTO
from journey.workshop import Kept, Workshop

_NOBODYS: Final = Consent(wordings=())
_OF_A_JOURNEY: Final = {"title": "", "goal": None, "summary": None, "teaching": (), "allowed_sentences": ()}
_OF_AN_ENTRY: Final = {"words": None, "class_note": None, "private_note": None}
_OF_AN_OPTION: Final = {"title": "", "words": "", "know_first": None}


def study_or_kept(
    record: Record,
    photographs: PhotoFolder,
    *,
    as_of: date,
    progress: Callable[[str], None] = lambda _: None,
    workshop: Workshop | None = None,
) -> Study:
    """As `study_record`, of the record without remarks; kept under the record and the content of its photos.

    Private values say '<private>' in the key: nothing is computed from them.
    """
    bare = without_remarks(record)

    def study(of: Record) -> Study:
        return study_record(of, photographs, as_of=as_of, progress=progress, workshop=workshop)

    sources = tuple(photographs.facts(photo.file).sha256 for photo in record.journey.photos)
    if workshop is None or workshop.cache is None or not sources:
        # Without photos it could not be found again when she takes her consent back.
        return study(bare)
    key = key_of("study", repr(bare), str(as_of), *sources)
    return workshop.once(study, bare, Kept(key, sources, tuple(texts_of(bare))))


def without_remarks(record: Record) -> Record:
    """The record without remarks on it, without who is in its photos and who may see them."""
    journey = record.journey
    changed = {
        **_OF_A_JOURNEY,
        "visits": tuple(_entry_without(one) for one in journey.visits),
        "check_ins": tuple(_entry_without(one) for one in journey.check_ins),
        "options": tuple(one.model_copy(update=_OF_AN_OPTION) for one in journey.options),
    }
    return record.model_copy(update={"journey": journey.model_copy(update=changed), "consent": _NOBODYS})


def _entry_without(entry: Visit | CheckIn) -> Visit | CheckIn:
    said = {name: value for name, value in _OF_AN_ENTRY.items() if name in type(entry).model_fields}
    return entry.model_copy(update={**said, "photos": tuple(map(_photo_without, entry.photos))})


def _photo_without(photo: Photo) -> Photo:
    return photo.model_copy(update=REMARKS_ON_A_PHOTO)
