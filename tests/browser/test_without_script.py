"""What a reader sees whose browser runs no script, and what paper shows."""

from __future__ import annotations

import re
import subprocess
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.test_any_page import address


def test_every_picture_of_before_and_now_is_there_without_script(sites: Path, browser: Browser) -> None:
    """Without script the comparison is a row of all its pictures and no dead control."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address(sites / "client"))
    views = page.locator(".bench .view")
    assert views.count() >= 2
    for index in range(views.count()):
        expect(views.nth(index).locator("img")).to_be_visible()
        expect(views.nth(index).locator("figcaption")).to_be_visible()
    expect(page.locator(".bench .tools")).to_be_hidden()
    context.close()


def test_the_wash_dial_answers_without_script(sites: Path, browser: Browser) -> None:
    """Choosing another washing habit marks its answer, by style alone; all answers can be read before."""
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(address(sites / "client"))
    choices = page.locator(".dial label")
    for index in range(choices.count()):
        expect(choices.nth(index)).to_be_visible()
    chosen = choices.filter(has=page.locator("input:checked"))
    other = choices.filter(has=page.locator("input:not(:checked)")).first
    marked = "rgb(22, 22, 22)"
    expect(chosen).to_have_css("background-color", marked)
    expect(other).not_to_have_css("background-color", marked)
    text = other.inner_text()
    other.click()
    expect(page.locator(".dial label", has_text=text.splitlines()[0])).to_have_css("background-color", marked)
    context.close()


def test_the_slider_uncovers_one_picture_with_the_keyboard(sites: Path, browser: Browser) -> None:
    """With script, arrow keys move the edge between the two pictures; buttons go all the way."""
    page = browser.new_page()
    page.goto(address(sites / "client"))
    slider = page.get_by_role("slider")
    slider.focus()
    page.keyboard.press("ArrowRight")
    edge = "document.querySelector('.bench').style.getPropertyValue('--cut')"
    assert page.evaluate(edge) == "51%"
    page.locator(".all-right").click()
    assert page.evaluate(edge) == "0%"
    visible = page.locator(".bench .view").evaluate_all("all => all.filter(v => v.offsetParent).length")
    page.close()
    assert visible == 2


@pytest.fixture
def printed(site: Path, browser: Browser, tmp_path: Path) -> str:
    page = browser.new_page()
    page.goto(address(site))
    page.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
    page.pdf(path=tmp_path / "page.pdf", prefer_css_page_size=True)
    page.close()
    text = subprocess.run(["pdftotext", tmp_path / "page.pdf", "-"], check=True, capture_output=True)
    return text.stdout.decode()


def test_no_sheet_of_paper_is_empty(printed: str) -> None:
    """A form feed ends each page; every one has words on it."""
    sheets = printed.removesuffix("\f").split("\f")
    assert [number for number, sheet in enumerate(sheets, 1) if len("".join(sheet.split())) < 15] == []


def test_paper_keeps_the_words_and_leaves_the_controls(site: Path, printed: str, browser: Browser) -> None:
    """A printed page has its title and no slider; a class's answers stay off it, unfolded or not."""
    page = browser.new_page()
    page.goto(address(site))
    title = page.locator("h1").inner_text()
    answers = page.locator(".answer .prose").evaluate_all("all => all.map(a => a.textContent.trim())")
    page.close()
    squeezed = re.sub(r"\s+", "", printed)
    assert title.replace(" ", "").replace("\n", "") in squeezed
    assert "Slidefromlefttoright" not in squeezed
    if site.name == "class":
        assert answers
        assert [a for a in answers if re.sub(r"\s+", "", a) in squeezed] == []
