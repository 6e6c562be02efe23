"""A file as a tree of texts, lists and mappings, each of which knows its line and its place.

Decides nothing about meaning: it is what `journey.record.yaml_reader` grows and what problems are traced
back to.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

Step = str | int
"""A key of a mapping, or a place in a list counted from 0."""


@dataclass(slots=True)
class Scalar:
    """A text."""

    line: int
    place: str
    """In words for people: 'visits[3].developer', list places counted from 1."""
    text: str
    flawed: bool = False
    """A problem about it has been told already; more would be echoes."""


@dataclass(slots=True)
class Listing:
    """A list, in order."""

    line: int
    place: str
    items: list[Node] = field(default_factory=list)
    flawed: bool = False


@dataclass(slots=True)
class Mapping:
    """Keys and their values, in order."""

    line: int
    place: str
    values: dict[str, Node] = field(default_factory=dict)
    key_lines: dict[str, int] = field(default_factory=dict)
    flawed: bool = False


Node = Scalar | Listing | Mapping
Plain = str | list["Plain"] | dict[str, "Plain"]


def place_below(parent: Listing | Mapping, step: Step) -> str:
    """The place of what stands at ``step`` of ``parent``, in words for people."""
    if isinstance(step, int):
        return f"{parent.place}[{step + 1}]"
    # A key may hold what writes over a terminal; it is a key that nobody knows then.
    said = step if step.isprintable() else ascii(step)
    return f"{parent.place}.{said}" if parent.place else said


def plain(node: Node) -> Plain:
    """The same tree as plain text, lists and dictionaries."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Listing):
        return [plain(item) for item in node.items]
    return {key: plain(value) for key, value in node.values.items()}


def below(node: Node, step: Step) -> Node | None:
    """What stands at one step below a node, if anything does."""
    if isinstance(node, Mapping) and isinstance(step, str):
        return node.values.get(step)
    if isinstance(node, Listing) and isinstance(step, int) and 0 <= step < len(node.items):
        return node.items[step]
    return None


def along(top: Node, route: tuple[Step, ...]) -> Iterator[Node]:
    """The nodes met on the way down ``route``, beginning with ``top``; ends early where the way ends."""
    node: Node | None = top
    for step in route:
        assert node is not None
        yield node
        node = below(node, step)
        if node is None:
            return
    if node is not None:
        yield node


def nearest(top: Node, route: tuple[Step, ...]) -> Node:
    """The deepest node that stands on ``route``: what a problem about something missing points at."""
    return tuple(along(top, route))[-1]


def pruned(node: Node, routes: frozenset[tuple[Step, ...]]) -> Node:
    """The tree without what stands at ``routes``; every node that stays keeps its line and its place."""
    here: dict[Step, set[tuple[Step, ...]]] = {}
    for route in routes:
        here.setdefault(route[0], set()).add(route[1:])

    def kept(step: Step, child: Node) -> Node | None:
        rests = here.get(step)
        if rests is None:
            return child
        return None if () in rests else pruned(child, frozenset(rests))

    if isinstance(node, Scalar):
        return node
    if isinstance(node, Listing):
        items = [kept(step, child) for step, child in enumerate(node.items)]
        return Listing(node.line, node.place, [item for item in items if item is not None], node.flawed)
    values = {key: kept(key, child) for key, child in node.values.items()}
    stay = {key: child for key, child in values.items() if child is not None}
    return Mapping(node.line, node.place, stay, node.key_lines, node.flawed)
