"""The Markdown notes of a folder, each read once.

Decides what a note may hold; which field names which note is left to the files that name them.
"""

from __future__ import annotations

from pathlib import Path

from journey.errors import Problem
from journey.record.plain_text import decode
from journey.record.safe_files import FileRefusedError, read_inside
from journey.record.scalars import MARKDOWN_LIMIT_BYTES


class NoteShelf:
    """Opens notes by name ('notes/goal.md') and keeps what is wrong inside them."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._contents: dict[str, bytes | FileRefusedError] = {}
        self.problems: list[Problem] = []

    def content(self, name: str) -> bytes:
        """A note's bytes. Raises ValueError for whoever named it when it cannot be opened."""
        if name not in self._contents:
            self._contents[name] = self._open(name)
        content = self._contents[name]
        if isinstance(content, FileRefusedError):
            raise ValueError(f"{name!r}: {content.what}; {content.remedy}")
        return content

    def text(self, name: str) -> str:
        """A note's text; empty when its characters are refused, which is then among `problems`."""
        text, problems = decode(name, self.content(name))
        self.problems += [problem for problem in problems if problem not in self.problems]
        if text is not None and not text.strip():
            raise ValueError(f"{name!r}: the note is empty; write something in it, or leave this line out")
        return text or ""

    def _open(self, name: str) -> bytes | FileRefusedError:
        try:
            return read_inside(self._folder, name, limit_bytes=MARKDOWN_LIMIT_BYTES)
        except FileRefusedError as refused:
            return refused
