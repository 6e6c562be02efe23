"""Which version of this tool is at work: its own files, its themes, and the libraries beside it.

It decides what counts as another version: a byte of a module, schema, template, style or word, another Python,
another release of any installed library. Whatever depends on the tool (kept things, the list of what is up to
date) is judged by this. The module is imported before anything else is known to be needed: it imports next to
nothing.
"""

from __future__ import annotations

import os
import sys

_HERE = os.path.dirname(os.path.abspath(__file__))
_known: str | None = None


def tool_folders() -> tuple[str, ...]:
    """The package's folder and that of its themes: beside it in a checkout, elsewhere once installed."""
    beside = os.path.join(os.path.dirname(_HERE), "themes")
    if os.path.isdir(beside):
        return _HERE, beside
    return _HERE, os.path.join(os.path.dirname(_HERE), "journey_themes")


def tool_files() -> list[os.DirEntry[str]]:
    """Every file of the tool but those Python compiled, in one order."""
    found: list[os.DirEntry[str]] = []
    waiting = list(tool_folders())
    while waiting:
        for entry in os.scandir(waiting.pop()):
            if entry.is_dir(follow_symlinks=False):
                if entry.name != "__pycache__":
                    waiting.append(entry.path)
            elif not entry.name.endswith(".pyc"):
                found.append(entry)
    found.sort(key=lambda entry: entry.path)
    return found


def tool_version() -> str:
    """One word for this version of the tool; another word for any other. Worked out once."""
    global _known
    if _known is None:
        import hashlib

        digest = hashlib.sha256(sys.version.encode())
        for entry in tool_files():
            with open(entry.path, "rb") as file:
                content = file.read()
            digest.update(f"\0{os.path.basename(entry.path)}\0{len(content)}\0".encode())
            digest.update(content)
        digest.update("\0".join(_installed()).encode())
        _known = digest.hexdigest()
    return _known


def _installed() -> list[str]:
    """Name and release of every installed distribution, as the folders that describe them are called."""
    names: set[str] = set()
    for folder in sys.path:
        if os.path.isdir(folder):
            names.update(name for name in os.listdir(folder) if name.endswith(".dist-info"))
    return sorted(names)
