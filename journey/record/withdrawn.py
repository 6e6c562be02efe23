"""withdrawn.jsonl: that somebody took consent back and that it was acted upon. Lines are added, never changed.

It holds the least that proves it: an identity without meaning, the hash of the text once agreed to, days. What was
shown is not in it.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path
from typing import Annotated, Final

from pydantic import BaseModel, ConfigDict, Field

from journey.record.line_file import add_lines, read_lines
from journey.record.parts import Audience

WITHDRAWN_FILE: Final = "withdrawn.jsonl"
_KEY: Final = "^[a-z][a-z0-9]*(-[a-z0-9]+)*$"


class Proof(BaseModel):
    """One withdrawal of one edition, acted upon."""

    model_config = ConfigDict(extra="forbid", frozen=True, strict=True)

    id: Annotated[str, Field(pattern="^[0-9a-f]{32}$")]
    """Random."""
    edition: Audience
    photo: Annotated[str, Field(pattern=_KEY)] | None = None
    """Key of the photo; left out: all of the edition."""
    person: Annotated[str, Field(pattern=_KEY)] | None = None
    """Key of another person whose withdrawal it was."""
    wording_sha256: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    """Of the text that had been agreed to."""
    given_on: date
    withdrawn_on: date
    acted_on: date


def read_withdrawn(folder: Path) -> tuple[Proof, ...]:
    """What was acted upon. Raises FolderProblems with every line that is no such proof."""
    return read_lines(folder, WITHDRAWN_FILE, Proof, written_by="journey compile")


def add_withdrawn(folder: Path, proofs: Iterable[Proof]) -> None:
    """Add lines at the end. Raises FileRefusedError when the file is not a plain one of its own."""
    add_lines(folder, WITHDRAWN_FILE, proofs)
