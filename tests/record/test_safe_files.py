"""Only plain files inside the folder are read; everything else is a named refusal that says what to do."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from journey.record.safe_files import (
    CollidingNamesError,
    FileRefusedError,
    LinkedFileError,
    MissingFileError,
    NotAFileError,
    TooLargeError,
    UnsafeNameError,
    ascii_name,
    names_inside,
    open_inside,
    read_inside,
    refuse_collisions,
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A client's folder with a photo, beside a secret that must stay outside."""
    (tmp_path / "secret.jpg").write_bytes(b"secret")
    inside = tmp_path / "client"
    (inside / "photos").mkdir(parents=True)
    (inside / "photos" / "week-0.jpg").write_bytes(b"photo")
    return inside


def refusal(folder: Path, name: str, limit_bytes: int = 100) -> FileRefusedError:
    """The refusal, which must come at once and leave no handle open."""
    handles = len(list(Path("/proc/self/fd").iterdir()))
    started = time.monotonic()
    with pytest.raises(FileRefusedError) as caught:
        read_inside(folder, name, limit_bytes=limit_bytes)
    assert time.monotonic() - started < 2
    assert len(list(Path("/proc/self/fd").iterdir())) == handles
    assert "\n" not in str(caught.value)
    assert caught.value.remedy
    return caught.value


def test_a_plain_file_is_read(folder: Path) -> None:
    """By name or by relative path, also when the folder itself was reached by a link."""
    assert read_inside(folder, "photos/week-0.jpg", limit_bytes=5) == b"photo"
    (folder.parent / "by-link").symlink_to(folder)
    assert read_inside(folder.parent / "by-link", "photos/week-0.jpg", limit_bytes=5) == b"photo"


@pytest.mark.parametrize(
    "name",
    ["../secret.jpg", "photos/../../secret.jpg", "/etc/passwd", "", ".", "..", "photos/", "//x", "./photos",
     "photos//week-0.jpg", "..\\secret.jpg", "nul\0.jpg", "line\nbreak.jpg", "gpj.\u202egpj", "a\u2028b.jpg",
     "\udcff.jpg"],
)  # fmt: skip
def test_names_that_climb_out_or_deceive_are_refused(folder: Path, name: str) -> None:
    """Climbing, absolute, empty, controls, direction marks and bytes that are not UTF-8."""
    assert isinstance(refusal(folder, name), UnsafeNameError)


def test_links_are_not_followed(folder: Path) -> None:
    """Out of the folder, to an endless device, to itself, as a middle step, and hard links."""
    (folder / "out.jpg").symlink_to(folder.parent / "secret.jpg")
    (folder / "endless.jpg").symlink_to("/dev/zero")
    (folder / "loop.jpg").symlink_to(folder / "loop.jpg")
    (folder / "up").symlink_to(folder.parent)
    (folder / "hard.jpg").hardlink_to(folder.parent / "secret.jpg")
    for name in ("out.jpg", "endless.jpg", "loop.jpg", "up/secret.jpg", "hard.jpg"):
        assert isinstance(refusal(folder, name), LinkedFileError), name


def test_what_is_no_file_is_refused_without_waiting(folder: Path) -> None:
    """A pipe does not hang us; a folder or a file used as a folder is no file."""
    os.mkfifo(folder / "pipe.jpg")
    (folder / "folder.jpg").mkdir()
    for name in ("pipe.jpg", "folder.jpg", "photos/week-0.jpg/x"):
        assert isinstance(refusal(folder, name), NotAFileError), name


def test_missing_too_large_and_too_long(folder: Path) -> None:
    """Each has its own name, and the size is checked before the bytes are read."""
    assert isinstance(refusal(folder, "nowhere.jpg"), MissingFileError)
    assert isinstance(refusal(folder, "nowhere/week-0.jpg"), MissingFileError)
    assert isinstance(refusal(folder, "photos/week-0.jpg", limit_bytes=4), TooLargeError)
    with (folder / "vast.jpg").open("wb") as file:
        file.truncate(1 << 40)
    assert isinstance(refusal(folder, "vast.jpg"), TooLargeError)
    assert isinstance(refusal(folder, "x" * 300), UnsafeNameError)


def test_odd_but_honest_names_are_read(folder: Path) -> None:
    """Quotes, escapes, dashes, spaces and 255 bytes are allowed in a source's name: it is never reused."""
    for name in ('">.jpg', "#?%20.jpg", "-rf", "two words.jpg", "é" * 127, "日本.jpg"):
        (folder / name).write_bytes(b"ok")
        assert read_inside(folder, name, limit_bytes=2) == b"ok"


def test_a_listing_is_sorted_and_refuses_names_that_collide_elsewhere(folder: Path) -> None:
    """One file per name, on whatever system the folder is opened next."""
    (folder / "photos" / "b.jpg").write_bytes(b"")
    (folder / "photos" / "a.jpg").write_bytes(b"")
    assert names_inside(folder, "photos") == ("a.jpg", "b.jpg", "week-0.jpg")
    assert names_inside(folder) == ("photos",)
    (folder / "photos" / "A.jpg").write_bytes(b"")
    with pytest.raises(CollidingNamesError, match=r"a\.jpg.*A\.jpg|A\.jpg.*a\.jpg"):
        names_inside(folder, "photos")
    for pair in (("cafe\u0301.jpg", "caf\u00e9.jpg"), ("straße", "STRASSE"), ("É.jpg", "e\u0301.jpg")):
        with pytest.raises(CollidingNamesError):
            refuse_collisions(pair)
    refuse_collisions(("a.jpg", "b.jpg", "á.jpg"))


def test_a_listing_refuses_names_that_are_not_utf8(folder: Path) -> None:
    """The refusal shows the name escaped, so that it can be printed and written anywhere."""
    (folder / os.fsdecode(b"caf\xe9.jpg")).write_bytes(b"")
    with pytest.raises(UnsafeNameError, match=r"caf\\udce9\.jpg") as caught:
        names_inside(folder)
    str(caught.value).encode("utf-8")


def test_an_unreadable_file_is_a_refusal(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No permission is said in words."""
    real_open = os.open

    def forbidden(path: str | Path, *arguments: int, **keywords: int) -> int:
        if path == "week-0.jpg":
            raise PermissionError(13, "Permission denied")
        return real_open(path, *arguments, **keywords)

    monkeypatch.setattr(os, "open", forbidden)
    with pytest.raises(FileRefusedError, match="Permission denied"):
        open_inside(folder, "photos/week-0.jpg")


def test_a_name_is_shown_as_it_is_unless_it_could_deceive() -> None:
    """Accents are shown, escapes only where they protect the reader."""
    assert ascii_name("café.jpg") == "café.jpg"
    assert ascii_name("a\u202eb") == r"'a\u202eb'"
    assert ascii_name("") == "''"
