"""Everything that leaves with an edition, item by item, each with a hash: what a person looks at and signs for.

It decides what an item is and what makes it another one. A hash is taken of what is the same on every computer,
so that a sign-off given on one holds on another, and changes with anything that changes what is seen:

* a **photo** as it leaves (whole, or the part around a patch): the bytes of the file it comes from, the part,
  its covers, and how covers are made. Encoded bytes are not hashed: they differ between releases of the
  encoders. That the files written are the pictures that were looked at is told by `journey.site.looks`;
* a **text** that somebody wrote, as it leaves the filter, with the field it stands in;
* the **values** of a typed field, all of them in order. Rasters, charts, tables and the tool's own sentences are
  made from these and from nothing else, so they are bound by what goes in: their bytes hang on the last digit
  of a processor's arithmetic.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from enum import Enum
from typing import Any, Final

from pydantic import BaseModel

from journey.edition.desk import Desk
from journey.edition.model import Leaving, LeavingKind, Picture
from journey.edition.photographs import COVER_COLOUR, GROWTH, SMALLEST_RIM_PX
from journey.edition.rules import RULES, Treatment
from journey.record.model import Audience, Record
from journey.record.private import Private

_LETTERS: Final = "bcdfghjklmnpqrst"
"""Sixteen letters without vowels, so that no code is a word."""
_CODE_BYTES: Final = 10


def leaving_of(desk: Desk) -> tuple[Leaving, ...]:
    """All that has been let out through a desk; asked for once everything else of the edition is prepared."""
    photos = [_photo(name, picture) for name, picture in desk.pictures.all()]
    texts = [_text(path, text) for path, text in desk.gate.said]
    values = [
        _item(LeavingKind.VALUES, path, "; ".join(written))
        for path, written in sorted(_written(desk.record, desk.audience).items())
    ]
    as_of = _item(LeavingKind.VALUES, "as of", desk.study.as_of.isoformat())
    return (*photos, *texts, *values, as_of)


def sheet_code(leaving: tuple[Leaving, ...]) -> str:
    """One code for all items together, as printed on the contact sheet: five groups of four letters.

    >>> sheet_code(())
    'sfpb-qggd-mltq-cqcg-mntp'
    """
    together = hashlib.sha256("\n".join(sorted(f"{one.kind} {one.sha256}" for one in leaving)).encode())
    letters = "".join(_LETTERS[int(digit, 16)] for digit in together.hexdigest()[: 2 * _CODE_BYTES])
    return "-".join(letters[at : at + 4] for at in range(0, len(letters), 4))


def _photo(name: str, picture: Picture) -> Leaving:
    made = (picture.fingerprint, f"{picture.width}x{picture.height}", COVER_COLOUR, GROWTH, SMALLEST_RIM_PX)
    sha256 = _sha256(LeavingKind.PHOTO, *(str(one) for one in made))
    return Leaving(kind=LeavingKind.PHOTO, name=name, sha256=sha256, picture=picture)


def _text(path: str, text: str) -> Leaving:
    return _item(LeavingKind.TEXT, path, text)


def _item(kind: LeavingKind, name: str, text: str) -> Leaving:
    return Leaving(kind=kind, name=name, sha256=_sha256(kind, name, text), text=text)


def _sha256(*parts: str) -> str:
    digest = hashlib.sha256()
    for part in parts:
        data = part.encode()
        digest.update(len(data).to_bytes(8, "big") + data)
    return digest.hexdigest()


def _written(record: Record, audience: Audience) -> Mapping[str, list[str]]:
    """All values of every typed field of hair, work and products that this audience sees something of."""
    found: dict[str, list[str]] = {}
    for part in (record.salon, record.journey):
        for path, value in _leaves(part):
            if RULES[path].for_(audience) in (Treatment.SHOW, Treatment.DERIVE):
                found.setdefault(path, []).append(_plain(value))
    return found


def _leaves(part: BaseModel) -> Iterator[tuple[str, Any]]:
    for name in type(part).model_fields:
        value = getattr(part, name)
        inner = value if isinstance(value, tuple) else (value,)
        for one in inner:
            if isinstance(one, BaseModel):
                yield from _leaves(one)
            elif one is not None and not isinstance(one, Private):
                yield f"{type(part).__name__}.{name}", one


def _plain(value: Any) -> str:
    return str(value.value) if isinstance(value, Enum) else str(value)
