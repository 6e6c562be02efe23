"""YAML text into a tree in which every scalar is text and every key and value knows its line.

This is a small part of YAML on purpose: mappings, lists and text. Whatever can make a file mean something
else than it shows (anchors, aliases, tags, merge keys, a key given twice, a second document, invisible or
direction-changing characters) is refused, and so is whatever makes a reader run for minutes (size, depth,
number of nodes). What the keys mean is left to `journey.record.reader`.
"""

from __future__ import annotations

from collections.abc import Iterator

import yaml

from journey.errors import Problem
from journey.record.nodes import Listing, Mapping, Node, Scalar, place_below
from journey.record.plain_text import decode, hidden_character
from journey.record.scalars import quoted

LIMIT_BYTES = 1_000_000
LIMIT_NODES = 20_000
LIMIT_DEPTH = 20
LIMIT_KEY = 100

_Loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read_yaml(name: str, content: bytes) -> tuple[Mapping | None, list[Problem]]:
    """Read one file's bytes into its top mapping, and tell every problem on the way.

    The mapping is None when nothing can be made of the file.
    """
    if len(content) > LIMIT_BYTES:
        too_big = f"the file has {len(content):,} bytes"
        return None, [Problem(name, 0, "", too_big, f"at most {LIMIT_BYTES:,}, and longer texts in notes/")]
    text, problems = decode(name, content)
    if text is None:
        return None, problems
    tree = _Tree(name)
    try:
        tree.grow(yaml.parse(text, Loader=_Loader))
    except yaml.MarkedYAMLError as error:
        tree.problems.append(_syntax_problem(name, text, error))
        return None, problems + tree.problems
    except _GiveUpError:
        return None, problems + tree.problems
    if not isinstance(tree.top, Mapping):
        tree.report(1, "the file holds no 'key: value' lines at its left edge")
        return None, problems + tree.problems
    return tree.top, problems + tree.problems


class _GiveUpError(Exception):
    """The file must not be read any further; the reason is among the problems."""


