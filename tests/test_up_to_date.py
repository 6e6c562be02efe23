"""Nothing changed, nothing done; anything changed, and it is noticed."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from journey import up_to_date
from journey.entry import still_holds
from journey.up_to_date import NEVER, Register, clients_in, files_of, stand_of

OLD_NS = 1_600_000_000_000_000_000


@pytest.fixture(autouse=True)
def _kept_here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "kept"))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A client's folder that was written long ago."""
    folder = tmp_path / "client"
    (folder / "photos").mkdir(parents=True)
    for name in ("journey.yaml", "consent.yaml", "photos/a.jpg", "photos/b.jpg"):
        (folder / name).write_text(f"what stands in {name}")
        os.utime(folder / name, ns=(OLD_NS, OLD_NS))
    return folder


@pytest.fixture
def site(tmp_path: Path) -> Path:
    site = tmp_path / "sites" / "class"
    (site / "pictures").mkdir(parents=True)
    (site / "index.html").write_text("<p>")
    (site / "pictures" / "p01-480.avif").write_bytes(b"a")
    return site


ARGUMENTS = ["client", "--for", "class"]


def made(folder: Path, site: Path, *, on: str = "", until: str = NEVER) -> None:
    """As a compile leaves it."""
    to = str(site.parent)
    before = files_of(str(folder), to)
    stand = stand_of(str(folder), to, before, sites=[str(site)], made_on=on, until=until)
    assert stand is not None
    stand.said, stand.complained = "class: there\n", "client: not published\n"
    register = Register(ARGUMENTS, str(folder), to)
    register.add(str(folder), stand)


def test_what_was_said_is_said_again(folder: Path, site: Path) -> None:
    """On both outputs, for the same arguments in the same place only."""
    assert still_holds(ARGUMENTS) is None
    made(folder, site)
    assert still_holds(ARGUMENTS) == ("class: there\n", "client: not published\n")
    assert still_holds([*ARGUMENTS, "--for", "client"]) is None


def replaced(path: Path, text: str) -> None:
    """Another content of the same length and time, as a careful copier leaves it."""
    path.write_text(text)
    os.utime(path, ns=(OLD_NS, OLD_NS))


CHANGES: dict[str, Callable[[Path, Path], object]] = {
    "a text edited": lambda folder, _: (folder / "journey.yaml").write_text("other"),
    "a photo replaced by one as large": lambda folder, _: (folder / "photos" / "a.jpg").write_text(
        "What stands in photos/a.jpg"
    ),
    "a file moved in, with the size and time of the old": lambda folder, _: (
        replaced(folder / "photos" / "new", "What stands in photos/a.jpg"),
        (folder / "photos" / "new").replace(folder / "photos" / "a.jpg"),
    ),
    "a new file": lambda folder, _: (folder / "sign_off.yaml").write_text("signed"),
    "a new file in a new folder": lambda folder, _: (
        (folder / "notes").mkdir(),
        (folder / "notes" / "n.md").write_text("n"),
    ),
    "a file gone": lambda folder, _: (folder / "consent.yaml").unlink(),
    "a file renamed": lambda folder, _: (folder / "consent.yaml").rename(folder / "consent"),
    "the site gone": lambda _, site: site.rename(site.with_name("elsewhere")),
    "the page written over": lambda _, site: (site / "index.html").write_text("<p>x"),
    "a picture taken out": lambda _, site: (site / "pictures" / "p01-480.avif").unlink(),
}


@pytest.mark.parametrize("change", CHANGES)
def test_a_change_is_noticed(folder: Path, site: Path, change: str) -> None:
    """Any file of the folder, and the sites themselves."""
    made(folder, site)
    CHANGES[change](folder, site)
    assert still_holds(ARGUMENTS) is None


