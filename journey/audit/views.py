"""Every way the text inside finished bytes can be read: what canaries are looked for in.

It decides how a file's bytes become texts: as written, without tags, by attribute, in comments, with
references and escapes undone, unfolded, decoded from base64 or hexadecimal, out of JSON and `data:`
addresses. Looking for something in them is left to `canaries`, judging a page's construction to `pages`.
Nothing here is shared with the filter that cleaned the texts: an error there must not blind us here.
"""

from __future__ import annotations

import html
import json
import quopri
import re
import urllib.parse
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from email.errors import HeaderParseError
from email.header import decode_header, make_header
from functools import lru_cache
from html.parser import HTMLParser
from typing import Final

from journey.audit.ciphers import close_writings, wide_writings
from journey.audit.packed import from_base64, unpacked

_MARKUP: Final = frozenset({"html", "svg", "xml"})
_CODE: Final = _MARKUP | {"css", "js"}
_CODE_ATTRIBUTES: Final = re.compile(
    r"names|class|id|for|style|d|points|transform|viewbox|[xyr][12xy]?|c[xy]|[fd][xy]|width|height|offset|href|src|"
    r"srcset|sizes|type|rel|stroke.*|fill.*|font.*|preserveaspectratio|gradient.*|clip-path|mask|role|tabindex|xmlns.*"
)
_DEPTH: Final = 3
"""Encodings inside encodings are undone so often."""
_DATA_ADDRESS: Final = re.compile(
    r"data:([a-z]+/[a-z0-9.+-]+)?((?:;[a-z0-9=-]+)*),([^\s\"'<>)]*)", re.IGNORECASE
)
_CODE_ESCAPE: Final = re.compile(r"\\u\{([0-9A-Fa-f]{1,6})\}|\\u([0-9A-Fa-f]{4})|\\x([0-9A-Fa-f]{2})")
_STYLE_ESCAPE: Final = re.compile(r"\\([0-9A-Fa-f]{1,6})[ \t\n]?")
_ENCODED_WORD: Final = re.compile(r"=\?[\w-]+\?[bBqQ]\?[^?\s]*\?=")
_PUNYCODE: Final = re.compile(r"xn--([a-z0-9-]+)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class View:
    """One reading of a file."""

    where: str
    """In words: 'text', 'attribute alt', 'base64 in comment'."""
    text: str
    is_prose: bool = True
    """False for code and coordinates, where '3 9 24' is no day and 'max' nobody."""
    is_undone: bool = False
    """Whether an escape or a cipher was taken back in it: then no other is."""


def views_of(text: str, kind: str) -> Iterator[View]:
    """The readings of a text file. Each may be read in pieces, and `deciphered` belongs to what is read of it.

    Args:
        text: the decoded file.
        kind: its suffix without the dot: 'html', 'css', 'svg', 'ics', 'json', 'csv', ...
    """
    yield from _views(text, kind, "", _DEPTH)


def deciphered(view: View) -> Iterator[View]:
    """A reading, or a piece of one, read back from every writing whose letters stand close together."""
    for name, text in () if view.is_undone else close_writings(view.text):
        yield View(f"{view.where}, {name}", text, is_prose=False, is_undone=True)


def _views(text: str, kind: str, inside: str, depth: int) -> Iterator[View]:
    for view in _plain_views(text, kind):
        where = f"{view.where}{inside}"
        yield View(where, view.text, view.is_prose)
        yield from _undone(view, where)
        if depth:
            yield from _hidden(view, where, depth)


def _plain_views(text: str, kind: str) -> Iterator[View]:
    yield View("source", text, is_prose=kind not in _CODE)
    if kind in _MARKUP:
        yield from _markup_views(text)
    if kind == "ics":
        yield from _calendar_views(text)
    if kind == "json":
        yield View("JSON", "\n".join(_json_strings(text)))


def _undone(view: View, where: str) -> Iterator[View]:
    """The whole text with one kind of escape undone, where it has any: an escape may be of any length."""
    for name, text in _undone_texts(view.text):
        if text:
            yield View(f"{where}, {name}", text, view.is_prose, is_undone=True)
    for name, text in wide_writings(view.text):
        # What no writer meant makes no doubtful names: only what is sure counts.
        yield View(f"{where}, {name}", text, is_prose=False, is_undone=True)


def _undone_texts(text: str) -> Iterator[tuple[str, str]]:
    """Only the lines with an escape and their neighbours: the others read as in the view itself."""
    if "&" in text:
        # Twice: a reference can itself be written with a reference.
        once = html.unescape(_lines_around(text, r"&#?[A-Za-z0-9]"))
        yield "references undone", once
        yield "references undone twice", html.unescape(_lines_around(once, r"&#?[A-Za-z0-9]"))
    if "%" in text:
        yield from _percent_undone(_lines_around(text, r"%[0-9A-Fa-f]{2}"))
    if "\\" in text:
        lines = _lines_around(text, r"\\[0-9A-Fa-fux]")
        yield "code escapes undone", _CODE_ESCAPE.sub(_character, lines)
        yield "style escapes undone", _STYLE_ESCAPE.sub(_character, lines)
    if "xn--" in text.lower():
        yield "host names decoded", _PUNYCODE.sub(_host_label, _lines_around(text, "(?i)xn--"))
    if "=?" in text:
        yield "mail words decoded", _ENCODED_WORD.sub(_mail_word, _lines_around(text, r"=\?"))
    if "=" in text:
        quoted = _lines_around(text, r"=[0-9A-F]{2}|=$")
        yield "quoted-printable", quopri.decodestring(quoted.encode()).decode("utf-8", "replace")


def _lines_around(text: str, pattern: str) -> str:
    lines = text.split("\n")
    kept: set[int] = set()
    for number, line in enumerate(lines):
        if re.search(pattern, line):
            kept.update((number - 1, number, number + 1))
    return "\n".join(lines[number] for number in sorted(kept) if 0 <= number < len(lines))


def _percent_undone(text: str) -> Iterator[tuple[str, str]]:
    for time in ("", " twice", " three times"):
        decoded = urllib.parse.unquote(text, errors="replace")
        if decoded == text:
            return
        yield f"percent signs undone{time}", decoded
        text = decoded


def _hidden(view: View, where: str, depth: int) -> Iterator[View]:
    """What is packed inside: `data:` addresses, base64, hexadecimal."""
    for found in _DATA_ADDRESS.finditer(view.text):
        packed = _unpacked_address(found)
        if packed:
            kind = "svg" if "svg" in found[0][:40] else "html" if "html" in found[0][:40] else "txt"
            yield from _views(packed, kind, f" in a data address in {where}", depth - 1)
    for name, text in unpacked(view.text):
        yield from _views(text, "html" if _is_markup(text) else "txt", f" in {name} in {where}", depth - 1)


def _is_markup(text: str) -> bool:
    """Has tags; a row of openings without an end is none, and would keep the parser for minutes."""
    return "<" in text and text.count("<") < 200 + 20 * text.count(">")


def _unpacked_address(found: re.Match[str]) -> str | None:
    payload = urllib.parse.unquote(found[3])
    if "base64" in (found[2] or "").lower():
        return from_base64(payload)
    return html.unescape(payload)


def _character(found: re.Match[str]) -> str:
    code = int(next(group for group in found.groups() if group is not None), 16)
    return chr(code) if code < 0x110000 and not 0xD800 <= code <= 0xDFFF else found[0]


def _host_label(found: re.Match[str]) -> str:
    try:
        return found[1].encode("ascii").decode("punycode")
    except UnicodeError:
        return found[0]


def _mail_word(found: re.Match[str]) -> str:
    try:
        return str(make_header(decode_header(found[0])))
    except (HeaderParseError, LookupError, ValueError):
        return found[0]


def _json_strings(text: str) -> Iterator[str]:
    try:
        waiting = [json.loads(text)]
    except (ValueError, RecursionError):
        return
    while waiting:
        value = waiting.pop()
        if isinstance(value, dict):
            yield from (str(key) for key in value)
            waiting.extend(value.values())
        elif isinstance(value, list):
            waiting.extend(value)
        elif value is not None:
            yield str(value)


def _calendar_views(text: str) -> Iterator[View]:
    """Lines unfolded (RFC 5545, 3.1) and text escapes undone (3.3.11)."""
    unfolded = re.sub(r"\r?\n[ \t]", "", text)
    yield View("unfolded lines", unfolded)
    yield View("unfolded lines, escapes undone", re.sub(r"\\([,;\\nN])", " ", unfolded))


def _markup_views(text: str) -> Iterator[View]:
    parts = _Parts()
    parts.feed(text)
    parts.close()
    yield View("text", "".join(parts.text))
    yield View("text, tags as spaces", " ".join(parts.text))
    for name in sorted(parts.attributes):
        yield View(f"attribute {name}", "\n".join(parts.attributes[name]), _is_told(name))
    if parts.elements:
        yield View("attributes of one element", "\n".join(parts.elements), is_prose=False)
    for where, found, is_prose in (
        ("comment", parts.comments, True),
        ("declaration", parts.declarations, True),
        ("script", parts.scripts, False),
        ("style", parts.styles, False),
    ):
        if found:
            yield View(where, "\n".join(found), is_prose)


@lru_cache(maxsize=256)
def _is_told(attribute: str) -> bool:
    """Whether its value may be prose."""
    return _CODE_ATTRIBUTES.fullmatch(attribute) is None


class _Parts(HTMLParser):
    """A page taken apart. Character references in text are undone by the parser."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.text: list[str] = []
        self.attributes: defaultdict[str, list[str]] = defaultdict(list)
        self.elements: list[str] = []
        """The values of each element that has several, run together."""
        self.comments: list[str] = []
        self.declarations: list[str] = []
        self.scripts: list[str] = []
        self.styles: list[str] = []
        self._inside = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in ("script", "style"):
            self._inside = tag
        told = [value for name, value in attrs if value and _is_told(name)]
        if len(told) > 1:
            self.elements.append("".join(told))
        for name, value in attrs:
            self.attributes["names"].append(name)
            if value is not None:
                self.attributes[name].append(value)

    def handle_endtag(self, tag: str) -> None:
        if tag == self._inside:
            self._inside = ""
        if tag in ("td", "th", "text"):
            # Cells and chart labels stand apart on the page: run together, measurements read as a date.
            self.text.append("\t")

    def handle_data(self, data: str) -> None:
        {"script": self.scripts, "style": self.styles}.get(self._inside, self.text).append(data)

    def handle_comment(self, data: str) -> None:
        self.comments.append(data)

    def handle_decl(self, decl: str) -> None:
        self.declarations.append(decl)

    def handle_pi(self, data: str) -> None:
        self.declarations.append(data)

    def unknown_decl(self, data: str) -> None:
        self.comments.append(data)
