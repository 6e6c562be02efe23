"""The demo studied and compiled once for all tests that look at it."""

from __future__ import annotations

import functools
from datetime import date
from pathlib import Path

from journey.edition.model import Edition
from journey.pipeline import Studied, prepare, study_folder
from journey.record.model import Audience
from journey.site.theme import load_theme

DEMO = Path(__file__).parents[1] / "demo_client"
TODAY = date(2026, 6, 13)


@functools.cache
def studied_demo() -> Studied:
    return study_folder(DEMO)


@functools.cache
def demo_edition(audience: Audience) -> Edition:
    """As it is published."""
    edition = prepare(studied_demo(), audience, today=TODAY, theme=load_theme())
    assert isinstance(edition, Edition)
    return edition
