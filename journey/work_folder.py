"""Folders for work that is thrown away, found again when a run was cut off before it could.

It decides that such a folder is locked as long as its run lives: one that nobody locks is left over, and whatever
lies in it was made from somebody's photos.
"""

from __future__ import annotations

import fcntl
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from journey.living_lock import hold, let_go

_PREFIX: Final = "colour-journey-work-"


@contextmanager
def work_folder() -> Iterator[Path]:
    """A folder for this user alone, gone afterwards; leftovers of runs that were cut off go first."""
    sweep_work_folders()
    folder, handle = _made()
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)
        let_go(handle)


def _made() -> tuple[Path, int]:
    while True:
        folder = Path(tempfile.mkdtemp(prefix=_PREFIX))
        try:
            handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        except FileNotFoundError:
            continue  # swept by another run before it was locked
        hold(handle, fcntl.LOCK_SH)
        if folder.is_dir():
            return folder, handle
        let_go(handle)


def sweep_work_folders() -> int:
    """Delete this user's folders that no run holds any more; how many those were."""
    gone = 0
    for leftover in sorted(Path(tempfile.gettempdir()).glob(f"{_PREFIX}*")):
        try:
            handle = os.open(leftover, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
        except OSError:
            continue
        try:
            if os.fstat(handle).st_uid != os.geteuid():
                continue
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            shutil.rmtree(leftover, ignore_errors=True)
            gone += 1
        except BlockingIOError:
            continue
        finally:
            os.close(handle)
    return gone
