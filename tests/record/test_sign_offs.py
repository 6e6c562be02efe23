"""Who vouched for what is read strictly: a line that is not exactly a signature makes the folder unreadable."""

from __future__ import annotations

import json
import os
import time
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from journey.errors import FolderProblems
from journey.record.model import Audience
from journey.record.safe_files import LinkedFileError
from journey.record.sign_offs import SIGN_OFF_FILE, SignOff, add_sign_offs, read_sign_offs

GOOD: dict[str, Any] = {
    "edition": "class",
    "kind": "text",
    "name": "Visit.class_note",
    "sha256": "ab" * 32,
    "by": "lena",
    "on": "2026-06-13",
    "sheet": "bcdf-ghjk-lmnp-qrst-bcdf",
}


def line(**changes: Any) -> bytes:
    written = {**GOOD, **changes}
    return json.dumps({name: value for name, value in written.items() if value is not None}).encode() + b"\n"


def test_what_is_added_is_read_again(tmp_path: Path) -> None:
    """No file is no signature; two additions come back in order."""
    assert read_sign_offs(tmp_path, ["lena"]) == ()
    one = SignOff(
        edition=Audience.CLASS,
        kind="photo",
        name="crown-after/0 0 1 1",
        sha256="cd" * 32,
        look="00" * 192,
        by="lena",
        on=date(2026, 6, 13),
        sheet="bcdf-ghjk-lmnp-qrst-bcdf",
    )
    add_sign_offs(tmp_path, [one])
    add_sign_offs(tmp_path, [one.model_copy(update={"name": "nape-after/0 0 1 1"})])
    assert [sign_off.name for sign_off in read_sign_offs(tmp_path, ["lena"])] == [
        "crown-after/0 0 1 1",
        "nape-after/0 0 1 1",
    ]


BAD = {
    "not JSON": b"signed, lena\n",
    "no mapping": b"[]\n",
    "empty line": b"\n",
    "cut off": line()[:-20],
    "no end of line": line()[:-1],
    "a name twice": line()[:-2] + b', "by": "lena"}\n',
    "a name unknown": line(why="because"),
    "a name missing": line(by=None),
    "short hash": line(sha256="ab"),
    "capitals in hash": line(sha256="AB" * 32),
    "hash is a number": line(sha256=7),
    "no such edition": line(edition="everybody"),
    "no such kind": line(kind="film"),
    "no day": line(on="2026-13-45"),
    "day is a number": line(on=20260613),
    "nobody here": line(by="zoe"),
    "look is no look": line(look="zz"),
    "no sheet": line(sheet="sheet"),
    "not UTF-8": line().replace(b"Visit", b"Vi\xff\xfeit"),
    "UTF-16": line().decode().encode("utf-16"),
    "deep": b"[" * 100_000 + b"\n",
    "NaN": line().replace(b'"lena"', b"NaN"),
}


@pytest.mark.parametrize("bad", BAD.values(), ids=BAD)
def test_a_line_that_is_no_signature_is_refused_with_its_number(bad: bytes, tmp_path: Path) -> None:
    """Line 2 is named, in well under two seconds, and the good line above it does not save the file."""
    (tmp_path / SIGN_OFF_FILE).write_bytes(line() + bad)
    started = time.monotonic()
    with pytest.raises(FolderProblems) as caught:
        read_sign_offs(tmp_path, ["lena"])
    assert time.monotonic() - started < 2
    first = caught.value.problems[0]
    assert (first.file, first.line) == (SIGN_OFF_FILE, 2)
    assert len(str(first)) < 400


def test_the_good_line_alone_is_read(tmp_path: Path) -> None:
    """What the bad ones were made from is good."""
    (tmp_path / SIGN_OFF_FILE).write_bytes(line())
    assert read_sign_offs(tmp_path, ["lena"])[0].by == "lena"


def test_a_link_is_neither_read_nor_written(tmp_path: Path) -> None:
    """A signature file that leads elsewhere is refused both ways."""
    other = tmp_path / "elsewhere"
    other.write_bytes(line())
    folder = tmp_path / "client"
    folder.mkdir()
    (folder / SIGN_OFF_FILE).symlink_to(other)
    with pytest.raises(FolderProblems):
        read_sign_offs(folder, ["lena"])
    with pytest.raises(LinkedFileError):
        add_sign_offs(folder, [])
    os.unlink(folder / SIGN_OFF_FILE)  # noqa: PTH108 - the link, not what it leads to
    assert other.read_bytes() == line()
