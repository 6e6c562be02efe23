"""Whether what is in a bowl can be the service it is said to be.

Whether it was wise (developer with a direct colour, an oxidative colour without) is judged by the study.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from journey.record.draft import Doubt, Draft, Route
from journey.record.model import Bowl, ColourClass, Product, Role, ServiceKind

Kind = ServiceKind

CLASS_OF_KIND = {
    Kind.DIRECT_COLOUR: ColourClass.DIRECT,
    Kind.DEMI: ColourClass.DEMI,
    Kind.PERMANENT: ColourClass.PERMANENT,
}
"""Kinds that say which class of colour they lay. A gloss or a toner may be of any class."""
_LAYS_COLOUR = frozenset({Kind.DIRECT_COLOUR, Kind.DEMI, Kind.PERMANENT, Kind.GLOSS, Kind.TONER})


def bowls_fit_kinds(draft: Draft) -> Iterator[Doubt]:
    """Lightening has a lightener, removal a remover, and colour its class."""
    for route, service in draft.all_services():
        bowl = service.bowl
        if bowl is None:
            continue
        products = [draft.products.get(line.product) for line in bowl.lines]
        known = [product for product in products if product is not None]
        if len(known) < len(products):
            continue  # what a product that is not known does in there cannot be judged
        for step, what, instead in _misfits(service.kind, known):
            yield Doubt(draft.journey, _at(route, products, step), what, instead)


def removal_agrees_with_bowl(draft: Draft) -> Iterator[Doubt]:
    """'with_developer' says what the bowl says."""
    for route, service in draft.all_services():
        if service.bowl is None or service.with_developer is None:
            continue
        roles = [product.role for product in _contents(draft, service.bowl)]
        if service.with_developer != (Role.DEVELOPER in roles) and len(roles) == len(service.bowl.lines):
            holds = "holds none" if service.with_developer else "holds one"
            what = (
                f"a developer is {'named' if service.with_developer else 'denied'} here, but the bowl {holds}"
            )
            yield Doubt(draft.journey, (*route, "with_developer"), what, "what was done, in both places")


def bowls_add_up(draft: Draft) -> Iterator[Doubt]:
    """A bowl has something in it, each line weighs something, and no more is left than was mixed."""
    for route, service in draft.all_services():
        if service.bowl is None:
            continue
        here: Route = (*route, "bowl")
        total = math.fsum(line.grams.g for line in service.bowl.lines)
        if not service.bowl.lines:
            yield Doubt(draft.journey, (*here, "lines"), "the bowl is empty", "a line for each product")
        for place, line in enumerate(service.bowl.lines):
            if line.grams.g == 0:
                yield Doubt(draft.journey, (*here, "lines", place, "grams"), "this line weighs nothing")
        if service.bowl.left_over is not None and service.bowl.left_over.g > total:
            what = f"{service.bowl.left_over} are left over of {total:g} g mixed"
            yield Doubt(draft.journey, (*here, "left_over"), what, f"at most '{total:g} g'")


def _contents(draft: Draft, bowl: Bowl) -> list[Product]:
    return [draft.products[line.product] for line in bowl.lines if line.product in draft.products]


def _misfits(kind: ServiceKind, products: list[Product]) -> Iterator[tuple[Role | None, str, str]]:
    """The role whose line is at fault (None: the bowl as a whole), what is wrong, what to write instead."""
    roles = {product.role for product in products}
    classes = {product.colour_class for product in products if product.colour_class is not None}
    if kind is Kind.LIGHTEN and Role.LIGHTENER not in roles:
        yield None, "lightening needs a lightener in the bowl", "its line"
    if kind is not Kind.LIGHTEN and Role.LIGHTENER in roles:
        yield Role.LIGHTENER, f"a lightener in a bowl for '{kind}' lightens", "'kind: lighten'"
    if kind is Kind.COLOUR_REMOVAL and Role.REMOVER not in roles:
        yield None, "colour removal needs a remover in the bowl", "its line"
    if kind in _LAYS_COLOUR and not roles & {Role.COLOUR, Role.CLEAR}:
        yield None, f"a service of kind '{kind}' needs a colour in the bowl", "its line"
    wanted = CLASS_OF_KIND.get(kind)
    if wanted is not None and classes - {wanted}:
        other = " and ".join(sorted(classes - {wanted}))
        yield (
            Role.COLOUR,
            f"a colour of class '{other}' makes this another kind of service",
            f"class '{wanted}'",
        )


def _at(route: Route, products: list[Product | None], role: Role | None) -> Route:
    """The first line of the bowl that holds this role, or the bowl."""
    for place, product in enumerate(products):
        if role is not None and product is not None and product.role is role:
            return (*route, "bowl", "lines", place, "product")
    return (*route, "bowl")
