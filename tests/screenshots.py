"""Takes pictures of a finished site for a person to look at: `python -m tests.screenshots SITE OUT`.

Decides widths, schemes and paper. Judges nothing: that is what looking is for.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

CHROMIUM = "/usr/bin/chromium"
ARGUMENTS = [
    "--no-sandbox",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
SIGHTS = (
    (390, 844, "light"),
    (1280, 720, "light"),
    (1920, 1080, "light"),
    (390, 844, "dark"),
    (1280, 720, "dark"),
)
SLICE_PX = 2400
"""Long pages are cut into pictures of this height, so that a person sees the pixels."""


def take_pictures(site: Path, out: Path) -> list[Path]:
    """Pictures of `site/index.html` at every sight and its printed sheets; returns the files written."""
    out.mkdir(parents=True, exist_ok=True)
    address = (site / "index.html").resolve().as_uri()
    with sync_playwright() as play:
        browser = play.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        for width, height, scheme in SIGHTS:
            _look(browser, address, out, width, height, scheme)
        page = browser.new_page()
        page.goto(address)
        _wake(page)
        page.pdf(path=out / "print.pdf", format="A4", prefer_css_page_size=True)
        browser.close()
    subprocess.run(["pdftoppm", "-r", "60", "-png", out / "print.pdf", out / "print"], check=True)
    return sorted(out.glob("*.png"))


def _look(browser: Browser, address: str, out: Path, width: int, height: int, scheme: str) -> None:
    page = browser.new_page(viewport={"width": width, "height": height}, color_scheme=scheme)  # type: ignore[arg-type]
    page.goto(address)
    _wake(page)
    total = page.evaluate("document.documentElement.scrollHeight")
    for number, top in enumerate(range(0, total, SLICE_PX)):
        page.screenshot(
            path=out / f"{width}-{scheme}-{number:02d}.png",
            full_page=True,
            clip={"x": 0, "y": top, "width": width, "height": min(SLICE_PX, total - top)},
        )
    page.close()


def _wake(page: Page) -> None:
    """Load what waits for scrolling."""
    # Waiting by a predicate needs eval, which the page's policy rightly refuses.
    page.evaluate(
        "Promise.all([...document.images].map(i => { i.loading = 'eager';"
        " return i.offsetParent ? i.decode() : null }))"
    )


if __name__ == "__main__":
    for written in take_pictures(Path(sys.argv[1]), Path(sys.argv[2])):
        print(written)
