"""All options in one table, one column each: in words for the client, with numbers for a class, with cost for
the archive.

It decides which rows each audience gets; every row answers one question about all options.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from journey.colour.spaces import lab_to_hex
from journey.edition.bowl_view import money
from journey.edition.caution_view import cautions_about
from journey.edition.desk import Desk
from journey.edition.model import Cell, Table
from journey.edition.option_words import comes_first, speaks_against, steps_of
from journey.hair.absent import Absent
from journey.record.model import Option
from journey.study.findings import place_key
from journey.study.model import Lab, OptionStudy, Prediction
from journey.study.planning import LOOK_AHEAD_WEEKS

Answer = Callable[[Desk, Option, OptionStudy], Cell]


@dataclass(frozen=True, slots=True)
class _Row:
    key: str
    answer: Answer
    with_cost: bool = False
    with_numbers: bool = False


def options_table(desk: Desk) -> Table | None:
    """Options as columns, questions as rows; None without options."""
    pairs = list(zip(desk.record.journey.options, desk.study.options, strict=True))
    if not pairs:
        return None
    words = desk.words
    rows = [row for row in _ROWS if _is_told(desk, row)]
    return Table(
        key="options",
        title=words.say("option.table.title"),
        columns=("", *(desk.gate.text("Option.title", option.title) for option, _ in pairs)),
        rows=tuple(
            (
                Cell(text=words.say(f"option.row.{row.key}")),
                *(row.answer(desk, option, study) for option, study in pairs),
            )
            for row in rows
        ),
        note=words.say("option.table.note", place=desk.place(desk.study.leading)),
    )


def _is_told(desk: Desk, row: _Row) -> bool:
    if row.with_cost:
        return desk.gate.may_derive("Product.price")
    return not (row.with_numbers and desk.is_client)


def _at(weeks: float) -> Answer:
    def answer(desk: Desk, _: Option, study: OptionStudy) -> Cell:
        leading = desk.study.leading
        one = next(each for each in study.predictions if each.place == leading and each.weeks == weeks)
        trace = f"option.{study.key}.{place_key(one.place)}.week-{one.weeks:.0f}"
        return Cell(
            text=desk.colour(one.expected),
            hex=lab_to_hex(one.expected).text,
            around=() if _is_sure(one) else tuple(lab_to_hex(lab).text for lab in (one.light, one.strong)),
            lines=tuple(_spread(desk, one)),
            trace=trace if desk.is_archive else None,
        )

    return answer


def _is_sure(one: Prediction) -> bool:
    return bool((one.light == one.strong).all())


def _spread(desk: Desk, one: Prediction) -> list[str]:
    """What it may turn out as: names where they differ, and numbers for those who compute."""
    words, lines = desk.words, []
    light, strong = desk.colour(one.light), desk.colour(one.strong)
    if {light, strong} != {desk.colour(one.expected)}:
        lines.append(words.say("option.spread", light=light, strong=strong))
    if not desk.is_client:
        lines.append(_numbers(desk, one.expected))
        if not _is_sure(one):
            spread = words.say("option.spread", light=_numbers(desk, one.light), strong=_numbers(desk, one.strong))
            lines.append(spread)
    return lines


def _numbers(desk: Desk, lab: Lab) -> str:
    return ", ".join(desk.words.number(float(value), 0) for value in lab)


def _steps(desk: Desk, option: Option, _: OptionStudy) -> Cell:
    return _said(steps_of(desk, option))


def _said(lines: tuple[str, ...]) -> Cell:
    return Cell(text="", lines=lines) if lines else Cell(text="–")


def _sessions(desk: Desk, _: Option, study: OptionStudy) -> Cell:
    if not study.sessions:
        return Cell(text=desk.words.say("option.no-visit"))
    text = desk.words.say("option.sessions", n=float(study.sessions))
    if study.weeks_between and study.sessions > 1:
        apart = desk.words.say("option.apart", n=float(study.weeks_between))
        return Cell(text=text, lines=(apart,))
    return Cell(text=text)


def _time(desk: Desk, _: Option, study: OptionStudy) -> Cell:
    return Cell(text=desk.words.minutes(study.minutes) if study.minutes else "–")


def _holds(desk: Desk, _: Option, study: OptionStudy) -> Cell:
    weeks = study.refresh_weeks
    if isinstance(weeks, Absent):
        return Cell(text=desk.words.say("option.no-refresh"))
    return Cell(text=desk.words.say("option.weeks", n=weeks))


def _care(desk: Desk, _: Option, study: OptionStudy) -> Cell:
    """Upkeep without money: how often, and how long each time."""
    weeks = study.refresh_weeks
    if isinstance(weeks, Absent) or not study.minutes:
        return Cell(text=desk.words.say("option.no-refresh"))
    one_visit = round(study.minutes / max(study.sessions, 1))
    return Cell(text=desk.words.say("option.upkeep-time", n=weeks, time=desk.words.minutes(one_visit)))


def _first(desk: Desk, option: Option, study: OptionStudy) -> Cell:
    asked = tuple(line.text for line in cautions_about(desk, option.key) if line.weight == "ask")
    return _said((*asked, *comes_first(desk, study)))


def _against(desk: Desk, option: Option, study: OptionStudy) -> Cell:
    know = desk.gate.text("Option.know_first", option.know_first)
    warned = tuple(line.text for line in cautions_about(desk, option.key) if line.weight != "ask")
    return _said((*warned, *speaks_against(desk, study), *((know,) if know else ())))


def _grams(desk: Desk, _: Option, study: OptionStudy) -> Cell:
    return Cell(text=desk.words.say("grams", g=study.grams) if study.grams else "–", number=True)


def _money(name: str) -> Answer:
    def answer(desk: Desk, _: Option, study: OptionStudy) -> Cell:
        amount = study.cost if name == "cost" else study.upkeep_per_month
        if isinstance(amount, Absent):
            return Cell(text=desk.because(amount))
        trace = f"option.{study.key}.{name}"
        return Cell(text=money(desk, amount), number=True, trace=trace if desk.is_archive else None)

    return answer


_ROWS: tuple[_Row, ...] = (
    *(_Row(f"week-{weeks:.0f}", _at(weeks)) for weeks in LOOK_AHEAD_WEEKS),
    _Row("steps", _steps),
    _Row("sessions", _sessions),
    _Row("time", _time),
    _Row("holds", _holds),
    _Row("upkeep-time", _care),
    _Row("grams", _grams, with_numbers=True),
    _Row("cost", _money("cost"), with_cost=True),
    _Row("upkeep", _money("upkeep"), with_cost=True),
    _Row("first", _first),
    _Row("against", _against),
)
"""In the order they are read: what it becomes, what is done, what it takes, what stands before it."""
