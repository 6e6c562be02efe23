"""A folder becomes a record, or every problem of it, with line and remedy."""

from __future__ import annotations

import contextlib
import os
import re
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from journey.errors import FolderProblems, Problem
from journey.quantities import Length, Mass
from journey.record.band import Place
from journey.record.cross_checks import CHECKS
from journey.record.model import Audience, Role, ServiceKind
from journey.record.private import reveal
from journey.record.reader import read_record
from tests.record.folders import BROKEN, SOUND, broken_folder, sound_folder

CASES = sorted(path for path in BROKEN.iterdir() if path.is_dir())
FILES = ("salon.yaml", "identity.yaml", "consent.yaml", "journey.yaml")


def test_sound_folder_becomes_typed_values() -> None:
    """What is written as text arrives as days, quantities, bands and enumerations."""
    record = read_record(SOUND)
    first = record.journey.visits[0]
    assert first.date == date(2026, 3, 7)
    assert first.words == "We lightened your hair and laid a rose on top."
    clip, lightening, rose = first.services
    assert clip.to_length == Length(0.6)
    assert lightening.kind is ServiceKind.LIGHTEN
    assert rose.bowl is not None
    assert rose.bowl.lines[1].grams == Mass(42.524285)  # 1.5 avoirdupois ounces of 28.349523125 g, to 1e-6 g
    assert rose.band.span is not None
    assert rose.band.span.to == Length(8)
    assert first.conditions[0].band.places == (Place.MID_LENGTHS, Place.ENDS)
    assert first.photos[0].neutral is not None
    assert first.photos[0].neutral.reflectance == pytest.approx(0.18)
    assert first.photos[0].no_face is True
    assert record.salon.products[4].role is Role.DEVELOPER
    assert record.consent.grants[0].edition is Audience.CLIENT
    assert record.last_day == date(2026, 4, 11)


def test_telephone_number_keeps_its_leading_zero() -> None:
    """No scalar is turned into a number on the way: 0612345677 would be 103402431 in octal."""
    phone = read_record(SOUND).identity.phones[0]
    assert reveal(phone, because="to see whether it is the text that was written") == "0612345677"


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_broken_folder_says_what_to_write(case: Path, tmp_path: Path) -> None:
    """Every problem of the case is told, in order, and no other: a new mistake is a new folder."""
    with pytest.raises(FolderProblems) as caught:
        read_record(broken_folder(case, tmp_path))
    assert str(caught.value) == (case / "expected.txt").read_text(encoding="utf-8").rstrip("\n")


def test_three_bad_dates_arrive_as_three_lines(tmp_path: Path) -> None:
    """Three mistakes are told in one run, to be put right in one sitting."""
    with pytest.raises(FolderProblems) as caught:
        read_record(broken_folder(BROKEN / "three-bad-dates", tmp_path))
    assert [problem.line for problem in caught.value.problems] == [15, 94, 125]
    assert all("date" in problem.what or "day" in problem.what for problem in caught.value.problems)


def test_every_cross_check_has_a_case(tmp_path: Path) -> None:
    """Each check of sense finds something in at least one broken folder."""
    silent = {check.__name__ for check in CHECKS}
    for case in CASES:
        silent -= _speaking_checks(broken_folder(case, tmp_path / case.name))
    assert silent == set()


def _speaking_checks(folder: Path) -> set[str]:
    from journey.record import reader

    found: set[str] = set()

    def listen(draft: object) -> list[Problem]:
        found.update(check.__name__ for check in CHECKS if list(check(draft)))  # type: ignore[arg-type]
        return []

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(reader, "senseless", listen)
        with contextlib.suppress(FolderProblems):
            read_record(folder)
    return found


def test_problem_lines_point_at_what_they_quote() -> None:
    """Where a problem quotes what was written, that text stands in the line it names."""
    told = re.compile(
        r"^(?P<file>[a-z]+\.yaml):(?P<line>\d+): (?P<key>\S+): '(?P<text>[^']+)' (?!is missing|lines)", re.M
    )
    seen = 0
    for case in CASES:
        for found in told.finditer((case / "expected.txt").read_text(encoding="utf-8")):
            file = case / found["file"] if (case / found["file"]).exists() else SOUND / found["file"]
            line = file.read_text(encoding="utf-8").split("\n")[int(found["line"]) - 1]
            words = found["text"].removesuffix("...").split()
            assert any(word in line for word in words), (case.name, found[0], line)
            seen += 1
    assert seen > 30


@pytest.mark.parametrize("name", FILES)
def test_missing_file_is_told(name: str, tmp_path: Path) -> None:
    """A folder without one of its files says which."""
    folder = sound_folder(tmp_path)
    (folder / name).unlink()
    with pytest.raises(FolderProblems) as caught:
        read_record(folder)
    assert f"{name}: there is no such file; check the spelling" in str(caught.value).split("\n")


def test_missing_folder_is_told(tmp_path: Path) -> None:
    """A folder that is not there, or is a file, is a problem and no traceback."""
    for place in (tmp_path / "nowhere", SOUND / "salon.yaml"):
        with pytest.raises(FolderProblems, match="the folder cannot be opened"):
            read_record(place)


def test_linked_and_waiting_files_are_refused(tmp_path: Path) -> None:
    """No link is followed and no pipe waited for, for files, notes and photos alike."""
    folder = sound_folder(tmp_path)
    (folder / "salon.yaml").unlink()
    (folder / "salon.yaml").symlink_to("/etc/passwd")
    (folder / "notes/first.md").unlink()
    (folder / "notes/first.md").symlink_to("/dev/zero")
    (folder / "photos/home.jpg").unlink()
    os.mkfifo(folder / "photos/home.jpg")
    with pytest.raises(FolderProblems) as caught:
        read_record(folder)
    told = str(caught.value)
    assert "salon.yaml: it is a link to somewhere else; put a copy of the file itself here" in told
    assert "journey.yaml:18: visits[1].words: 'notes/first.md': it is a link to somewhere else" in told
    assert "photos/home.jpg: it is a pipe, socket or device" in told
    assert "root:" not in told


