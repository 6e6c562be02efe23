"""Opening a file that stands inside a given folder, and nothing else.

It decides which names are safe and what may be read: no way out of the folder, no link followed, no pipe
waited for, no file larger than agreed. It opens by file handle step by step, so that nothing can be swapped
between looking and reading. What the bytes mean is left to whoever asked for them.
"""

from __future__ import annotations

import errno
import os
import stat
import unicodedata
from collections.abc import Iterable
from pathlib import Path
from typing import NoReturn

from journey.errors import JourneyError

MIB = 1 << 20

_BIDI_CONTROLS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
_OPEN_FLAGS = os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK | os.O_CLOEXEC


class FileRefusedError(JourneyError):
    """A file that will not be read: which, what is wrong with it, and what to do about it."""

    def __init__(self, name: str, what: str, remedy: str) -> None:
        self.name = name
        self.what = what
        self.remedy = remedy
        super().__init__(f"{ascii_name(name)}: {what}; {remedy}")

    def __reduce__(self) -> tuple[type[FileRefusedError], tuple[str, str, str]]:
        # A worker process tells its refusals to the one that asked.
        return type(self), (self.name, self.what, self.remedy)


class UnsafeNameError(FileRefusedError):
    """The name itself is refused: empty, absolute, climbing out, or with characters that deceive."""


class MissingFileError(FileRefusedError):
    """There is no such file."""


class LinkedFileError(FileRefusedError):
    """A symbolic link, or a hard link to a file that also has another name."""


class NotAFileError(FileRefusedError):
    """A folder, pipe, socket or device where a file was wanted."""


class TooLargeError(FileRefusedError):
    """More bytes than agreed."""


class UnreadableFileError(FileRefusedError):
    """The system does not let us read it."""


class CollidingNamesError(FileRefusedError):
    """Two names that other systems take for one."""


def ascii_name(name: str) -> str:
    """The name as it can be shown anywhere: itself, or quoted with escapes when it could deceive."""
    if name and name.isprintable() and not _BIDI_CONTROLS & set(name):
        return name
    return ascii(name)


def name_parts(relative: str) -> tuple[str, ...]:
    """The steps of a relative path written with `/`.

    Raises:
        UnsafeNameError: a step is empty, `.` or `..`, the path is absolute, a character is a control, a
            direction mark or not UTF-8, or a backslash stands where a slash is meant.
    """
    if not relative:
        raise UnsafeNameError(relative, "the name is empty", "write the name of a file in this folder")
    if any(0xD800 <= ord(character) <= 0xDFFF for character in relative):
        raise UnsafeNameError(relative, "the name is not UTF-8", "rename the file with plain letters")
    if any(unicodedata.category(c) in ("Cc", "Zl", "Zp") or c in _BIDI_CONTROLS for c in relative):
        raise UnsafeNameError(
            relative, "the name holds a control character or direction mark", "rename the file"
        )
    if "\\" in relative:
        raise UnsafeNameError(relative, "the name holds a backslash", "write folders with /")
    parts = tuple(relative.split("/"))
    if any(part in ("", ".", "..") for part in parts):
        raise UnsafeNameError(
            relative, "the path leads out of the folder or nowhere", "write the path from the folder down"
        )
    return parts


def open_inside(folder: Path, relative: str) -> int:
    """A file handle for a regular file below `folder`; the caller closes it.

    `folder` itself may be reached through a link: the person chose it. Nothing below it may be one.

    Raises:
        FileRefusedError: one of its kinds, with what to do.
    """
    parts = name_parts(relative)
    directory = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        for part in parts[:-1]:
            below = _step(relative, part, directory, os.O_DIRECTORY)
            os.close(directory)
            directory = below
        handle = _step(relative, parts[-1], directory, 0)
    finally:
        os.close(directory)
    try:
        _refuse_unless_plain(relative, os.fstat(handle))
    except FileRefusedError:
        os.close(handle)
        raise
    return handle


