"""sign-off.jsonl: who vouched for what leaves with an edition, and when. Lines are added, never changed.

One line for each item, as `journey vouch` writes it. Whether the items signed here are the ones that would leave
today is left to `journey.edition.sign_off`. Lines go in one case alone: a photo was taken back, and what it
looked like from afar must not stay either.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from datetime import date
from pathlib import Path
from typing import Annotated, Final, Literal

from pydantic import BaseModel, ConfigDict, Field

from journey.errors import FolderProblems, Problem
from journey.record.line_file import add_lines, read_lines, replace_lines
from journey.record.parts import Audience

SIGN_OFF_FILE: Final = "sign-off.jsonl"
_WRITTEN_BY: Final = "journey vouch"


class SignOff(BaseModel):
    """One item, vouched for by one person on one day."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    edition: Audience
    kind: Literal["photo", "text", "values"]
    name: Annotated[str, Field(min_length=1, max_length=200)]
    """Where it stands in the record; of a photo 'KEY/PART'."""
    sha256: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    """Of what leaves."""
    look: Annotated[str, Field(pattern="^([0-9a-f]{384})?$")] = ""
    """Of a photo: what it looks like from afar, to know the written file by."""
    by: Annotated[str, Field(pattern="^[a-z][a-z0-9]*(-[a-z0-9]+)*$")]
    """Key of the stylist who looked."""
    on: date
    sheet: Annotated[str, Field(pattern="^[b-t]{4}(-[b-t]{4}){4}$")]
    """Code of the contact sheet that was looked at."""


def read_sign_offs(folder: Path, stylists: Collection[str]) -> tuple[SignOff, ...]:
    """Every sign-off of a folder, in the order given; none when there is no such file.

    Raises:
        FolderProblems: with every line that is not one, or was given by nobody who works here.
    """
    found = read_lines(folder, SIGN_OFF_FILE, SignOff, written_by=_WRITTEN_BY)
    problems = [
        Problem(SIGN_OFF_FILE, number, "", f"there is no stylist {one.by!r}")
        for number, one in enumerate(found, 1)
        if one.by not in stylists
    ]
    if problems:
        raise FolderProblems(problems)
    return found


def add_sign_offs(folder: Path, sign_offs: Iterable[SignOff]) -> None:
    """Add lines at the end. Raises FileRefusedError when the file is not a plain one of its own."""
    add_lines(folder, SIGN_OFF_FILE, sign_offs)


def forget_photos(folder: Path, edition: Audience, photos: Collection[str]) -> None:
    """Drop the lines of these photos for one edition: they were taken back."""
    found = read_lines(folder, SIGN_OFF_FILE, SignOff, written_by=_WRITTEN_BY)
    kept = [
        one
        for one in found
        if one.edition is not edition or one.kind != "photo" or one.name.partition("/")[0] not in photos
    ]
    if len(kept) < len(found):
        replace_lines(folder, SIGN_OFF_FILE, kept)
