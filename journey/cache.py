"""Keeps what was derived from a folder, so that the next build need not derive it again.

It decides where such things lie, how long, and how they are found and forgotten. What is derived, and from what,
is said by whoever stores it: a key names everything that went in (`key_of` adds the version of the tool), the
sources name the files it can be traced to. So an entry is never wrong, only missing, and the folder may be
deleted at any time, also while a build is at work.

Every entry is one file, `FOLDER/ab/abcd…`: a line with the digest of its content and the SHA-256 of each source,
then the content. Entries appear by renaming, so that two builds at once can not see half of one; one that was
torn by a failing disk does not fit its digest and counts as missing. `purge` opens every entry and deletes those
made from a source: it needs no list that could be incomplete.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import stat
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from journey.errors import JourneyError
from journey.tool_version import tool_version
from journey.up_to_date import kept_folder

LIMIT_BYTES: Final = 4 << 30
"""Some 150 clients as large as the demo; beyond it the entries that were not used for longest go."""
_DAY_S: Final = 86_400
_MAGIC: Final = b"derived 1"
_HEADER_BYTES: Final = 1 << 20
_PRIVATE: Final = 0o700


class CacheFolderError(JourneyError):
    """The folder is not ours alone, so nothing may be kept in it."""


def default_folder() -> Path:
    """Where things are kept unless told otherwise: `colour-journey` in the user's cache folder (XDG)."""
    return Path(kept_folder())


def key_of(kind: str, *inputs: str | bytes) -> str:
    """The name of a thing of this kind made from these inputs by this version of the tool and its libraries."""
    digest = hashlib.sha256(f"{kind}\0{tool_version()}".encode())
    for one in inputs:
        data = one.encode() if isinstance(one, str) else one
        digest.update(len(data).to_bytes(8, "big") + data)
    return digest.hexdigest()


@dataclass(frozen=True, slots=True)
class Cache:
    """One folder of derived things. May be sent to another process."""

    folder: Path

    @classmethod
    def at(cls, folder: Path) -> Cache:
        """Open a cache, making its folder for this user alone.

        Raises:
            CacheFolderError: it cannot be made, or is a link, another user's, or open to others.
        """
        try:
            folder.mkdir(mode=_PRIVATE, parents=True, exist_ok=True)
            facts = folder.lstat()
        except OSError as error:
            raise CacheFolderError(f"{folder}: nothing can be kept here ({error.strerror})") from None
        if not stat.S_ISDIR(facts.st_mode) or facts.st_uid != os.geteuid() or facts.st_mode & 0o077:
            raise CacheFolderError(
                f"{folder}: it must be a folder of yours that nobody else can open; delete it, or chmod 700 it"
            )
        return cls(folder)

    def get(self, key: str) -> bytes | None:
        """What was stored under this key; None when it is not there or damaged."""
        path = self._path(key)
        try:
            whole = path.read_bytes()
            # Seen lately: the last to go.
            os.utime(path)
        except OSError:
            return None
        header, _, content = whole.partition(b"\n")
        parts = header.split(b"|")
        fits = parts[0] == _MAGIC and parts[1:2] == [_digest(content)]
        return content if fits else None

    def has(self, key: str) -> bool:
        """Whether something is stored under this key, sound or not."""
        return self._path(key).is_file()

    def store(self, key: str, content: bytes, sources: Iterable[str]) -> None:
        """Keep `content`, which was made from files with these SHA-256. Without room it is not kept."""
        header = b"|".join([_MAGIC, _digest(content), *(one.encode() for one in sorted(set(sources)))])
        if len(header) >= _HEADER_BYTES:
            return
        path = self._path(key)
        try:
            path.parent.mkdir(mode=_PRIVATE, exist_ok=True, parents=True)
            handle, name = tempfile.mkstemp(prefix=".new-", dir=path.parent)
        except OSError:
            return
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(header + b"\n" + content)
            Path(name).replace(path)
        except OSError:
            Path(name).unlink(missing_ok=True)

    def remembered(self, key: str, make: Callable[[], bytes], sources: Iterable[str]) -> bytes:
        """What is kept under this key, else what `make` makes, which is then kept."""
        found = self.get(key)
        if found is None:
            found = make()
            self.store(key, found, sources)
        return found

    def purge(self, source_sha256: str) -> int:
        """Delete everything made from the file with this SHA-256, and return how many entries that were."""
        gone = 0
        wanted = source_sha256.encode()
        for path in self._entries():
            if wanted in _sources(path):
                path.unlink(missing_ok=True)
                gone += 1
        return gone

    def purge_all(self) -> None:
        """Forget everything."""
        for below in self.folder.iterdir():
            if below.is_dir() and not below.is_symlink():
                shutil.rmtree(below, ignore_errors=True)

    def sweep(self, limit_bytes: int = LIMIT_BYTES) -> int:
        """Delete what was used least lately until the rest fits; return how many entries went."""
        found = []
        for path in self._entries():
            try:
                facts = path.stat()
            except OSError:
                continue
            found.append((facts.st_mtime_ns, path, facts.st_size))
        total = sum(size for _, _, size in found)
        gone = 0
        for _, path, size in sorted(found):
            if total <= limit_bytes:
                break
            path.unlink(missing_ok=True)
            total -= size
            gone += 1
        return gone

    def sweep_daily(self) -> None:
        """`sweep`, unless that was done within a day: looking at every entry takes a while."""
        mark = self.folder / "swept"
        try:
            if mark.exists() and time.time() - mark.stat().st_mtime < _DAY_S:
                return
            mark.touch(mode=0o600)
            os.utime(mark)
        except OSError:
            return
        self.sweep()

    def _path(self, key: str) -> Path:
        return self.folder / key[:2] / key

    def _entries(self) -> Iterator[Path]:
        """Every entry, and what cut-off runs left half written."""
        for below in sorted(self.folder.iterdir()):
            if len(below.name) == 2 and below.is_dir():
                yield from sorted(below.iterdir())


Remembered = Callable[[str, Iterable[str | bytes], Callable[[], bytes]], bytes]
"""Gives back what was made of a kind from the same inputs, else what the function makes: `Shelf.remembered`."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """A cache, and the sources of whatever one piece of work makes.

    Without a cache nothing is kept, nor is what has no source: nobody could find it when she takes something back.
    """

    cache: Cache | None = None
    sources: tuple[str, ...] = ()
    """SHA-256 of every file it may be traced to."""

    def remembered(self, kind: str, inputs: Iterable[str | bytes], make: Callable[[], bytes]) -> bytes:
        """What was made of this kind from these inputs, else what `make` makes."""
        if self.cache is None or not self.sources:
            return make()
        return self.cache.remembered(key_of(kind, *inputs), make, self.sources)


NOT_KEPT: Final = Shelf()


def _digest(content: bytes) -> bytes:
    return hashlib.sha256(content).hexdigest().encode()


def _sources(path: Path) -> list[bytes]:
    try:
        with path.open("rb") as file:
            return file.readline(_HEADER_BYTES).rstrip(b"\n").split(b"|")[2:]
    except OSError:
        return []
