"""Collects what would be style attributes into classes of one style sheet, because the page allows none.

Decides the class names (`s1`, `s2`... in order of first use, so the same edition gives the same bytes) and
that only plain numbers, percentages and hex colours get in. Everything fixed stands in the theme's styles.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

_SAFE: Final = re.compile(r"[a-z-]+:[-#a-z0-9.,%()/*+_ ]+(;[a-z-]+:[-#a-z0-9.,%()/*+_ ]+)*")
_HEX: Final = re.compile(r"#[0-9a-f]{6}")
_EVEN_WITHIN: Final = 1e-6


@dataclass(slots=True)
class HairStyles:
    """Classes of one edition's own style sheet."""

    _names: dict[str, str] = field(default_factory=dict)

    def declare(self, declarations: str) -> str:
        """Class name for `left:12.5%;top:3%`. Raises ValueError for anything but plain declarations.

        >>> styles = HairStyles()
        >>> styles.declare("left:50%"), styles.declare("left:10%"), styles.declare("left:50%")
        ('s1', 's2', 's1')
        """
        if not _SAFE.fullmatch(declarations):
            raise ValueError(f"not a plain style: {declarations!r}")
        return self._names.setdefault(declarations, f"s{len(self._names) + 1}")

    def fill(self, hex_colour: str) -> str:
        """Class that fills with one colour. Raises ValueError for anything but '#rrggbb'."""
        return self.declare(f"background-color:{_checked(hex_colour)}")

    def gradient(self, stops: Sequence[tuple[float, str]]) -> str:
        """Class that fills from left to right through (position, hex) in ascending order of position.

        Stops at even distances go without their positions: that is what a gradient does by itself.
        """
        first, last = stops[0][0], stops[-1][0]
        spread = (last - first) or 1.0
        even = all(
            abs((at - first) / spread - number / (len(stops) - 1)) < _EVEN_WITHIN
            for number, (at, _) in enumerate(stops[1:], 1)
        )
        run = ",".join(
            _checked(colour) if even else f"{_checked(colour)} {percent((at - first) / spread)}"
            for at, colour in stops
        )
        return self.declare(f"background-image:linear-gradient(90deg,{run})")

    def place(self, **shares: float) -> str:
        """Class that sets lengths in per cent: `place(left=0.5)` gives `left:50%`."""
        return self.declare(";".join(f"{name}:{percent(share)}" for name, share in shares.items()))

    def css(self) -> str:
        return "".join(f".{name}{{{declarations}}}\n" for declarations, name in self._names.items())


def _checked(hex_colour: str) -> str:
    colour = hex_colour.lower()
    if not _HEX.fullmatch(colour):
        raise ValueError(f"not a hex colour: {hex_colour!r}")
    return colour


def percent(share: float) -> str:
    """
    >>> percent(1 / 3), percent(0.5), percent(0)
    ('33.33%', '50%', '0%')
    """
    return f"{100 * share:.2f}".rstrip("0").rstrip(".") + "%"
