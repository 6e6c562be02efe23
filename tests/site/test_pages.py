"""The finished HTML: conforming, closed to everything foreign, the same every time."""

from __future__ import annotations

import base64
import hashlib
import re
from dataclasses import fields, replace
from html.parser import HTMLParser
from typing import Any

import html5lib  # type: ignore[import-untyped]
import pytest

from journey.edition.model import CareItem, Edition
from journey.record.model import Audience
from journey.site.hair_styles import HairStyles
from journey.site.pages import tiles_of
from tests.edition_example import example_edition
from tests.site.rendered import example_page, render

EVERYBODY = list(Audience)


class Elements(HTMLParser):
    def __init__(self, html: str) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.comments: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))

    def handle_comment(self, data: str) -> None:
        self.comments.append(data)


@pytest.mark.parametrize("audience", EVERYBODY)
def test_the_strict_html_parser_finds_no_error(audience: Audience) -> None:
    """html5lib, which implements the parsing rules of the HTML standard, finds no parse error."""
    html5lib.HTMLParser(strict=True).parse(example_page(audience).html)
    with pytest.raises(html5lib.html5parser.ParseError):
        html5lib.HTMLParser(strict=True).parse(example_page(audience).html.replace("</h1>", ""))


@pytest.mark.parametrize("audience", EVERYBODY)
def test_the_policy_stands_first_and_names_the_one_script(audience: Audience) -> None:
    """Right after the charset comes the policy, and its hash is that of the inline script as written."""
    html = example_page(audience).html
    elements = Elements(html).found
    head = [(tag, attrs) for tag, attrs in elements if tag == "meta"]
    assert head[0][1] == {"charset": "utf-8"}
    policy = head[1][1]["content"] or ""
    assert head[1][1]["http-equiv"] == "Content-Security-Policy"
    script = re.findall(r"<script>(.*?)</script>", html, re.DOTALL)
    assert len(script) == html.count("<script") == 1
    digest = base64.b64encode(hashlib.sha256(script[0].encode()).digest()).decode()
    assert policy == (
        "default-src 'none'; img-src 'self'; style-src 'self'; "
        f"script-src 'sha256-{digest}'; base-uri 'none'; form-action 'none'"
    )
    names = {attrs.get("name"): attrs.get("content") for _, attrs in head}
    assert names["referrer"] == "no-referrer"
    assert "noindex" in str(names["robots"])


@pytest.mark.parametrize("audience", EVERYBODY)
def test_no_style_handler_comment_or_foreign_address(audience: Audience) -> None:
    """Nothing on a page needs what the policy forbids, and nothing points away from the site."""
    page = Elements(example_page(audience).html)
    assert page.comments == []
    for tag, attributes in page.found:
        assert not any(name == "style" or name.startswith("on") for name in attributes), tag
        for name in ("src", "href", "srcset"):
            assert "//" not in (attributes.get(name) or "")
            assert not (attributes.get(name) or "").startswith(("/", "data:"))


