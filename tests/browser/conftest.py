"""Gives finished sites to look at.

Sites are made from example editions; the variable JOURNEY_SITES may name a folder holding `client`, `class`
and `archive` sites to be judged instead.
"""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest

from journey.record.model import Audience
from journey.site.theme import load_theme
from journey.site.writer import write_site
from tests.edition_example import example_edition


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