def test_note_longer_than_64_kb_is_refused(tmp_path: Path) -> None:
    """A text long enough to keep a Markdown parser busy is refused, in a note and in the file itself."""
    folder = sound_folder(tmp_path)
    (folder / "notes/first.md").write_text("[" * 70_000, encoding="utf-8")
    journey = (folder / "journey.yaml").read_text(encoding="utf-8")
    (folder / "journey.yaml").write_text(
        journey.replace("Lighten what has grown.", "a*" * 35_000), encoding="utf-8"
    )
    with pytest.raises(FolderProblems) as caught:
        read_record(folder)
    assert [(problem.line, problem.key) for problem in caught.value.problems] == [
        (18, "visits[1].words"),
        (137, "options[1].words"),
    ]


def test_wording_longer_than_64_kb_is_refused(tmp_path: Path) -> None:
    """Nor is such a note opened only to be hashed."""
    folder = sound_folder(tmp_path)
    (folder / "notes/consent.md").write_text("yes " * 20_000, encoding="utf-8")
    with pytest.raises(FolderProblems, match=r"larger than 64 KiB; save a smaller copy"):
        read_record(folder)


def test_one_problem_stays_one_readable_line(tmp_path: Path) -> None:
    """A novel where a number belongs is quoted in part."""
    folder = sound_folder(tmp_path)
    journey = (folder / "journey.yaml").read_text(encoding="utf-8")
    novel = "once upon a time " * 500
    for written in ("24 cm", "salon\n", "all\n", "2.5", "0.4 0.35 0.12 0.1"):
        journey = journey.replace(written, f"{novel}\n", 1)
    (folder / "journey.yaml").write_text(journey, encoding="utf-8")
    with pytest.raises(FolderProblems) as caught:
        read_record(folder)
    assert len(caught.value.problems) == 5
    assert max(len(str(problem)) for problem in caught.value.problems) < 500


def test_private_values_are_quoted_in_no_problem(tmp_path: Path) -> None:
    """Whatever is wrong with a value of identity.yaml, it is not repeated on a screen that others may see."""
    folder = sound_folder(tmp_path)
    secret = "Zweiundzwanzig Quittenbäume"
    identity = f"name: |\n  {secret}\n  {secret}\nborn: {secret}\nphones: {secret}\nregion: {'9' * 9}\n"
    identity += f"emails: [{{a: {secret}}}]\naddresses: ['{secret * 20}']\n"
    (folder / "identity.yaml").write_text(identity, encoding="utf-8")
    with pytest.raises(FolderProblems) as caught:
        read_record(folder)
    assert len(caught.value.problems) == 6
    assert "Quittenb" not in str(caught.value)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(name=st.sampled_from(FILES), content=st.one_of(st.binary(max_size=400), st.text(max_size=400)))
def test_arbitrary_content_raises_folder_problems_only(
    name: str, content: bytes | str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Whatever bytes a file holds, the reader answers with problems and nothing else."""
    folder = sound_folder(tmp_path_factory.mktemp("any"))
    raw = content if isinstance(content, bytes) else content.encode("utf-8", "surrogatepass")
    (folder / name).write_bytes(raw)
    with pytest.raises(FolderProblems) as caught:
        read_record(folder)
    assert str(caught.value).isprintable() or "\n" in str(caught.value)


LINES = {name: (SOUND / name).read_text(encoding="utf-8").split("\n") for name in FILES}
SCRAPS = (
    "",
    "- ",
    "key: x",
    "[]",
    "{}",
    "''",
    "~",
    "no",
    "9" * 30,
    "-1",
    "nan",
    "1e9",
    "&a b",
    "*a",
    "? ",
    ": ",
    "|",
)


@st.composite
def disturbed_file(draw: st.DrawFn) -> tuple[str, str]:
    """A file of the sound folder with some lines lost, doubled, set in or filled with something else."""
    name = draw(st.sampled_from(FILES))
    lines = list(LINES[name])
    for _ in range(draw(st.integers(1, 4))):
        at = draw(st.integers(0, len(lines) - 1))
        head = re.match(r" *(?:- )?(?:\w+: ?)?", lines[at])
        scrap = draw(st.sampled_from(SCRAPS) | st.text(max_size=12))
        lines[at : at + 1] = draw(
            st.sampled_from(
                [[], [lines[at]] * 2, [f"  {lines[at]}"], [f"{head[0] if head else ''}{scrap}"], [scrap]]
            )
        )
        lines = lines or [""]
    return name, "\n".join(lines)


def problems_of(folder: Path) -> tuple[Problem, ...]:
    """What is wrong with a folder; empty when it reads."""
    try:
        read_record(folder)
    except FolderProblems as caught:
        return caught.problems
    return ()


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(disturbed=disturbed_file())
def test_disturbed_files_are_read_or_told(
    disturbed: tuple[str, str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Near misses of a good file end as a record or as problems with lines that exist."""
    name, text = disturbed
    folder = sound_folder(tmp_path_factory.mktemp("near"))
    (folder / name).write_text(text, encoding="utf-8")
    for problem in problems_of(folder):
        lines = (folder / problem.file).read_text(encoding="utf-8").count("\n") + 1
        assert 0 <= problem.line <= lines
        assert "\n" not in str(problem)
