"""Why something is so, as a key with values: what a computation says in place of a sentence.

Decides only how a reason travels. The sentence belonging to a key stands in the theme, under `reason:` of
`words/<language>/sentences.yaml`, and is filled in by `journey.edition.wording`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import TypeAlias, Union

Value: TypeAlias = Union[str, float, date, "Reason", tuple["Value", ...]]
"""What fills a sentence: a name, a number, a day, another reason, or several of them."""


@dataclass(frozen=True, slots=True, init=False, repr=False)
class Reason:
    """A key and its values, alike when both are; hashable.

    >>> Reason("patch-small", n=400)
    Reason('patch-small', n=400)
    """

    key: str
    values: tuple[tuple[str, Value], ...]
    """(name, value), in order of name."""

    def __init__(self, key: str, **values: Value) -> None:
        object.__setattr__(self, "key", key)
        object.__setattr__(self, "values", tuple(sorted(values.items())))

    def __repr__(self) -> str:
        named = "".join(f", {name}={value!r}" for name, value in self.values)
        return f"{type(self).__name__}({self.key!r}{named})"

    def with_values(self, **values: Value) -> Reason:
        """The same reason, with some values said otherwise."""
        return type(self)(self.key, **{**dict(self.values), **values})


class ReasonError(ValueError):
    """Raised with a reason instead of a sentence; `str()` gives the key and its values."""

    def __init__(self, key: str, **values: Value) -> None:
        self.reason = Reason(key, **values)
        super().__init__(repr(self.reason))
