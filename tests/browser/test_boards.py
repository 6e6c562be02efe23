"""A class reads on a projector: one board fills one screen and no more."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser

from journey.edition.model import Edition
from journey.pipeline import prepare
from journey.record.model import Audience
from journey.site.theme import load_theme
from journey.site.writer import write_site
from tests.browser.test_any_page import address, load_all_pictures
from tests.demo import TODAY, studied_demo


@pytest.mark.parametrize(("width", "height"), [(1280, 720), (1920, 1080)])
def test_every_board_fits_one_screen(sites: Path, browser: Browser, width: int, height: int) -> None:
    """At two projector sizes each board, answers folded, is no taller than the screen and hides nothing."""
    page = browser.new_page(viewport={"width": width, "height": height})
    page.goto(address(sites / "class"))
    load_all_pictures(page)
    boards = page.evaluate(
        """[...document.querySelectorAll('.board')].map(board => {
            const box = board.getBoundingClientRect()
            // What a drawing clips away (its rings run beyond the plot) is not on the screen.
            const all = [...board.querySelectorAll("*")]
            const seen = all.filter(e => e.checkVisibility() && !e.ownerSVGElement)
            const ends = seen.map(e => e.getBoundingClientRect().bottom)
            return [board.id, box.height, Math.max(...ends) - box.top]
        })"""
    )
    page.close()
    assert len(boards) >= 5
    assert [board for board in boards if board[1] > height + 0.5 or board[2] > height + 0.5] == []


def test_every_board_fits_one_screen_in_spanish(browser: Browser, tmp_path: Path) -> None:
    """The demo's boards fit a small projector where words are longer, and the contact sheet needs no scrolling."""
    theme = load_theme()
    edition = prepare(studied_demo(), Audience.CLASS, today=TODAY, theme=theme, language="es")
    assert isinstance(edition, Edition)
    write_site(edition, tmp_path / "class", theme=theme)
    test_every_board_fits_one_screen(tmp_path, browser, 1280, 720)
    page = browser.new_page(viewport={"width": 1280, "height": 720})
    page.goto(address(tmp_path / "class"))
    beyond = page.evaluate(
        "[...document.querySelectorAll('.board .scroll')].map(s => s.scrollWidth - s.clientWidth)"
    )
    page.close()
    assert beyond
    assert max(beyond) <= 0


def test_a_board_without_a_question_is_printed_across_the_sheet(sites: Path, browser: Browser) -> None:
    """Where nothing is asked and nothing explained, no column of paper stays empty beside the figure."""
    page = browser.new_page(viewport={"width": 700, "height": 1000})
    page.goto(address(sites / "class"))
    page.emulate_media(media="print")
    boards = page.evaluate(
        """[...document.querySelectorAll('.board')].map(board => [
            board.querySelector('.ask-one, .ask .note') !== null,
            board.querySelector('.show').getBoundingClientRect().width / board.getBoundingClientRect().width
        ])"""
    )
    page.close()
    assert any(asks for asks, _ in boards)
    assert any(not asks for asks, _ in boards)
    assert [width for asks, width in boards if not asks and width < 0.99] == []


def test_figures_are_numbered_without_a_gap(sites: Path, browser: Browser) -> None:
    """Figures count 1, 2, 3... in page order, and so do tables."""
    page = browser.new_page()
    page.goto(address(sites / "class"))
    figures = page.locator(".board h2 .no").all_inner_texts()
    tables = page.locator(".caption .no").all_inner_texts()
    page.close()
    numbers = [text.split()[-1] for text in figures if text.startswith("Figure")]
    assert numbers == [str(n) for n in range(1, len(numbers) + 1)]
    assert [text.split()[-1] for text in tables] == [str(n) for n in range(1, len(tables) + 1)]
