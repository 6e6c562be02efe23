"""Gives finished sites and a real browser. A missing browser is an error, never a skip.

Sites are made from example editions; the variable JOURNEY_SITES may name a folder holding `client`, `class`
and `archive` sites to be judged instead.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from journey.record.model import Audience
from journey.site.theme import load_theme
from journey.site.writer import write_site
from tests.edition_example import example_edition
from tests.screenshots import ARGUMENTS, CHROMIUM


@pytest.fixture(scope="session")
def sites(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one site per audience."""
    given = os.environ.get("JOURNEY_SITES")
    if given:
        return Path(given)
    folder = tmp_path_factory.mktemp("sites")
    with ThreadPoolExecutor(2) as executor:
        for audience in Audience:
            edition = example_edition(audience)
            write_site(edition, folder / audience.value, theme=load_theme(), executor=executor)
    return folder


@pytest.fixture(params=[audience.value for audience in Audience])
def site(request: pytest.FixtureRequest, sites: Path) -> Path:
    """One finished site, for each audience in turn."""
    return sites / str(request.param)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield started
        started.close()