@pytest.mark.parametrize("audience", EVERYBODY)
def test_ids_are_unique_and_every_reference_resolves(audience: Audience) -> None:
    """Links within the page, labels and clip paths lead to something that is there, once."""
    html = example_page(audience).html
    elements = Elements(html).found
    ids = [attributes["id"] for _, attributes in elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    links = [a["href"][1:] for _, a in elements if (a.get("href") or "").startswith("#")]  # type: ignore[index]
    pointed = [a[name] for _, a in elements for name in ("aria-labelledby", "for") if name in a]
    drawn = re.findall(r"url\(#(.+?)\)", html)
    assert len(links) > 5 or audience is Audience.ARCHIVE
    assert set(links) | {str(p) for p in pointed} | set(drawn) <= {str(i) for i in ids}


@pytest.mark.parametrize("audience", EVERYBODY)
def test_every_class_for_a_colour_is_in_the_style_sheet(audience: Audience) -> None:
    """Placed classes on the page and rules in the style sheet match one to one."""
    page = example_page(audience)
    used = set(re.findall(r"\bs\d+\b", " ".join(re.findall(r'class="([^"]*)"', page.html))))
    written = set(re.findall(r"^\.(s\d+)\{", page.hair_css, re.MULTILINE))
    assert used == written


@pytest.mark.parametrize("audience", EVERYBODY)
def test_the_same_edition_gives_the_same_bytes(audience: Audience) -> None:
    """Rendering twice, from an edition built anew, changes nothing."""
    again = render(example_edition(audience))
    assert again.html == example_page(audience).html
    assert again.hair_css == example_page(audience).hair_css
    assert [r.data for r in again.rasters] == [r.data for r in example_page(audience).rasters]


def test_trace_keys_are_for_the_archive_alone() -> None:
    """The salon sees where a number comes from; nobody else does, even if a key were handed over."""
    client = example_edition(Audience.CLIENT)
    chips = tuple(replace(chip, trace="reading.secret", numbers="1, 2, 3") for chip in client.today)
    traced = replace(client, today=chips)
    assert "reading.secret" not in render(traced).html
    assert "r140" in example_page(Audience.ARCHIVE).html


def test_words_from_the_edition_are_escaped() -> None:
    """A care line with markup in it is shown as written."""
    bad = CareItem('<img src=x onerror="x">', "because & so")
    html = render(replace(example_edition(Audience.CLIENT), care=(bad,))).html
    assert "<img src=x" not in html
    assert "&lt;img src=x onerror=" in html
    assert "because &amp; so" in html


def bare(audience: Audience) -> Edition:
    """The least an edition can hold: a folder that was only just begun."""
    full = example_edition(audience)
    nothing: dict[str, Any] = {
        name: None if name in ("fade", "hue", "grade", "ladder", "removal", "options_table", "calendar") else ()
        for name in (field.name for field in fields(Edition))
        if name not in ("audience", "language", "title", "lead", "facts", "as_of", "refresh", "consent_lines")
    }
    return replace(full, refresh=replace(full.refresh, choices=(), window=None), **nothing)


@pytest.mark.parametrize("audience", EVERYBODY)
def test_an_almost_empty_edition_still_makes_a_page(audience: Audience) -> None:
    """Whatever is missing leaves its section out; no template trips over it and no link hangs."""
    html = render(bare(audience)).html
    html5lib.HTMLParser(strict=True).parse(html)
    ids = set(re.findall(r'\bid="([^"]+)"', html))
    assert set(re.findall(r'href="#([^"]+)"', html)) <= ids


def test_an_entrys_tray_pairs_crops_with_colours_and_repeats_nothing() -> None:
    """The day's row of the contact sheet comes first; photos it does not hold follow, each once."""
    edition = example_edition(Audience.CLIENT)
    entry = edition.entries[0]
    assert [place for place, _, _ in tiles_of(entry, edition)] == ["Roots", "Mid-lengths", "Ends", "Nape"]
    assert all(photo and chip for _, photo, chip in tiles_of(entry, edition))
    unpaired = replace(edition, contact=())
    tiles = tiles_of(entry, unpaired)
    assert [(bool(photo), bool(chip)) for _, photo, chip in tiles] == [(False, True)] * 4 + [
        (True, False)
    ] * 4


def test_only_plain_values_become_styles() -> None:
    """A colour that is no colour, or a value that would open a new rule, is refused."""
    styles = HairStyles()
    for bad in ("red", "#12345", "#12345g", "#123456;x:y"):
        with pytest.raises(ValueError, match="not a hex colour"):
            styles.fill(bad)
    for bad in ("color:red}", "background:url(x:y)", "a:b;", "width:1%}b{c:d"):
        with pytest.raises(ValueError, match="not a plain style"):
            styles.declare(bad)
