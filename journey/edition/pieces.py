"""The small values every part of an edition is made of: moments, colours, pictures, tables, facts.

They are already filtered and already worded, as `journey.edition.model` says.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from PIL import Image


@dataclass(frozen=True, slots=True)
class When:
    """A moment, as this audience may know it."""

    text: str
    """'7 March' or 'week 0'."""
    week: float
    """Weeks since the first visit; may be negative."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chip:
    """One measured or predicted colour, with the place it belongs to."""

    place: str
    """'Crown, mid-lengths'."""
    hex: str
    name: str
    """The colour in a colourist's words."""
    keyline: bool = False
    """True when the colour nearly vanishes into the neutral ground and needs a line around it."""
    out_of_screen: bool = False
    """True when the real colour lies outside what a screen can show."""
    weak: str | None = None
    """Why the reading is weak, in words; None when it is sound."""
    numbers: str | None = None
    """'60, 44, 24 ± 4' where the audience sees numbers."""
    trace: str | None = None
    zone: str = ""
    """Key of the zone, for grouping."""
    band: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Picture:
    """A photo, or a part of one, re-made from bare pixels with covers filled."""

    name: str
    """Neutral file stem in page order: 'p01'."""
    width: int
    """Pixels of the re-made picture at full size, after orientation and crop."""
    height: int
    alt: str
    caption: str
    source: Callable[[int], Image.Image] = field(repr=False, compare=False)
    """Called with a long edge in px; returns RGB pixels of at most that size with covers filled."""
    fingerprint: str
    """Changes whenever the picture would: a private key for caching, never published."""
    photo: str = ""
    """SHA-256 of the file it was made from, never published: pictures of one photo are made together."""
    covered: tuple[tuple[float, float, float, float], ...] = ()
    """Filled boxes in fractions of this picture, to be proved on the written file."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One cell of a table: text, perhaps with a colour beside it and a key to trace it by."""

    text: str
    hex: str | None = None
    keyline: bool = False
    trace: str | None = None
    number: bool = False
    """Set right-aligned in tabular figures."""
    around: tuple[str, ...] = ()
    """Hex of the colours that the one shown may turn out as, from light to strong."""
    lines: tuple[str, ...] = ()
    """Said one below the other after the text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    key: str
    title: str
    columns: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]
    note: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    label: str
    value: str
    trace: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A labelled moment on a raster or chart."""

    when: When
    label: str
    is_service: bool = True
    """False for check-ins and for 'today'."""
