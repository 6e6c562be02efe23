"""Every disguise that a file format allows is undone before anything is looked for."""

# ruff: noqa: E501 - lists of disguises read best as they are

from __future__ import annotations

import base64
import json
import urllib.parse

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.audit.views import View, deciphered, views_of

SECRET = "Fernández of Valdetorno"


def b64(text: str) -> str:
    return base64.b64encode(text.encode()).decode()


def url64(text: str) -> str:
    return base64.urlsafe_b64encode(text.encode()).decode().rstrip("=")


def hexed(text: str) -> str:
    return text.encode().hex()


PERCENT = urllib.parse.quote(SECRET)
SVG = f'<svg xmlns="http://www.w3.org/2000/svg"><title>{SECRET}</title></svg>'


@pytest.mark.parametrize(
    ("kind", "file"),
    [
        ("html", f"<p>{SECRET}</p>"), ("html", "<p>Fern<b>ández o</b>f Valdetorno"), ("html", f'<img alt="{SECRET}">'),
        ("html", f"<!-- {SECRET} -->"), ("html", f"<!DOCTYPE html [{SECRET}]>"), ("html", f"<script>let a='{SECRET}'</script>"),
        ("html", f"<style>/* {SECRET} */</style>"), ("html", "<p>" + "".join(f"&#{ord(c)};" for c in SECRET)),
        ("html", "<p>" + "".join(f"&amp;#{ord(c)};" for c in SECRET)), ("html", f'<a href="?{PERCENT}">'),
        ("html", f'<a href="?{urllib.parse.quote(PERCENT)}">'), ("html", f'<a href="?{urllib.parse.quote(urllib.parse.quote(PERCENT))}">'),
        ("css", "p::before{content:'" + "".join(f"\\{ord(c):x} " for c in SECRET) + "'}"),
        ("html", "<script>" + "".join(f"\\u{ord(c):04x}" for c in SECRET) + "</script>"),
        ("html", "<script>" + "".join(f"\\x{ord(c):02x}" for c in SECRET) + "</script>"),
        ("json", json.dumps({"a": [{"b": SECRET}]})), ("json", json.dumps({SECRET: 1}, ensure_ascii=True)),
        ("ics", f"SUMMARY:{SECRET[:9]}\r\n {SECRET[9:]}\r\n"), ("ics", f"SUMMARY:{SECRET[:9]}\n\t{SECRET[9:]}\n"),
        ("txt", b64(SECRET)), ("txt", url64(SECRET)), ("txt", b64(b64(SECRET))), ("txt", hexed(SECRET)), ("txt", hexed(SECRET).upper()),
        ("txt", b64(hexed(SECRET))), ("txt", " ".join(f"{byte:02x}" for byte in SECRET.encode())), ("txt", f"=?utf-8?B?{b64(SECRET)}?="),
        ("txt", "".join(f"={byte:02X}" for byte in SECRET.encode())), ("txt", base64.b64encode(SECRET.encode("utf-16-le")).decode()),
        ("html", f'<img src="data:image/svg+xml;base64,{b64(SVG)}">'), ("html", f'<img src="data:image/svg+xml,{urllib.parse.quote(SVG)}">'),
        ("html", f'<p data-x="{b64(SVG)}">'), ("svg", SVG), ("svg", "<svg><text><tspan>Fern</tspan><tspan>ández of Valdetorno</tspan></text></svg>"),
        ("html", "xn--" + "Fernández of Valdetorno".encode("punycode").decode().replace(" ", "-")),
    ],
)  # fmt: skip
def test_a_disguise_is_undone(kind: str, file: str) -> None:
    """In some view the secret stands in plain letters."""
    assert any(SECRET in view.text or SECRET.replace(" ", "-") in view.text for view in all_views(file, kind))


def all_views(text: str, kind: str) -> list[View]:
    return [one for view in views_of(text, kind) for one in (view, *deciphered(view))]


def test_a_view_says_where_it_was_taken_from() -> None:
    """'base64 in attribute data-x', so that it can be found."""
    where = {view.where for view in views_of(f'<p data-x="{b64(SECRET)}">', "html") if SECRET in view.text}
    assert "source in base64 in attribute data-x" in where


def test_coordinates_and_code_are_told_from_prose() -> None:
    """Paths, boxes and class names are no prose; titles, texts, comments and data are."""
    page = '<svg viewBox="0 0 3 9"><path class="a" d="M3 9 24"/><title>b</title></svg><p title="c" data-d="e"><!-- f -->'
    prose = {view.where: view.is_prose for view in views_of(page, "html")}
    assert not any(prose[name] for name in ("source", "attribute d", "attribute viewbox", "attribute class"))
    assert all(prose[name] for name in ("text", "attribute title", "attribute data-d", "comment"))


@given(st.text(max_size=300), st.sampled_from(["html", "css", "svg", "ics", "json", "csv"]))
def test_any_text_has_views_and_no_error(text: str, kind: str) -> None:
    """Whatever stands in a file, its views can be made, and the file itself is the first."""
    assert next(iter(views_of(text, kind))).text == text
    assert len(all_views(text, kind)) >= 1
