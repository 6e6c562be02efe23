"""Property tests draw the same examples every time, so that a red run can be run again."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("same every time", derandomize=True, deadline=None)
settings.load_profile("same every time")
