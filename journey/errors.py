"""What can go wrong, as values and exceptions; how it is printed is left to `journey.command`.

    JourneyError
      FolderProblems     the folder cannot be read as written: every problem at once
      FolderTakenError   a new folder was asked for where there is something already
      FileRefusedError   (in record.safe_files) one file that will not be opened, and its kinds

A `Problem` is one thing for one person to put right: where it stands, what it is, what to write instead.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Problem:
    """One thing to put right in a client's folder.

    >>> print(Problem("journey.yaml", 42, "visits[3].developer", "'20vol'", "'20 vol' or '6 %'"))
    journey.yaml:42: visits[3].developer: '20vol'; write '20 vol' or '6 %'
    """

    file: str
    """Relative to the folder, with forward slashes."""
    line: int
    """Counted from 1; 0 when the problem is the whole file."""
    key: str
    """Where in the file, list places counted from 1; empty when there is no such place."""
    what: str
    """What is wrong, quoting what was written unless that may identify someone."""
    instead: str = ""
    """What to write; empty when nothing short would help."""

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}" if self.line else self.file
        key = f" {self.key}:" if self.key else ""
        instead = f"; write {self.instead}" if self.instead else ""
        return f"{where}:{key} {self.what}{instead}"


class JourneyError(Exception):
    """Everything this package raises on purpose for the person at the keyboard."""


class FolderProblems(JourneyError):  # noqa: N818 - it holds many, and is about a folder
    """The folder cannot be read as it is. Holds every problem found, in order of file and line."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(sorted(set(problems)))
        super().__init__("\n".join(str(problem) for problem in self.problems))

    def __reduce__(self) -> tuple[type[FolderProblems], tuple[tuple[Problem, ...]]]:
        # A worker process tells its problems to the one that asked.
        return type(self), (self.problems,)


class FolderTakenError(JourneyError):
    """A new folder cannot be made there; what is there stays as it is."""
