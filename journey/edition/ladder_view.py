"""The ladder of levels with undertones, where this hair stands on it, and which colours hold on it today."""

from __future__ import annotations

from collections.abc import Sequence

from journey.colour.spaces import lab_to_hex
from journey.edition.desk import Desk
from journey.edition.model import Cell, LadderFigure, LadderStep, Table
from journey.hair.level import UNDERTONES, levels_to_lift, session_steps
from journey.study.assumed import level_lab
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
        hex=_lightened_hex(desk, level),
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
    return (*notes, *shades_in_words(desk))


def levels_table(desk: Desk) -> Table | None:
    """Every level as a target: its undertone, what it takes to get there from the new growth and the lengths."""
    lift = next((one for one in desk.study.lift if one.zone == desk.study.leading.zone), None)
    if lift is None or desk.is_client:
        return None
    words, step = desk.words, float(desk.record.salon.safe_lift_per_session)
    starts = [("natural", lift.natural_level)]
    if lift.lifted_level is not None:
        starts.append(("lifted", lift.lifted_level))
    names = ["level", "undertone", "neutraliser"]
    heads = [words.say(f"ladder.column.{name}") for name in names]
    for start, level in starts:
        heads += [
            words.say(f"ladder.column.{name}-from", start=words.say(f"ladder.start.{start}"), level=level)
            for name in ("levels", "sessions")
        ]
    return Table(
        key="levels",
        title=words.say("ladder.levels.title"),
        columns=tuple(heads),
        rows=tuple(_level_row(desk, target, [level for _, level in starts], step) for target in range(1, 11)),
        note=words.say("ladder.levels.note", step=step),
    )


def _lightened_hex(desk: Desk, level: int) -> str:
    return lab_to_hex(level_lab(desk.record.salon.assumptions, level, lightened=True)).text


def _level_row(desk: Desk, target: int, starts: Sequence[float], step: float) -> tuple[Cell, ...]:
    words, tone = desk.words, UNDERTONES[target - 1]
    cells = [
        Cell(text=str(target), number=True),
        Cell(text=words.say(f"undertone.{tone.name}"), hex=_lightened_hex(desk, target)),
        Cell(text=words.say(f"hue.name.{tone.neutraliser}")),
    ]
    for start in starts:
        levels, stops = levels_to_lift(start, target), session_steps(start, target, step)
        cells.append(Cell(text=words.number(levels), number=True))
        shown = words.number(float(len(stops)), 0)
        if len(stops) > 1:
            reached = words.listing([words.number(stop) for stop in stops])
            shown = words.say("ladder.stops", sessions=shown, stops=reached)
        cells.append(Cell(text=shown, number=True))
    return tuple(cells)


def shades_in_words(desk: Desk) -> tuple[str, ...]:
    """For the client: which of the salon's colours would show true over hers today, and which would turn."""
    lift = next((one for one in desk.study.lift if one.zone == desk.study.leading.zone), None)
    if lift is None:
        return ()
    lines = []
    if lift.shows_true:
        lines.append(
            desk.words.say("ladder.true", names=desk.words.listing([_name(desk, one) for one in lift.shows_true]))
        )
    if lift.turns:
        lines.append(
            desk.words.say("ladder.turns", names=desk.words.listing([_turn(desk, one) for one in lift.turns]))
        )
    return tuple(lines)


def _name(desk: Desk, shade: Shade) -> str:
    return desk.gate.text("Product.name", shade.name)


def _turn(desk: Desk, shade: Shade) -> str:
    return desk.words.say("ladder.turn", name=_name(desk, shade), becomes=desk.colour(shade.lab))


def _table(desk: Desk, lift: LiftStudy) -> Table:
    words, turns = desk.words, desk.record.salon.assumptions.turns_beyond
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
                Cell(text=words.say("ladder.holds" if one.delta_e <= turns else "ladder.changes")),
            )
            for one in shades
        ),
        note=words.say("ladder.table.note"),
    )
