"""Bowls as cards: grams to scale, ratio, pure colour, peroxide, and for the archive lots and cost."""

from __future__ import annotations

from journey.edition.desk import Desk
from journey.edition.model import BowlCard, BowlPart, Fact
from journey.edition.wording import Wording
from journey.hair.absent import Absent
from journey.hair.bowl import BASE_ROLES, DILUENT_ROLES, ROLES, Bowl
from journey.hair.peroxide import pearson_square
from journey.record.model import BowlLine, Product, Service, Visit
from journey.study.bowls import mixed, products_of
from journey.study.model import BowlStudy


def bowl_cards(desk: Desk) -> tuple[BowlCard, ...]:
    """Every bowl, in order of visit."""
    return tuple(
        card
        for visit in sorted(desk.record.journey.visits, key=lambda one: one.date)
        for service in visit.services
        if (card := bowl_card(desk, visit, service)) is not None
    )


def bowl_card(desk: Desk, visit: Visit, service: Service) -> BowlCard | None:
    if service.bowl is None:
        return None
    study = next(one for one in desk.study.bowls if one.service == service.key)
    products = products_of(desk.record)
    return BowlCard(
        title=desk.gate.text("Service.name", service.name),
        when=desk.words.when(visit.date),
        parts=tuple(_part(desk, line, products[line.product]) for line in service.bowl.lines),
        total_g=study.total_g,
        facts=_facts(desk, study),
        worked=()
        if desk.is_client
        else worked_sums(desk.words, mixed(desk.record, service.bowl), _meant(service)),
        cautions=() if desk.is_client else tuple(desk.because(one) for one in study.cautions),
    )


def _meant(service: Service) -> float | None:
    """Strength the developers were to give together, %."""
    bowl = service.bowl
    return None if bowl is None or bowl.developer_strength is None else bowl.developer_strength.percent


def worked_sums(words: Wording, bowl: Bowl, meant_percent: float | None = None) -> tuple[str, ...]:
    """The grams put into each formula: '(120 × 6 %) ÷ 180 = 4 %'."""

    def grams(value: float) -> str:
        return words.number(value, 0 if value.is_integer() else 1)

    def plus(*roles: str) -> str:
        return " + ".join(grams(line.grams) for line in bowl.lines if line.role in roles and line.grams)

    total = grams(bowl.total_g)
    sums = [("total", f"{plus(*ROLES)} = {total}")]
    pure, parts, percent = bowl.pure_colour_share, bowl.developer_parts, bowl.peroxide_percent
    if not isinstance(pure, Absent):
        thinned = plus("colour", *DILUENT_ROLES)
        sums.append(("pure", f"({plus('colour')}) ÷ ({thinned}) = {words.percent(pure)}"))
    if not isinstance(bowl.share_in_water, Absent):
        product = plus(*(role for role in ROLES if role != "water"))
        sums.append(("in-water", f"({product}) ÷ {total} = {words.percent(bowl.share_in_water)}"))
    if meant_percent is not None and (square := _square(words, bowl, meant_percent)):
        sums.append(("square", square))
    if not isinstance(parts, Absent):
        sums.append(("ratio", f"({plus('developer')}) ÷ ({plus(*BASE_ROLES)}) = {words.number(parts, 2)}"))
        if not isinstance(percent, Absent):
            strong = " + ".join(
                f"{grams(line.grams)} × {words.number(line.peroxide_percent)} %"
                for line in bowl.lines
                if line.peroxide_percent
            )
            sums.append(("peroxide", f"({strong}) ÷ {total} = {words.number(percent, 2)} %"))
    return tuple(f"{words.say(f'bowl.{name}')}: {text}" for name, text in sums)


def _square(words: Wording, bowl: Bowl, meant: float) -> str:
    """Pearson's square of two strengths, water counting 0; '' where it does not apply."""
    low, high = bowl.developer_range_percent
    if high is None or not low < high or not low <= meant <= high:
        return ""
    stronger, weaker = pearson_square(high, low, meant)
    told = [words.number(one, 1) for one in (meant, low, high, stronger, weaker)]
    target, weak, strong, first, second = told
    return f"({target} − {weak}) : ({strong} − {target}) = {first} : {second}"


def _part(desk: Desk, line: BowlLine, product: Product) -> BowlPart:
    extra = []
    if (strength := desk.gate.value("Product.peroxide", product.peroxide)) is not None:
        extra.append(desk.words.say("bowl.percent", percent=desk.words.exact(strength.percent)))
    lot = desk.gate.text("BowlLine.lot", line.lot)
    if lot:
        extra.append(desk.words.say("bowl.lot", lot=lot))
    return BowlPart(
        name=desk.gate.text("Product.name", product.name),
        grams=line.grams.g,
        role=product.role,
        extra=", ".join(extra),
    )


def _facts(desk: Desk, study: BowlStudy) -> tuple[Fact, ...]:
    words, key = desk.words, f"bowl.{study.service}"
    facts = [Fact(words.say("bowl.total"), words.say("grams", g=study.total_g), _trace(desk, f"{key}.total"))]

    def add(name: str, value: float | str | Absent, text: str) -> None:
        if not isinstance(value, Absent):
            facts.append(Fact(words.say(f"bowl.{name}"), text, _trace(desk, f"{key}.{name}")))

    pure = study.pure_share
    add("pure", pure, "" if isinstance(pure, Absent) else words.percent(pure))
    in_water = study.share_in_water
    add("in-water", in_water, "" if isinstance(in_water, Absent) else words.percent(in_water))
    if not isinstance(study.ratio, Absent):
        add("ratio", study.ratio, study.ratio)
    peroxide = study.peroxide_percent
    add(
        "peroxide",
        peroxide,
        "" if isinstance(peroxide, Absent) else words.say("bowl.percent", percent=peroxide),
    )
    left = study.left_over_g
    if desk.gate.value("Bowl.left_over", True):
        add("left-over", left, "" if isinstance(left, Absent) else words.say("grams", g=left))
    cost = study.cost
    if desk.gate.may_derive("Product.price"):
        add("cost", cost, "" if isinstance(cost, Absent) else money(desk, cost))
    growth = _for_growth(desk, study.service)
    return (*facts, growth) if growth is not None else tuple(facts)


def _for_growth(desk: Desk, service: str) -> Fact | None:
    """On the bowl that tells how much: the same for what will have grown."""
    one = next((one for one in desk.study.touch_ups if one.amount_of == service), None)
    if one is None or desk.is_client:
        return None
    words = desk.words
    text = words.say(
        "touch-up.fact",
        grams=words.say("grams", g=one.needed_g.median),
        cm=one.grown_cm.median,
        when=one.day,
    )
    return Fact(words.say("touch-up.for-growth"), text, _trace(desk, f"touch-up.{one.service}.needed"))


def money(desk: Desk, amount: float) -> str:
    return desk.words.say("money", amount=desk.words.number(amount, 2), currency=desk.record.salon.currency)


def _trace(desk: Desk, key: str) -> str | None:
    return key if desk.is_archive and key in desk.study.findings else None
