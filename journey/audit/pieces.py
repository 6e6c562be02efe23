"""A long text in pieces that stay the same where the text does, so that only what an edit touched is read again.

It decides where a text is cut: between words or behind a tag, where what stands there says so itself. An inserted
sentence moves no cut but its own. Each piece begins a good way before the end of the one before: whatever fits
into that stands whole in one of them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final
from zlib import crc32

OVERLAP: Final = 1_500
"""Characters: several times the longest name, address or number, letter by letter and with marks between."""
_SHORTEST: Final = 20_000
_LONGEST: Final = 60_000
_ONE_IN: Final = 32
_BREAK: Final = re.compile(r"[^\s>]{0,24}[\s>]")


def pieces(text: str) -> Iterator[str]:
    """The text in pieces that overlap; one short text is one piece."""
    start = 0
    while len(text) - start > _LONGEST:
        end = _cut(text, start)
        yield text[max(0, start - OVERLAP) : end]
        start = end
    yield text[max(0, start - OVERLAP) :]


def _cut(text: str, start: int) -> int:
    for found in _BREAK.finditer(text, start + _SHORTEST, start + _LONGEST):
        if crc32(found[0].encode("utf-8", "surrogatepass")) % _ONE_IN == 0:
            return found.end()
    return start + _LONGEST
