"""The rules applied: what of the record passes to one audience, and the ledger of what stayed behind."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any, TypeVar

from pydantic import BaseModel

from journey.edition.rules import RULES, Treatment
from journey.record.model import Audience, Record

T = TypeVar("T")


class UnruledFieldError(LookupError):
    """A field of the record has no rule, so nothing of it may be shown."""


@dataclass(slots=True)
class Gate:
    """Lets values of the record through to one audience, by the rules and nothing else."""

    audience: Audience
    clean: Callable[[str], str]
    """The text filter."""
    said: dict[tuple[str, str], None] = field(default_factory=dict)
    """(field, text as let through), each once, in the order asked for."""

    def text(self, path: str, value: str | None) -> str:
        """A text after the filter, or '' when this audience does not get it."""
        if value is None:
            return ""
        treatment = self._treatment(path)
        if treatment not in (Treatment.FILTER, Treatment.SHOW):
            return ""
        through = self.clean(str(value)) if treatment is Treatment.FILTER else str(value)
        self.said[path, through] = None
        return through

    def value(self, path: str, value: T | None) -> T | None:
        """A typed value, or None when this audience does not get it."""
        if value is None or self._treatment(path) is not Treatment.SHOW:
            return None
        return value

    def may_derive(self, path: str) -> bool:
        """Whether numbers computed from this field may be shown."""
        return self._treatment(path) in (Treatment.DERIVE, Treatment.SHOW)

    def _treatment(self, path: str) -> Treatment:
        rule = RULES.get(path)
        if rule is None:
            raise UnruledFieldError(f"{path} has no rule in journey/edition/rules.py")
        return rule.for_(self.audience)


def withheld_fields(record: Record, audience: Audience) -> Iterator[tuple[str, int, str]]:
    """(field, how often it is filled in, why) of all that this audience gets nothing of."""
    counts: dict[str, int] = {}
    _count(record, counts)
    for path, rule in RULES.items():
        if rule.for_(audience) is Treatment.WITHHOLD and counts.get(path):
            yield path, counts[path], rule.why


def _count(part: Any, counts: dict[str, int]) -> None:
    if isinstance(part, tuple):
        for item in part:
            _count(item, counts)
    elif isinstance(part, BaseModel):
        for name in type(part).model_fields:
            value = getattr(part, name)
            if value is None or value == ():
                continue
            path = f"{type(part).__name__}.{name}"
            counts[path] = counts.get(path, 0) + (len(value) if isinstance(value, tuple) else 1)
            _count(value, counts)
