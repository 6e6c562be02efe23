"""One worked sum: a formula with this journey's numbers in it, line by line, so that anybody can redo it.

It decides how a line is written: label, the formula filled in, an equals sign, the result. Signs are those of
a pocket calculator with functions (√, ^, exp, ln, log2, sin, atan2, |…|, ⌈…⌉; angles in degrees). Results
are the study's own; the numbers put in have so many digits that the result comes out again in its last one.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import SupportsFloat

from journey.edition.model import WorkedSum
from journey.edition.wording import Wording


@dataclass(slots=True)
class Lines:
    """Collects the lines of one sum."""

    words: Wording
    key: str
    written: list[str] = field(default_factory=list)

    def n(self, value: SupportsFloat, digits: int = 2) -> str:
        """A number to be put into a formula; below zero in brackets, so that signs do not meet."""
        text = self.words.number(float(value), digits)
        return f"({text})" if text.startswith("−") else text

    def sum(self, label: str, formula: str, result: float, digits: int = 2, unit: str = "") -> None:
        """'label: formula = result unit'; a label that stands in the theme under `sums.label` is said."""
        key = f"sums.label.{label}"
        name = self.words.say(key) if self.words.has(key) else label
        tail = f" {unit}" if unit else ""
        self.written.append(f"{name}: {formula} = {self.words.number(float(result), digits)}{tail}")

    def note(self, name: str, **values: object) -> None:
        """A sentence between the lines, from the theme."""
        self.written.append(self.words.say(f"sums.note.{name}", values))

    def done(self, **values: object) -> WorkedSum:
        return WorkedSum(title=self.words.say(f"sums.title.{self.key}", values), lines=tuple(self.written))
