"""salon.yaml: who works there, what things cost, and what goes in a bowl."""

from __future__ import annotations

from typing import Literal

from journey.record.assumptions import Assumptions
from journey.record.fields import (
    Currency,
    Hex,
    Key,
    Level,
    MassField,
    PeroxideField,
    Price,
    PrivateText,
    RatioField,
    Share,
    ShortText,
    Truth,
    WholeNumber,
)
from journey.record.parts import ColourClass, Part, Role


class Stylist(Part):
    key: Key
    """Short word by which visits name the stylist; never published."""
    name: PrivateText


class SwatchColour(Part):
    """What a product gives on a test swatch: the salon's own, read like any photo."""

    on: Hex
    """Colour of the swatch before."""
    gives: Hex
    """Colour of the swatch after, undiluted, rinsed and dry."""


class Product(Part):
    """One thing that goes in a bowl, under the salon's own plain name (no brand needed)."""

    key: Key
    name: ShortText
    role: Role
    """What it does in a bowl."""
    colour_class: ColourClass | None = None
    """Only for role colour."""
    level: Level | None = None
    """Level of the finished colour, where the product's name says one."""
    peroxide: PeroxideField | None = None
    """Strength of a developer: '20 vol' or '6 %'."""
    ratio: RatioField | None = None
    """Parts of this to parts of developer, as the product's instructions say."""
    ratio_to: RatioField | None = None
    """The weakest ratio the instructions allow, when they give a range."""
    price: Price | None = None
    """Price of one pack."""
    pack: MassField | None = None
    """What one pack holds, which its price is for."""
    swatch: SwatchColour | None = None
    """What a colour gives on a test swatch."""
    patch_test_hours: WholeNumber | None = None
    """How long before use the product's instructions ask for a patch test."""
    metallic_salts: Truth = False
    """Whether it holds salts of metals, which heat up with peroxide."""


class Salon(Part):
    name: PrivateText
    address: PrivateText | None = None
    phone: PrivateText | None = None
    email: PrivateText | None = None
    handles: tuple[PrivateText, ...] = ()
    stylists: tuple[Stylist, ...]
    """Everybody who works here and is named by a visit."""
    other_clients: tuple[PrivateText, ...] = ()
    """Names of other clients: none may occur in anything published about this one."""
    currency: Currency = "EUR"
    """Of every price in the folder."""
    chair_hour: Price | None = None
    """Price of one hour in the chair."""
    units: Literal["cm", "in"] = "cm"
    """Lengths on pages are shown in these."""
    products: tuple[Product, ...]
    """Whatever goes in a bowl."""
    safe_lift_per_session: WholeNumber = 3
    """Most levels to lift in one session; an assumption each salon may change."""
    refresh_from: Share = 0.6
    """Remaining share at which a refresh is first worth it."""
    refresh_until: Share = 0.35
    """Remaining share below which the colour has gone thin."""
    removal_leaves: Share = 0.3
    """Share of a colour that one removal usually leaves, where no photo has shown it."""
    assumptions: Assumptions = Assumptions()
    """All else that is taken for granted until this salon knows better."""
