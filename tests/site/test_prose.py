"""Markdown in, safe HTML out."""

from __future__ import annotations

import pytest

from journey.site.prose import MAX_BYTES, ProseTooLongError, render_prose


@pytest.mark.parametrize(
    "address",
    [
        "javascript:alert(1)",
        "&#106;avascript:alert(1)",
        "JaVaScRiPt:alert(1)",
        "vbscript:x",
        "data:text/html,x",
        "file:///etc/passwd",
        "http://example.org",
        "//example.org/x",
        "../../etc/passwd",
        "mailto:a@example.org",
        "tel:123",
        "blob:x",
        "intent:x",
    ],
)
def test_only_https_links_become_links(address: str) -> None:
    """Any other address leaves the link's words and nothing of itself."""
    html = render_prose(f"[the words]({address}) and <{address}>", links=True)
    assert "the words" in html
    assert "href" not in html


def test_https_links_are_kept_where_links_are_let_through() -> None:
    """A client's link opens without telling the other side where it was found."""
    html = render_prose("[care](https://example.org/a?b=1&c=2)", links=True)
    assert '<a href="https://example.org/a?b=1&amp;c=2" rel="noopener noreferrer">care</a>' in html


def test_a_class_gets_no_link_and_no_address() -> None:
    """For a class a link is its words, and a bare address is gone."""
    html = render_prose("[our page](https://salon.example/x) or <https://salon.example/x>", links=False)
    assert "our page" in html
    assert "salon.example" not in html


@pytest.mark.parametrize("text", ["<script>alert(1)</script>", "<img src=x onerror=y>", "<!-- note -->"])
def test_html_stays_text(text: str) -> None:
    """Tags, handlers and comments typed into a note are shown, not obeyed."""
    html = render_prose(text, links=True)
    assert "<script" not in html
    assert "<img" not in html
    assert "<!--" not in html
    assert "&lt;" in html


def test_pictures_become_their_words() -> None:
    """A note cannot load a picture from anywhere."""
    assert render_prose("![a lock](https://example.org/t.gif)", links=True) == "<p>a lock</p>\n"


def test_headings_keep_out_of_the_outline() -> None:
    """A heading in a note becomes a bold paragraph, so that the page's outline has no holes."""
    html = render_prose("# Mind the ends", links=True)
    assert html == '<p class="lead-in">Mind the ends</p>\n'


def test_a_text_beyond_64_kb_is_refused() -> None:
    """The limit counts bytes, and the last one within it still passes."""
    assert render_prose("é" * (MAX_BYTES // 2), links=False)
    with pytest.raises(ProseTooLongError):
        render_prose("é" * (MAX_BYTES // 2) + "a", links=False)
