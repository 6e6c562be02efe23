"""How far colour has moved on the grey scale of ISO 105-A05, week by week since each service."""

from __future__ import annotations

from journey.edition.desk import Desk
from journey.edition.fade_view import fades_of
from journey.edition.model import Cell, GradeFigure, GradePoint, Table
from journey.study.model import Change, Place

SCALE_END = "1"
"""The grey scale has no lower grade: a colour may go on changing while its grade stands still."""


def grade_figure(desk: Desk) -> GradeFigure | None:
    """Places of the leading zone; None when no later reading exists."""
    series = tuple(
        (desk.place(place), points)
        for place in desk.study.places
        if place.zone == desk.study.leading.zone and (points := _points(desk, place))
    )
    if not series:
        return None
    every = [point for _, points in series for point in points]
    surely = [one for one in every if one.at_least == SCALE_END]
    worst = min(surely or every, key=lambda one: (one.grade, one.when.week))
    return GradeFigure(
        title=desk.words.say(
            "grade.title-end" if surely else "grade.title",
            grade=worst.grade_text,
            when=worst.when.text,
        ),
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
            grade=change.grade.rating,
            grade_text=change.grade.grade,
            delta_e=change.delta_e_2000,
            distinguishable=change.distinguishable,
            grade_range=(change.grade_if_more.rating, change.grade_if_less.rating),
            at_least=change.grade_if_less.grade,
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
            *_measures(desk, change),
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
            *_columns(desk),
        ),
        rows=rows,
        note=words.say("grade.table.note"),
    )


def between_places(desk: Desk) -> Table | None:
    """How places on one photo differ, on the last day that was read; None for the client."""
    words = desk.words
    readings = {reading.key: reading for reading in desk.study.readings}
    pairs = [one for one in desk.study.changes if readings[one.earlier].photo == readings[one.later].photo]
    if desk.is_client or not pairs:
        return None
    rows = tuple(
        (
            Cell(text=words.day(readings[change.later].day)),
            Cell(text=desk.place(readings[change.earlier].place)),
            Cell(text=desk.place(readings[change.later].place)),
            *_measures(desk, change, told="apart"),
        )
        for change in pairs
    )
    return Table(
        key="places",
        title=words.say("grade.places.title"),
        columns=(
            words.say("column.when"),
            words.say("grade.places.one"),
            words.say("grade.places.other"),
            *_columns(desk),
        ),
        rows=rows,
        note=words.say("grade.places.note"),
    )


def _columns(desk: Desk) -> tuple[str, ...]:
    words = desk.words
    limit, grade = words.say("grade.column.limit"), words.say("grade.column.grade")
    return "ΔE₀₀", limit, "ΔL*", "ΔC*", "ΔH*", grade, words.say("grade.column.verdict")


def _measures(desk: Desk, change: Change, told: str = "real") -> tuple[Cell, ...]:
    words = desk.words
    parts = (change.limit, change.lightness, change.chroma, change.hue)
    trace = f"change.{change.earlier}..{change.later}" if desk.is_archive else None
    return (
        Cell(text=words.number(change.delta_e_2000, 1), number=True, trace=trace),
        *(Cell(text=words.number(value, 1), number=True) for value in parts),
        Cell(text=grade_text(desk, change), number=True),
        Cell(text=words.say(f"grade.{told}" if change.distinguishable else f"grade.not-{told}")),
    )


def grade_text(desk: Desk, change: Change) -> str:
    """The grade, and in brackets the grades it may be as well."""
    worst, best = change.grade_if_more.grade, change.grade_if_less.grade
    if worst == best:
        return change.grade.grade
    return desk.words.say("grade.range", grade=change.grade.grade, worst=worst, best=best)
