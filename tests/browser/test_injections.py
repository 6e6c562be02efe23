"""Markup, templates and addresses written into a folder arrive as words: nothing runs and nothing is asked for."""

# ruff: noqa: E501 - a list of injections reads best as it is

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from tests.bad_folders import compiled
from tests.browser.test_any_page import address
from tests.small_client import small_client
from tests.tamed_folders import BRACES, LINKS, PICTURES, SCRIPTS

INJECTIONS = (
    "<script>window.owned=1</script>", "<img src=x onerror='window.owned=1'>", "<svg onload='window.owned=1'></svg>",
    "[a](javascript:window.owned=1)", "[b](JaVaScRiPt&#58;window.owned=1)", "[c](data:text/html,<script>owned=1</script>)",
    "![d](https://tracker.example/p.gif)", "![e](//tracker.example/p.gif)", "![f](../../etc/passwd)",
    "<iframe src='https://tracker.example/'></iframe>", "<meta http-equiv=refresh content='0;url=https://tracker.example/'>",
    "<style>@import 'https://tracker.example/a.css'</style>", "<base href='https://tracker.example/'>",
    "</title></head><body onload='window.owned=1'>", "\"' autofocus onfocus='window.owned=1' x='",
    "<!--#exec cmd='id'-->", "]]><script>window.owned=1</script>", *SCRIPTS, *LINKS, *PICTURES, BRACES,
)  # fmt: skip


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The client's site of a folder that has every injection in the words of a visit, which are Markdown, and some in its title."""
    at = tmp_path_factory.mktemp("injected")
    folder = small_client(at / "client")
    (folder / "notes" / "injected.md").write_text("\n\n".join(INJECTIONS), encoding="utf-8")
    journey = folder / "journey.yaml"
    lines = journey.read_text(encoding="utf-8").split("\n")
    short = '"Rose <script>window.owned=1</script> {{ 7*191 }}"'
    lines = ["    words: notes/injected.md" if line.startswith("    words:") else line for line in lines]
    assert "    words: notes/injected.md" in lines
    lines = [f"title: {short}" if line.startswith("title:") else line for line in lines]
    journey.write_text("\n".join(lines), encoding="utf-8")
    end = compiled(folder, at / "sites")
    assert end.code == 0, end.said
    return at / "sites" / "client"


def test_nothing_written_in_a_folder_runs_or_loads(site: Path, browser: Browser) -> None:
    """In Chromium, from disk: no script of theirs ran, no request left the folder, the page stayed, the words are there."""
    asked: list[str] = []
    page = browser.new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.on("dialog", lambda dialog: asked.append("dialog"))
    page.goto(address(site))
    page.wait_for_timeout(500)
    owned, text, stayed = page.evaluate("window.owned"), page.inner_text("body"), page.url
    inside = page.evaluate("document.querySelectorAll('iframe, base, body meta, [onload], [onerror], [onfocus]').length")
    page.close()
    assert owned is None
    assert [url for url in asked if not url.startswith(site.as_uri())] == []
    assert stayed == address(site)
    assert inside == 0
    assert "<script>window.owned=1</script>" in text
    assert text.count("window.owned=1") >= 5
    assert "1337" not in text
