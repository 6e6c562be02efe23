"""The ladder of levels with undertones, where this hair stands on it, and which colours hold on it today."""

from __future__ import annotations

from journey.colour.spaces import lab_to_hex
from journey.edition.desk import Desk
from journey.edition.model import Cell, LadderFigure, LadderStep, Table
from journey.hair.level import UNDERTONES, assumed_lab, levels_to_lift, session_steps
from journey.study.lifting import TURNS_DELTA_E
from journey.study.model import LiftStudy, Shade


def ladder_figure(desk: Desk) -> LadderFigure | None:
    """By the leading zone."""
    lift = next((one for one in desk.study.lift if one.zone == desk.study.leading.zone), None)
    if lift is None:
        return None
    return LadderFigure(
        title=_title(desk, lift),
        alt=_alt(desk, lift),
        steps=tuple(_step(desk, lift, number) for number in range(1, 11)),
        notes=_notes(desk, lift),
        table=_table(desk, lift),
    )


def _title(desk: Desk, lift: LiftStudy) -> str:
    if lift.lifted_level is None:
        return desk.words.say("ladder.title.natural", level=lift.natural_level)
    return desk.words.say(
        "ladder.title.lifted",
        levels=levels_to_lift(lift.natural_level, lift.lifted_level),
        level=lift.lifted_level,
        undertone=desk.words.say(f"undertone.{lift.undertone}"),
    )


def _alt(desk: Desk, lift: LiftStudy) -> str:
    lifted = lift.lifted_level if lift.lifted_level is not None else lift.natural_level
    return desk.words.say(
        "ladder.alt",
        natural=lift.natural_level,
        lifted=lifted,
        undertone=desk.words.say(f"undertone.{lift.undertone}"),
        neutraliser=desk.words.say(f"hue.name.{lift.neutraliser}"),
    )


def _step(desk: Desk, lift: LiftStudy, level: int) -> LadderStep:
    tone = UNDERTONES[level - 1]
    marks = []
    if round(lift.natural_level) == level:
        marks.append(desk.words.say("ladder.mark.natural"))
    if lift.lifted_level is not None and round(lift.lifted_level) == level:
        marks.append(desk.words.say("ladder.mark.lifted"))
    return LadderStep(
        level=level,
        hex=lab_to_hex(assumed_lab(level, lightened=True)).text,
        undertone=desk.words.say(f"undertone.{tone.name}"),
        neutraliser=desk.words.say(f"hue.name.{tone.neutraliser}"),
        mark=desk.words.listing(marks),
    )


def _notes(desk: Desk, lift: LiftStudy) -> tuple[str, ...]:
    words = desk.words
    step = float(desk.record.salon.safe_lift_per_session)
    target = lift.lifted_level if lift.lifted_level is not None else lift.natural_level
    sessions = len(session_steps(lift.natural_level, target, step))
    notes = [words.say("ladder.source"), words.say("ladder.assumed")]
    if target > lift.natural_level:
        notes.append(words.say("ladder.sessions", n=sessions, step=step))
    if lift.shows_true:
        notes.append(
            words.say("ladder.true", names=words.listing([_name(desk, one) for one in lift.shows_true]))
        )
    if lift.turns:
        notes.append(words.say("ladder.turns", names=words.listing([_turn(desk, one) for one in lift.turns])))
    return tuple(notes)


def _name(desk: Desk, shade: Shade) -> str:
    return desk.gate.text("Product.name", shade.name)


def _turn(desk: Desk, shade: Shade) -> str:
    return desk.words.say("ladder.turn", name=_name(desk, shade), becomes=desk.colour(shade.lab))


def _table(desk: Desk, lift: LiftStudy) -> Table:
    words = desk.words
    shades = sorted((*lift.shows_true, *lift.turns), key=lambda one: one.delta_e)
    return Table(
        key="shades",
        title=words.say("ladder.table.title"),
        columns=tuple(
            words.say(f"ladder.column.{name}") for name in ("product", "swatch", "here", "apart", "verdict")
        ),
        rows=tuple(
            (
                Cell(text=_name(desk, one)),
                Cell(text=desk.colour(one.swatch_lab), hex=lab_to_hex(one.swatch_lab).text),
                Cell(text=desk.colour(one.lab), hex=lab_to_hex(one.lab).text),
                Cell(text=words.number(one.delta_e, 0), number=True),
                Cell(text=words.say("ladder.holds" if one.delta_e <= TURNS_DELTA_E else "ladder.changes")),
            )
            for one in shades
        ),
        note=words.say("ladder.table.note"),
    )
