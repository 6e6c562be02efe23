"""A new folder reads without a problem, explains itself truly, and never costs anybody an old one."""

from __future__ import annotations

import re
import stat
from pathlib import Path

import pytest

from journey.errors import FolderProblems, FolderTakenError
from journey.record.reader import read_record
from journey.record.starter import start_folder


def test_started_folder_reads_without_a_problem(tmp_path: Path) -> None:
    """What `start` writes is a record from the first moment, with a place for photos."""
    start_folder(tmp_path / "clients" / "new")
    record = read_record(tmp_path / "clients" / "new")
    assert record.journey.visits
    assert (tmp_path / "clients" / "new" / "photos").is_dir()


def test_started_folder_holds_no_consent(tmp_path: Path) -> None:
    """Nobody has said yes to anything yet."""
    start_folder(tmp_path / "new")
    assert read_record(tmp_path / "new").consent.grants == ()


def test_editors_are_pointed_at_schemas_that_are_there(tmp_path: Path) -> None:
    """The first line of each file names a schema beside it."""
    start_folder(tmp_path / "new")
    for file in sorted((tmp_path / "new").glob("*.yaml")):
        first = file.read_text(encoding="utf-8").split("\n")[0]
        found = re.fullmatch(r"# yaml-language-server: \$schema=(\S+)", first)
        assert found is not None
        assert (tmp_path / "new" / found[1]).is_file()


def test_every_commented_example_is_right(tmp_path: Path) -> None:
    """With the # taken away, each example in the new files reads; only the photo is missing."""
    folder = tmp_path / "new"
    start_folder(folder)
    for file in sorted(folder.glob("*.yaml")):
        text, freed = freed_examples(file.read_text(encoding="utf-8"))
        assert freed
        file.write_text(text, encoding="utf-8")
    (folder / "photos" / "back-after.jpg").write_text("a photo in name only", encoding="utf-8")
    for note in ("first-visit-class", "first-visit-private"):
        (folder / "notes" / f"{note}.md").write_text("Some words.", encoding="utf-8")
    record = read_record(folder)
    assert record.consent.grants
    assert record.consent.withdrawals
    assert record.journey.visits[0].photos[0].covers
    assert record.journey.care
    assert record.identity.numbers


def freed_examples(text: str) -> tuple[str, int]:
    """The text with the # taken from every line that is an example: a key, or an entry below one."""
    lines, freed, inside = [], 0, False
    for line in text.split("\n"):
        body = re.fullmatch(r"( *)# ( *)(.*)", line)
        is_key = body is not None and re.match(r"(- )?[a-z_]+:( |$)", body[3]) is not None
        is_entry = body is not None and inside and re.match(r"- ", body[3]) is not None and body[2] != ""
        inside = is_key or is_entry
        if body is not None and inside and "yaml-language-server" not in line:
            freed += 1
            lines.append(f"{body[1]}{body[2]}{body[3]}")
        else:
            lines.append(line)
    return "\n".join(lines), freed


@pytest.mark.parametrize("kind", ["folder", "file", "link"])
def test_nothing_is_ever_written_over(kind: str, tmp_path: Path) -> None:
    """A folder with something in it, a file or a link in the way is refused and stays as it was."""
    taken = tmp_path / "taken"
    if kind == "folder":
        taken.mkdir()
        (taken / "salon.yaml").write_text("mine", encoding="utf-8")
    elif kind == "file":
        taken.write_text("mine", encoding="utf-8")
    else:
        (tmp_path / "elsewhere").mkdir()
        taken.symlink_to(tmp_path / "elsewhere")
    with pytest.raises(FolderTakenError):
        start_folder(taken)
    if kind == "folder":
        assert [entry.name for entry in taken.iterdir()] == ["salon.yaml"]
        assert (taken / "salon.yaml").read_text(encoding="utf-8") == "mine"
    if kind == "link":
        assert list((tmp_path / "elsewhere").iterdir()) == []


def test_place_that_cannot_be_written_is_refused(tmp_path: Path) -> None:
    """A path below a file is told in words."""
    (tmp_path / "file").write_text("", encoding="utf-8")
    with pytest.raises(FolderTakenError, match="cannot be written"):
        start_folder(tmp_path / "file" / "new")


def test_new_folder_is_for_its_owner_only(tmp_path: Path) -> None:
    """Others on the same computer do not read a client's folder."""
    start_folder(tmp_path / "new")
    assert stat.S_IMODE((tmp_path / "new").stat().st_mode) == 0o700


def test_started_twice_gives_the_same_files(tmp_path: Path) -> None:
    """Nothing of the day or the machine is in a new folder."""
    start_folder(tmp_path / "a")
    start_folder(tmp_path / "b")
    contents = [
        {file.relative_to(root): file.read_bytes() for file in root.rglob("*") if file.is_file()}
        for root in (tmp_path / "a", tmp_path / "b")
    ]
    assert contents[0] == contents[1]


def test_mistake_in_a_started_folder_is_told(tmp_path: Path) -> None:
    """The new folder is judged like any other."""
    start_folder(tmp_path / "new")
    journey = tmp_path / "new" / "journey.yaml"
    journey.write_text(journey.read_text(encoding="utf-8").replace("24 cm", "24cm"), encoding="utf-8")
    with pytest.raises(FolderProblems, match="write '24 cm'"):
        read_record(tmp_path / "new")