def read_inside(folder: Path, relative: str, *, limit_bytes: int) -> bytes:
    """The bytes of a regular file below `folder`, at most `limit_bytes` of them.

    Raises:
        FileRefusedError: as `open_inside`, or `TooLargeError`.
    """
    with os.fdopen(open_inside(folder, relative), "rb") as file:
        _refuse_beyond(relative, os.fstat(file.fileno()).st_size, limit_bytes)
        data = file.read(limit_bytes + 1)
    # Once more, as a file may grow while it is read.
    _refuse_beyond(relative, len(data), limit_bytes)
    return data


def names_inside(folder: Path, relative: str | None = None) -> tuple[str, ...]:
    """The names of the entries of a folder (or of the folder `relative` below it), in code-point order.

    Raises:
        UnsafeNameError, CollidingNamesError: by the names alone; nothing is opened.
    """
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_CLOEXEC)
    try:
        for part in name_parts(relative) if relative is not None else ():
            below = _step(part, part, handle, os.O_DIRECTORY)
            os.close(handle)
            handle = below
        names = sorted(os.listdir(handle))  # noqa: PTH208 - a Path can not hold a handle
    finally:
        os.close(handle)
    for name in names:
        name_parts(name)
    refuse_collisions(names)
    return tuple(names)


def refuse_collisions(names: Iterable[str]) -> None:
    """Refuse two names that differ only in case or in how an accent is encoded.

    Raises:
        CollidingNamesError: naming the second and what it collides with.
    """
    seen: dict[str, str] = {}
    for name in names:
        key = unicodedata.normalize("NFC", unicodedata.normalize("NFC", name).casefold())
        earlier = seen.setdefault(key, name)
        if earlier != name:
            raise CollidingNamesError(
                name,
                f"other systems take it for the same file as {ascii_name(earlier)}",
                "rename one of the two",
            )


def _step(relative: str, part: str, directory: int, extra_flags: int) -> int:
    try:
        return os.open(part, _OPEN_FLAGS | extra_flags, dir_fd=directory)
    except OSError as error:
        _refuse_by_code(relative, part, directory, error)


def _refuse_by_code(relative: str, part: str, directory: int, error: OSError) -> NoReturn:
    if error.errno == errno.ENOENT:
        raise MissingFileError(relative, "there is no such file", "check the spelling") from None
    if error.errno == errno.ELOOP or _is_link(part, directory):
        raise LinkedFileError(
            relative, "it is a link to somewhere else", "put a copy of the file itself here"
        ) from None
    if error.errno in (errno.ENOTDIR, errno.ENXIO, errno.ENODEV):
        raise NotAFileError(relative, "it is not a plain file", "put a plain file here") from None
    if error.errno == errno.ENAMETOOLONG:
        raise UnsafeNameError(relative, "the name is too long", "give it a shorter name") from None
    raise UnreadableFileError(
        relative, f"it can not be opened ({error.strerror})", "check who may read it"
    ) from None


def _is_link(part: str, directory: int) -> bool:
    # With O_DIRECTORY the system calls a link "not a directory".
    try:
        return stat.S_ISLNK(os.stat(part, dir_fd=directory, follow_symlinks=False).st_mode)
    except OSError:
        return False


def _refuse_unless_plain(relative: str, facts: os.stat_result) -> None:
    if stat.S_ISDIR(facts.st_mode):
        raise NotAFileError(relative, "it is a folder", "name a file inside it")
    if not stat.S_ISREG(facts.st_mode):
        raise NotAFileError(relative, "it is a pipe, socket or device", "put a plain file here")
    if facts.st_nlink != 1:
        raise LinkedFileError(
            relative, "the same file has another name elsewhere (hard link)", "put a copy here"
        )


def _refuse_beyond(relative: str, size: int, limit_bytes: int) -> None:
    if size > limit_bytes:
        limit = f"{limit_bytes / MIB:g} MiB" if limit_bytes >= MIB else f"{limit_bytes / 1024:.0f} KiB"
        raise TooLargeError(relative, f"larger than {limit}", "save a smaller copy of it here")