def test_a_file_that_only_looks_changed_is_hashed_once(
    folder: Path, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A new time or number with the old content is no change, and is not hashed a second time."""
    made(folder, site)
    for name in ("journey.yaml", "photos/a.jpg"):
        copied = (folder / name).read_text()
        (folder / name).unlink()
        replaced(folder / name, copied)
        os.utime(folder / name, ns=(OLD_NS, OLD_NS + 10**9))
    hashed = []
    real = up_to_date.sha256_of
    monkeypatch.setattr(up_to_date, "sha256_of", lambda path: (hashed.append(Path(path).name), real(path))[1])
    assert still_holds(ARGUMENTS) is not None
    assert sorted(hashed) == ["a.jpg", "journey.yaml"]
    assert still_holds(ARGUMENTS) is not None
    assert len(hashed) == 2


def test_a_file_written_just_before_the_build_is_looked_into(folder: Path, site: Path) -> None:
    """It may be written again within the same tick of the clock: its time proves nothing."""
    (folder / "journey.yaml").write_text("one")
    facts = (folder / "journey.yaml").stat()
    made(folder, site)
    with (folder / "journey.yaml").open("r+") as file:
        file.write("two")
    os.utime(folder / "journey.yaml", ns=(facts.st_atime_ns, facts.st_mtime_ns))
    assert still_holds(ARGUMENTS) is None


def test_a_folder_that_changed_during_the_build_is_not_written_down(folder: Path, site: Path) -> None:
    """What was read is then not what is there."""
    before = files_of(str(folder), "")
    (folder / "journey.yaml").write_text("edited meanwhile")
    assert stand_of(str(folder), "", before, sites=[str(site)], made_on="", until=NEVER) is None


@pytest.mark.parametrize(
    ("on", "until", "day", "holds"),
    [
        ("2026-06-13", "2026-07-01", "2026-06-13", True),
        ("2026-06-13", "2026-07-01", "2026-07-01", True),
        ("2026-06-13", "2026-07-01", "2026-07-02", False),
        ("2026-06-13", "2026-07-01", "2026-06-12", False),
        ("", NEVER, "2031-01-01", True),
    ],
)
def test_a_consent_that_ran_out_is_a_change(
    folder: Path, site: Path, monkeypatch: pytest.MonkeyPatch, on: str, until: str, day: str, holds: bool
) -> None:
    """Sites hold from the day they were made to the last before a consent begins or ends."""
    made(folder, site, on=on, until=until)
    monkeypatch.setattr(up_to_date, "today", lambda: day)
    assert (still_holds(ARGUMENTS) is not None) is holds


def test_another_version_of_the_tool_is_a_change(
    folder: Path, site: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The same files copied anew are not."""
    made(folder, site)
    monkeypatch.setattr(up_to_date, "tool_files_now", lambda: "copied anew")
    assert still_holds(ARGUMENTS) is not None
    monkeypatch.setattr(up_to_date, "tool_version", lambda: "another")
    assert still_holds(ARGUMENTS) is None


def test_a_run_cut_off_goes_on_where_it_stopped(tmp_path: Path, site: Path) -> None:
    """Clients are written down one by one; a torn last line costs that client alone."""
    register = Register(ARGUMENTS, str(tmp_path), "")
    for name in ("anna", "berta", "carla"):
        client = tmp_path / "salon" / name
        client.mkdir(parents=True)
        (client / "journey.yaml").write_text(name)
        stand = stand_of(str(client), "", files_of(str(client)), sites=[str(site)], made_on="", until=NEVER)
        assert stand is not None
        register.add(str(client), stand)
    whole = Path(register.path).read_bytes()
    Path(register.path).write_bytes(whole[:-5])
    again = Register(ARGUMENTS)
    assert again.load()
    clients = clients_in(str(tmp_path / "salon"))
    assert [Path(one).name for one in clients] == ["anna", "berta", "carla"]
    assert [again.is_clean(client) for client in clients] == [True, True, False]


@pytest.mark.parametrize("content", [b"", b"noise", b"9:up to date", b"12:up to date 1", b"99999999999:x"])
def test_a_damaged_list_costs_a_build_and_no_more(folder: Path, site: Path, content: bytes) -> None:
    """Whatever stands in it, it is taken for missing."""
    made(folder, site)
    Path(Register(ARGUMENTS).path).write_bytes(content)
    assert still_holds(ARGUMENTS) is None


def test_looking_imports_next_to_nothing() -> None:
    """Every module more is a share of the time it takes to say that nothing is to be done."""
    asked = (
        "import sys; before = set(sys.modules); sys.argv = ['journey', 'compile', 'nowhere']\n"
        "from journey.entry import still_holds; still_holds(['nowhere'])\n"
        "print(*sorted(set(sys.modules) - before))"
    )
    done = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True)
    assert done.stdout.split() == ["journey", "journey.entry", "journey.tool_version", "journey.up_to_date"]


def test_no_clock_but_the_day_is_asked() -> None:
    """Today is the day here, as people say it."""
    assert up_to_date.today() == time.strftime("%Y-%m-%d")
