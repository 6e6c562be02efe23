"""One file read as far as it goes.

Three bad dates and a misspelt zone are to be put right in one sitting, but a zone can only be looked up once
the file has become a model. So what does not fit is told, left out, and the rest is read; this module
decides what has to be left out. What stays keeps its line, so that later problems still find it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from journey.errors import Problem
from journey.record.form import Route, fit, part_at, without_echoes
from journey.record.model import Part
from journey.record.nodes import Mapping, along, nearest, pruned

M = TypeVar("M", bound=Part)


@dataclass(slots=True)
class Page(Generic[M]):
    """One file: as written, and as far as it could be read."""

    name: str
    written: Mapping | None = None
    """The whole tree; None when the file is not YAML."""
    value: M | None = None
    kept: Mapping | None = None
    """The part of the tree that `value` was made from: the same route leads to the same thing in both."""
    lost: frozenset[str] = frozenset()
    """Places that were left out."""
    problems: list[Problem] = field(default_factory=list)


AnyPage = Page[Any]


def salvage(name: str, written: Mapping, model: type[M], open_note: Callable[[str], str]) -> Page[M]:
    """Fit a tree to its model, leaving out what does not fit until the rest does."""
    kept, lost, problems = written, set[str](), list[Problem]()
    while True:
        value, misfits = fit(name, kept, model, open_note)
        if kept is written:
            told = without_echoes(misfits)
            problems = [problem for route, problem in told.items() if not _told(written, route)]
        if value is not None:
            return Page(name, written, value, kept, frozenset(lost), problems)
        routes = frozenset(droppable(model, route) for route in misfits)
        if () in routes:
            return Page(name, written, problems=problems)
        lost |= {nearest(kept, route).place for route in routes}
        smaller = pruned(kept, routes)
        assert isinstance(smaller, Mapping)
        kept = smaller


def droppable(model: type[Part], route: Route) -> Route:
    """The smallest thing around ``route`` that a model can do without; () when that is the whole file."""
    while route:
        last = route[-1]
        if isinstance(last, int):
            return route
        part = part_at(model, route[:-1])
        field_info = part.model_fields.get(last) if part is not None else None
        if field_info is None or not field_info.is_required():
            return route
        route = route[:-1]
    return route


def _told(top: Mapping, route: Route) -> bool:
    """Whether a problem about this place has been told while the YAML was read."""
    return any(node.flawed for node in along(top, route))
