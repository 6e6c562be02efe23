"""Finds the line on which a place of the record is written, for those who follow a number back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from journey.record.nodes import Listing, Mapping, Node
from journey.record.safe_files import read_inside
from journey.record.yaml_reader import LIMIT_BYTES, read_yaml


def lines_of(folder: Path, name: str) -> dict[str, int]:
    """Line, counted from 1, of every place in one file: {'visits[3].photos[1]': 212}. Empty when unreadable."""
    top, _ = read_yaml(name, read_inside(folder, name, limit_bytes=LIMIT_BYTES))
    return {} if top is None else {node.place: line for node, line in _walk(top, top.line)}


def _walk(node: Node, line: int) -> Iterator[tuple[Node, int]]:
    yield node, line
    if isinstance(node, Mapping):
        for key, value in node.values.items():
            yield from _walk(value, node.key_lines.get(key, value.line))
    elif isinstance(node, Listing):
        for item in node.items:
            yield from _walk(item, item.line)
