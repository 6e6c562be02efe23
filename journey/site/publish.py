"""Puts a finished site where readers find it, in one step: they see the old one or the new one, never a mix.

It decides how folders change places, who may do it at a time, and what is cleared away. What stands in the
folder was written and audited before.

On Linux the two folders are exchanged by one call (`renameat2` with RENAME_EXCHANGE). Where the file system
can not, two renames follow one another: readers may then find nothing for a moment, and a run that is cut
off exactly there is put right by the next. Beside the site stands a hidden note `.NAME.site`, which says that
it was made here: a folder without it is never replaced or removed. Work in progress and old generations are
hidden folders `.NAME.new-…` beside it, told from living work by a lock on the folder itself.
"""

from __future__ import annotations

import ctypes
import errno
import fcntl
import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from journey.errors import JourneyError
from journey.living_lock import hold, let_go

_AT_FDCWD: Final = -100
_RENAME_EXCHANGE: Final = 2
"""From linux/fs.h; the call is in the C library since glibc 2.28 and musl 1.2.5."""
_CANNOT_EXCHANGE: Final = frozenset({errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EPERM})

FILE_MODE: Final = 0o644
FOLDER_MODE: Final = 0o755
FIXED_TIME: Final = 946_684_800
"""1 January 2000, 00:00 UTC: when a file was written tells when somebody was at work."""


class PublishError(JourneyError):
    """The site was not published; what readers had before is untouched."""


class PublishBusyError(PublishError):
    """Somebody else is publishing into this folder."""


class NotOurFolderError(PublishError):
    """What stands there was not made here."""


