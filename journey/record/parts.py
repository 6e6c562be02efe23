"""What all parts of the record have in common: they are frozen, and their words are fixed.

The words an entry may use (who an edition is for, classes of colour, roles in a bowl, kinds of service) are
the trade's; what follows from each is left to `journey.study`.
"""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum

from pydantic import BaseModel, ConfigDict


class Part(BaseModel):
    """Common rules: frozen, and an unknown key is an error with its line, never dropped."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        use_attribute_docstrings=True,
        hide_input_in_errors=True,
        # Built when first asked to check something: the whole record at once, not every part by itself before.
        defer_build=True,
    )


def values_in(part: object) -> Iterator[object]:
    """Every single value in a part of a record, in the order of its fields."""
    if isinstance(part, Part):
        for _, value in part:
            yield from values_in(value)
    elif isinstance(part, tuple):
        for value in part:
            yield from values_in(value)
    else:
        yield part


def texts_of(part: object) -> Iterator[str]:
    """Every text in a part of a record; private values are none."""
    return (value for value in values_in(part) if type(value) is str)


class Audience(StrEnum):
    """Who an edition is made for."""

    CLIENT = "client"
    CLASS = "class"
    ARCHIVE = "archive"


class ColourClass(StrEnum):
    """How a colour holds on hair; it decides how it fades and what takes it off."""

    DIRECT = "direct"
    ACID = "acid"
    DEMI = "demi"
    PERMANENT = "permanent"
    TEMPORARY = "temporary"


class Role(StrEnum):
    """What an ingredient does in a bowl."""

    COLOUR = "colour"
    CLEAR = "clear"
    DEVELOPER = "developer"
    LIGHTENER = "lightener"
    REMOVER = "remover"
    WATER = "water"
    ADDITIVE = "additive"


class ServiceKind(StrEnum):
    LIGHTEN = "lighten"
    DIRECT_COLOUR = "direct colour"
    DEMI = "demi"
    PERMANENT = "permanent"
    GLOSS = "gloss"
    TONER = "toner"
    COLOUR_REMOVAL = "colour removal"
    BOND_PROTECTION = "bond protection"
    TREATMENT = "treatment"
    TRIM = "trim"
    EXTENSIONS_IN = "extensions in"
    EXTENSIONS_OUT = "extensions out"
