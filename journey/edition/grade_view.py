"""How far colour has moved on the grey scale of ISO 105-A05, week by week since each service."""

from __future__ import annotations

from journey.edition.desk import Desk
from journey.edition.fade_view import fades_of
from journey.edition.model import Cell, GradeFigure, GradePoint, Table
from journey.study.model import Change, Place


def grade_figure(desk: Desk) -> GradeFigure | None:
    """Places of the leading zone; None when no later reading exists."""
    series = tuple(
        (desk.place(place), points)
        for place in desk.study.places
        if place.zone == desk.study.leading.zone and (points := _points(desk, place))
    )
    if not series:
        return None
    worst = min((point for _, points in series for point in points), key=lambda one: one.grade)
    return GradeFigure(
        title=desk.words.say("grade.title", grade=worst.grade_text, when=worst.when.text),
        alt=" ".join(
            desk.words.say(
                "grade.alt",
                place=place,
                grades=desk.words.listing([f"{p.when.text}: {p.grade_text}" for p in points]),
            )
            for place, points in series
        ),
        series=series,
        table=_table(desk),
        note=desk.words.say("grade.note"),
    )


def _changes(desk: Desk, place: Place) -> list[Change]:
    """From each fresh colour on a place to its later readings."""
    fresh = {fade.fresh: fade for fade in fades_of(desk, place)}
    return [change for change in desk.study.changes if change.earlier in fresh and change.place == place]


def _points(desk: Desk, place: Place) -> tuple[GradePoint, ...]:
    days = {reading.key: reading.day for reading in desk.study.readings}
    return tuple(
        GradePoint(
            when=desk.words.when(days[change.later]),
            grade=change.grade,
            grade_text=change.grade_text,
            delta_e=change.delta_e_2000,
            distinguishable=change.distinguishable,
        )
        for change in _changes(desk, place)
    )


def _table(desk: Desk) -> Table:
    days = {reading.key: reading.day for reading in desk.study.readings}
    words = desk.words
    rows = tuple(
        (
            Cell(text=words.day(days[change.earlier])),
            Cell(text=words.day(days[change.later])),
            Cell(text=desk.place(place)),
            Cell(
                text=words.number(change.delta_e_2000, 1),
                number=True,
                trace=f"change.{change.earlier}..{change.later}" if desk.is_archive else None,
            ),
            Cell(text=words.number(change.lightness, 1), number=True),
            Cell(text=words.number(change.chroma, 1), number=True),
            Cell(text=words.number(change.hue, 1), number=True),
            Cell(text=change.grade_text, number=True),
            Cell(text=words.say("grade.real" if change.distinguishable else "grade.not-real")),
        )
        for place in desk.study.places
        for change in _changes(desk, place)
    )
    return Table(
        key="grade",
        title=words.say("grade.table.title"),
        columns=(
            words.say("grade.column.from"),
            words.say("grade.column.to"),
            words.say("column.place"),
            "ΔE₀₀",
            "ΔL*",
            "ΔC*",
            "ΔH*",
            words.say("grade.column.grade"),
            words.say("grade.column.verdict"),
        ),
        rows=rows,
        note=words.say("grade.table.note"),
    )
