"""The hue path as a figure: how each colour moves through the a*b* plane on its way to the hair underneath."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from journey.colour.spaces import lab_to_hex
from journey.edition.desk import Desk
from journey.edition.fade_view import course, fades_of
from journey.edition.model import Cell, HueFigure, HuePoint, HueStretch, Table
from journey.study.model import Fade, Lab
from journey.study.strand_study import FORECAST_WEEKS


def hue_figure(desk: Desk) -> HueFigure | None:
    """The leading place's paths; None when nothing was followed there."""
    fades = fades_of(desk, desk.study.leading)
    if not fades:
        return None
    last_day = desk.study.as_of + timedelta(weeks=FORECAST_WEEKS)
    base = fades[-1].substrate_lab
    stretches = tuple(_stretch(desk, fade, last_day) for fade in fades)
    return HueFigure(
        title=_title(desk, fades),
        alt=" ".join(_alt(desk, stretch) for stretch in stretches),
        place=desk.place(desk.study.leading),
        stretches=stretches,
        base=_point(0.0, base),
        table=_table(desk, stretches),
        note=desk.words.say("hue.note"),
    )


def _point(week: float, lab: Lab) -> HuePoint:
    return HuePoint(week=week, a=float(lab[1]), b=float(lab[2]), hex=lab_to_hex(lab).text)


def _stretch(desk: Desk, fade: Fade, last_day: date) -> HueStretch:
    readings = {reading.key: reading for reading in desk.study.readings}
    seen_until = min(fade.until or desk.study.as_of, desk.study.as_of)
    measured = [_point(desk.week(fade.applied), fade.dyed_lab)]
    measured += [_point(desk.week(day), readings[key].body_lab) for day, _, _, key in fade.measured]
    return HueStretch(
        label=desk.gate.text("Service.name", fade.label),
        path=_course(desk, fade, fade.applied, seen_until),
        forecast=() if fade.until is not None else _course(desk, fade, desk.study.as_of, last_day),
        measured=tuple(measured),
        straight=(_point(desk.week(fade.applied), fade.dyed_lab), _point(0.0, fade.substrate_lab)),
    )


def _course(desk: Desk, fade: Fade, first: date, last: date) -> tuple[HuePoint, ...]:
    """The fitted course at about two points a week."""
    return tuple(
        _point(week, fade.path.lab_at(share.median)) for week, share in course(desk, fade, first, last)
    )


def _title(desk: Desk, fades: list[Fade]) -> str:
    first, last = fades[0], fades[-1]
    half_way = [fade.path.lab_at(0.35) for fade in (first, last)]
    return desk.words.say(
        "hue.title",
        first=desk.gate.text("Service.name", first.label),
        last=desk.gate.text("Service.name", last.label),
        first_becomes=desk.colour(half_way[0]),
        last_becomes=desk.colour(half_way[1]),
        base=desk.colour(last.substrate_lab),
    )


def _alt(desk: Desk, stretch: HueStretch) -> str:
    first, last = stretch.path[0], stretch.path[-1]
    return desk.words.say(
        "hue.alt",
        label=stretch.label,
        a_first=round(first.a),
        b_first=round(first.b),
        a_last=round(last.a),
        b_last=round(last.b),
    )


def _table(desk: Desk, stretches: tuple[HueStretch, ...]) -> Table:
    rows = []
    for stretch in stretches:
        for point in stretch.measured:
            chroma = float(np.hypot(point.a, point.b))
            hue = float(np.degrees(np.arctan2(point.b, point.a))) % 360
            rows.append(
                (
                    Cell(text=desk.words.say("when.week", week=round(point.week))),
                    Cell(text=stretch.label, hex=point.hex),
                    *(
                        Cell(text=desk.words.number(value, 0), number=True)
                        for value in (point.a, point.b, chroma, hue)
                    ),
                )
            )
    return Table(
        key="hue",
        title=desk.words.say("hue.table.title", place=desk.place(desk.study.leading)),
        columns=(desk.words.say("column.when"), desk.words.say("column.colour"), "a*", "b*", "C*", "h°"),
        rows=tuple(rows),
        note=desk.words.say("hue.table.note"),
    )
