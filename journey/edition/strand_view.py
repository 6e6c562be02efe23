"""A zone's hair over time as a picture, with its labels and table."""

from __future__ import annotations

from journey.edition.desk import Desk
from journey.edition.marks import zone_marks
from journey.edition.model import Cell, StrandRaster, Table
from journey.hair.absent import Absent
from journey.record.model import Audience
from journey.study.model import AddedHair, DateRange, Line, StrandStudy
from journey.study.strand_colours import ROWS_PER_DAY, STEP_CM

LEAST_RASTER_CM = 3.0
"""Zones clipped shorter than this have nothing to see on a strand map; their table says it."""


def strand_rasters(desk: Desk) -> tuple[StrandRaster, ...]:
    """One per zone long enough to be seen, the leading zone first."""
    studies = sorted(desk.study.strands, key=lambda one: one.zone != desk.study.leading.zone)
    return tuple(_raster(desk, study, number) for number, study in enumerate(studies, 1) if _is_long(study))


def _is_long(study: StrandStudy) -> bool:
    return bool(study.raster.shape[1] * STEP_CM >= LEAST_RASTER_CM)


def _raster(desk: Desk, study: StrandStudy, number: int) -> StrandRaster:
    rgba = study.raster
    return StrandRaster(
        key=f"z{number}",
        zone=desk.zone(study.zone),
        rgba=rgba,
        first_week=desk.week(study.first_day),
        rows_per_week=7 * ROWS_PER_DAY,
        forecast_from=desk.week(study.forecast_from),
        last_week=desk.week(study.first_day) + rgba.shape[0] / (7 * ROWS_PER_DAY),
        longest_cm=rgba.shape[1] * STEP_CM,
        marks=zone_marks(desk, study.zone),
        follow=study.follow if desk.audience is Audience.CLASS else (),
        alt=_alt(desk, study),
        title=desk.words.say(
            "strand.title", zone=desk.zone(study.zone), grown=study.grown_cm.median, cut=study.cut_cm
        ),
        table=None if desk.is_client else _table(desk, study),
    )


def _alt(desk: Desk, study: StrandStudy) -> str:
    new = study.new_growth_cm
    said = desk.words.say(
        "strand.alt",
        zone=desk.zone(study.zone),
        grown=study.grown_cm.median,
        cut=study.cut_cm,
        coats=desk.words.listing(coat_names(desk, study)) or desk.words.say("strand.no-colour"),
    )
    if isinstance(new, Absent):
        return said
    return f"{said} {desk.words.say('strand.alt-new', cm=new.median)}"


def coat_names(desk: Desk, study: StrandStudy) -> list[str]:
    return [desk.gate.text("Service.name", name) for name in study.coats_today]


def under_top(desk: Desk, study: StrandStudy) -> str:
    """What would show if the top colour were gone."""
    if study.under_top.startswith("level:"):
        return desk.words.say("strand.level", level=float(study.under_top.removeprefix("level:")))
    return desk.gate.text("Service.name", study.under_top)


def _table(desk: Desk, study: StrandStudy) -> Table:
    words = desk.words
    archive = desk.is_archive

    def row(name: str, text: str, trace: str | None = None) -> tuple[Cell, ...]:
        return Cell(text=words.say(f"strand.row.{name}")), Cell(text=text, trace=trace if archive else None)

    def span(low: float, middle: float, high: float) -> str:
        return words.say("interval.cm", low=low, middle=middle, high=high)

    key = f"strand.{study.zone}"
    length = study.history.latest.length_cm()
    rows = [
        row("grown", span(study.grown_cm.low, study.grown_cm.median, study.grown_cm.high), f"{key}.grown"),
        row("cut", words.say("cm", cm=study.cut_cm), f"{key}.cut"),
        row("length", words.say("cm", cm=length)),
    ]
    new = study.new_growth_cm
    if isinstance(new, Absent):
        rows.append(row("new", desk.because(new)))
    else:
        rows.append(row("new", span(new.low, new.median, new.high), f"{key}.new-growth"))
    rows += [row("added", _added(desk, one)) for one in study.added]
    if not study.lines:
        rows.append(row("lines", words.say("strand.no-line")))
    for number, line in enumerate(study.lines, 1):
        rows.append(row("lines", _line(desk, line), f"{key}.line-{number}"))
    shares = zip(coat_names(desk, study), study.coat_shares, strict=True)
    coats = [words.say("strand.coat", name=name, share=words.percent(share)) for name, share in shares]
    rows.append(row("coats", words.listing(coats) or words.say("strand.no-colour")))
    rows.append(row("under", under_top(desk, study)))
    if study.colour_gone_on is not None:
        rows.append(row("gone", words.day(study.colour_gone_on)))
    if isinstance(study.clip_takes_all, Absent):
        rows.append(row("clip", desk.because(study.clip_takes_all)))
    elif study.clip_takes_all is not None:
        rows.append(row("clip", _days(desk, study.clip_takes_all), f"{key}.clip"))
    return Table(
        key=f"strand-{study.zone}" if archive else f"strand-{desk.study.strands.index(study) + 1}",
        title=words.say("strand.table", zone=desk.zone(study.zone)),
        columns=(words.say("strand.column.what"), words.say("strand.column.value")),
        rows=tuple(rows),
        note=words.say("strand.note"),
    )


def _line(desk: Desk, line: Line) -> str:
    """Where it lies, and when it will be at the tips."""
    words = desk.words
    where = words.say("cm", cm=line.cm)
    if not isinstance(line.range_cm, Absent):
        low, high = line.range_cm
        where = words.say("interval.cm", low=low, middle=line.cm, high=high)
    if isinstance(line.reaches_tips, Absent):
        return where
    return words.say("strand.line", where=where, days=_days(desk, line.reaches_tips))


def _added(desk: Desk, one: AddedHair) -> str:
    """Where extensions lay on their last day, from when to when, and what was on them."""
    words = desk.words
    values = {"low": one.span_cm[0], "high": one.span_cm[1], "level": words.exact(one.level)}
    until = "strand.added" if one.taken_out is None else "strand.added-then"
    days = {"from": words.day(one.put_in), "to": "" if one.taken_out is None else words.day(one.taken_out)}
    coats = [
        words.say("strand.coat", name=desk.gate.text("Service.name", name), share=words.percent(share))
        for name, share in one.coats
    ]
    return words.say(until, {**values, **days, "coats": words.listing(coats) or words.say("strand.no-colour")})


def _days(desk: Desk, days: DateRange) -> str:
    """Expected, and from fast growth to slow."""
    early, middle, late = days
    return desk.words.say("interval.days", low=early, middle=middle, high=late)


def short_zone_tables(desk: Desk) -> tuple[Table, ...]:
    """Tables of zones too short for a map: the clipped nape and the like."""
    return tuple(_table(desk, study) for study in desk.study.strands if not _is_long(study))
