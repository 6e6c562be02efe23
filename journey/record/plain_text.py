"""Bytes into text that shows everything it holds.

Decides which characters may stand in a folder's texts: a character that hides, or that turns the reading
direction, lets a text say one thing to a person and another to a filter.
"""

from __future__ import annotations

import unicodedata

from journey.errors import Problem

JOINERS_IN_USE = frozenset("\u200c\u200d\u00ad")
"""Non-joiner, joiner and soft hyphen: invisible too, but Persian, emoji and long words need them."""
PLAIN_CONTROLS = frozenset("\n\t")
LINE_SEPARATORS = frozenset("\u2028\u2029")


def decode(name: str, content: bytes) -> tuple[str | None, list[Problem]]:
    """UTF-8 bytes as text with plain line ends, and a problem for each line that holds a hidden character.

    The text is None when it is not UTF-8, or when it holds a character that a YAML parser stops at.
    """
    try:
        text = content.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        line = content[: error.start].count(b"\n") + 1
        return None, [Problem(name, line, "", "this is not UTF-8 text; save the file as UTF-8")]
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    problems = []
    for number, line_text in enumerate(text.split("\n"), start=1):
        hidden = hidden_character(line_text)
        if hidden is not None:
            place, words = hidden
            problems.append(Problem(name, number, "", f"character {place + 1} is {words}; take it out"))
    return (None if problems else text), problems


def hidden_character(text: str) -> tuple[int, str] | None:
    """Where the first character stands that must not be there, and its name; None in plain text."""
    for place, character in enumerate(text):
        if character.isprintable() or character in PLAIN_CONTROLS or character in JOINERS_IN_USE:
            continue
        category = unicodedata.category(character)
        if category in ("Cc", "Cf", "Cs") or character in LINE_SEPARATORS:
            return place, _name(character)
    return None


def _name(character: str) -> str:
    code = f"U+{ord(character):04X}"
    name = unicodedata.name(character, "")
    return f"a hidden character, {code} {name}".rstrip()
