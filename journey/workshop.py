"""What a build works with: workers to share work among, and what was kept from last time.

It decides nothing about the work. A piece of work is a function of a module and one argument that can be sent
to another process; its result depends on that argument alone, so that it is the same whoever does it, and may be
taken from the cache under a key that names everything it depends on.

Results are kept as pickles. Reading one runs what it says; the cache is a folder that nobody but its owner can
write to, and is refused otherwise. Texts that somebody wrote are not kept with them: they are put back in from
where they were taken.
"""

from __future__ import annotations

import io
import pickle
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from typing import Any, TypeVar

from journey.cache import Cache, key_of

A = TypeVar("A")
B = TypeVar("B")


@dataclass(frozen=True, slots=True)
class Kept:
    """Under which key a result is kept, and from which files (SHA-256) it was made."""

    key: str
    sources: tuple[str, ...]
    said: tuple[str, ...] = ()
    """Texts that may stand in it as they are, and are not to be kept. With others the key is another."""

    @property
    def whole_key(self) -> str:
        return key_of(self.key, *self.said)


@dataclass(frozen=True, slots=True)
class Workshop:
    cache: Cache | None = None
    executor: Executor | None = None
    """Threads, processes, or those of an engine elsewhere; None: the work is done here, one after the other."""

    def each(self, work: Callable[[A], B], items: Sequence[A], kept: Callable[[A], Kept]) -> Iterator[B]:
        """`work` of every item, in their order, sharing out what is not kept."""
        where = [kept(item) for item in items] if self.cache is not None else []
        found = [self._found(one.whole_key) for one in where] if where else [None] * len(items)
        missing = [item for item, one in zip(items, found, strict=True) if one is None]
        run = self.executor.map if self.executor is not None and len(missing) > 1 else map
        made = iter(run(work, missing))
        for at, one in enumerate(found):
            if one is not None:
                yield _Reader(io.BytesIO(one), where[at].said).load()
                continue
            result = next(made)
            if self.cache is not None:
                self.cache.store(where[at].whole_key, _written(result, where[at].said), where[at].sources)
            yield result

    def once(self, work: Callable[[A], B], item: A, kept: Kept) -> B:
        """`work` of one item, done here, unless it is kept."""
        return next(Workshop(self.cache).each(work, [item], lambda _: kept))

    def _found(self, key: str) -> bytes | None:
        return self.cache.get(key) if self.cache is not None else None


class _Writer(pickle.Pickler):
    """Writes for each text that is not to be kept where it stands among them."""

    def __init__(self, file: io.BytesIO, said: Sequence[str]) -> None:
        super().__init__(file, protocol=pickle.HIGHEST_PROTOCOL)
        self._places = {text: place for place, text in enumerate(said)}

    def persistent_id(self, value: Any) -> int | None:
        return self._places.get(value) if type(value) is str else None


class _Reader(pickle.Unpickler):
    """Puts back in what `_Writer` left out."""

    def __init__(self, file: io.BytesIO, said: Sequence[str]) -> None:
        super().__init__(file)
        self._said = said

    def persistent_load(self, place: int) -> str:
        return self._said[place]


def _written(result: Any, said: Sequence[str]) -> bytes:
    buffer = io.BytesIO()
    _Writer(buffer, said).dump(result)
    return buffer.getvalue()
