"""A small folder that reads without a problem, and copies of it with some files exchanged."""

from __future__ import annotations

import shutil
from pathlib import Path

HERE = Path(__file__).parent
SOUND = HERE / "sound"
BROKEN = HERE / "broken"
DEMO = HERE.parents[1] / "demo_client"


def sound_folder(at: Path) -> Path:
    """A fresh copy of the sound folder."""
    return Path(shutil.copytree(SOUND, at / "client"))


def broken_folder(case: Path, at: Path) -> Path:
    """The sound folder with the files of one case laid over it."""
    folder = sound_folder(at)
    shutil.copytree(case, folder, dirs_exist_ok=True, ignore=shutil.ignore_patterns("expected.txt"))
    return folder
