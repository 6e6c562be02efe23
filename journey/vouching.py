"""Showing what leaves, and recording who vouched for it.

It decides that only what was looked at can be signed: whoever vouches names the code on the sheet, and when
anything changed since that sheet was made, nothing is recorded.
"""

from __future__ import annotations

import os
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from journey.edition.consent import Refusal
from journey.edition.leaving import sheet_code
from journey.edition.model import Edition, Leaving
from journey.edition.sign_off import signed_by_hash, unsigned
from journey.errors import JourneyError
from journey.pipeline import Studied, prepare
from journey.private_state import remember_site, sheet_of
from journey.record.model import Audience
from journey.record.photo_files import damage_told
from journey.record.sign_offs import SignOff, add_sign_offs
from journey.site.contact_sheet import contact_sheet, largest_files
from journey.site.theme import Theme
from journey.withdrawing import without_withdrawn

_PRIVATE_MODE = 0o600


class NotVouchedError(JourneyError):
    """Nothing was recorded, and why."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A sheet that was written."""

    edition: Edition
    code: str
    waiting: tuple[Leaving, ...]
    """What nobody has signed yet."""

    def lines(self, folder: Path) -> list[str]:
        """How much is to be signed, and by which command."""
        told = [f"not signed: {len(self.waiting)} of {len(self.edition.leaving)}"]
        if self.waiting:
            whom = self.edition.audience
            told.append(f"  journey vouch {folder} --for {whom} --by STYLIST --sheet {self.code}")
        return told


def show(studied: Studied, audience: Audience, *, today: date, theme: Theme, sheet: Path) -> Shown | Refusal:
    """Write the contact sheet of an edition to `sheet`, readable by nobody else on this computer."""
    edition = prepare(studied, audience, today=today, theme=theme, to_look_only=True)
    if isinstance(edition, Refusal):
        return edition
    signed = signed_by_hash(audience, studied.sign_offs)
    with damage_told(without_withdrawn(studied.record), studied.folder):
        page = contact_sheet(edition, signed, largest_files(edition.leaving), theme)
    # Before it is there: a withdrawal has to find it, wherever it was asked for.
    remember_site(studied.folder, sheet_of(audience), sheet)
    _write_privately(sheet, page)
    return Shown(edition, sheet_code(edition.leaving), unsigned(edition, studied.sign_offs))


def vouch(
    studied: Studied, audience: Audience, *, by: str, sheet: str | None, today: date, theme: Theme
) -> tuple[SignOff, ...] | Refusal:
    """Record that `by` looked at the sheet of that code: a line for each item not signed before.

    Raises NotVouchedError when nobody of that key works here, or the code is not that of today's sheet.
    """
    stylists = [stylist.key for stylist in studied.record.salon.stylists]
    if by not in stylists:
        raise NotVouchedError(f"there is no stylist {by!r} in salon.yaml; write one of: {', '.join(stylists)}")
    edition = prepare(studied, audience, today=today, theme=theme, to_look_only=True)
    if isinstance(edition, Refusal):
        return edition
    code = sheet_code(edition.leaving)
    if sheet != code:
        raise NotVouchedError(
            f"the sheet of that code shows something else than would leave now; look at a new one: "
            f"journey disclose {studied.folder.name} --for {audience}"
        )
    waiting = unsigned(edition, studied.sign_offs)
    with damage_told(without_withdrawn(studied.record), studied.folder):
        files = largest_files(waiting)
    new = tuple(
        SignOff(
            edition=audience,
            kind=one.kind.value,
            name=one.name,
            sha256=one.sha256,
            look=files[one.sha256].look if one.sha256 in files else "",
            by=by,
            on=today,
            sheet=code,
        )
        for one in waiting
    )
    add_sign_offs(studied.folder, new)
    return new


def _write_privately(path: Path, text: str) -> None:
    path.unlink(missing_ok=True)
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC
    with os.fdopen(os.open(path, flags, _PRIVATE_MODE), "w", encoding="utf-8") as file:
        file.write(text)
