"""Whether each product says what its role needs, and nothing that belongs to another role."""

from __future__ import annotations

from collections.abc import Iterator

from journey.record.draft import Doubt, Draft, Route
from journey.record.model import Product, Role


def products_fit_roles(draft: Draft) -> Iterator[Doubt]:
    """A colour has its class, a developer its strength; a pack price has its pack."""
    products = draft.salon.value.products if draft.salon.value is not None else ()
    for place, product in enumerate(products):
        for step, what, instead in _misfits(product):
            route: Route = ("products", place, step) if step else ("products", place)
            yield Doubt(draft.salon, route, what, instead)


def _misfits(product: Product) -> Iterator[tuple[str, str, str]]:
    is_colour, is_developer = product.role is Role.COLOUR, product.role is Role.DEVELOPER
    if is_colour and product.colour_class is None:
        yield "", "a colour needs its class, which decides how it fades", "'colour_class: direct' or another"
    if not is_colour and product.colour_class is not None:
        yield "colour_class", f"a product of role '{product.role}' has no colour class; take it out", ""
    if not is_colour and product.level is not None:
        yield "level", f"a product of role '{product.role}' leaves no colour of a level; take it out", ""
    if is_developer and product.peroxide is None:
        yield "", "a developer needs its strength", "'peroxide: 20 vol' or '6 %'"
    if not is_developer and product.peroxide is not None:
        yield "peroxide", f"only a developer has a strength, not a product of role '{product.role}'", ""
    if product.price is not None and product.pack is None:
        yield "price", "a price needs the size of its pack", "'pack: 100 g' under it"
    if product.ratio_to is not None and product.ratio is None:
        yield "ratio_to", "the end of a range of ratios needs its beginning", "'ratio: 1:1' above it"
    if product.swatch is not None and product.role not in (Role.COLOUR, Role.CLEAR):
        yield "swatch", f"a product of role '{product.role}' leaves no colour on a swatch; take it out", ""


def assumptions_make_sense(draft: Draft) -> Iterator[Doubt]:
    """Each class and level once, and ranges that begin before they end."""
    salon = draft.salon.value
    if salon is None:
        return
    assumed = salon.assumptions
    for name, key, written in (
        ("fading", "colour_class", [str(one.colour_class) for one in assumed.fading]),
        ("levels", "level", [str(one.level) for one in assumed.levels]),
    ):
        for at, value in enumerate(written):
            if value in written[:at]:
                yield Doubt(draft.salon, ("assumptions", name, at, key), f"{value} stands here twice", "it once")
    for low, high in (("least_minutes", "most_minutes"), ("least_wet_stretch", "most_wet_stretch")):
        if getattr(assumed, low) >= getattr(assumed, high):
            what = f"{low}, {getattr(assumed, low):g}, is not below {high}, {getattr(assumed, high):g}"
            yield Doubt(draft.salon, ("assumptions", low), what, "a smaller number")


def refresh_shares_in_order(draft: Draft) -> Iterator[Doubt]:
    """A refresh is worth it before the colour has gone thin."""
    salon = draft.salon.value
    if salon is not None and salon.refresh_from <= salon.refresh_until:
        what = f"{salon.refresh_from:g} is not above refresh_until, {salon.refresh_until:g}"
        yield Doubt(draft.salon, ("refresh_from",), what, "a larger share")
