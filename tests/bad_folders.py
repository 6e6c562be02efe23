"""Folders that somebody made to break the tool, compiled by the real command in a process of its own.

Every row disturbs one small sound client: those of `ROWS` have to be refused, those of `tests/tamed_folders.py`
compiled without harm. `KINDS` are the kinds of hostile input that there have to be rows of. What comes back says
how the command ended: exit code, words, seconds of the processor and memory. `tests/test_bad_folders.py` judges.
"""

from __future__ import annotations

import os
import resource
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

from tests.bad_files import FILE_ROWS
from tests.bad_photos import PHOTO_ROWS
from tests.bad_texts import TEXT_ROWS

LIMIT_BYTES = 1 << 30

ROWS = (*TEXT_ROWS, *FILE_ROWS, *PHOTO_ROWS)

KINDS = (
    # texts
    "markup in Markdown", "links in Markdown", "pictures in Markdown", "Markdown that is slow",
    "braces and quotes in fields", "alias bomb", "nesting", "equal keys", "ten megabytes", "characters that hide",
    "another coding", "two documents", "numbers that are none", "tags", "words for other types",
    "names that climb", "broken YAML",
    # photos
    "PostScript", "another format under the name of a JPEG", "20,000 squared", "9,400 and 12,000 squared",
    "text and profile bombs", "parts without end", "cut short", "a hole inside", "16 bits", "CMYK",
    "more pictures in one", "HEIC", "Exif orientation", "a page or film behind a photo",
    "odd sizes and kinds of pixels",
    # files
    "ways out", "links", "pipes", "hard links", "folders and empty names", "NUL in a name",
    "names that are not UTF-8", "names that collide", "odd names",
)  # fmt: skip


@dataclass(frozen=True)
class End:
    code: int
    said: str
    seconds: float
    """Of the processor."""
    peak_bytes: int
    """Memory beyond what the process had that the command was forked from."""


def compiled(folder: Path, to: Path) -> End:
    """`journey compile FOLDER --to TO` in a child of this process that may take a gigabyte more, and its end.

    A child by fork, as starting Python anew would take most of the time that is measured.
    """
    said, speak = os.pipe()
    taken = _resident_bytes()
    child = os.fork()
    if not child:
        os.close(said)
        _run(folder, to, speak)
    os.close(speak)
    with os.fdopen(said, encoding="utf-8", errors="replace") as words:
        text = words.read()
    _, status, used = os.wait4(child, 0)
    return End(
        os.waitstatus_to_exitcode(status), text, used.ru_utime + used.ru_stime, used.ru_maxrss * 1024 - taken
    )


def _resident_bytes() -> int:
    """Memory of this process, with which a child by fork begins."""
    return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * os.sysconf("SC_PAGE_SIZE")


def _run(folder: Path, to: Path, speak: int) -> None:
    code = 99
    try:
        taken = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0]) * os.sysconf("SC_PAGE_SIZE")
        resource.setrlimit(resource.RLIMIT_AS, (taken + LIMIT_BYTES, taken + LIMIT_BYTES))
        with os.fdopen(speak, "w", encoding="utf-8") as words, redirect_stdout(words), redirect_stderr(words):
            code = _command(folder, to)
    finally:
        os._exit(code)


def _command(folder: Path, to: Path) -> int:
    from journey.command import main

    sys.argv = ["journey", "compile", str(folder), "--to", str(to), "--for", "client"]
    try:
        main()
    except SystemExit as end:
        return int(end.code or 0)
    except BaseException:
        import traceback

        traceback.print_exc()
        return 98
    return 0
