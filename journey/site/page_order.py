"""Pictures numbered as they stand on the page, so that their names say nothing that the page does not.

An edition numbers its pictures as they are asked for; where each stands is known when the page is filled.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any, Final

from journey.edition.model import Edition, Picture

_ON_THE_PAGE: Final = re.compile(r"(?<=pictures/)p\d+(?=-)")

UNSHOWN: Final = "unshown"


def names_by_place(html: str) -> dict[str, str]:
    """The name each picture of a page gets, by the one it has: 'p01' for the first that is shown."""
    shown = dict.fromkeys(_ON_THE_PAGE.findall(html))
    return {name: f"p{number:02d}" for number, name in enumerate(shown, 1)}


def page_renamed(html: str, names: Mapping[str, str]) -> str:
    """The page with every picture under its new name."""
    return _ON_THE_PAGE.sub(lambda found: names[found[0]], html)


def files_renamed(folder: Path, names: Mapping[str, str]) -> None:
    """The files of all sizes under their new names; what no page shows is called so, for the audit to refuse."""
    files = sorted(folder.iterdir())
    for file in files:
        file.rename(file.with_name(f".{file.name}"))
    for file in files:
        name, _, rest = file.name.partition("-")
        file.with_name(f".{file.name}").rename(file.with_name(f"{names.get(name, UNSHOWN)}-{rest}"))


def edition_renamed(edition: Edition, names: Mapping[str, str]) -> Edition:
    """The edition with every picture under its new name."""
    return replace(
        edition,
        before_now=_renamed(edition.before_now, names),
        entries=tuple(replace(one, pictures=_renamed(one.pictures, names)) for one in edition.entries),
        contact=_renamed(edition.contact, names),
        fibres=tuple(replace(one, picture=_renamed(one.picture, names)) for one in edition.fibres),
        condition_pairs=_renamed(edition.condition_pairs, names),
        leaving=_renamed(edition.leaving, names),
    )


def _renamed(value: Any, names: Mapping[str, str]) -> Any:
    if isinstance(value, Picture):
        return replace(value, name=names.get(value.name, UNSHOWN))
    if isinstance(value, tuple) and not hasattr(value, "_fields"):
        return tuple(_renamed(one, names) for one in value)
    ours = type(value).__module__.startswith("journey.edition.")
    if ours and is_dataclass(value) and not isinstance(value, type):
        changed = {
            one.name: new
            for one in fields(value)
            if (new := _renamed(old := getattr(value, one.name), names)) is not old
        }
        return replace(value, **changed) if changed else value
    return value
