"""Equal values as equal bytes, for keys under which something is kept.

A pickle notes which parts of a value are one and the same object, and that changes when a value was read from a
cache instead of made: here every part is written out.
"""

from __future__ import annotations

import io
import pickle
from typing import Any


class Writer(pickle.Pickler):
    """A pickler that knows no object again. For values without circles."""

    def __init__(self, file: io.BytesIO) -> None:
        super().__init__(file, protocol=5)
        self.fast = True


def bytes_of(value: Any, writer: type[Writer] = Writer) -> bytes:
    """The value as bytes; to be compared, never to be read."""
    buffer = io.BytesIO()
    writer(buffer).dump(value)
    return buffer.getvalue()
