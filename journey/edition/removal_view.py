"""Taking colour off in words and colours: the order of the layers, what each removal leaves, which way on."""

from __future__ import annotations

from collections.abc import Sequence

from journey.colour.reason import Reason
from journey.colour.spaces import lab_to_hex
from journey.edition.desk import Desk
from journey.edition.model import Cell, RemovalFigure, RemovalPair, RemovalStage, Table
from journey.hair.absent import Absent
from journey.hair.removal import (
    BLACK_LEVEL,
    BLACK_VOLUMES,
    MINUTES_FOR_DIRECT,
    SECTION_CM,
    level_after_removing_tint,
)
from journey.study.model import OptionStudy, Place
from journey.study.plan_model import RemovalCheck, RemovalPass, RemovalStudy, RemovedCoat

FINEST = 0.005
"""Less than half a per cent of a coat is told as nothing."""


def removal_figure(desk: Desk) -> RemovalFigure | None:
    """For class and archive; None where no colour lies on the hair. The client is told with her options."""
    shown = [one for one in desk.study.removals if one.passes and one.place.zone == desk.study.leading.zone]
    if desk.is_client or not shown:
        return None
    first = next((one for one in shown if one.place == desk.study.leading), shown[0])
    return RemovalFigure(
        title=_title(desk, first),
        alt=_course(desk, first),
        order=(_order(desk, first),),
        rows=tuple((desk.place(one.place), _stages(desk, one)) for one in shown),
        pairs_title=_pairs_title(desk),
        pairs=tuple(_pair(desk, check) for check in desk.study.removal_checks),
        notes=_notes(desk, first),
        tables=tuple(table for table in (_coats_table(desk), _ways_table(desk), _checks_table(desk)) if table),
    )


def option_removal(desk: Desk, study: OptionStudy) -> tuple[str, ...]:
    """Plain sentences about the removal an option holds; empty when it holds none."""
    found = [one for one in study.removals if one.passes]
    if not found:
        return ()
    leading = desk.study.leading
    here = next((one for one in found if one.place == leading), found[0])
    after = here.passes[1]
    said = desk.words.say(
        "removal.option.left",
        share=desk.words.percent(after.share),
        colour=desk.colour(after.expected),
        light=desk.colour(after.light),
        strong=desk.colour(after.strong),
    )
    zones = dict.fromkeys(
        desk.zone(one.place.zone)
        for one in found
        if any(note.key == "residue-fine-hair" for note in one.residue)
    )
    lines = [_order(desk, here), said]
    if zones:
        lines.append(desk.words.say("removal.option.residue", zones=desk.words.listing(list(zones))))
    return tuple(lines)


def _name(desk: Desk, coat: RemovedCoat) -> str:
    return desk.gate.text("Service.name", coat.name)


def _title(desk: Desk, one: RemovalStudy) -> str:
    coat = _name(desk, one.coats[0])
    if isinstance(one.needed, Absent):
        return desk.words.say("removal.title.stays", coat=coat)
    return desk.words.say("removal.title.comes-off", coat=coat, n=float(one.needed))


def _order(desk: Desk, one: RemovalStudy) -> str:
    names = [_name(desk, coat) for coat in one.coats]
    words = desk.words
    if len(names) == 1:
        return words.say("removal.order-one", place=desk.place(one.place), first=names[0], level=one.level_under)
    rest = words.listing(names[1:])
    return words.say(
        "removal.order", place=desk.place(one.place), first=names[0], rest=rest, level=one.level_under
    )


def _course(desk: Desk, one: RemovalStudy) -> str:
    colours = desk.words.listing([desk.colour(step.expected) for step in one.passes])
    return desk.words.say("removal.alt", place=desk.place(one.place), colours=colours)


def _stages(desk: Desk, one: RemovalStudy) -> tuple[RemovalStage, ...]:
    return tuple(_stage(desk, one.place, step) for step in one.passes)


def _after(desk: Desk, number: int) -> str:
    if number == 0:
        return desk.words.say("removal.today")
    return desk.words.say("removal.after", n=float(number))


def _stage(desk: Desk, place: Place, step: RemovalPass) -> RemovalStage:
    trace = f"removal.{place.zone}.{place.band}.{step.number}"
    return RemovalStage(
        label=_after(desk, step.number),
        left=desk.words.percent(step.share),
        light=desk.chip(place, step.light),
        expected=desk.chip(place, step.expected, trace=trace if step.number else None),
        strong=desk.chip(place, step.strong),
    )


def _notes(desk: Desk, first: RemovalStudy) -> tuple[str, ...]:
    words = desk.words
    residue = [desk.zone(one.place.zone) for one in desk.study.removals if one.coats and one.residue]
    black = level_after_removing_tint(BLACK_LEVEL, BLACK_VOLUMES)
    low, high = MINUTES_FOR_DIRECT
    past = [said(desk, note) for note in desk.study.removal_residue]
    notes = [words.say(f"removal.leaves.{first.leaves_from}", share=words.percent(first.leaves))]
    if residue:
        notes.append(words.say("removal.residue-here", zones=words.listing(list(dict.fromkeys(residue)))))
    if past:
        notes.append(words.say("removal.residue-then", said=" ".join(past)))
    notes.append(words.say("removal.practice", low=low, high=high, cm=words.number(SECTION_CM, 2)))
    if not isinstance(black, Absent):
        notes.append(words.say("removal.black", level=BLACK_LEVEL, volumes=BLACK_VOLUMES, to=black))
    spread = desk.record.salon.assumptions.remover_spread
    little, much = (words.percent(share) for share in (1 - spread, 1 + spread))
    notes.append(words.say("removal.formula", little=little, much=much))
    return tuple(notes)


