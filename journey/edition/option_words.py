"""An option's steps, and what this hair sets against its colours, in this audience's words."""

from __future__ import annotations

from journey.edition.desk import Desk
from journey.record.model import Option
from journey.study.model import OptionStudy
from journey.study.plan_model import Unreached


def steps_of(desk: Desk, option: Option) -> tuple[str, ...]:
    """Services in the order they are done, each with its visit, zones, band and minutes."""
    words, lines = desk.words, []
    for service in sorted(option.services, key=lambda one: one.session):
        zones = words.listing([desk.zone(zone) for zone in service.zones])
        where = words.say("service.where", zones=zones, band=desk.band(str(service.band)))
        lines.append(
            words.say(
                "option.step",
                session=service.session,
                what=desk.gate.text("PlannedService.name", service.name),
                where=where,
                time=words.minutes(round(service.time.minutes)),
            )
        )
    return tuple(lines)


def speaks_against(desk: Desk, study: OptionStudy) -> dict[str, str]:
    """Where a planned colour does not come out as meant, and why; by sentence, the source of its rule.

    Two rules may come to the same for this audience: it is said once.
    """
    said = ((f"reach.{one.obstacle.code}", one) for one in study.unreached)
    return {desk.words.say(key, _values(desk, one)): one.obstacle.source for key, one in said}


def comes_first(desk: Desk, study: OptionStudy) -> tuple[str, ...]:
    """What would clear each of those out of the way, each said once."""
    lines = [desk.words.say(f"reach.first.{one.obstacle.first}", _values(desk, one)) for one in study.unreached]
    return tuple(dict.fromkeys(lines))


def _values(desk: Desk, one: Unreached) -> dict[str, object]:
    words = desk.words
    values: dict[str, object] = dict(one.obstacle.values)
    values["what"] = desk.gate.text("PlannedService.name", one.service)
    values["zones"] = words.listing([desk.zone(zone) for zone in one.zones])
    values["cm"] = one.cm
    for name, key in (("undertone", "undertone"), ("hue", "hue.name"), ("class", "removal.class")):
        if name in values:
            values[name] = words.say(f"{key}.{values[name]}")
    if "coat" in values:
        values["coat"] = desk.gate.text("Service.name", str(values["coat"]))
    return values
