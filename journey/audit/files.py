"""What may stand in a site's folder at all: plain files of known kinds with neutral names.

It decides on names, kinds, links and times. What is inside the files is left to `images`, `pages` and
`canaries`.
"""

from __future__ import annotations

import os
import re
import stat
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Final

PICTURES: Final = frozenset({"jpg", "png", "webp", "avif"})
TEXTS: Final = frozenset({"html", "css", "svg", "csv", "json", "ics", "txt"})
_NEUTRAL_NAME: Final = re.compile(r"[a-z0-9][a-z0-9._-]{0,79}")
LIMIT_BYTES: Final = 32 << 20


@dataclass(frozen=True, slots=True)
class FoundFile:
    """One entry of the folder: its path below it, its bytes when it may be read, what is wrong with it."""

    path: str
    data: bytes
    findings: tuple[str, ...]

    @property
    def suffix(self) -> str:
        return self.path.rpartition(".")[2].lower() if "." in self.path else ""


def walk(folder: Path, *, fixed_time: int | None = None) -> Iterator[FoundFile]:
    """Every entry below a folder, in one fixed order. Links are not followed and nothing is waited for.

    Args:
        folder: the finished site.
        fixed_time: when given, the one time every entry must bear, in seconds since 1970.
    """
    for root, folders, files in os.walk(folder, followlinks=False):
        folders.sort()
        for name in sorted([*folders, *files]):
            path = Path(root) / name
            yield _look_at(path, path.relative_to(folder).as_posix(), fixed_time)


def _look_at(path: Path, relative: str, fixed_time: int | None) -> FoundFile:
    facts = path.lstat()
    wrong = list(_name_findings(path.name))
    if fixed_time is not None and facts.st_mtime != fixed_time:
        wrong.append("a time that tells when somebody was at work")
    if stat.S_ISDIR(facts.st_mode):
        return FoundFile(relative, b"", tuple(wrong))
    if not stat.S_ISREG(facts.st_mode):
        return FoundFile(relative, b"", (*wrong, "a link, pipe or device"))
    if facts.st_nlink != 1:
        wrong.append("a file that also has another name elsewhere")
    suffix = path.suffix.removeprefix(".").lower()
    if suffix not in PICTURES | TEXTS:
        wrong.append("a kind of file that is not published")
    if facts.st_size > LIMIT_BYTES:
        return FoundFile(relative, b"", (*wrong, "too large to be looked through"))
    if facts.st_size == 0:
        wrong.append("an empty file")
    return FoundFile(relative, path.read_bytes(), tuple(wrong))


def _name_findings(name: str) -> Iterator[str]:
    if not _NEUTRAL_NAME.fullmatch(name):
        yield "a name that is not in plain small letters and digits"
