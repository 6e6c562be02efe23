"""Two builds of one folder at once, as two real processes: one waits for the other, neither spoils the site."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from pathlib import Path

from tests.consenting_client import consenting_client
from tests.fingerprints import fingerprint

PAGES = ("index.html", "style.css", "hair.css")

PUBLISHER = """
import sys
from pathlib import Path
from journey.site.publish import publish, staging_folder

target, name = Path(sys.argv[1]), sys.argv[2]
for number in range(int(sys.argv[3])):
    with staging_folder(target) as staging:
        for page in ("index.html", "style.css", "hair.css"):
            (staging / page).write_text(f"{name}-{number} {page}" * 500)
        publish(staging, target, grace_s=0.01)
"""


PREVIEW = """
import sys
from pathlib import Path
from journey.preview import Watched
from journey.record.model import Audience

said = []
watched = Watched(Path(sys.argv[1]), Audience.CLIENT, Path(sys.argv[2]), said.append)
for _ in range(3):
    watched.seen = ""
    assert watched.look(), said
"""


def start(folder: Path, to: Path, *audiences: str) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "journey", "compile", str(folder)]
    for audience in audiences or ("client",):
        command += ["--for", audience]
    return subprocess.Popen(
        [*command, "--to", str(to), "--today", "2026-05-05"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )


def test_two_builds_at_once_both_end_well(tmp_path: Path) -> None:
    """Both say where the site is; it is byte for byte that of one build alone, with nothing left beside it."""
    folder, to = consenting_client(tmp_path), tmp_path / "sites"
    running = [start(folder, to), start(folder, to)]
    for process in running:
        said, complained = process.communicate(timeout=120)
        assert process.returncode == 0, complained
        assert str(to / "client" / "index.html") in said
        assert "Traceback" not in complained
    alone = start(folder, tmp_path / "alone")
    assert alone.communicate(timeout=120)
    assert alone.returncode == 0
    assert fingerprint(to / "client") == fingerprint(tmp_path / "alone" / "client")
    assert sorted(path.name for path in to.iterdir()) == [".client.site", "client"]


def test_builds_of_other_editions_and_a_preview_do_not_disturb_each_other(tmp_path: Path) -> None:
    """The client's edition, the archive's, both, and a preview made three times, all at once into two places."""
    folder, to, shown = consenting_client(tmp_path), tmp_path / "sites", tmp_path / "preview"
    running = [start(folder, to, *audiences) for audiences in (("client",), ("archive",), ("archive", "client"))]
    preview = subprocess.Popen(
        [sys.executable, "-c", PREVIEW, str(folder), str(shown)], stderr=subprocess.PIPE, text=True
    )
    for process in (*running, preview):
        _, complained = process.communicate(timeout=120)
        assert process.returncode == 0, complained
        assert "Traceback" not in complained
    alone = start(folder, tmp_path / "alone", "client", "archive")
    assert alone.communicate(timeout=120)
    assert alone.returncode == 0
    for audience in ("client", "archive"):
        assert fingerprint(to / audience) == fingerprint(tmp_path / "alone" / audience)
    assert fingerprint(shown / "client") == fingerprint(to / "client")
    assert sorted(path.name for path in to.iterdir()) == [".archive.site", ".client.site", "archive", "client"]
    assert not list(folder.glob(".*.new"))


def test_two_publishers_taking_turns_never_mix(tmp_path: Path) -> None:
    """Two processes of 40 generations each into one place, read all the while: each is of one generation."""
    target = tmp_path / "sites" / "client"
    running = [
        subprocess.Popen([sys.executable, "-c", PUBLISHER, str(target), name, "40"]) for name in ("one", "other")
    ]
    stop, seen = threading.Event(), set[frozenset[str]]()

    def read() -> None:
        while not stop.is_set():
            try:
                handle = os.open(target, os.O_RDONLY | os.O_DIRECTORY)
            except FileNotFoundError:
                # Not one is published yet.
                assert not seen
                continue
            try:
                found = set()
                for page in PAGES:
                    with os.fdopen(os.open(page, os.O_RDONLY, dir_fd=handle)) as file:
                        found.add(file.read().split()[0])
                seen.add(frozenset(found))
            except FileNotFoundError:
                # Slower than the grace: the generation opened is gone by now; the next opening finds another.
                continue
            finally:
                os.close(handle)

    trouble: list[BaseException] = []

    def watch() -> None:
        try:
            read()
        except BaseException as error:
            trouble.append(error)

    reader = threading.Thread(target=watch)
    reader.start()
    codes = [process.wait(timeout=120) for process in running]
    stop.set()
    reader.join()
    assert trouble == []
    assert codes == [0, 0]
    assert len(seen) > 10
    assert all(len(found) == 1 for found in seen)
    assert {next(iter(found)).split("-")[0] for found in seen} == {"one", "other"}
    assert sorted(path.name for path in target.parent.iterdir()) == [".client.site", "client"]
