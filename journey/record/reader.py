"""A client's folder into a Record, or every problem of every file at once.

    folder ── yaml_reader ──▶ trees ── form, salvage ──▶ models ── cross_checks ──▶ Record

Decides which files there are and in what order they are judged; how each is judged is left to the modules
named above. A file that does not fit its model is read as far as it goes, so that problems of sense are told
in the same run as problems of form.
"""

from __future__ import annotations

from pathlib import Path
from typing import TypeVar

from journey.errors import FolderProblems, Problem
from journey.record.cross_checks import senseless
from journey.record.draft import Draft
from journey.record.model import Consent, Identity, Journey, Part, Record, Salon
from journey.record.notes import NoteShelf
from journey.record.safe_files import FileRefusedError, TooLargeError, read_inside
from journey.record.salvage import Page, salvage
from journey.record.yaml_reader import LIMIT_BYTES, read_yaml

M = TypeVar("M", bound=Part)


def read_record(folder: Path) -> Record:
    """Read a client's folder: salon.yaml, identity.yaml, consent.yaml, journey.yaml, and what they name.

    Raises:
        FolderProblems: with every problem of all files, sorted by file and line.
    """
    try:
        next(folder.iterdir(), None)
    except OSError as error:
        what = f"the folder cannot be opened ({error.strerror})"
        raise FolderProblems([Problem(str(folder), 0, "", what)]) from None
    notes = NoteShelf(folder)
    draft = Draft(
        folder=folder,
        notes=notes,
        salon=_page(folder, "salon.yaml", Salon, notes),
        identity=_page(folder, "identity.yaml", Identity, notes),
        consent=_page(folder, "consent.yaml", Consent, notes),
        journey=_page(folder, "journey.yaml", Journey, notes),
    )
    problems = [problem for page in draft.pages for problem in page.problems]
    problems += senseless(draft)
    problems += notes.problems
    if problems:
        raise FolderProblems(problems)
    return draft.record()


def _page(folder: Path, name: str, model: type[M], notes: NoteShelf) -> Page[M]:
    try:
        content = read_inside(folder, name, limit_bytes=LIMIT_BYTES)
    except TooLargeError as refused:
        return Page(name, problems=[Problem(name, 0, "", refused.what, "longer texts in notes/")])
    except FileRefusedError as refused:
        return Page(name, problems=[Problem(name, 0, "", f"{refused.what}; {refused.remedy}")])
    top, problems = read_yaml(name, content)
    if top is None:
        return Page(name, problems=problems)
    page = salvage(name, top, model, notes.text)
    page.problems = problems + page.problems
    return page
