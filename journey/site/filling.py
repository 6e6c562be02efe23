"""How templates of a theme are filled, and how a page names the scripts and styles it lets in.

Decides what a template must not do (print what is undefined, leave text unescaped). What a template is given is
decided by whoever fills it.
"""

from __future__ import annotations

import base64
import hashlib
from functools import lru_cache

from jinja2 import Environment, FileSystemLoader, StrictUndefined

from journey.site.theme import Theme


@lru_cache(maxsize=4)
def environment(theme: Theme) -> Environment:
    """One for all pages of a theme: its templates are compiled once."""
    return Environment(
        loader=FileSystemLoader(theme.templates),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.do"],
    )


def source_hash(text: str) -> str:
    """Source expression of a script or style for the content security policy (CSP Level 3, 2.3.1)."""
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"
