"""A new client's folder that reads without a problem and explains itself.

Decides that nothing which exists is ever written over. What the new files say lies in `new_folder/`; they
hold no consent, because nobody has given any.
"""

from __future__ import annotations

import shutil
from importlib.resources import as_file, files
from pathlib import Path

from journey.errors import FolderTakenError
from journey.record.schema import SCHEMAS, schema_file

SCHEMA_FOLDER = ".schemas"
"""Beside the files, so that a folder can be moved to another computer and editors still find them."""


def start_folder(path: Path) -> None:
    """Write a new folder for one client at ``path``, readable by nobody else on this computer.

    Raises:
        FolderTakenError: something is there already; it stays untouched.
    """
    if path.is_symlink() or (path.exists() and (not path.is_dir() or any(path.iterdir()))):
        raise FolderTakenError(f"{path} is there already and is not empty; name a new folder")
    try:
        path.mkdir(mode=0o700, parents=True, exist_ok=True)
        with as_file(files("journey.record") / "new_folder") as template:
            for source in sorted(template.rglob("*")):
                _write(source, path / source.relative_to(template))
        (path / "photos").mkdir(mode=0o700)
        for name, _ in SCHEMAS:
            _write(schema_file(name), path / SCHEMA_FOLDER / schema_file(name).name)
    except OSError as error:
        raise FolderTakenError(f"{path} cannot be written ({error.strerror}); name another place") from None


def _write(source: Path, target: Path) -> None:
    """Copy one file without its times or rights; 'x' refuses to write over anything."""
    if source.is_dir():
        return
    target.parent.mkdir(mode=0o700, exist_ok=True)
    with source.open("rb") as original, target.open("xb") as copy:
        shutil.copyfileobj(original, copy)
