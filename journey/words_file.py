"""A theme's words as they lie on disk: YAML of our own, read by libyaml where it is there (ten times as fast)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import yaml

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read_words(path: Path) -> Any:
    """What one file of words says."""
    return yaml.load(path.read_text(encoding="utf-8"), Loader=_LOADER)  # noqa: S506 - a safe loader, either way
