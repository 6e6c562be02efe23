"""Signs the class edition of a folder, as a stylist does who has looked at everything on the sheet."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from journey.edition.consent import Refusal
from journey.edition.leaving import sheet_code
from journey.pipeline import prepare, study_folder
from journey.record.model import Audience
from journey.site.theme import load_theme
from journey.vouching import vouch


def sign_class(folder: Path, *, by: str, today: date) -> tuple[int, str]:
    """Sign what is not signed yet; how many items that were, and the code of the sheet.

    That she saw the sheet of that code is for `seen_sheet` in consent.yaml to say.
    """
    studied, theme = study_folder(folder), load_theme()
    edition = prepare(studied, Audience.CLASS, today=today, theme=theme, to_look_only=True)
    assert not isinstance(edition, Refusal), edition
    code = sheet_code(edition.leaving)
    new = vouch(studied, Audience.CLASS, by=by, sheet=code, today=today, theme=theme)
    assert not isinstance(new, Refusal)
    return len(new), code
