"""YAML is read as text, with lines, within limits, and without its dangerous parts."""

from __future__ import annotations

import time

import pytest

from journey.record.nodes import Listing, Mapping, Scalar, plain, pruned
from journey.record.plain_text import hidden_character
from journey.record.yaml_reader import LIMIT_BYTES, LIMIT_DEPTH, LIMIT_NODES, read_yaml


def tree_of(text: str) -> Mapping:
    top, problems = read_yaml("x.yaml", text.encode())
    assert problems == []
    assert top is not None
    return top


def told(content: str | bytes) -> str:
    """The problems of a text, which must be there, one a line."""
    _, problems = read_yaml("x.yaml", content.encode() if isinstance(content, str) else content)
    assert problems
    return "\n".join(str(problem) for problem in problems)


@pytest.mark.parametrize(
    "text", ["no", "off", "~", "null", "0612345677", "12:34", "1.10", "2026-03-07", "1e3"]
)
def test_scalars_stay_text(text: str) -> None:
    """What YAML would turn into a bool, a number, a day or nothing is the text that was written."""
    assert plain(tree_of(f"value: {text}")) == {"value": text}


def test_every_key_and_value_knows_its_line_and_place() -> None:
    """Lines count from 1, list places in words too."""
    top = tree_of("a: 1\n\nb:\n  - c: 2\n    d: |\n      long\n  - e\n")
    listing = top.values["b"]
    assert isinstance(listing, Listing)
    entry, last = listing.items
    assert isinstance(entry, Mapping)
    assert isinstance(last, Scalar)
    assert top.key_lines == {"a": 1, "b": 3}
    assert (entry.line, entry.place, entry.key_lines) == (4, "b[1]", {"c": 4, "d": 5})
    assert (last.line, last.place, last.text) == (7, "b[2]", "e")


def test_first_of_two_equal_keys_stands_and_is_told() -> None:
    """'consent: no' then 'consent: yes' is refused, rather than the last one winning in silence."""
    top, problems = read_yaml("x.yaml", b"consent: no\nconsent: yes\n")
    assert top is not None
    assert plain(top) == {"consent": "no"}
    assert [str(one) for one in problems] == [
        "x.yaml:2: the key 'consent' is given twice, first in line 1; keep one"
    ]


BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{now}: &{now} [{', '.join(['*' + before] * 9)}]\n"
    for before, now in zip("abcdefgh", "bcdefghi", strict=True)
)


@pytest.mark.parametrize(
    ("name", "content", "words"),
    [
        ("alias bomb", BOMB, "'&a' names a place for aliases"),
        ("nesting", "[" * 100_000, f"more than {LIMIT_DEPTH} levels deep"),
        ("block nesting", "".join(" " * n + "- \n" for n in range(99)), "20 levels deep"),
        ("entries", "x:\n" + "- a\n" * 300_000, "the file has"),
        ("nodes", "x: [" + "a," * LIMIT_NODES + "]", f"more than {LIMIT_NODES:,} entries"),
        ("bytes", "x: " + "a" * LIMIT_BYTES, "the file has 1,000,003 bytes"),
        ("long key", "k" * 500 + ": [a]", "this key has 500 characters"),
        ("python object", "a: !!python/object/apply:os.system [ls]", "the tag '!!python/object/apply"),
        ("own tag", "a: !x 1", "the tag '!x'"),
        ("merge", "a: 1\n<<: {b: 2}", "'<<' merges another mapping"),
        ("document", "a: 1\n--- \nb: 2", "a second document begins here"),
        ("nul", b"a: \0b", "U+0000"),
        ("escaped nul", 'a: "\\0"', "U+0000"),
        ("escaped surrogate", 'a: "\\ud83d"', ""),
        ("direction", "a: \u202eb", "U+202E RIGHT-TO-LEFT OVERRIDE"),
        ("isolate", "a: \u2067b\u2069", "U+2067 RIGHT-TO-LEFT ISOLATE"),
        ("line separator", "a: b\u2028c", "U+2028 LINE SEPARATOR"),
        ("next line", "a: b\u0085c", "U+0085"),
        ("zero width", "a: b\u200bc", "U+200B ZERO WIDTH SPACE"),
        ("hidden in a key", '"a\\u202eb": 1', "U+202E"),
        ("UTF-16", "a: b".encode("utf-16"), "not UTF-8"),
        ("Latin-1", "a: b\nc: café".encode("latin-1"), "x.yaml:2: this is not UTF-8 text"),
        ("digits", "a: " + "9" * 200_000 + "\nb: *x", "x.yaml:2: b: '*x' repeats another place"),
    ],
    ids=lambda value: value if isinstance(value, str) and len(value) < 18 else "",
)  # fmt: skip
def test_hostile_text_is_refused_by_name_and_at_once(name: str, content: str | bytes, words: str) -> None:
    """Each known trick is a named refusal within two seconds."""
    begun = time.perf_counter()
    assert words in told(content), name
    assert time.perf_counter() - begun < 2


def test_billion_laughs_is_never_unfolded() -> None:
    """Aliases bring nothing with them: the tree stays as small as the text."""
    top, problems = read_yaml("x.yaml", BOMB.encode())
    assert top is not None
    assert len(problems) == 9 + 8 * 9
    assert len(str(plain(top))) < 2 * len(BOMB)


@pytest.mark.parametrize("text", ["ñ ß 頭髪 \U0001f469\u200d\U0001f3a4", "a\u00adb", "tab\there", "14 — 2º"])
def test_ordinary_text_of_any_language_is_plain(text: str) -> None:
    """Accents, other scripts, joined emoji and soft hyphens are let through."""
    assert hidden_character(text) is None


def test_line_ends_of_every_system_count_alike() -> None:
    """A file saved elsewhere, with a mark at its start, has the same lines."""
    for ends in ("\n", "\r\n", "\r"):
        top, problems = read_yaml("x.yaml", ("\ufeffa: 1" + ends + "b: 2" + ends).encode())
        assert problems == []
        assert top is not None
        assert top.key_lines == {"a": 1, "b": 2}


def test_pruned_tree_keeps_lines_and_places() -> None:
    """What is left out leaves no trace in the lines of what stays."""
    top = tree_of("list:\n  - a\n  - b\n  - c\nx: 1\n")
    smaller = pruned(top, frozenset([("list", 1), ("x",)]))
    assert isinstance(smaller, Mapping)
    assert plain(smaller) == {"list": ["a", "c"]}
    listing = smaller.values["list"]
    assert isinstance(listing, Listing)
    assert [(item.line, item.place) for item in listing.items] == [(2, "list[1]"), (4, "list[3]")]
    assert plain(top) == {"list": ["a", "b", "c"], "x": "1"}
