"""What all tests share: one real browser, and property tests that draw the same examples every time.

A missing browser is an error, never a skip.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings
from playwright.sync_api import Browser, sync_playwright

from tests.screenshots import ARGUMENTS, CHROMIUM

_STATE = tempfile.TemporaryDirectory(prefix="journey-state-")
os.environ["XDG_STATE_HOME"] = _STATE.name
"""What tests make the tool remember is not this user's."""

settings.register_profile("same every time", derandomize=True, deadline=None)
settings.load_profile("same every time")


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Nothing of a test is kept among the user's own things, and nothing of theirs reaches a test."""
    with pytest.MonkeyPatch.context() as patch:
        # The drawing library's list of fonts is no part of this, and takes seconds to make.
        patch.setenv("MPLCONFIGDIR", os.environ.get("MPLCONFIGDIR") or str(Path.home() / ".cache" / "matplotlib"))
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for the whole run."""
    with sync_playwright() as play:
        started = play.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield started
        started.close()
