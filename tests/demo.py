"""The demo studied and compiled once for all tests that look at it."""

from __future__ import annotations

import functools
from datetime import date
from pathlib import Path

from journey.pipeline import Studied, study_folder

DEMO = Path(__file__).parents[1] / "demo_client"
TODAY = date(2026, 6, 13)


@functools.cache
def studied_demo() -> Studied:
    return study_folder(DEMO)
