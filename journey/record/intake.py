"""A client's photos by file name: what each is, and its pixels for as long as somebody looks at them.

It decides nothing about them: what is let in stands in `photograph_intake`. What is remembered of a photo is a few
numbers; its bytes and pixels are read when asked for and let go after use, so that a folder of many photos costs
the memory of one. Threads and processes may ask at once: each opens a photo for itself.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from journey.record.photograph_intake import Photograph, PhotographRefusedError, take_in


@dataclass(frozen=True, slots=True)
class PhotoFacts:
    """What is known of a photo without looking at its pixels."""

    sha256: str
    width: int
    """Pixels after turning upright."""
    height: int


class _Lately(threading.local):
    """The photo a thread opened last: a client's pictures are asked for photo by photo."""

    photograph: Photograph | None = None


_lately = _Lately()


@dataclass(slots=True)
class PhotoFolder:
    """The folder `photos/` of one client."""

    folder: Path
    _facts: dict[str, PhotoFacts] = field(default_factory=dict)

    def facts(self, name: str) -> PhotoFacts:
        """By its header alone. Raises FileRefusedError or PhotographRefusedError when it can not be let in."""
        if name not in self._facts:
            self._remember(take_in(self.folder, name, prove_whole=False))
        return self._facts[name]

    def known(self) -> tuple[PhotoFacts, ...]:
        """Facts of all photos asked for so far."""
        return tuple(self._facts.values())

    @contextmanager
    def opened(self, name: str) -> Iterator[Photograph]:
        """The photograph, for this thread alone; its pixels are strict decodes.

        It is kept for the thread's next question about the same photo, until `let_go`.

        Raises:
            FileRefusedError, PhotographRefusedError: it can not be let in, or has changed since it was first seen.
        """
        known = self.facts(name)
        photograph = _lately.photograph
        if photograph is None or photograph.name != name or photograph.sha256 != known.sha256:
            _lately.photograph = None
            photograph = take_in(self.folder, name, prove_whole=False)
            if photograph.sha256 != known.sha256:
                raise PhotographRefusedError(name, "it changed while it was being read", "start again")
            _lately.photograph = photograph
        yield photograph

    def _remember(self, photograph: Photograph) -> None:
        self._facts[photograph.name] = PhotoFacts(photograph.sha256, photograph.width, photograph.height)


def let_go() -> None:
    """Forget the photo this thread opened last."""
    _lately.photograph = None
