"""Files of the folder that the tool itself writes: one line of JSON each, added at the end and read strictly.

It decides what a line is; what it says is left to the model handed in. A line that is not exactly that makes the
folder unreadable: somebody edited what nobody should.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any, Final, TypeVar

from pydantic import BaseModel, ValidationError

from journey.errors import FolderProblems, Problem
from journey.record.safe_files import FileRefusedError, MissingFileError, open_inside, read_inside

LIMIT_BYTES: Final = 16 << 20
_MODE: Final = 0o600

M = TypeVar("M", bound=BaseModel)


def read_lines(folder: Path, name: str, model: type[M], *, written_by: str) -> tuple[M, ...]:
    """Every line of a file, in order; none when there is no such file.

    Raises FolderProblems with every line that is not one; `written_by` names the command that may write here.
    """
    try:
        content = read_inside(folder, name, limit_bytes=LIMIT_BYTES)
    except MissingFileError:
        return ()
    except FileRefusedError as refused:
        raise FolderProblems([Problem(name, 0, "", f"{refused.what}; {refused.remedy}")]) from None
    found, problems = [], []
    for number, line in enumerate(content.splitlines(keepends=True), 1):
        try:
            found.append(_one(line, model))
        except ValueError as wrong:
            what = f"{wrong}; only '{written_by}' writes here: take the line out and do it again"
            problems.append(Problem(name, number, "", what))
    if problems:
        raise FolderProblems(problems)
    return tuple(found)


def add_lines(folder: Path, name: str, items: Iterable[BaseModel]) -> None:
    """Add lines at the end, in one write, and see them on the disk.

    Raises FileRefusedError when the file is not a plain one of its own, OSError when it can not be written.
    """
    try:
        os.close(open_inside(folder, name))
    except MissingFileError:
        flags = os.O_CREAT | os.O_EXCL
    else:
        flags = 0
    handle = os.open(folder / name, os.O_WRONLY | os.O_APPEND | flags | os.O_NOFOLLOW | os.O_CLOEXEC, _MODE)
    _write_out(handle, items)


def replace_lines(folder: Path, name: str, items: Iterable[BaseModel]) -> None:
    """Write the file anew, in one step; only for what must not be kept any longer."""
    new = folder / f".{name}.new"
    new.unlink(missing_ok=True)
    handle = os.open(new, os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC, _MODE)
    _write_out(handle, items)
    new.replace(folder / name)


def _write_out(handle: int, items: Iterable[BaseModel]) -> None:
    lines = (
        json.dumps(item.model_dump(mode="json", exclude_defaults=True), ensure_ascii=False) for item in items
    )
    with os.fdopen(handle, "wb") as file:
        file.write("".join(f"{line}\n" for line in lines).encode())
        file.flush()
        os.fsync(file.fileno())


def _one(line: bytes, model: type[M]) -> M:
    if not line.endswith(b"\n"):
        raise ValueError("the line is cut off")
    try:
        # Through text, as a JSON reader of bytes would also take UTF-16.
        written = json.loads(line.decode("utf-8"), object_pairs_hook=_once_each)
    except (ValueError, RecursionError):
        raise ValueError("this is no line of JSON with each name once") from None
    try:
        return model.model_validate_json(json.dumps(written))
    except ValidationError as wrong:
        first = wrong.errors()[0]
        raise ValueError(f"{'.'.join(map(str, first['loc'])) or 'line'}: {first['msg']}") from None


def _once_each(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    if len({name for name, _ in pairs}) != len(pairs):
        raise ValueError("a name is given twice")
    return dict(pairs)
