"""identity.yaml: who she is."""

from __future__ import annotations

from journey.record.fields import PrivateDay, PrivateText, Region
from journey.record.parts import Part


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
    region: Region = "ES"
    """Country whose way of writing phone numbers is tried first."""
