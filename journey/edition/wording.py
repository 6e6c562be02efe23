"""Turns values into sentences, in the client's language and for one audience.

Sentences live in the theme (`words/<language>/sentences.yaml`); this module only fills them in: dates,
numbers, lists and plurals in the language's way, and moments as this audience may know them (a date for
the client and the archive, a week offset for a class). A missing sentence is an error at build time, not
a blank on a page.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from journey.colour.reason import Reason
from journey.edition.model import When
from journey.errors import JourneyError
from journey.hair.absent import Absent
from journey.record.model import Audience
from journey.words_file import read_words
from journey.written_numbers import plain_decimal


class MissingWordsError(JourneyError):
    """The theme has no sentence of that key in that language."""


@dataclass(frozen=True, slots=True)
class Wording:
    """All sentences of one language, with the audience and week 0 they are said for."""

    language: str
    sentences: Mapping[str, Any]
    audience: Audience
    start: date
    _found: dict[str, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """Some sentences are asked for thousands of times."""

    @classmethod
    def load(cls, words: Path, language: str, audience: Audience, start: date) -> Wording:
        """Read `words/<language>/sentences.yaml` of a theme. Raises MissingWordsError without one."""
        path = words / language / "sentences.yaml"
        if not path.is_file():
            raise MissingWordsError(f"the theme has no sentences in {language!r}: {path.name} is missing")
        sentences = read_words(path)
        return cls(language, sentences, audience, start)

    def has(self, key: str) -> bool:
        return self._find(key) is not None

    def say(
        self, key: str, values: Mapping[str, object] | None = None, *, n: float | None = None, **named: object
    ) -> str:
        """The sentence `key` ('care.fewer-washes.do') with its values; `n` picks singular or plural.

        An audience's own version stands under the key plus '@client', '@class' or '@archive'.
        """
        found = self._found.get(key)
        if found is None:
            found = self._find(f"{key}@{self.audience}")
            if found is None:
                found = self._find(key)
            if found is None:
                raise MissingWordsError(f"no sentence {key!r} in {self.language!r}")
            self._found[key] = found
        if isinstance(found, Mapping):
            found = found["one" if n == 1 else "other"]
        shown = {name: self.show(value) for name, value in {**(values or {}), **named}.items()}
        if n is not None:
            shown.setdefault("n", self.show(n))
        return str(found).strip().format_map(shown)

    def because(self, reason: Reason) -> str:
        """Why something is so, or why a value is absent; a value `n` picks singular or plural."""
        values = dict(reason.values)
        count = values.get("n")
        section = "absent" if isinstance(reason, Absent) else "reason"
        return self.say(
            f"{section}.{reason.key}", values, n=float(count) if isinstance(count, (int, float)) else None
        )

    def phrase(self, text: str) -> str:
        """A fixed short text of the code (a unit, a source) in this language; a citation stays as it is."""
        return str(self.sentences.get("phrase", {}).get(text, text))

    def show(self, value: object) -> str:
        """A value as the language writes it."""
        if isinstance(value, Reason):
            return self.because(value)
        if isinstance(value, bool):
            return self.say("word.yes" if value else "word.no")
        if isinstance(value, date):
            return self.day(value)
        if isinstance(value, float):
            return self.number(value)
        if isinstance(value, int):
            return self.number(float(value), 0)
        if isinstance(value, (list, tuple)):
            return self.listing([self.show(item) for item in value])
        return str(value)

    def number(self, value: float, digits: int | None = None) -> str:
        """Decimal point or comma; without `digits`, one decimal below ten and none from there on."""
        if digits is None:
            digits = 0 if abs(value) >= 10 or float(value).is_integer() else 1
        text = f"{value:.{digits}f}"
        if float(text) == 0:
            text = text.lstrip("-")
        return text.replace("-", "−").replace(".", self.say("number.decimal"))

    def exact(self, value: float) -> str:
        """A number as it was written down, with the language's decimal sign."""
        return plain_decimal(value).replace(".", self.say("number.decimal"))

    def percent(self, share: float) -> str:
        return self.say("number.percent", value=self.number(100 * share, 0))

    def listing(self, items: Sequence[str]) -> str:
        """'a, b and c'."""
        if len(items) < 2:
            return "".join(items)
        return self.say("list.last", before=", ".join(items[:-1]), last=items[-1])

    def day(self, day: date) -> str:
        """A day as this audience may know it."""
        if self.audience is Audience.CLASS:
            return self.say("when.week", week=round((day - self.start).days / 7))
        if self.audience is Audience.ARCHIVE:
            return day.isoformat()
        month = self._find("month.names")
        return self.say("when.day", day=str(day.day), month=month[day.month - 1])

    def span(self, first: date, last: date) -> str:
        """From one day to another: '25 June to 12 July'."""
        if self.day(first) == self.day(last):
            return self.day(first)
        if self.audience is Audience.CLASS:
            return self.say(
                "when.weeks",
                first=round((first - self.start).days / 7),
                last=round((last - self.start).days / 7),
            )
        return self.say("when.span", first=first, last=last)

    def when(self, day: date) -> When:
        return When(self.day(day), (day - self.start).days / 7)

    def minutes(self, minutes: int) -> str:
        hours, rest = divmod(minutes, 60)
        if not hours:
            return self.say("time.minutes", minutes=rest)
        if not rest:
            return self.say("time.hours", hours=hours)
        return self.say("time.both", hours=hours, minutes=rest)

    def _find(self, key: str) -> Any:
        node: Any = self.sentences
        for part in key.split("."):
            if not isinstance(node, Mapping) or part not in node:
                return None
            node = node[part]
        return node
