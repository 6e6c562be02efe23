"""How templates of a theme are filled, and how a page names the scripts and styles it lets in.

Decides what a template must not do (print what is undefined, leave text unescaped). What a template is given is
decided by whoever fills it.
"""

from __future__ import annotations

import base64
import hashlib
from functools import lru_cache

from jinja2 import BytecodeCache, Environment, FileSystemLoader, StrictUndefined
from jinja2.bccache import Bucket

from journey.cache import Cache, key_of
from journey.site.theme import Theme


class _KeptTemplates(BytecodeCache):
    """Compiled templates, kept by their source and the version of the tool and of Jinja."""

    def __init__(self, cache: Cache) -> None:
        self.cache = cache

    def load_bytecode(self, bucket: Bucket) -> None:
        kept = self.cache.get(_key_of(bucket))
        if kept is not None:
            bucket.bytecode_from_string(kept)

    def dump_bytecode(self, bucket: Bucket) -> None:
        self.cache.store(_key_of(bucket), bucket.bytecode_to_string(), ())


def _key_of(bucket: Bucket) -> str:
    # The name of the file stands in the code, for tracebacks.
    return key_of("template", bucket.key, bucket.checksum)


@lru_cache(maxsize=4)
def environment(theme: Theme, cache: Cache | None = None) -> Environment:
    """One for all pages of a theme: its templates are compiled once, and not again while they are kept."""
    return Environment(
        loader=FileSystemLoader(theme.templates),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        extensions=["jinja2.ext.do"],
        bytecode_cache=_KeptTemplates(cache) if cache is not None else None,
    )


def source_hash(text: str) -> str:
    """Source expression of a script or style for the content security policy (CSP Level 3, 2.3.1)."""
    digest = hashlib.sha256(text.encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"
