"""sign-off.jsonl: who vouched for what leaves with an edition, and when. Lines are added, never changed.

One line of JSON for each item, as `journey vouch` writes it. Reading is strict: a line that is not exactly that
makes the folder unreadable, as an edited line would be a sign-off nobody gave. Whether the items signed here
are the ones that would leave today is left to `journey.edition.sign_off`.
"""

from __future__ import annotations

import json
import os
from collections.abc import Collection, Iterable
from datetime import date
from pathlib import Path
from typing import Annotated, Any, Final, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from journey.errors import FolderProblems, Problem
from journey.record.parts import Audience
from journey.record.safe_files import FileRefusedError, MissingFileError, open_inside, read_inside

SIGN_OFF_FILE: Final = "sign-off.jsonl"
LIMIT_BYTES: Final = 16 << 20
_MODE: Final = 0o600


class SignOff(BaseModel):
    """One item, vouched for by one person on one day."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    edition: Audience
    kind: Literal["photo", "text", "values"]
    name: Annotated[str, Field(min_length=1, max_length=200)]
    """Where it stands in the record."""
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
    try:
        content = read_inside(folder, SIGN_OFF_FILE, limit_bytes=LIMIT_BYTES)
    except MissingFileError:
        return ()
    except FileRefusedError as refused:
        raise FolderProblems([Problem(SIGN_OFF_FILE, 0, "", f"{refused.what}; {refused.remedy}")]) from None
    found, problems = [], []
    for number, line in enumerate(content.splitlines(keepends=True), 1):
        try:
            found.append(_one(line, stylists))
        except ValueError as wrong:
            what = f"{wrong}; only 'journey vouch' writes here: take the line out and look again"
            problems.append(Problem(SIGN_OFF_FILE, number, "", what))
    if problems:
        raise FolderProblems(problems)
    return tuple(found)


def add_sign_offs(folder: Path, sign_offs: Iterable[SignOff]) -> None:
    """Add lines at the end, in one write, and see them on the disk.

    Raises FileRefusedError when the file is not a plain one of its own, OSError when it can not be written.
    """
    lines = "".join(f"{_line(one)}\n" for one in sign_offs)
    path = folder / SIGN_OFF_FILE
    try:
        os.close(open_inside(folder, SIGN_OFF_FILE))
    except MissingFileError:
        flags = os.O_WRONLY | os.O_APPEND | os.O_CREAT | os.O_EXCL
    else:
        flags = os.O_WRONLY | os.O_APPEND
    handle = os.open(path, flags | os.O_NOFOLLOW | os.O_CLOEXEC, _MODE)
    with os.fdopen(handle, "wb") as file:
        file.write(lines.encode())
        file.flush()
        os.fsync(file.fileno())


def _line(one: SignOff) -> str:
    return json.dumps(one.model_dump(mode="json", exclude_defaults=True), ensure_ascii=False)


def _one(line: bytes, stylists: Collection[str]) -> SignOff:
    if not line.endswith(b"\n"):
        raise ValueError("the line is cut off")
    try:
        # Through text, as a JSON reader of bytes would also take UTF-16.
        written = json.loads(line.decode("utf-8"), object_pairs_hook=_once_each)
    except (ValueError, RecursionError):
        raise ValueError("this is no line of JSON with each name once") from None
    try:
        one = SignOff.model_validate_json(json.dumps(written))
    except ValidationError as wrong:
        first = wrong.errors()[0]
        raise ValueError(f"{'.'.join(map(str, first['loc'])) or 'line'}: {first['msg']}") from None
    if one.by not in stylists:
        raise ValueError(f"there is no stylist {one.by!r}")
    return one


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len({name for name, _ in pairs}) != len(pairs):
        raise ValueError("a name is given twice")
    return dict(pairs)
