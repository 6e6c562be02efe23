"""Equal values as equal bytes, for keys under which something is kept.

A pickle notes which parts of a value are one and the same object, and how an array lies in memory, and both change
when a value was read from a cache instead of made: here every part is written out.
"""

from __future__ import annotations

import io
import pickle
from typing import Any

import numpy as np


class Writer(pickle.Pickler):
    """A pickler that knows no object again. For values without circles."""

    def __init__(self, file: io.BytesIO) -> None:
        super().__init__(file, protocol=5)
        self.fast = True

    def reducer_override(self, value: Any) -> Any:
        if isinstance(value, np.ndarray) and not value.dtype.hasobject:
            return tuple, ((value.dtype.str, value.shape, value.tobytes()),)
        return NotImplemented


def bytes_of(value: Any, writer: type[Writer] = Writer) -> bytes:
    """The value as bytes; to be compared, never to be read."""
    buffer = io.BytesIO()
    writer(buffer).dump(value)
    return buffer.getvalue()
