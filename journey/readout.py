"""Results as text for the person at the keyboard: readings, findings, cautions, the ledger of an edition."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

from rich.console import Console
from rich.table import Table

from journey.colour.reason import Reason
from journey.colour.spaces import lab_to_hex
from journey.edition.model import Edition
from journey.edition.wording import Wording
from journey.pipeline import Studied
from journey.record.lines import lines_of
from journey.record.model import Audience
from journey.study.model import Caution, Finding, Reading, Study
from journey.study.unread import UnreadPatch

_COLUMNS = (
    "key",
    "day",
    "stage",
    "L*",
    "a*",
    "b*",
    "afar L*",
    "afar a*",
    "afar b*",
    "within 90 %",
    "method",
    "hex",
    "clipped",
    "warnings",
)


def readings_as(form: str, study: Study, english: Wording) -> str:
    """All readings as 'table', 'csv' or 'json' text, then the patches and magnified photos that could not be read.

    L*, a*, b* are the body colour, 'afar' the mean of all strands.
    """
    found = [
        *((_row(reading), _warnings(reading, english)) for reading in study.readings),
        *(_unread_row(patch, english) for patch in study.unread),
    ]
    if form == "json":
        told = [{**dict(zip(_COLUMNS, row, strict=False)), "warnings": warnings} for row, warnings in found]
        return json.dumps(told, indent=2, ensure_ascii=False) + "\n"
    rows = [(*("" if value is None else value for value in row), "; ".join(warnings)) for row, warnings in found]
    text = io.StringIO(newline="")
    if form == "csv":
        writer = csv.writer(text, lineterminator="\n")
        writer.writerow(_COLUMNS)
        writer.writerows(rows)
        return text.getvalue()
    table = Table(*(name for name in _COLUMNS if not name.startswith("afar")))
    for row in rows:
        table.add_row(
            *(str(value) for name, value in zip(_COLUMNS, row, strict=True) if not name.startswith("afar"))
        )
    Console(file=text, width=180).print(table)
    return text.getvalue()


_Row = tuple[str | float | None, ...]


def _unread_row(patch: UnreadPatch, english: Wording) -> tuple[_Row, list[str]]:
    """Its columns but the last, without numbers, and why."""
    numbers = (None,) * (len(_COLUMNS) - 4)
    why = english.say("readings.unread", why=english.because(patch.reason))
    return (patch.key, patch.day.isoformat(), patch.stage, *numbers), [why]


def _warnings(reading: Reading, english: Wording) -> list[str]:
    """Why a reading counts for less, in words; empty when it is sound."""
    return [*map(english.because, reading.weak), *(["trend only"] if reading.trend_only else [])]


def _row(reading: Reading) -> _Row:
    return (
        reading.key,
        reading.day.isoformat(),
        reading.stage,
        *(round(float(value), 2) for value in (*reading.body_lab, *reading.from_afar_lab)),
        round(reading.uncertainty.delta_e_90, 1),
        reading.calibration,
        lab_to_hex(reading.body_lab).text,
        round(reading.clipped_share, 3),
    )


def trace_lines(key: str, findings: Mapping[str, Finding], folder: Path, english: Wording) -> Iterator[str]:
    """A finding, then what it was computed from, indented by how far back it is; each once."""
    lines: dict[str, dict[str, int]] = {}
    seen: set[str] = set()

    def tell(one: str, depth: int) -> Iterator[str]:
        indent = "  " * depth
        if one in seen:
            yield f"{indent}{one} (see above)"
            return
        seen.add(one)
        finding = findings[one]
        spread = ""
        if finding.low is not None and finding.high is not None:
            spread = f" ({finding.low:g} to {finding.high:g})"
        value = english.because(finding.value) if isinstance(finding.value, Reason) else finding.value
        yield f"{indent}{one} = {value} {finding.unit}{spread}".rstrip()
        yield f"{indent}  how: {english.because(finding.method)}"
        if finding.formula:
            yield f"{indent}  formula: {english.because(finding.formula)}"
        for source in finding.sources:
            yield f"{indent}  written: {_located(source, folder, lines)}"
        for needed in finding.inputs:
            yield from tell(needed, depth + 1)

    yield from tell(key, 0)


def _located(source: str, folder: Path, lines: dict[str, dict[str, int]]) -> str:
    """'journey.yaml visits[3]' as 'journey.yaml:212 visits[3]'."""
    name, _, place = source.partition(" ")
    if name not in lines:
        lines[name] = lines_of(folder, name)
    line = lines[name].get(place)
    return f"{name}:{line} {place}" if line is not None else source


def ledger_lines(edition: Edition) -> Iterator[str]:
    """What leaves and what stays, and why."""
    yield f"The {edition.audience} edition of '{edition.title}', {edition.as_of.text}"
    yield ""
    yield "leaves"
    pictures = {picture.name for entry in edition.entries for picture in entry.pictures}
    pictures |= {picture.name for _, row in edition.contact for _, picture, _ in row if picture}
    yield f"  {len(edition.entries)} entries, {len(pictures)} pictures, {len(edition.options)} options"
    tables, files = len(edition.tables), len(edition.data)
    yield f"  {tables} tables, {files} files of numbers, {len(edition.questions)} questions"
    yield ""
    yield "stays"
    lines = [
        (count, what, one.why)
        for one in edition.withheld
        for what, count in one.fields or ((one.what, one.count),)
    ]
    width = max((len(what) for _, what, _ in lines), default=0)
    for count, what, why in lines:
        yield f"  {count:4d}  {what:<{width}}  {why}"


def in_english(studied: Studied, words: Path) -> Wording:
    """The terminal's words: English, with days as dates, whatever language the client reads."""
    return Wording.load(words, "en", Audience.ARCHIVE, studied.study.start)


def caution_lines(cautions: Sequence[Caution], english: Wording) -> list[str]:
    """Cautions in the archive's words."""
    return list(dict.fromkeys(english.say(f"caution.{one.rule}", one.values) for one in cautions))
