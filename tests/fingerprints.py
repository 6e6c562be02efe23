"""What a folder of files holds, byte for byte."""

from __future__ import annotations

import hashlib
from pathlib import Path


def fingerprint(folder: Path) -> dict[str, str]:
    """SHA-256 of every file below a folder, by its path within."""
    return {
        str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
