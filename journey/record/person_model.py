"""identity.yaml: who she is."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from journey.record.fields import Key, PrivateDay, PrivateText, Region, ShortText
from journey.record.parts import Audience, Part


class TraitShown(Part):
    """A decision that one edition may show a trait."""

    edition: Audience
    because: ShortText
    by: Key
    """The stylist who decided."""


class RareTrait(Part):
    """Something by which people know her though no name is said: a tattoo, a scar, a rare trade."""

    key: Key
    says: Annotated[tuple[PrivateText, ...], Field(min_length=1)]
    """The words by which a text may mention it."""
    shown_in: tuple[TraitShown, ...] = ()
    """What nobody decided to show stays out: of texts, and of photos that show it."""


class Identity(Part):
    """Who she is. Read only to know what to strip and to check that it is gone."""

    name: PrivateText
    """First names and surnames, as she writes them."""
    nicknames: tuple[PrivateText, ...] = ()
    born: PrivateDay | None = None
    """The day, year-month-day."""
    phones: tuple[PrivateText, ...] = ()
    emails: tuple[PrivateText, ...] = ()
    addresses: tuple[PrivateText, ...] = ()
    places: tuple[PrivateText, ...] = ()
    """Towns, quarters, villages: wherever a text may place her."""
    handles: tuple[PrivateText, ...] = ()
    urls: tuple[PrivateText, ...] = ()
    workplaces: tuple[PrivateText, ...] = ()
    """Where she works or studies."""
    relatives: tuple[PrivateText, ...] = ()
    """Family, household and friends whom a text may mention."""
    plates: tuple[PrivateText, ...] = ()
    """Number plates."""
    numbers: tuple[PrivateText, ...] = ()
    """Card, file and licence numbers, device serials: anything that belongs to one person."""
    rare_traits: tuple[RareTrait, ...] = ()
    region: Region = "ES"
    """Country whose way of writing phone numbers is tried first."""
