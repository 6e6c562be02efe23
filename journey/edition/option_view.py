"""Each way to go from today as a card; all of them side by side are `journey.edition.option_table`."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

from journey.colour.spaces import lab_to_hex
from journey.edition.bowl_view import money
from journey.edition.caution_view import cautions_about
from journey.edition.desk import Desk
from journey.edition.model import CautionLine, Fact, OptionCard, OptionStage, When
from journey.edition.option_words import speaks_against, steps_of
from journey.edition.removal_view import option_removal
from journey.hair.absent import Absent
from journey.record.model import Option
from journey.study.findings import place_key
from journey.study.model import OptionStudy, Place, Prediction


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
        steps=steps_of(desk, option),
        against=(*cautions_about(desk, option.key), *_unreached(desk, study)),
        removal=option_removal(desk, study),
    )


def _unreached(desk: Desk, study: OptionStudy) -> Iterator[CautionLine]:
    for text, source in speaks_against(desk, study).items():
        yield CautionLine(weight="mind", text=text, source="" if desk.is_client else desk.words.phrase(source))


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
    place = _where(desk, one.place)
    return OptionStage(
        when=When(text, desk.week(day)),
        place=place,
        light=replace(desk.chip(one.place, one.light), place=place),
        expected=replace(desk.chip(one.place, one.expected, trace=trace), place=place),
        strong=replace(desk.chip(one.place, one.strong), place=place),
    )


def _where(desk: Desk, place: Place) -> str:
    """The roots of a plan are the new growth; those in a photo may show more."""
    if place.band != "roots":
        return desk.place(place)
    return desk.words.say("place", zone=desk.zone(place.zone), band=desk.words.say("option.new-growth"))


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
