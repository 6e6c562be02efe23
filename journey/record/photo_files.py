"""The files in photos/ against what journey.yaml says of them.

It decides how a photo that can not be let in is told: with the line that names it, and all of them at once. It
also knows which files no line names; these are never opened. What is let in stands in `photograph_intake`.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from journey.errors import FolderProblems, Problem
from journey.record.intake import PhotoFolder
from journey.record.lines import lines_of
from journey.record.model import Record
from journey.record.photograph_intake import PhotographRefusedError, take_in
from journey.record.safe_files import FileRefusedError, MissingFileError, NotAFileError, ascii_name, names_inside

FOLDER = "photos"
_NAMED_IN = "journey.yaml"


def photo_places(record: Record) -> dict[str, str]:
    """Where each photo's file is named, by file: {'back.jpg': 'visits[1].photos[2].file'}."""
    visits = [(f"visits[{place}]", one.photos) for place, one in enumerate(record.journey.visits, 1)]
    between = [(f"check_ins[{place}]", one.photos) for place, one in enumerate(record.journey.check_ins, 1)]
    return {
        photo.file: f"{entry}.photos[{place}].file"
        for entry, photos in (*visits, *between)
        for place, photo in enumerate(photos, 1)
    }


def photo_hashes(record: Record, photographs: PhotoFolder) -> dict[str, str]:
    """SHA-256 of each photo's file, by the photo's key."""
    return {photo.key: photographs.facts(photo.file).sha256 for photo in record.journey.photos}


def refuse_bad_headers(record: Record, folder: Path, photographs: PhotoFolder) -> None:
    """Look at the header of every photo. Raises FolderProblems with each that can not be let in."""
    refused = [one for file in photo_places(record) if (one := _refusal(photographs, file)) is not None]
    if refused:
        raise FolderProblems(_told(record, folder, refused))


@contextmanager
def damage_told(record: Record, folder: Path) -> Iterator[None]:
    """A photo that turns out damaged inside becomes FolderProblems, with every other that is.

    Pixels are decoded where somebody asks for them; only once one is refused are all of them proved.
    """
    try:
        yield
    except PhotographRefusedError as first:
        refused = [one for file in photo_places(record) if (one := _damage(folder, file)) is not None]
        raise FolderProblems(_told(record, folder, refused or [first])) from first


def unnamed_photos(record: Record, folder: Path) -> tuple[str, ...]:
    """Names in photos/ that no line names, in order; those that begin with a dot are a system's own."""
    try:
        names = names_inside(folder, FOLDER)
    except (MissingFileError, NotAFileError):
        return ()
    named = photo_places(record)
    return tuple(name for name in names if name not in named and not name.startswith("."))


def _refusal(photographs: PhotoFolder, file: str) -> FileRefusedError | None:
    try:
        photographs.facts(file)
    except FileRefusedError as refused:
        return refused
    return None


def _damage(folder: Path, file: str) -> FileRefusedError | None:
    try:
        take_in(folder / FOLDER, file)
    except FileRefusedError as refused:
        return refused
    return None


def _told(record: Record, folder: Path, refused: list[FileRefusedError]) -> Iterator[Problem]:
    places, lines = photo_places(record), lines_of(folder, _NAMED_IN)
    for one in refused:
        place = places.get(one.name, "")
        what = f"{FOLDER}/{ascii_name(one.name)}: {one.what}; {one.remedy}"
        yield Problem(_NAMED_IN, lines.get(place, 0), place, what)
