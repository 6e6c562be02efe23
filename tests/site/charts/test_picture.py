"""The picture itself, in a browser that enforces the page's content policy.

Needs the system's Chromium; without it the tests fail.
"""

import io
from collections.abc import Callable
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image
from playwright.sync_api import Browser

from journey.site.charts import CHART_CSS, CHARTS, Width
from journey.site.charts.fade_marks import point_at
from tests.site.charts.drawn import render_chart
from tests.site.charts.editions import LAST_WEEK, edition
from tests.site.charts.reading_svg import card_scale

POLICY = "default-src 'none'; style-src 'self'; img-src 'self'"
SCHEMES = {
    "light": "--paper:#f0f0f0;--ink:#161616;--ink2:#4d4d4d",
    "dark": "--paper:#1c1c1c;--ink:#ececec;--ink2:#b4b4b4",
}
Pixels = NDArray[np.uint8]
Shoot = Callable[[str, Width, str], tuple[Pixels, list[str]]]


@pytest.fixture(scope="module")
def shoot(browser: Browser) -> Shoot:
    """Takes (body, width, scheme), gives the picture at one px a unit and what the browser complained of."""

    def take(body: str, width: Width, scheme: str) -> tuple[Pixels, list[str]]:
        css = f"html{{{SCHEMES[scheme]};--card:#767676}}body{{margin:0;background:var(--paper)}}{CHART_CSS}"
        files = {
            "/": ("text/html", f'<!doctype html><link rel=stylesheet href="/c.css">{body}'),
            "/c.css": ("text/css", css),
        }

        def serve(route: Any) -> None:
            path = "/" + route.request.url.split("/", 3)[3]
            kind, text = files.get(path, ("text/plain", ""))
            headers = {"content-type": f"{kind}; charset=utf-8", "content-security-policy": POLICY}
            route.fulfill(body=text, headers=headers)

        page = browser.new_page(viewport={"width": 358 if width == "phone" else 760, "height": 900})
        complaints: list[str] = []
        page.on("console", lambda message: complaints.append(message.text))
        page.on("request", lambda request: complaints.append(request.url))
        page.route("**/*", serve)
        page.goto("http://charts.test/")
        picture = np.array(Image.open(io.BytesIO(page.screenshot())).convert("RGB"))
        page.close()
        return picture, [
            c for c in complaints if c not in {"http://charts.test/", "http://charts.test/c.css"}
        ]

    return take


def near(pixel: Pixels, colour: str, tolerance: int = 4) -> bool:
    codes = [int(colour[i : i + 2], 16) for i in (1, 3, 5)]
    return bool(np.abs(pixel.astype(int) - codes).max() <= tolerance)


def drawn(key: str, width: Width) -> str:
    svg = render_chart(key, edition(), width)
    assert svg is not None
    return svg


@pytest.mark.parametrize("width", ["phone", "wide"])
def test_policy_blocks_nothing(shoot: Shoot, width: Width) -> None:
    """All charts on one page: no complaint of the content policy, no request beyond page and style sheet."""
    _, complaints = shoot("".join(drawn(chart.key, width) for chart in CHARTS), width, "light")
    assert complaints == []


def test_hair_under_the_curve(shoot: Shoot) -> None:
    """A pixel under the curve is the hair of its day, one over it is the card."""
    svg = drawn("fade", "wide")
    picture, _ = shoot(svg, "wide", "light")
    scale = card_scale(svg, (0, LAST_WEEK), (0, 1))
    one = edition()
    assert one.fade
    for week in (0.5, 3.2, 5.0, 8.5, 11.0, 13.0):
        segment = next(s for s in reversed(one.fade.series[0].segments) if s.points[0].week <= week)
        x = round(scale.left + week / LAST_WEEK * (scale.right - scale.left))
        assert near(picture[round(scale.bottom) - 20, x], point_at(segment.points, week).hex)
    assert near(picture[round(scale.top) + 20, round(scale.right) - 20], "#767676")


def test_forecast_alternates_hair_and_card(shoot: Shoot) -> None:
    """Along a row through the comb, pixels go from hair to card and back every four."""
    svg = drawn("fade", "wide")
    picture, _ = shoot(svg, "wide", "light")
    scale = card_scale(svg, (0, LAST_WEEK), (0, 1))
    start = round(scale.left + 14.2 / LAST_WEEK * (scale.right - scale.left))
    row = [near(picture[round(scale.bottom) - 20, x], "#767676", 2) for x in range(start, start + 160)]
    changes = sum(a != b for a, b in pairwise(row))
    assert changes == pytest.approx(160 / 4, abs=2)


@pytest.mark.parametrize("key", ["fade", "ladder"])
def test_dark_scheme_swaps_paper_and_ink_only(shoot: Shoot, key: str) -> None:
    """In the dark scheme words turn light and paper dark; the card and all on it stay as they were."""
    svg = drawn(key, "phone")
    light, _ = shoot(svg, "phone", "light")
    dark, _ = shoot(svg, "phone", "dark")
    assert (light[-1, 1].tolist(), dark[-1, 1].tolist()) == ([240] * 3, [28] * 3)
    scale = card_scale(svg, (0, 1), (0, 1))
    left, top, right, bottom = (round(v) for v in (scale.left, scale.top, scale.right, scale.bottom))
    card = np.s_[top + 3 : bottom - 3, left + 3 : right - 3]
    assert (light[card] == dark[card]).all()
    beside = np.s_[top:bottom, 0 : left - 8]
    assert light[beside].min() < 60
    assert dark[beside].max() > 200


def test_phone_and_wide_take_turns(shoot: Shoot) -> None:
    """With both on the page, the narrow screen shows the phone's drawing and the wide one the other."""
    both = drawn("fibres", "phone") + drawn("fibres", "wide")
    narrow, _ = shoot(both, "phone", "light")
    wide, _ = shoot(both, "wide", "light")
    alone, _ = shoot(drawn("fibres", "phone"), "phone", "light")
    alone_wide, _ = shoot(drawn("fibres", "wide"), "wide", "light")
    assert (narrow == alone).all()
    assert (wide == alone_wide).all()
