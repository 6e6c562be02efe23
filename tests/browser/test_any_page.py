"""What every page keeps, whoever reads it: quiet, wide enough, legible to machines and without script."""

from __future__ import annotations

from pathlib import Path

import axe_core_python  # type: ignore[import-untyped]
import pytest
from playwright.sync_api import Browser, Page

AXE = Path(axe_core_python.__file__).with_name("axe.min.js")
WIDTHS = (320, 390, 768, 1280, 1920)


def address(site: Path) -> str:
    return (site / "index.html").resolve().as_uri()


def load_all_pictures(page: Page) -> None:
    page.evaluate(
        "Promise.all([...document.images].map(i => { i.loading = 'eager';"
        " return i.offsetParent && i.decode() }))"
    )


def test_nothing_is_fetched_from_elsewhere_and_nothing_goes_wrong(site: Path, browser: Browser) -> None:
    """Opening a page from disk and looking at all of it asks for files of the site only, without an error."""
    page = browser.new_page()
    asked: list[str] = []
    wrong: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("requestfailed", lambda request: wrong.append(request.url))
    page.on("console", lambda message: wrong.append(message.text))
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(address(site))
    load_all_pictures(page)
    page.close()
    assert len(asked) > 3
    assert [url for url in asked if not url.startswith(site.resolve().as_uri())] == []
    assert wrong == []


@pytest.mark.parametrize("width", WIDTHS)
def test_the_page_never_scrolls_sideways(site: Path, browser: Browser, width: int) -> None:
    """From a small phone to a projector the page is as wide as the window, folded or unfolded."""
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto(address(site))
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.close()


@pytest.mark.parametrize("width", WIDTHS)
def test_no_label_under_the_curtain_is_cut(site: Path, browser: Browser, width: int) -> None:
    """At every width each label is whole, inside the page, and lies on no other; some take two lines."""
    page = browser.new_page(viewport={"width": width, "height": 800})
    page.goto(address(site))
    labels = page.evaluate(
        """[...document.querySelectorAll('.dates .mark')].map(label => {
            const box = label.getBoundingClientRect()
            const cut = label.scrollWidth - label.clientWidth
            return [label.innerText, box.left, box.right, box.top, box.bottom, cut]
        })"""
    )
    floor = page.evaluate("document.querySelector('.dates').getBoundingClientRect().bottom")
    page.close()
    assert len(labels) > 3
    for text, left, right, top, bottom, cut in labels:
        assert left >= -0.5, text
        assert right <= width + 0.5, text
        assert bottom <= floor + 0.5, text
        assert cut == 0, text
        others = [one for one in labels if one[0] != text]
        assert not [one for one in others if one[3] < bottom - 1 and top < one[4] - 1], text


def test_text_twice_as_large_stays_inside(site: Path, browser: Browser) -> None:
    """A reader whose browser is set to text of 200 % still needs no sideways scrolling on a phone."""
    page = browser.new_page(viewport={"width": 390, "height": 800})
    page.goto(address(site))
    page.evaluate("document.documentElement.style.fontSize = '200%'")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    page.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_no_violation(site: Path, browser: Browser, scheme: str) -> None:
    """axe-core's whole rule set passes in both schemes, with everything unfolded."""
    context = browser.new_context(bypass_csp=True, color_scheme=scheme)  # type: ignore[arg-type]
    page = context.new_page()
    page.goto(address(site))
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run()")
    context.close()
    assert len(found["passes"]) > 20
    assert [(v["id"], v["nodes"][0]["html"]) for v in found["violations"]] == []


def test_the_ground_is_the_same_grey_in_both_schemes(site: Path, browser: Browser) -> None:
    """Hair stands on the 18 % grey card by day and by night; only paper and ink change."""
    seen = {}
    for scheme in ("light", "dark"):
        page = browser.new_page(color_scheme=scheme)
        page.goto(address(site))
        ground = page.evaluate("getComputedStyle(document.querySelector('.hang')).backgroundColor")
        paper = page.evaluate("getComputedStyle(document.body).backgroundColor")
        seen[scheme] = (ground, paper)
        page.close()
    assert seen["light"][0] == seen["dark"][0] == "rgb(118, 118, 118)"
    assert seen["light"][1] != seen["dark"][1]


def test_nothing_moves(site: Path, browser: Browser) -> None:
    """No element is animated or eases from one state to another, so reduced motion is met by default."""
    page = browser.new_page()
    page.goto(address(site))
    moving = page.evaluate(
        "[...document.querySelectorAll('*')].filter(e => { const s = getComputedStyle(e);"
        " return s.animationName !== 'none' || parseFloat(s.transitionDuration) > 0 }).length"
    )
    page.close()
    assert moving == 0


def test_forced_colours_leave_the_hair_alone(site: Path, browser: Browser) -> None:
    """Where a reader forces her own colours, text follows and chips keep the colour they report."""
    page = browser.new_page(forced_colors="active")
    page.goto(address(site))
    chip = page.evaluate("getComputedStyle(document.querySelector('.swatch')).backgroundColor")
    plain = browser.new_page()
    plain.goto(address(site))
    expected = plain.evaluate("getComputedStyle(document.querySelector('.swatch')).backgroundColor")
    page.close()
    plain.close()
    assert chip == expected
