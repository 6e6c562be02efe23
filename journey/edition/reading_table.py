"""Measured colour as tables: by entry, and all of it as Table 1 and as a file to download."""

from __future__ import annotations

from collections.abc import Sequence

from journey.colour.spaces import lab_to_hex, lab_to_lch
from journey.edition.data_file import data_file, headings
from journey.edition.desk import Desk, needs_keyline
from journey.edition.model import Cell, DataFile, Table
from journey.study.model import Reading
from journey.study.unread import UnreadPatch


def readings_table(
    desk: Desk, readings: Sequence[Reading], unread: Sequence[UnreadPatch], *, key: str
) -> Table | None:
    """None when nothing was marked. The client gets names and shares, others the numbers behind them."""
    if not readings and not unread:
        return None
    rows = [
        *((one.day, _row(desk, one)) for one in readings),
        *((one.day, _unread_row(desk, one)) for one in unread),
    ]
    words = desk.words
    names = ["when", "stage", "place", "colour"]
    columns = [words.say(f"column.{name}") for name in names]
    if not desk.is_client:
        columns += ["L*", "a*", "b*", "C*", "h°", words.say("column.uncertainty"), words.say("column.method")]
    columns.append(words.say("column.left"))
    return Table(
        key=key,
        title=words.say("readings.title"),
        columns=tuple(columns),
        rows=tuple(row for _, row in sorted(rows, key=lambda one: one[0])),
        note=words.say("readings.note"),
    )


def _row(desk: Desk, reading: Reading) -> tuple[Cell, ...]:
    words = desk.words
    trace = f"reading.{reading.key}" if desk.is_archive else None
    shown = lab_to_hex(reading.body_lab).text
    cells = [
        *(Cell(text=text) for text in _head(desk, reading)),
        Cell(text=_colour(desk, reading), hex=shown, keyline=needs_keyline(shown), trace=trace),
    ]
    if not desk.is_client:
        chroma, hue = (float(value) for value in lab_to_lch(reading.body_lab)[1:])
        numbers = [*(float(value) for value in reading.body_lab), chroma]
        cells += [Cell(text=words.number(value, 1), number=True) for value in numbers]
        cells.append(Cell(text=words.number(hue, 0), number=True))
        cells.append(Cell(text=words.say("plus-minus", value=reading.uncertainty.delta_e_90), number=True))
        method = words.say(f"calibration.{reading.calibration}")
        why = desk.weakness(reading)
        cells.append(Cell(text=method if why is None else words.say("readings.weak", method=method, why=why)))
    cells.append(Cell(text=share_left(desk, reading), number=True))
    return tuple(cells)


def _colour(desk: Desk, reading: Reading) -> str:
    """The colour's name; for the client, who gets no method, with a word where it was hard to read."""
    name = desk.colour(reading.body_lab)
    weak = desk.is_client and desk.weakness(reading) is not None
    return desk.words.say("readings.hint", colour=name) if weak else name


def _unread_row(desk: Desk, patch: UnreadPatch) -> tuple[Cell, ...]:
    blank = 1 if desk.is_client else 8
    return tuple(Cell(text=text) for text in (*_head(desk, patch), _why_unread(desk, patch), *("–",) * blank))


def share_left(desk: Desk, reading: Reading) -> str:
    """Share of the colour left in a reading; a dash where it says nothing about one, 'none' on new growth."""
    for fade in desk.study.fades:
        if fade.fresh == reading.key:
            return desk.words.percent(1.0)
        for _, _, share, key in fade.measured:
            if key == reading.key:
                return desk.words.percent(share.median)
        if any(key == reading.key for key, _ in fade.left_out):
            return desk.words.say("readings.none")
    return "–"


def readings_file(desk: Desk) -> DataFile:
    """All readings, in weeks for a class and in days for the archive; patches that could not be read come last."""
    axes = ("L*", "a*", "b*")
    afar = [desk.words.say("data.column.afar", of=name) for name in axes]
    head, ends = headings(desk, "when", "stage", "place"), headings(desk, "uncertainty", "method")
    columns = [*head, *axes, *afar, *ends, "sRGB", *headings(desk, "weak")]
    unread = [_unread_line(desk, one) for one in desk.study.unread]
    return data_file(desk, "readings", columns, [*(_line(desk, one) for one in desk.study.readings), *unread])


def _line(desk: Desk, reading: Reading) -> list[str]:
    return [
        *_head(desk, reading),
        *(f"{value:.2f}" for value in (*reading.body_lab, *reading.from_afar_lab)),
        f"{reading.uncertainty.delta_e_90:.1f}",
        desk.words.say(f"calibration.{reading.calibration}"),
        lab_to_hex(reading.body_lab).text,
        desk.weakness(reading) or "",
    ]


def _unread_line(desk: Desk, patch: UnreadPatch) -> list[str]:
    return [*_head(desk, patch), *[""] * 9, _why_unread(desk, patch)]


def _head(desk: Desk, one: Reading | UnreadPatch) -> tuple[str, str, str]:
    """When, at which moment, where."""
    return desk.words.day(one.day), desk.words.say(f"stage.{one.stage}"), desk.place(one.place)


def _why_unread(desk: Desk, patch: UnreadPatch) -> str:
    return desk.words.say("readings.unread", why=desk.because(patch.reason))


def fades_file(desk: Desk) -> DataFile:
    """All shares measured, with washes and intervals."""
    columns = headings(desk, "when", "place", "colour", "washes", "share", "low", "high")
    rows = (
        [
            desk.words.day(day),
            desk.place(fade.place),
            desk.gate.text("Service.name", fade.label),
            f"{washes:.1f}",
            *(f"{value:.3f}" for value in (share.median, share.low, share.high)),
        ]
        for fade in desk.study.fades
        for day, washes, share, _ in fade.measured
    )
    return data_file(desk, "fades", columns, rows)
