"""A contact sheet for the salon's eyes: one file that shows everything an edition would let out, and what stays.

It decides what stands on it and in which order: what nobody has signed yet comes first. The file holds all its
pictures and loads nothing; it is for this computer and is never published.
"""

from __future__ import annotations

import base64
from collections.abc import Collection, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass
from pathlib import Path

from journey.cache import Cache
from journey.edition.leaving import sheet_code
from journey.edition.model import Edition, Leaving, LeavingKind
from journey.record.model import Audience
from journey.site.derivatives import made_pictures
from journey.site.filling import environment, source_hash
from journey.site.looks import look_of_file
from journey.site.theme import Theme


@dataclass(frozen=True, slots=True)
class LargestFile:
    """The largest AVIF that is written of a picture: the one with most to see."""

    width: int
    height: int
    data: bytes

    @property
    def look(self) -> str:
        return look_of_file(self.data)

    @property
    def address(self) -> str:
        return f"data:image/avif;base64,{base64.b64encode(self.data).decode('ascii')}"


def sheet_path(folder: Path, audience: Audience) -> Path:
    """Beside the folder and beside its sites, in none of them: 'anna_sheet_class.html'."""
    whole = folder.resolve()
    return whole.with_name(f"{whole.name}_sheet_{audience}.html")


def largest_files(
    leaving: Sequence[Leaving], *, cache: Cache | None = None, executor: Executor | None = None
) -> Mapping[str, LargestFile]:
    """The largest written file of each photo among the items, by the item's hash."""
    photos = [(one.sha256, one.picture) for one in leaving if one.picture is not None]
    made = dict(made_pictures((picture for _, picture in photos), cache=cache, executor=executor))
    found = {}
    for sha256, picture in photos:
        _, width, height, avif, _ = made[picture.fingerprint][-1]
        found[sha256] = LargestFile(width, height, avif)
    return found


def contact_sheet(
    edition: Edition, signed: Collection[str], files: Mapping[str, LargestFile], theme: Theme
) -> str:
    """The sheet as one page of HTML.

    Args:
        edition: what would leave.
        signed: hashes of items somebody vouched for.
        files: what `largest_files` made of `edition.leaving`.
        theme: whose words and style it is told in.

    Raises:
        ThemeError: for a label the language lacks.
    """
    waiting = [one for one in edition.leaving if one.sha256 not in signed]
    style = theme.sheet_style()
    return environment(theme).get_template("sheet.html").render(
        edition=edition,
        t=theme.labels(edition.language),
        code=sheet_code(edition.leaving),
        parts=(("waiting", waiting), ("signed", [one for one in edition.leaving if one.sha256 in signed])),
        kinds=tuple(LeavingKind),
        files=files,
        style=style,
        style_hash=source_hash(style),
    )
