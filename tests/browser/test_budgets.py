"""How heavy a page may be: the client reads it on a phone, perhaps on the way home."""

from __future__ import annotations

import gzip
from pathlib import Path

import pytest
from playwright.sync_api import Browser, ViewportSize

from tests.browser.test_any_page import address

KB = 1024
PHONE: ViewportSize = {"width": 390, "height": 844}


def zipped(*files: Path) -> int:
    return sum(len(gzip.compress(file.read_bytes(), 9)) for file in files)


def test_the_clients_page_is_light(sites: Path) -> None:
    """Zipped, the page takes 25 KB and both style sheets 8 KB; the script takes 2 KB as it is."""
    client = sites / "client"
    html = (client / "index.html").read_text(encoding="utf-8")
    script = html.partition("<script>")[2].partition("</script>")[0]
    assert zipped(client / "index.html") <= 25 * KB
    assert zipped(client / "style.css", client / "hair.css") <= 8 * KB
    assert 0 < len(script.encode()) <= 2 * KB


@pytest.mark.parametrize("audience", ["class", "archive"])
def test_pages_of_figures_are_not_heavy(sites: Path, audience: str) -> None:
    """Every chart at two widths, every sum and table: 60 KB zipped, and 12 KB of style sheets."""
    site = sites / audience
    assert zipped(site / "index.html") <= 60 * KB
    assert zipped(site / "style.css", site / "hair.css") <= 12 * KB


@pytest.mark.parametrize(("audience", "width"), [("client", 390), ("class", 1280), ("archive", 1280)])
def test_a_whole_page_takes_at_most_2_5_mb(sites: Path, browser: Browser, audience: str, width: int) -> None:
    """With every picture that it would load by and by, each at the size this screen asks for."""
    site = sites / audience
    page = browser.new_page(viewport={"width": width, "height": 844})
    asked: set[str] = set()
    page.on("request", lambda request: asked.add(request.url))
    page.goto(address(site))
    page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
    page.evaluate("for (const image of document.images) image.loading = 'eager'")
    page.wait_for_load_state("networkidle")
    page.close()
    files = [site / url.removeprefix(site.resolve().as_uri() + "/") for url in asked]
    assert len(files) > 5
    assert sum(file.stat().st_size for file in files) <= 2.5 * KB * KB


def test_rasters_are_small(sites: Path) -> None:
    """All pictures of the hair over time together take 30 KB at most, none more than 11."""
    sizes = [file.stat().st_size for file in sorted((sites / "client" / "strands").iterdir())]
    assert sizes
    assert sum(sizes) <= 30 * KB
    assert max(sizes) <= 11 * KB


def test_the_first_view_takes_150_kb(sites: Path, browser: Browser) -> None:
    """What a phone needs to show its first screen, with text zipped as servers do, is 150 KB at most."""
    client = sites / "client"
    page = browser.new_page(viewport=PHONE)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(address(client))
    tops = dict(
        page.evaluate("[...document.images].map(i => [i.currentSrc || i.src, i.getBoundingClientRect().top])")
    )
    page.close()
    weight = 0
    for url in dict.fromkeys(asked):
        file = client / url.removeprefix(client.resolve().as_uri() + "/")
        if tops.get(url, 0) <= PHONE["height"]:
            weight += zipped(file) if file.suffix in (".html", ".css") else file.stat().st_size
    assert 20 * KB < weight <= 150 * KB


def test_the_clients_page_is_not_endless(sites: Path, browser: Browser) -> None:
    """A phone shows the whole client page in 9,000 px: what is past, and what is for later, is folded."""
    page = browser.new_page(viewport=PHONE)
    page.goto(address(sites / "client"))
    total = page.evaluate("document.documentElement.scrollHeight")
    page.close()
    assert 5000 < total <= 9000
