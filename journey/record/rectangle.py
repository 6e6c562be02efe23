"""A rectangle on a photo, in fractions of its sides, so that it holds for every size the photo is made in."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import ClassVar, Self

_FRACTION = r"[0-9](?:\.[0-9]{1,9})?"
_ROUNDING = 1e-9
"""0.7 + 0.3 may come out a hair above 1 in binary."""


@dataclass(frozen=True, slots=True)
class Rectangle:
    """Left, top, width and height as fractions of the photo's sides after it has been turned upright.

    >>> Rectangle.parse("0.30 0.15 0.10 0.08").right
    0.4
    """

    left: float
    top: float
    width: float
    height: float

    FORM: ClassVar[str] = "'left top width height' in fractions of the photo, as in '0.30 0.15 0.10 0.08'"

    def __post_init__(self) -> None:
        corners = (self.left, self.top, self.right, self.bottom)
        if min(corners) < 0 or max(corners) > 1 + _ROUNDING:
            raise ValueError(f"'{self}' reaches outside the photo; write {self.FORM}")
        if self.width <= 0 or self.height <= 0:
            raise ValueError(f"'{self}' covers nothing; write {self.FORM}")

    @property
    def right(self) -> float:
        return self.left + self.width

    @property
    def bottom(self) -> float:
        return self.top + self.height

    @classmethod
    def parse(cls, text: object) -> Self:
        """Read 'left top width height'. Raises ValueError outside the photo or when it can not be read."""
        parts = text.split() if isinstance(text, str) else []
        if len(parts) != 4 or any(re.fullmatch(_FRACTION, part) is None for part in parts):
            raise ValueError(f"{str(text)[:60]!r} is not a rectangle; write {cls.FORM}")
        left, top, width, height = (float(part) for part in parts)
        return cls(left, top, width, height)

    def __str__(self) -> str:
        return " ".join(f"{side:g}" for side in (self.left, self.top, self.width, self.height))
