"""Each way to go from today as a card, and all of them in one table: in words for the client, with numbers for a
class, with cost for the archive."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from journey.colour.spaces import lab_to_hex
from journey.edition.bowl_view import money
from journey.edition.caution_view import cautions_about
from journey.edition.desk import Desk
from journey.edition.model import Cell, Fact, OptionCard, OptionStage, Table, When
from journey.hair.absent import Absent
from journey.record.model import Option
from journey.study.findings import place_key
from journey.study.model import OptionStudy, Prediction


def option_cards(desk: Desk) -> tuple[OptionCard, ...]:
    longest = max((study.minutes for study in desk.study.options), default=0)
    return tuple(
        _card(desk, option, study, number, longest) for number, (option, study) in enumerate(_pairs(desk), 1)
    )


def _pairs(desk: Desk) -> Iterator[tuple[Option, OptionStudy]]:
    return zip(desk.record.journey.options, desk.study.options, strict=True)


def _card(desk: Desk, option: Option, study: OptionStudy, number: int, longest: int) -> OptionCard:
    return OptionCard(
        key=f"o{number}",
        title=desk.gate.text("Option.title", option.title),
        words=desk.gate.text("Option.words", option.words),
        strip=tuple((week, lab_to_hex(lab).text) for week, lab in study.strip),
        stages=tuple(_stage(desk, study, one) for one in study.predictions if _is_told(desk, one)),
        facts=tuple(_facts(desk, option, study)),
        minutes=study.minutes,
        longest_minutes=longest,
        steps=tuple(
            desk.words.say(
                "option.step",
                session=session,
                what=what,
                where=where,
                time=desk.words.minutes(minutes),
            )
            for what, where, minutes, session in _steps(desk, option)
        ),
        against=cautions_about(desk, option.key),
    )


def _is_told(desk: Desk, one: Prediction) -> bool:
    """The client is told one place; everybody else all of them."""
    return not desk.is_client or one.place == desk.study.leading


def _stage(desk: Desk, study: OptionStudy, one: Prediction) -> OptionStage:
    day = desk.study.as_of + timedelta(weeks=one.weeks)
    text = (
        desk.words.say("option.right-after")
        if one.weeks == 0
        else desk.words.say("option.after", n=one.weeks)
    )
    trace = f"option.{study.key}.{place_key(one.place)}.week-{one.weeks:.0f}"
    return OptionStage(
        when=When(text, desk.week(day)),
        place=desk.place(one.place),
        light=desk.chip(one.place, one.light),
        expected=desk.chip(one.place, one.expected, trace=trace),
        strong=desk.chip(one.place, one.strong),
    )


def _steps(desk: Desk, option: Option) -> list[tuple[str, str, int, int]]:
    found = []
    for service in sorted(option.services, key=lambda one: one.session):
        zones = desk.words.listing([desk.zone(zone) for zone in service.zones])
        where = desk.words.say("service.where", zones=zones, band=desk.band(str(service.band)))
        name = desk.gate.text("PlannedService.name", service.name)
        found.append((name, where, round(service.time.minutes), service.session))
    return found


def _facts(desk: Desk, option: Option, study: OptionStudy) -> Iterator[Fact]:
    words = desk.words
    if study.minutes:
        chair = words.say("option.visits", n=study.sessions, time=words.minutes(study.minutes))
        yield Fact(words.say("option.chair"), chair)
    else:
        yield Fact(words.say("option.chair"), words.say("option.no-visit"))
    if study.weeks_between and study.sessions > 1:
        yield Fact(words.say("option.between"), words.say("option.weeks", n=float(study.weeks_between)))
    weeks = study.refresh_weeks
    yield Fact(
        words.say("option.holds"),
        words.say("option.no-refresh")
        if isinstance(weeks, Absent)
        else words.say("option.about-weeks", n=weeks),
    )
    if not desk.is_client and study.grams:
        yield Fact(words.say("option.grams"), words.say("grams", g=study.grams))
    if desk.gate.may_derive("Product.price"):
        if not isinstance(study.cost, Absent):
            yield Fact(words.say("option.cost"), money(desk, study.cost), f"option.{study.key}.cost")
        if not isinstance(study.upkeep_per_month, Absent):
            yield Fact(
                words.say("option.upkeep"), money(desk, study.upkeep_per_month), f"option.{study.key}.upkeep"
            )
    know = desk.gate.text("Option.know_first", option.know_first)
    if know:
        yield Fact(words.say("option.know-first"), know)


def options_table(desk: Desk) -> Table | None:
    """All options side by side at the leading place."""
    if not desk.study.options:
        return None
    words = desk.words
    columns = ["title", "after", "week-8", "visits", "time", "holds"]
    if not desk.is_client:
        columns += ["grams", "numbers"]
    if desk.gate.may_derive("Product.price"):
        columns += ["cost", "upkeep"]
    return Table(
        key="options",
        title=words.say("option.table.title"),
        columns=tuple(words.say(f"option.column.{name}") for name in columns),
        rows=tuple(_row(desk, option, study) for option, study in _pairs(desk)),
        note=words.say("option.table.note", place=desk.place(desk.study.leading)),
    )


def _row(desk: Desk, option: Option, study: OptionStudy) -> tuple[Cell, ...]:
    words = desk.words
    leading = {one.weeks: one for one in study.predictions if one.place == desk.study.leading}
    weeks = study.refresh_weeks
    cells = [Cell(text=desk.gate.text("Option.title", option.title))]
    for week in (0.0, 8.0):
        lab = leading[week].expected
        cells.append(Cell(text=desk.colour(lab), hex=lab_to_hex(lab).text))
    cells += [
        Cell(text=words.number(float(study.sessions), 0), number=True),
        Cell(text=words.minutes(study.minutes), number=True),
        Cell(text="–" if isinstance(weeks, Absent) else words.say("option.weeks", n=weeks), number=True),
    ]
    if not desk.is_client:
        cells.append(Cell(text=words.say("grams", g=study.grams), number=True))
        numbers = ", ".join(words.number(float(value), 0) for value in leading[0.0].expected)
        cells.append(Cell(text=numbers, number=True))
    if desk.gate.may_derive("Product.price"):
        for name, amount in (("cost", study.cost), ("upkeep", study.upkeep_per_month)):
            absent = isinstance(amount, Absent)
            cells.append(
                Cell(
                    text="–" if isinstance(amount, Absent) else money(desk, amount),
                    number=True,
                    trace=None if absent else f"option.{study.key}.{name}",
                )
            )
    return tuple(cells)
