"""The demo compiled with its pictures at hand, and everything else made.

    python -m tests.benchmark.without_images FOLDER OUT KEPT WORKERS [measured]

A whole process. KEPT is a cache that was filled by a compile; of it only the finished pictures are taken, and with
`measured` the readings of photos too.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path

from journey.cache import Cache, Shelf
from journey.pipeline import compile_folder
from journey.record.model import Audience
from journey.site.theme import load_theme
from journey.workers import workers
from journey.workshop import Workshop
from tests.benchmark.measure import NETS


def main(folder: Path, to: Path, kept: Path, count: int, measured: bool) -> None:
    usual, this_run = Shelf.remembered, os.urandom(8).hex()

    def anew(self: Shelf, kind: str, inputs: Iterable[str | bytes], make: Callable[[], bytes]) -> bytes:
        """Once in this run, for all editions: as in any first compile."""
        return usual(self, f"{kind} {this_run}", inputs, make)

    Shelf.remembered = anew  # type: ignore[method-assign]
    Workshop.once = lambda self, work, item, kept: work(item)  # type: ignore[method-assign]
    if not measured:
        Workshop._found = lambda self, key: None  # type: ignore[method-assign]
    with workers(count) as executor:
        outcomes = compile_folder(
            folder,
            audiences=list(Audience),
            today=date(2026, 6, 13),
            to=to,
            theme=load_theme(),
            workshop=Workshop(Cache.at(kept), executor),
        )
    assert all(outcome.site for outcome in outcomes), outcomes


if __name__ == "__main__":
    # As after a plain install: what nets see in photos is work on images, and an extra.
    sys.modules.update(dict.fromkeys(NETS))  # type: ignore[arg-type]
    main(Path(sys.argv[1]), Path(sys.argv[2]), Path(sys.argv[3]), int(sys.argv[4]), "measured" in sys.argv)
