"""A table of numbers to download, as CSV (RFC 4180): how it is written, whatever stands in it."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from journey.edition.desk import Desk
from journey.edition.model import DataFile


def data_file(desk: Desk, name: str, header: Sequence[str], rows: Iterable[Sequence[str]]) -> DataFile:
    """The file `name`.csv; its label stands in the theme under `data`."""
    text = io.StringIO(newline="")
    csv.writer(text).writerows((header, *rows))
    return DataFile(name=f"{name}.csv", label=desk.words.say(f"data.{name}"), text=text.getvalue())


def headings(desk: Desk, *names: str) -> list[str]:
    """Words over columns."""
    return [desk.words.say(f"data.column.{name}") for name in names]