@contextmanager
def staging_folder(target: Path) -> Iterator[Path]:
    """An empty folder beside `target` to write a new generation in; gone afterwards, whatever happens.

    While it is open it is marked as living, so that another run does not clear it away.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    with _locked(target.parent, wait=True):
        folder = Path(tempfile.mkdtemp(prefix=_new_prefix(target), dir=target.parent))
        living = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
        hold(living, fcntl.LOCK_EX)
    try:
        yield folder
    finally:
        # After an exchange the path holds the old generation.
        shutil.rmtree(folder, ignore_errors=True)
        let_go(living)


def settle(staging: Path) -> None:
    """Give every file and folder the same modes and one fixed time, which say nothing about the making."""
    for path in [*_below(staging), staging]:
        path.chmod(FOLDER_MODE if path.is_dir() else FILE_MODE)
        os.utime(path, (FIXED_TIME, FIXED_TIME))


def publish(staging: Path, target: Path, *, wait: bool = True, grace_s: float = 0.0) -> None:
    """Make `staging` the site at `target`; the site that was there is deleted.

    Args:
        staging: the finished folder, on the same file system; it is gone afterwards.
        target: where readers look.
        wait: wait for another publisher to finish; otherwise it is an error.
        grace_s: seconds for which readers in the middle of the old generation can still finish it.

    Raises:
        PublishBusyError: another publisher is at work and `wait` is False.
        NotOurFolderError: `target` is a link, a file, or a folder that was not published from here.
        PublishError: the staging folder is missing, holds links, or cannot be moved.
    """
    if staging.is_symlink() or not staging.is_dir():
        raise PublishError(f"there is no finished site at {staging}")
    with _locked(target.parent, wait=wait):
        _put_right(target)
        _refuse_foreign(target)
        settle(staging)
        _to_disk(staging)
        _note(target).touch()
        try:
            _change_places(staging, target)
        except OSError as error:
            raise PublishError(f"the site could not be moved to {target}: {error.strerror}") from error
        _sync(target.parent)
        if grace_s and staging.exists():
            time.sleep(grace_s)
        shutil.rmtree(staging, ignore_errors=True)
        _sweep(target, staging)


def unpublish(target: Path) -> None:
    """Take a site down for good: the site, its old generations and work left over. No site is no error.

    Raises:
        NotOurFolderError: what stands there was not published from here.
    """
    if not target.parent.is_dir():
        return
    with _locked(target.parent, wait=True):
        _refuse_foreign(target)
        if target.is_dir():
            # Out of the readers' sight in one step; deleting takes longer.
            gone = Path(tempfile.mkdtemp(prefix=_new_prefix(target), dir=target.parent))
            target.rename(gone)
            _sync(target.parent)
        _sweep(target)
        shutil.rmtree(_retired(target), ignore_errors=True)
        _note(target).unlink(missing_ok=True)
        _sync(target.parent)


def _change_places(staging: Path, target: Path) -> None:
    if not target.exists():
        staging.rename(target)
        return
    try:
        _exchange(staging, target)
    except OSError as error:
        if error.errno not in _CANNOT_EXCHANGE:
            raise
        _rename_twice(staging, target)


def _exchange(one: Path, other: Path) -> None:
    """Swap two folders in one step. Raises OSError, with ENOSYS where the system has no such call."""
    call = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if call is None:
        raise OSError(errno.ENOSYS, "no renameat2")
    if call(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), ctypes.c_uint(_RENAME_EXCHANGE)):
        code = ctypes.get_errno()
        raise OSError(code, os.strerror(code))


def _rename_twice(staging: Path, target: Path) -> None:
    retired = _retired(target)
    target.rename(retired)
    try:
        staging.rename(target)
    except OSError:
        retired.rename(target)
        raise
    shutil.rmtree(retired)


def _put_right(target: Path) -> None:
    """After a run that was cut off between two renames: the old generation comes back, or goes."""
    retired = _retired(target)
    if not retired.is_dir():
        return
    if target.exists():
        shutil.rmtree(retired)
    else:
        retired.rename(target)


def _refuse_foreign(target: Path) -> None:
    if target.is_symlink() or (target.exists() and not target.is_dir()):
        raise NotOurFolderError(f"{target} is not a folder of its own; choose another place for the site")
    if target.is_dir() and not _note(target).exists() and any(target.iterdir()):
        raise NotOurFolderError(
            f"{target} holds something that was not published from here; move it away or choose another place"
        )


def _sweep(target: Path, *living: Path) -> None:
    """Delete generations and work left by runs that were cut off. A folder somebody holds a lock on lives."""
    for leftover in sorted(target.parent.glob(f"{_new_prefix(target)}*")):
        if leftover in living or leftover.is_symlink() or not leftover.is_dir():
            continue
        handle = os.open(leftover, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            continue
        else:
            shutil.rmtree(leftover, ignore_errors=True)
        finally:
            os.close(handle)


@contextmanager
def _locked(folder: Path, *, wait: bool) -> Iterator[None]:
    """One publisher at a time per folder; the lock goes with the process, however it ends."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
        yield
    except BlockingIOError:
        raise PublishBusyError(f"another run is publishing into {folder}; try again later") from None
    finally:
        os.close(handle)


def _to_disk(staging: Path) -> None:
    """Everything written reaches the disk before anybody can see it; files first, then their folders."""
    paths = list(_below(staging))
    for path in paths:
        if path.is_symlink() or not (path.is_file() or path.is_dir()):
            raise PublishError(f"the finished site holds something that is no plain file: {path.name}")
    for path in [*(p for p in paths if p.is_file()), *(p for p in paths if p.is_dir()), staging]:
        _sync(path)


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _below(folder: Path) -> Iterator[Path]:
    """Everything below, deepest first, in an order that is always the same."""
    return iter(sorted(folder.rglob("*"), key=lambda path: (-len(path.parts), path)))


def _note(target: Path) -> Path:
    return target.with_name(f".{target.name}.site")


def _retired(target: Path) -> Path:
    return target.with_name(f".{target.name}.old")


def _new_prefix(target: Path) -> str:
    return f".{target.name}.new-"
