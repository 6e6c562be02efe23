"""What a touch-up of the new growth takes: grams needed, to mix and left over, and for the archive their cost."""

from __future__ import annotations

from journey.edition.bowl_view import money
from journey.edition.desk import Desk
from journey.edition.model import Cell, Table
from journey.hair.absent import Absent
from journey.study.plan_model import TouchUp


def touch_up_table(desk: Desk) -> Table | None:
    """For class and archive: product by product, a line with the sum under each bowl."""
    found = desk.study.touch_ups
    if desk.is_client or not found:
        return None
    words, names = desk.words, ["bowl", "product", "needed", "mix", "left"]
    if desk.gate.may_derive("Product.price"):
        names.append("cost")
    first = found[0]
    return Table(
        key="touch-up",
        title=words.say("touch-up.title", when=first.day),
        columns=tuple(words.say(f"touch-up.column.{name}") for name in names),
        rows=tuple(row for one in found for row in _rows(desk, one)),
        note=" ".join(
            [
                words.say("touch-up.note"),
                words.say("touch-up.even" if any(one.even_shares for one in found) else "touch-up.shares"),
                *(_worked(desk, one) for one in found),
            ]
        ),
    )


def _rows(desk: Desk, one: TouchUp) -> list[tuple[Cell, ...]]:
    words = desk.words
    name = desk.gate.text("Service.name", _service_name(desk, one.service))
    priced = desk.gate.may_derive("Product.price")
    rows = [
        (
            Cell(text=name),
            Cell(text=desk.gate.text("Product.name", line.name)),
            Cell(text=_grams(desk, line.grams), number=True),
            Cell(text=_grams(desk, mix.grams), number=True),
            Cell(text=_grams(desk, mix.grams - line.grams), number=True),
            *((Cell(text=_line_cost(desk, mix.grams, mix.price_per_g), number=True),) if priced else ()),
        )
        for line, mix in zip(one.needed.lines, one.mix.lines, strict=True)
    ]
    share = one.needed_g
    cost = one.mix.cost
    total = (
        Cell(text=name),
        Cell(text=words.say("touch-up.sum"), lines=_mixture(desk, one)),
        Cell(
            text=words.say(
                "fade.share",
                share=_grams(desk, share.median),
                low=words.number(share.low, 0),
                high=words.number(share.high, 0),
            ),
            number=True,
            trace=f"touch-up.{one.service}.needed" if desk.is_archive else None,
        ),
        Cell(text=_grams(desk, one.mix.total_g), number=True),
        Cell(text=_grams(desk, one.left_over_g), number=True),
        *((Cell(text="–" if isinstance(cost, Absent) else money(desk, cost), number=True),) if priced else ()),
    )
    return [*rows, total] if len(rows) > 1 else [(*total[:1], rows[0][1], *total[2:])]


def _mixture(desk: Desk, one: TouchUp) -> tuple[str, ...]:
    """Ratio to developer and peroxide in the mixture, where there is any."""
    words, lines = desk.words, []
    parts, peroxide = one.needed.developer_parts, one.needed.peroxide_percent
    if not isinstance(parts, Absent):
        ratio = words.number(parts, 1)
        lines.append(f"{words.say('bowl.ratio')} 1:{ratio}")
    if not isinstance(peroxide, Absent) and not isinstance(parts, Absent):
        lines.append(f"{words.say('bowl.peroxide')} {words.say('bowl.percent', percent=peroxide)}")
    return tuple(lines)


def _worked(desk: Desk, one: TouchUp) -> str:
    """The sum with its numbers, so that it can be redone by hand."""
    words = desk.words
    return words.say(
        "touch-up.worked",
        what=desk.gate.text("Service.name", _service_name(desk, one.service)),
        like=desk.gate.text("Service.name", _service_name(desk, one.amount_of)),
        did_g=_grams(desk, one.did_g),
        did_cm=words.number(one.did_cm, 2),
        grown_cm=words.number(one.grown_cm.median, 2),
        low=words.number(one.grown_cm.low, 2),
        high=words.number(one.grown_cm.high, 2),
        needed=_grams(desk, one.needed_g.median),
    )


def _service_name(desk: Desk, key: str) -> str:
    return next(
        service.name for visit in desk.record.journey.visits for service in visit.services if service.key == key
    )


def _grams(desk: Desk, grams: float) -> str:
    return desk.words.say("grams", g=desk.words.number(grams, 0 if grams >= 10 else 1))


def _line_cost(desk: Desk, grams: float, price_per_g: float | None) -> str:
    return "–" if price_per_g is None else money(desk, grams * price_per_g)
