"""A place along the strand as the stylist writes it; where its centimetres lie is left to `journey.study`."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar, Self

from journey.quantities import LengthSpan


class Place(StrEnum):
    """Named stretches of a strand, from the scalp out."""

    ROOTS = "roots"
    MID_LENGTHS = "mid-lengths"
    ENDS = "ends"


@dataclass(frozen=True, slots=True)
class Band:
    """Either named places, in order from the scalp, or a span in centimetres from the scalp; never both.

    >>> str(Band.parse("ends and mid-lengths"))
    'mid-lengths and ends'
    >>> Band.parse("from 2 cm to 8 cm").span.to.cm
    8.0
    >>> Band.parse("all").places == tuple(Place)
    True
    """

    places: tuple[Place, ...] = ()
    span: LengthSpan | None = None

    FORM: ClassVar[str] = "'roots', 'mid-lengths and ends', 'all' or 'from 2 cm to 8 cm'"
    PATTERN: ClassVar[str] = (
        r"^(all|(roots|mid-lengths|ends)( and (roots|mid-lengths|ends))*"
        r"|from \S+ (cm|mm|in) to \S+ (cm|mm|in))$"
    )

    def __post_init__(self) -> None:
        if bool(self.places) == (self.span is not None):
            raise ValueError(f"a band is either named or measured; write {self.FORM}")

    @property
    def is_all(self) -> bool:
        """Whether it runs from scalp to tip."""
        return self.places == tuple(Place)

    @classmethod
    def parse(cls, text: object) -> Self:
        """Read a band. Raises ValueError saying what may be written."""
        if not isinstance(text, str) or not text.strip():
            raise ValueError(f"nothing is written here; write {cls.FORM}")
        tidy = " ".join(text.split())
        if tidy == "all":
            return cls(places=tuple(Place))
        if tidy.startswith("from "):
            return cls(span=LengthSpan.parse(tidy.removeprefix("from ")))
        named = tidy.split(" and ")
        if len(set(named)) < len(named) or not set(named) <= set(Place):
            raise ValueError(f"{tidy[:60]!r} is not a band; write {cls.FORM}")
        return cls(places=tuple(place for place in Place if place in named))

    def __str__(self) -> str:
        if self.span is not None:
            return f"from {self.span}"
        return "all" if self.is_all else " and ".join(self.places)
