"""The bowls as mixed: the record's grams and products handed to `journey.hair.bowl`, and what came of it.

It decides nothing about mixing; it looks up each product's role, strength and price.
"""

from __future__ import annotations

from journey.hair.absent import Absent
from journey.hair.bowl import Bowl, BowlLine
from journey.hair.bowl_checks import BowlProblem, bowl_problems
from journey.record.model import Bowl as WrittenBowl
from journey.record.model import Product, Record
from journey.study.model import BowlStudy


def products_of(record: Record) -> dict[str, Product]:
    return {product.key: product for product in record.salon.products}


def mixed(record: Record, written: WrittenBowl) -> Bowl:
    """The written bowl with each product's role, strength and price."""
    products = products_of(record)
    lines = []
    for line in written.lines:
        product = products[line.product]
        lines.append(
            BowlLine(
                name=product.name,
                role=product.role,
                grams=line.grams.g,
                peroxide_percent=None if product.peroxide is None else product.peroxide.percent,
                price_per_g=_price_per_g(product),
            )
        )
    return Bowl(tuple(lines), None if written.left_over is None else written.left_over.g)


def _price_per_g(product: Product) -> float | None:
    if product.price is None or product.pack is None:
        return None
    return float(product.price.amount) / product.pack.g


def problems_of(record: Record, written: WrittenBowl) -> tuple[BowlProblem, ...]:
    """What is wrong with a bowl against its own ratio, the products' instructions, and the law."""
    products = products_of(record)
    allowed = None
    for line in written.lines:
        product = products[line.product]
        if product.ratio is not None:
            parts = [ratio.per_first_part[1] for ratio in (product.ratio, product.ratio_to) if ratio]
            allowed = (min(parts), max(parts))
            break
    bowl = mixed(record, written)
    # A ratio written for a bowl without developer is one to water or clear: nothing for the developer's check.
    with_developer = written.ratio is not None and bowl.grams_of("developer") > 0
    stated = written.ratio.per_first_part[1] if with_developer and written.ratio is not None else None
    return bowl_problems(
        bowl,
        stated_total_g=None if written.total is None else written.total.g,
        stated_parts=stated,
        allowed_parts=allowed if bowl.grams_of("developer") else None,
        stated_developer_percent=None
        if written.developer_strength is None
        else written.developer_strength.percent,
        ratio_tolerance=record.salon.assumptions.ratio_tolerance,
        sum_tolerance_g=record.salon.assumptions.sum_tolerance_g,
    )


def study_bowls(record: Record) -> tuple[BowlStudy, ...]:
    """Every bowl of every visit, in order."""
    found = []
    for visit in sorted(record.journey.visits, key=lambda one: one.date):
        for service in visit.services:
            if service.bowl is None:
                continue
            bowl = mixed(record, service.bowl)
            used = bowl.used_g
            found.append(
                BowlStudy(
                    service=service.key,
                    entry=visit.key,
                    total_g=bowl.total_g,
                    pure_share=bowl.pure_colour_share,
                    share_in_water=bowl.share_in_water,
                    ratio=_ratio(bowl),
                    peroxide_percent=bowl.peroxide_percent
                    if bowl.grams_of("developer")
                    else Absent("no-developer"),
                    left_over_g=used if isinstance(used, Absent) else bowl.total_g - used,
                    cost=bowl.cost,
                    cautions=tuple(problem.reason for problem in problems_of(record, service.bowl)),
                )
            )
    return tuple(found)


def _ratio(bowl: Bowl) -> str | Absent:
    parts = bowl.developer_parts
    return parts if isinstance(parts, Absent) else f"1:{parts:.3g}"
