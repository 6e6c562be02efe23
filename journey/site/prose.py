"""Turns Markdown into safe HTML: raw HTML stays text, pictures become their words, links need https.

Decides which links an audience gets. Which words an audience gets was decided in `journey.edition`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from markdown_it import MarkdownIt
from markdown_it.token import Token
from markupsafe import Markup

MAX_BYTES: Final = 64 * 1024
"""A longer text is no note, and parsers have slow corners."""


class ProseTooLongError(ValueError):
    """A Markdown text is larger than `MAX_BYTES`."""


def render_prose(text: str, *, links: bool) -> Markup:
    """HTML of a CommonMark text. Without `links`, a link leaves its words and an address leaves nothing.

    >>> render_prose("see [this](https://example.org/a)", links=False)
    Markup('<p>see this</p>\\n')
    >>> render_prose("<b>x</b> [y](javascript:z)", links=True)
    Markup('<p>&lt;b&gt;x&lt;/b&gt; y</p>\\n')
    """
    if len(text.encode("utf-8", "surrogatepass")) > MAX_BYTES:
        raise ProseTooLongError(f"a text of more than {MAX_BYTES // 1024} KB is not a note")
    parser = MarkdownIt("commonmark", {"html": False})
    # Every link is let through here and judged below, on the finished tokens.
    parser.validateLink = _is_judged_later  # type: ignore[method-assign]
    tokens = parser.parse(text)
    for token in tokens:
        _demote_heading(token)
        if token.children is not None:
            token.children = list(_judge_inline(token.children, links))
    return Markup(parser.renderer.render(tokens, parser.options, {}))  # noqa: S704 - raw HTML is off


def _is_judged_later(url: str) -> bool:
    return True


def _demote_heading(token: Token) -> None:
    """A note's heading becomes a bold paragraph: the page keeps the only outline."""
    if token.type in ("heading_open", "heading_close"):
        token.tag = "p"
        if token.nesting == 1:
            token.attrSet("class", "lead-in")


def _judge_inline(tokens: list[Token], links: bool) -> Iterator[Token]:
    kept_open: list[bool] = []
    dropping_address = False
    for token in tokens:
        if token.type == "link_open":
            keep = links and str(token.attrGet("href")).startswith("https://")
            kept_open.append(keep)
            dropping_address = not keep and token.info == "auto"
            if keep:
                token.attrs = {"href": str(token.attrGet("href")), "rel": "noopener noreferrer"}
                yield token
        elif token.type == "link_close":
            dropping_address = False
            if kept_open.pop():
                yield token
        elif token.type == "image":
            words = Token("text", "", 0)
            words.content = token.content
            yield words
        elif not dropping_address:
            yield token
