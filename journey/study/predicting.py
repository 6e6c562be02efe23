"""What a planned service would do to today's hair: its colour then, and weeks later.

It decides how a plan's steps change the picture of one place: lightening puts a new base under what is left,
a removal leaves a share of the dye, a colour lays the bowl's dye over it. Uptake is uncertain, so each result
is told light, expected and strong. Colour is never taken over from a swatch as it stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from journey.colour.dye import Dye, dye_between
from journey.colour.layering import lay_over
from journey.colour.mixing import mix_in_bowl
from journey.colour.spaces import hex_to_lab
from journey.hair.fade import FadePosterior, fit_fade
from journey.hair.fade_prior import ColourClass
from journey.record.model import Bowl, PlannedService, Product, Record, Role, ServiceKind
from journey.study.assumed import fade_prior, level_lab
from journey.study.bowls import products_of
from journey.study.growing import COLOURING, colour_class, removal_leaves
from journey.study.model import Fade, Lab

Kind = ServiceKind


@dataclass(frozen=True, slots=True)
class Coating:
    """A dye on hair: how much is there now, and how it goes."""

    dye: Dye
    share: float
    posterior: FadePosterior | None
    washes: float = 0.0
    """Washes it has had already."""

    def share_after(self, washes: float) -> float:
        """Share left after further washes, of the full strength of `dye`."""
        if self.posterior is None:
            return self.share
        now = self.posterior.share_at(self.washes).median
        if now <= 0:
            return 0.0
        return self.share * self.posterior.share_at(self.washes + washes).median / now


@dataclass(frozen=True, slots=True)
class Place:
    """One place as it would be: bare hair with coats on it."""

    bare_lab: Lab
    coats: tuple[Coating, ...]

    def lab(self, washes: float = 0.0, uptake: float = 1.0) -> Lab:
        """CIELAB (3,) after so many washes; `uptake` scales the coat laid last."""
        layers = [
            (coat.dye, np.asarray(coat.share_after(washes) * (uptake if coat is self.coats[-1] else 1.0)))
            for coat in self.coats
        ]
        if not layers:
            return self.bare_lab
        found: Lab = lay_over(self.bare_lab, layers)
        return found

    def washed(self, washes: float) -> Place:
        """The place after so many washes."""
        coats = tuple(
            replace(coat, share=coat.share_after(washes), washes=coat.washes + washes) for coat in self.coats
        )
        return replace(self, coats=coats)


def today(fade: Fade | None, bare_lab: Lab, washes_since: float) -> Place:
    """The place as it is: the fitted colour, as much of it as is left."""
    if fade is None:
        return Place(bare_lab, ())
    share = fade.posterior.share_at(washes_since).median
    return Place(fade.substrate_lab, (Coating(fade.path.dye, share, fade.posterior, washes_since),))


def after(record: Record, place: Place, service: PlannedService, fades: Sequence[Fade]) -> Place:
    """The place after one planned service that reaches it."""
    if service.kind is Kind.LIGHTEN and service.to_level is not None:
        # Lightener takes most of a direct colour with it; what it reaches is a level, known by assumption.
        left = record.salon.assumptions.lightener_leaves
        kept = tuple(replace(coat, share=coat.share * left) for coat in place.coats)
        return Place(level_lab(record.salon.assumptions, service.to_level, lightened=True), kept)
    if service.kind is Kind.COLOUR_REMOVAL:
        left = removal_leaves(record, service).get("direct", 1.0)
        return replace(place, coats=tuple(replace(coat, share=coat.share * left) for coat in place.coats))
    if service.kind in COLOURING and service.bowl is not None:
        dye = bowl_dye(record, service.bowl)
        if dye is not None:
            kind = colour_class(record, service)
            coat = Coating(dye, 1.0, _posterior(record, fades, kind))
            return replace(place, coats=(*place.coats, coat))
    return place


def product_dye(product: Product) -> Dye | None:
    """What a colour does to light, by its swatch; None where it has none."""
    if product.swatch is None or product.role is not Role.COLOUR:
        return None
    return dye_between(hex_to_lab(product.swatch.on), hex_to_lab(product.swatch.gives))


def bowl_dye(record: Record, bowl: Bowl) -> Dye | None:
    """The dye a bowl gives by its products' swatches; None when no colour in it has a swatch."""
    products = products_of(record)
    dyes, clear = [], 0.0
    for line in bowl.lines:
        product = products[line.product]
        dye = product_dye(product)
        if dye is not None:
            dyes.append((dye, line.grams.g))
        elif product.role in (Role.CLEAR, Role.WATER, Role.ADDITIVE):
            clear += line.grams.g
    if not dyes:
        return None
    methods = {dye.method for dye, _ in dyes}
    if len(methods) > 1:
        # Dyes described by different laws do not add up: the one there is most of speaks for the bowl.
        dyes = [max(dyes, key=lambda pair: pair[1])]
    return mix_in_bowl(dyes, clear_mass_g=clear)


def _posterior(record: Record, fades: Sequence[Fade], kind: ColourClass) -> FadePosterior | None:
    """How this class of colour fades on her: her latest fitted fade, else the class's prior."""
    own = [fade for fade in fades if fade.colour_class == kind and not fade.posterior.prior_only]
    if own:
        return own[-1].posterior
    if not fades:
        return None
    return fit_fade(fades[-1].path, (), delta_e_noise=2.0, prior=fade_prior(record.salon.assumptions, kind))
