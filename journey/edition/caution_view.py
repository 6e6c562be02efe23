"""Cautions and home care in words, and which of them each audience is told."""

from __future__ import annotations

from journey.colour.reason import Reason
from journey.edition.desk import Desk
from journey.edition.model import CareItem, CautionLine
from journey.hair.service_rules import MIND, RULES
from journey.record.model import Audience
from journey.study.model import Advice, Caution

# The client is told what she should do or know next, not what the salon's own records lack about past visits.
_FOR_THE_SALON = frozenset(
    {
        "patch-test-missing",
        "strand-test-missing",
        "bowl-refused",
        "bowl-look-again",
        "medicines",
        "gloves-and-air",
    }
)
_OF_SERVICES = frozenset(rule.code for rule in RULES)
# About her health: told to a class only when she agreed to that apart.
_HEALTH = frozenset(
    {"earlier-reaction", "black-henna-tattoo", "too-young", "scalp", "patch-test-reaction", "medicines"}
)


def journey_cautions(desk: Desk) -> tuple[CautionLine, ...]:
    """All that do not belong to one option, gravest first; several of one kind are told once for the client."""
    options = {option.key for option in desk.record.journey.options}
    told = [one for one in desk.study.cautions if one.about not in options and _is_told(desk, one)]
    lines = [_line(desk, one) for one in told]
    return tuple(dict.fromkeys(lines))


def cautions_about(desk: Desk, option: str) -> tuple[CautionLine, ...]:
    """What speaks against one option, or has to come first; how it is worked is not for the client to mind."""
    lines = [
        _line(desk, one)
        for one in desk.study.cautions
        if one.about == option
        and not (desk.is_client and _is_shop_talk(one))
    ]
    return tuple(dict.fromkeys(lines))


def _is_shop_talk(caution: Caution) -> bool:
    return caution.rule in _FOR_THE_SALON or (caution.rule in _OF_SERVICES and caution.weight == MIND)


def _is_told(desk: Desk, caution: Caution) -> bool:
    if desk.is_client and (caution.rule in _FOR_THE_SALON or caution.rule in _OF_SERVICES):
        return False
    if desk.audience is not Audience.ARCHIVE and caution.rule in _HEALTH:
        return desk.permission.health
    return True


def _line(desk: Desk, caution: Caution) -> CautionLine:
    values: dict[str, object] = {
        name: desk.because(value) if isinstance(value, Reason) else value
        for name, value in caution.values.items()
    }
    if "title" in values:
        values["title"] = desk.gate.text("Visit.title", str(values["title"]))
    if "result" in values:
        values["result"] = desk.words.say(f"test.result.{values['result']}")
    if "service" in values:
        names = values["service"] if isinstance(values["service"], tuple) else (values["service"],)
        values["service"] = desk.words.listing([desk.gate.text("Service.name", str(name)) for name in names])
    if "zone" in values:
        values["zone"] = desk.gate.text("Zone.name", str(values["zone"]))
    if "band" in values:
        values["band"] = desk.band(str(values["band"]))
    return CautionLine(
        weight=caution.weight,
        text=desk.words.say(f"caution.{caution.rule}", values),
        source="" if desk.is_client else desk.words.phrase(caution.source),
    )


def care_items(desk: Desk) -> tuple[CareItem, ...]:
    """Home care, the salon's own words where it wrote some."""
    return tuple(_care(desk, advice) for advice in desk.study.advice)


def _care(desk: Desk, advice: Advice) -> CareItem:
    words = desk.words
    gain = None
    if advice.gain_days is not None:
        gain = words.say("care.gain", n=float(advice.gain_days))
    if advice.do is not None and advice.because is not None:
        return CareItem(
            desk.gate.text("CareOverride.do", advice.do),
            desk.gate.text("CareOverride.because", advice.because),
            gain,
        )
    values = dict(advice.values)
    if "tool" in values:
        values["tool"] = desk.gate.text("HeatHabit.tool", str(values["tool"]))
    times = values.get("n")
    return CareItem(
        words.say(f"care.{advice.rule}.do", values, n=float(times) if isinstance(times, (int, float)) else None),
        words.say(f"care.{advice.rule}.because", values), gain
    )
