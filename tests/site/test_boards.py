"""Figures, tables and questions in their order."""

from __future__ import annotations

from dataclasses import replace

from journey.edition.model import Question
from journey.record.model import Audience
from journey.site.boards import BOWLS_ON_A_BOARD, lay_out_boards, left_over_questions, number_tables
from tests.edition_example import example_edition

CLASS = example_edition(Audience.CLASS)


def test_a_decision_shows_the_week_its_question_names() -> None:
    """'Week 9 ...' stands beside the photos of week 9, and a decision carries no figure number."""
    decision = next(board for board in lay_out_boards(CLASS) if board.kind == "decision")
    assert decision.number is None
    assert decision.subject is not None
    assert decision.subject.when.text == "week 9"  # type: ignore[union-attr]


def test_week_2_is_not_week_20() -> None:
    """A moment is named by whole words."""
    asked = Question(figure="decision", question="In week 20, what now?", answer="", choices=("a", "b"))
    board = next(b for b in lay_out_boards(replace(CLASS, questions=(asked,))) if b.kind == "decision")
    assert board.subject is CLASS.entries[-1], "what no week is named for is decided on the last one"


def test_no_question_is_lost() -> None:
    """Each question stands on exactly one board, or among those left over when its figure is missing."""
    without_hue = replace(CLASS, hue=None)
    boards = lay_out_boards(without_hue)
    placed = [question for board in boards for question in board.questions]
    left = left_over_questions(without_hue, boards)
    assert sorted(q.question for q in (*placed, *left)) == sorted(q.question for q in CLASS.questions)
    assert [q.figure for q in left] == ["hue"]


def test_many_bowls_take_several_boards() -> None:
    """Five bowls make two figures with anchors of their own; questions stand on the first."""
    many = replace(CLASS, bowls=(CLASS.bowls * 2)[: BOWLS_ON_A_BOARD + 1])
    bowls = [board for board in lay_out_boards(many) if board.kind == "bowls"]
    assert [board.anchor for board in bowls] == ["bowls", "bowls-2"]
    assert [len(board.questions) for board in bowls] == [1, 0]


def test_table_1_is_measured_colour() -> None:
    """Tables count from the measured colours, and each is there once."""
    tables = number_tables(CLASS)
    assert tables[0].table.key == "readings"
    assert [t.number for t in tables] == list(range(1, len(tables) + 1))
    assert len({t.table.key for t in tables}) == len(tables)


def _decision(question: str) -> Question:
    return Question(figure="decision", question=question, answer="", choices=("a", "b"))


def test_a_decision_is_titled_by_what_it_asks() -> None:
    """Two stops in a course bear titles and numbers of their own; what leads up to the question stays below."""
    first = _decision("Week 4. Her ends are wet. Which zone first?")
    second = _decision("¿Qué viene ahora?")
    without = _decision("See **this** and decide?")
    boards = lay_out_boards(replace(CLASS, questions=(first, second, without)))
    told = [(board.title, board.before, board.stop) for board in boards if board.kind == "decision"]
    assert told == [
        ("Which zone first?", "Week 4. Her ends are wet.", 1),
        ("¿Qué viene ahora?", "", 2),
        (None, "See **this** and decide?", 3),
    ]
    alone = lay_out_boards(replace(CLASS, questions=(first,)))
    assert [board.stop for board in alone if board.kind == "decision"] == [None]
