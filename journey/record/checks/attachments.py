"""Whether the photos and wordings that are named lie in the folder, safely, as they were."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterator
from unicodedata import normalize

from journey.record.draft import Doubt, Draft
from journey.record.safe_files import (
    FileRefusedError,
    MissingFileError,
    NotAFileError,
    ascii_name,
    names_inside,
    open_inside,
)


def photo_files_are_there(draft: Draft) -> Iterator[Doubt]:
    """Each photo is a plain file in photos/. What it shows is left to the photograph intake.

    One that was taken back from every edition may be deleted; its lines stay, for the proof.
    """
    may_be_gone = {
        one.photo for _, one in draft.withdrawals() if one.edition is None and one.person is None and one.photo
    }
    for route, photo in draft.photos():
        try:
            os.close(open_inside(draft.folder, f"photos/{photo.file}"))
        except MissingFileError as missing:
            if photo.key not in may_be_gone:
                what = f"photos/{ascii_name(photo.file)}: {missing.what}; {missing.remedy}"
                yield Doubt(draft.journey, (*route, "file"), what)
        except FileRefusedError as refused:
            what = f"photos/{ascii_name(photo.file)}: {refused.what}; {refused.remedy}"
            yield Doubt(draft.journey, (*route, "file"), what)


def photo_folder_is_portable(draft: Draft) -> Iterator[Doubt]:
    """No name in photos/, used or not, deceives, or is that of its neighbour on another system."""
    named = {photo.file: (*route, "file") for route, photo in draft.photos()}
    if draft.journey.kept is None or len({_folded(name) for name in named}) < len(named):
        return  # nothing to point at, or told of each of them below
    try:
        names_inside(draft.folder, "photos")
    except (MissingFileError, NotAFileError):
        return  # a photo that is named and not there is told at its line
    except FileRefusedError as refused:
        place = "photos" if refused.name == "photos" else f"photos/{ascii_name(refused.name)}"
        what = f"{place}: {refused.what}; {refused.remedy}"
        yield Doubt(draft.journey, named.get(refused.name, ()), what)


def photo_files_are_used_once(draft: Draft) -> Iterator[Doubt]:
    """Two photos are two files, also where capitals and accents are not told apart."""
    seen: dict[str, str] = {}
    for route, photo in draft.photos():
        folded = _folded(photo.file)
        if folded in seen:
            what = f"{photo.file!r} is the file of photo {seen[folded]!r}, or one that computers mix up"
            yield Doubt(draft.journey, (*route, "file"), what)
        seen.setdefault(folded, photo.key)


def wordings_are_unchanged(draft: Draft) -> Iterator[Doubt]:
    """The text she agreed to is still the text she agreed to."""
    for place, wording in enumerate(draft.consent.value.wordings if draft.consent.value is not None else ()):
        try:
            found = hashlib.sha256(draft.notes.content(wording.note)).hexdigest()
        except ValueError as refused:
            yield Doubt(draft.consent, ("wordings", place, "note"), str(refused))
            continue
        if found != wording.sha256:
            what = f"{wording.note} is not the text of this hash any more; its hash is now {found}"
            yield Doubt(
                draft.consent, ("wordings", place, "sha256"), what, "a new wording beside the old one"
            )


def _folded(name: str) -> str:
    return normalize("NFC", normalize("NFC", name).casefold())
