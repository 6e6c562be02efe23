"""Photos against the lines that name them: what can not be let in is told with its line, all of it at once."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner

from journey.command import cli
from journey.errors import FolderProblems
from journey.pipeline import study_folder
from journey.record.photo_files import unnamed_photos
from journey.record.reader import read_record
from tests.small_client import small_client


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return small_client(tmp_path_factory.mktemp("sound") / "client")


def _problems(folder: Path) -> list[str]:
    with pytest.raises(FolderProblems) as caught:
        study_folder(folder)
    return str(caught.value).split("\n")


def _line_of(folder: Path, words: str) -> int:
    lines = (folder / "journey.yaml").read_text(encoding="utf-8").split("\n")
    return next(number for number, line in enumerate(lines, 1) if words in line)


def test_every_photo_that_is_none_is_told_with_its_line(sound: Path, tmp_path: Path) -> None:
    """Two of three are no photos: both are told in one run."""
    folder = Path(shutil.copytree(sound, tmp_path / "client"))
    for number in (1, 3):
        (folder / "photos" / f"back-{number}.jpg").write_bytes(b"GIF89a")
    told = _problems(folder)
    assert [line.partition(": photos/")[0] for line in told] == [
        f"journey.yaml:{_line_of(folder, f'file: back-{number}.jpg')}: visits[1].photos[{number}].file"
        for number in (1, 3)
    ]
    assert all("it is a GIF" in line for line in told)


def test_every_damaged_photo_is_told_with_its_line(sound: Path, tmp_path: Path) -> None:
    """Damage shows only when pixels are decoded; once one is met, the others are looked at too."""
    folder = Path(shutil.copytree(sound, tmp_path / "client"))
    for number in (2, 3):
        path = folder / "photos" / f"back-{number}.jpg"
        path.write_bytes(path.read_bytes()[:-4000])
    told = _problems(folder)
    assert [f"photos[{number}]" in line and "damaged" in line for number, line in zip((2, 3), told, strict=True)]
    assert all(line.startswith("journey.yaml:") for line in told)


def test_a_file_no_line_names_is_said_and_never_opened(sound: Path, tmp_path: Path) -> None:
    """`check` names it; a pipe among them is not waited for; what a system puts there is not worth a word."""
    folder = Path(shutil.copytree(sound, tmp_path / "client"))
    (folder / "photos" / "other.jpg").write_bytes(b"whatever")
    (folder / "photos" / ".DS_Store").write_bytes(b"x")
    assert unnamed_photos(read_record(folder), folder) == ("other.jpg",)
    done = CliRunner().invoke(cli, ["check", str(folder)])
    assert done.exit_code == 0, done.output
    assert "note  photos/other.jpg: named nowhere in journey.yaml" in done.output
    assert "DS_Store" not in done.output