def _alike(studies: Sequence[RemovalStudy]) -> list[tuple[RemovalStudy, list[Place]]]:
    """Places that carry the same coats and go the same way, told once."""
    groups: dict[object, tuple[RemovalStudy, list[Place]]] = {}
    for one in studies:
        coats = tuple((coat.service, coat.left) for coat in one.coats)
        ways = tuple((aim, way.step, way.because.key) for aim, way in one.ways)
        key = (one.place.band, coats, ways, one.level_under)
        groups.setdefault(key, (one, []))[1].append(one.place)
    return list(groups.values())


def _where(desk: Desk, places: Sequence[Place]) -> str:
    zones = desk.words.listing([desk.zone(place.zone) for place in places])
    return desk.words.say("place", zone=zones, band=desk.band(places[0].band))


def _coats_table(desk: Desk) -> Table:
    words = desk.words
    groups = _alike([one for one in desk.study.removals if one.coats])
    passes = max(len(one.passes) for one, _ in groups)
    heads = [words.say(f"removal.column.{name}") for name in ("place", "coat", "class")]
    heads += [_after(desk, number) for number in range(passes)] + [words.say("removal.column.needed")]
    return Table(
        key="removal",
        title=words.say("removal.table.coats"),
        columns=tuple(heads),
        rows=tuple(row for one, places in groups for row in _coat_rows(desk, one, _where(desk, places))),
        note=words.say(
            "removal.table.coats-note", stain=words.percent(desk.record.salon.assumptions.stain_share)
        ),
    )


def _coat_rows(desk: Desk, one: RemovalStudy, where: str) -> list[tuple[Cell, ...]]:
    words, rows = desk.words, []
    for coat in one.coats:
        needed = "–" if isinstance(one.needed, Absent) else words.number(float(one.needed), 0)
        rows.append(
            (
                Cell(text=where),
                Cell(text=_name(desk, coat)),
                Cell(text=words.say(f"removal.class.{coat.colour_class}")),
                *(Cell(text=_share(desk, left), number=True) for left in coat.left),
                Cell(text=needed if coat is one.coats[0] else "", number=True),
            )
        )
    return rows


def _share(desk: Desk, left: float) -> str:
    return desk.words.percent(left) if left >= FINEST else desk.words.say("removal.none")


def _ways_table(desk: Desk) -> Table:
    words = desk.words
    return Table(
        key="removal-ways",
        title=words.say("removal.table.ways"),
        columns=tuple(
            words.say(f"removal.column.{name}") for name in ("place", "aim", "way", "because", "source")
        ),
        rows=tuple(
            (
                Cell(text=_where(desk, places)),
                Cell(text=words.say(f"removal.aim.{aim}")),
                Cell(text=words.say(f"removal.way.{way.step}")),
                Cell(text=said(desk, way.because)),
                Cell(text=words.phrase(way.source)),
            )
            for one, places in _alike(desk.study.removals)
            for aim, way in one.ways
        ),
        note=words.say("removal.table.ways-note"),
    )


def said(desk: Desk, reason: Reason) -> str:
    """A reason with the coat in it named as this audience may know it."""
    coat = dict(reason.values).get("coat")
    if coat is not None:
        reason = reason.with_values(coat=desk.gate.text("Service.name", str(coat)))
    return desk.because(reason)


def _pairs_title(desk: Desk) -> str:
    checks = desk.study.removal_checks
    if not checks:
        return ""
    visit = next(one for one in desk.record.journey.visits if one.key == checks[0].entry)
    return desk.words.say("removal.pairs", when=visit.date)


def _pair(desk: Desk, check: RemovalCheck) -> RemovalPair:
    words = desk.words
    return RemovalPair(
        place=desk.place(check.place),
        foretold=desk.chip(check.place, check.expected),
        read=desk.chip(check.place, check.read),
        words=words.say(
            "removal.alike" if check.delta_e <= check.limit else "removal.apart",
            apart=words.number(check.delta_e, 1),
            limit=words.number(check.limit, 1),
        ),
    )


def _checks_table(desk: Desk) -> Table | None:
    words, checks = desk.words, desk.study.removal_checks
    if not checks:
        return None
    names = ("place", "before", "leaves", "foretold", "read", "read-share", "apart", "limit")
    return Table(
        key="removal-check",
        title=_pairs_title(desk),
        columns=tuple(words.say(f"removal.column.{name}") for name in names),
        rows=tuple(_check_row(desk, check) for check in checks),
        note=words.say("removal.table.check-note"),
    )


def _check_row(desk: Desk, check: RemovalCheck) -> tuple[Cell, ...]:
    words, share = desk.words, check.read_share
    spread = tuple(lab_to_hex(lab).text for lab in (check.light, check.strong))
    return (
        Cell(text=desk.place(check.place)),
        Cell(text=words.percent(check.left_before), number=True),
        Cell(text=words.percent(check.leaves), number=True),
        Cell(text=desk.colour(check.expected), hex=lab_to_hex(check.expected).text, around=spread),
        Cell(text=desk.colour(check.read), hex=lab_to_hex(check.read).text),
        Cell(
            text=words.say(
                "fade.share",
                share=words.percent(share.median),
                low=words.percent(share.low),
                high=words.percent(share.high),
            ),
            trace=f"removal.{check.service}.{check.reading}.share" if desk.is_archive else None,
        ),
        Cell(text=words.number(check.delta_e, 1), number=True),
        Cell(text=words.number(check.limit, 1), number=True),
    )
