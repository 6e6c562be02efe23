"""Decides the order, numbers and anchors of figures, tables and questions for readers who cite them.

`BOARDS` lists the kinds of figure in page order; a new kind is a line there and a template block of the
same name. What a board looks like is left to the templates.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from journey.edition.model import BowlCard, Edition, Entry, FibreFigure, Question, StrandRaster, Table

BOWLS_ON_A_BOARD: Final = 4
_LONGEST_TITLE: Final = 120
_SENTENCE_END: Final = re.compile(r"(?<=[.!?…])\s+")
_PLAIN: Final = re.compile(r"[^*_`\[\]<>#|\n]+")
"""Without marks of Markdown."""

BoardSubject = StrandRaster | FibreFigure | tuple[BowlCard, ...] | Entry | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One screen: a numbered figure, or a decision to take, with its questions."""

    kind: str
    """A key of `BOARDS`; questions name it."""
    number: int | None
    """Figure number; None for a decision, which is no figure."""
    anchor: str
    """Its kind, with '-2' for the second of its kind."""
    title: str | None
    """The figure's own title, or what a decision asks; None where the template has to say it."""
    subject: BoardSubject = None
    questions: tuple[Question, ...] = ()
    before: str = ""
    """Of a decision: Markdown that leads up to what it asks."""
    stop: int | None = None
    """Which stop it is, of several."""


@dataclass(frozen=True, slots=True)
class NumberedTable:
    number: int
    anchor: str
    table: Table


def _strand(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    for strand in edition.strands:
        yield strand.title, strand


def _fade(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    if edition.fade:
        yield edition.fade.title, None


def _hue(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    if edition.hue:
        yield edition.hue.title, None


def _fibres(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    for figure in edition.fibres:
        yield figure.title, figure


def _contact(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    if edition.contact:
        yield None, None


def _ladder(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    if edition.ladder:
        yield edition.ladder.title, None


def _removal(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    if edition.removal:
        yield edition.removal.title, None


def _grade(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    if edition.grade:
        yield edition.grade.title, None


def _bowls(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    for start in range(0, len(edition.bowls), BOWLS_ON_A_BOARD):
        yield None, edition.bowls[start : start + BOWLS_ON_A_BOARD]


def _decision(edition: Edition) -> Iterator[tuple[str | None, BoardSubject]]:
    for question in edition.questions:
        if question.choices:
            yield None, entry_named_in(question.question, edition) or next(iter(edition.entries[::-1]), None)


def asked_in(question: str) -> tuple[str | None, str]:
    """The last sentence of a question, if it asks and is short enough for a title, and what stands before it.

    >>> asked_in("Her ends stretch when wet. What would you do?")
    ('What would you do?', 'Her ends stretch when wet.')
    >>> asked_in("Decide.")
    (None, 'Decide.')
    """
    *_, last = _SENTENCE_END.split(question.strip())
    is_title = last.endswith("?") and len(last) <= _LONGEST_TITLE and _PLAIN.fullmatch(last)
    return (last, question.strip().removesuffix(last).strip()) if is_title else (None, question)


def entry_named_in(words: str, edition: Edition) -> Entry | None:
    """The first entry whose moment ('week 9') the words name, so that its photos can be shown beside them."""
    named = (e for e in edition.entries if re.search(rf"\b{re.escape(e.when.text)}\b", words, re.IGNORECASE))
    return next(named, None)


BOARDS: Final = (
    ("strand", _strand),
    ("fade", _fade),
    ("decision", _decision),
    ("hue", _hue),
    ("fibres", _fibres),
    ("contact", _contact),
    ("ladder", _ladder),
    ("removal", _removal),
    ("grade", _grade),
    ("bowls", _bowls),
)


def lay_out_boards(edition: Edition) -> tuple[Board, ...]:
    """All boards of an edition in page order, figures numbered from 1, each with its questions.

    A question names the kind of board it belongs to and stands on the first of that kind; one with choices
    is a board of its own.
    """
    asked: dict[str, list[Question]] = {kind: [] for kind, _ in BOARDS}
    for question in edition.questions:
        asked.setdefault("decision" if question.choices else question.figure, []).append(question)
    boards: list[Board] = []
    figures = 0
    stops = len(asked["decision"])
    for kind, subjects in BOARDS:
        for place, (title, subject) in enumerate(subjects(edition)):
            decides = kind == "decision"
            figures += not decides
            here = asked[kind][place : place + 1] if decides else asked[kind][: None if place == 0 else 0]
            asks, before = asked_in(here[0].question) if decides else (None, "")
            boards.append(
                Board(
                    kind=kind,
                    number=None if decides else figures,
                    anchor=kind if place == 0 else f"{kind}-{place + 1}",
                    title=title or asks,
                    subject=subject,
                    questions=tuple(here),
                    before=before,
                    stop=place + 1 if decides and stops > 1 else None,
                )
            )
    return tuple(boards)


def left_over_questions(edition: Edition, boards: tuple[Board, ...]) -> tuple[Question, ...]:
    """Questions about something that has no board; they are asked after the last one, never lost."""
    placed = [question for board in boards for question in board.questions]
    return tuple(question for question in edition.questions if question not in placed)


def number_tables(edition: Edition) -> tuple[NumberedTable, ...]:
    """Every table once, numbered from 1: measured colour first, then the numbers behind each figure."""
    behind = [figure.table for figure in (edition.fade, edition.hue, edition.grade, edition.ladder) if figure]
    strands = [strand.table for strand in edition.strands if strand.table]
    options = [edition.options_table] if edition.options_table else []
    removal = edition.removal.tables if edition.removal else ()
    tables = {table.key: table for table in (*edition.tables, *strands, *behind, *removal, *options)}
    return tuple(NumberedTable(n, f"table-{n}", table) for n, table in enumerate(tables.values(), 1))