class _Tree:
    """Grows the nodes from YAML's events, without recursion, so that depth costs nothing to refuse."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.problems: list[Problem] = []
        self.top: Node | None = None
        self._open: list[Listing | Mapping] = []
        self._keys: list[str | None] = []
        """The key that waits for its value, one for each open node."""
        self._nodes = 0
        self._documents = 0

    def report(self, line: int, what: str, instead: str = "") -> None:
        self.problems.append(Problem(self.name, line, self._here(), what, instead))

    def grow(self, events: Iterator[yaml.Event]) -> None:
        for event in events:
            line = event.start_mark.line + 1 if event.start_mark is not None else 0
            if isinstance(event, yaml.DocumentStartEvent):
                self._document(event, line)
            elif isinstance(event, yaml.AliasEvent):
                self.report(line, f"'*{event.anchor}' repeats another place by an alias", "it out in full")
                self._place(Scalar(line, self._here(), "", flawed=True))
            elif isinstance(event, yaml.NodeEvent):
                self._place(self._node(event, line))
            elif isinstance(event, yaml.CollectionEndEvent):
                self._open.pop()
                self._keys.pop()

    def _document(self, event: yaml.DocumentStartEvent, line: int) -> None:
        self._documents += 1
        if event.version or event.tags:
            self.report(line, "a line that begins with % changes how YAML is read; take it out")
        if self._documents > 1:
            self.report(line, "a second document begins here, after '---'", "everything in one")
            raise _GiveUpError

    def _node(self, event: yaml.NodeEvent, line: int) -> Node:
        self._nodes += 1
        if self._nodes > LIMIT_NODES:
            self.report(line, f"the file has more than {LIMIT_NODES:,} entries")
            raise _GiveUpError
        flawed = self._refuse_extras(event, line)
        if isinstance(event, yaml.ScalarEvent):
            hidden = hidden_character(event.value)
            if hidden is not None:
                self.report(line, f"this text holds {hidden[1]}; take it out")
            return Scalar(line, self._here(), event.value, flawed or hidden is not None)
        if len(self._open) >= LIMIT_DEPTH:
            self.report(line, f"this lies more than {LIMIT_DEPTH} levels deep")
            raise _GiveUpError
        if isinstance(event, yaml.SequenceStartEvent):
            return Listing(line, self._here(), flawed=flawed)
        return Mapping(line, self._here(), flawed=flawed)

    def _here(self) -> str:
        """The place of the node that comes next."""
        if not self._open:
            return ""
        parent, key = self._open[-1], self._keys[-1]
        if isinstance(parent, Listing):
            return place_below(parent, len(parent.items))
        return parent.place if key is None else place_below(parent, key)

    def _refuse_extras(self, event: yaml.NodeEvent, line: int) -> bool:
        """Anchors and tags: told, and the node goes on as if they were not there."""
        if event.anchor is not None:
            self.report(line, f"'&{event.anchor}' names a place for aliases; take it out")
        tag = getattr(event, "tag", None)
        if tag is not None:
            self.report(line, f"the tag {_short_tag(tag)!r} asks for another type; take it out, all is text")
        return event.anchor is not None or tag is not None

    def _place(self, node: Node) -> None:
        """Put a node where it belongs: as a waiting key, a value, an item, or the top."""
        if not self._open:
            self.top = node
        elif isinstance(parent := self._open[-1], Listing):
            parent.items.append(node)
        elif self._keys[-1] is None:
            self._keys[-1] = self._key(parent, node)
        else:
            self._value(parent, self._keys[-1], node)
            self._keys[-1] = None
        if not isinstance(node, Scalar):
            self._open.append(node)
            self._keys.append(None)

    def _key(self, parent: Mapping, node: Node) -> str:
        if not isinstance(node, Scalar):
            self.report(node.line, "a list or a mapping stands where a key belongs")
            raise _GiveUpError
        if node.flawed:
            raise _GiveUpError  # whatever is wrong with a key would be repeated in every place below it
        if len(node.text) > LIMIT_KEY:
            self.report(node.line, f"this key has {len(node.text)} characters")
            raise _GiveUpError
        if node.text == "<<":
            self.report(node.line, "'<<' merges another mapping into this one", "its lines here in full")
            parent.flawed = True
        elif node.text in parent.values:
            first = parent.key_lines[node.text]
            self.report(
                node.line, f"the key {quoted(node.text)} is given twice, first in line {first}; keep one"
            )
        else:
            parent.key_lines[node.text] = node.line
        return node.text

    @staticmethod
    def _value(parent: Mapping, key: str, node: Node) -> None:
        """The first of two equal keys stands; a merge key brings nothing."""
        if key != "<<":
            parent.values.setdefault(key, node)


def _short_tag(tag: str) -> str:
    return tag.replace("tag:yaml.org,2002:", "!!")[:60]


_ADVICE = (
    (
        "mapping values are not allowed",
        "quotes around text that holds ': ', and set the line in like its neighbours",
    ),
    ("tab character", "spaces instead of the tab"),
    ("cannot start any token", "spaces instead of tabs, and text that begins with @ ` or % in quotes"),
    ("could not find expected ':'", "'key: value', with a space after the colon"),
    ("did not find expected key", "each key of one list entry under the other, and close every quote"),
    ("found unexpected end of stream", "a closing quote"),
    ("did not find expected ',' or ']'", "a comma between entries and a closing bracket"),
    ("did not find expected ',' or '}'", "a comma between entries and a closing brace"),
    ("did not find expected '-' indicator", "every entry of the list with '- ', set in equally far"),
)
"""What usually lies behind a parser's complaint; common practice, no source."""


def _syntax_problem(name: str, text: str, error: yaml.MarkedYAMLError) -> Problem:
    complaint = (error.problem or "it stops in the middle").strip()
    marks = [error.problem_mark, error.context_mark]
    if "end of stream" in complaint:
        marks.reverse()  # where the quote was opened says more than where the file ends
    mark = next((mark for mark in marks if mark is not None), None)
    line = min(mark.line, text.rstrip("\n").count("\n")) + 1 if mark is not None else 0
    if "nesting depth" in complaint:  # the parser looks ahead, and has a limit of its own
        return Problem(name, line, "", f"this lies more than {LIMIT_DEPTH} levels deep")
    instead = next((advice for words, advice in _ADVICE if words in complaint), "")
    return Problem(name, line, "", f"this is not YAML: {complaint}", instead)
