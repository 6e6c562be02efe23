"""Where each zone stands on the ladder of levels, and which of the salon's colours would show true on it today.

It decides when a colour 'turns': laid over today's hair it comes out further from its own hue on clean,
lightened hair than a colourist would still call the same colour.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from journey.colour.difference import delta_e_2000
from journey.colour.layering import apply_swatch
from journey.colour.names import colour_name
from journey.colour.spaces import hex_to_lab
from journey.hair.layers import Layers
from journey.hair.level import undertone_at
from journey.record.model import Product, Record, Role
from journey.study.bases import Bases
from journey.study.growing import Grown
from journey.study.model import Lab, LiftStudy, Place, Shade
from journey.study.strand_colours import StrandColours, lab_at


def study_lift(
    record: Record, grown: Sequence[Grown], colours: StrandColours, bases: Bases, as_of: date
) -> tuple[LiftStudy, ...]:
    """One per zone, judged at the middle of its hair."""
    return tuple(_study(record, zone, colours, bases, as_of) for zone in grown)


def _study(record: Record, grown: Grown, colours: StrandColours, bases: Bases, as_of: date) -> LiftStudy:
    strand = grown.history.at(float((as_of - colours.start).days))
    middle = strand.length_cm() / 2
    layers = strand.layers_at(middle) or Layers(natural_level=strand.natural_level)
    undertone = undertone_at(layers.level)
    now = lab_at(colours, grown, middle, as_of)
    base = now if now is not None else bases.natural(Place(grown.zone.key, "roots")).lab
    bare = _bare(bases, grown, layers, as_of) if now is not None else None
    shades = [
        shade for product in record.salon.products if (shade := _shade(product, base, bare)) is not None
    ]
    turns = record.salon.assumptions.turns_beyond
    return LiftStudy(
        zone=grown.zone.key,
        natural_level=layers.natural_level,
        lifted_level=layers.lifted_level,
        undertone=undertone.name,
        neutraliser=undertone.neutraliser,
        shows_true=tuple(shade for shade in shades if shade.delta_e <= turns),
        turns=tuple(shade for shade in shades if shade.delta_e > turns),
    )


def _bare(bases: Bases, grown: Grown, layers: Layers, as_of: date) -> Lab | None:
    """The hair under today's colour where a photo has read it; an assumed level would only add its error."""
    if not layers.coats:
        return None
    place = Place(grown.zone.key, "mid-lengths")
    base = bases.under_level(place, layers.level, as_of) if layers.lifts else bases.natural(place)
    return base.lab if base.reading is not None else None


def _shade(product: Product, base: Lab, bare: Lab | None) -> Shade | None:
    """What one of the salon's colours would give over this hair; None for what is no colour."""
    if product.role is not Role.COLOUR or product.swatch is None:
        return None
    on, gives = hex_to_lab(product.swatch.on), hex_to_lab(product.swatch.gives)
    over = apply_swatch(base, on, gives, bare_lab=bare).expected
    return Shade(
        product=product.key,
        name=product.name,
        lab=over,
        swatch_lab=gives,
        delta_e=float(delta_e_2000(over, gives)),
        becomes=colour_name(over).key,
    )
