"""A client's photos by file name, each taken in once.

It decides nothing about them: what is let in stands in `photograph_intake`. Decoded pixels are let go after
use, so that a folder of many photos costs the memory of one.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from journey.record.photograph_intake import Photograph, take_in


@dataclass(slots=True)
class PhotoFolder:
    """The folder `photos/` of one client."""

    folder: Path
    _taken: dict[str, Photograph] = field(default_factory=dict)

    def photograph(self, name: str) -> Photograph:
        """Raises FileRefusedError or PhotographRefusedError when it can not be let in."""
        if name not in self._taken:
            self._taken[name] = take_in(self.folder, name)
        return self._taken[name]

    @contextmanager
    def opened(self, name: str) -> Iterator[Photograph]:
        """The photograph, with its pixels let go at the end."""
        photograph = self.photograph(name)
        try:
            yield photograph
        finally:
            photograph.let_go()
