"""Readers find the old site or the new one, whenever the publisher is killed; what is not ours stays."""

from __future__ import annotations

import errno
import fcntl
import json
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from journey.site import publish as publishing
from journey.site.publish import (
    FIXED_TIME,
    NotOurFolderError,
    PublishBusyError,
    PublishError,
    publish,
    settle,
    staging_folder,
    unpublish,
)

FILES = ("index.html", "style.css", "pictures/p01.jpg", "pictures/p02.jpg", "data/readings.csv")


def write_generation(folder: Path, generation: int) -> None:
    for name in FILES:
        path = folder / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(f"{generation} of {name}")


def publish_generation(target: Path, generation: int) -> None:
    with staging_folder(target) as staging:
        write_generation(staging, generation)
        publish(staging, target)


def generations_at(target: Path) -> set[str]:
    return {(target / name).read_text().split()[0] for name in FILES}


@pytest.fixture
def target(tmp_path: Path) -> Path:
    return tmp_path / "sites" / "class"


def test_a_site_is_published_replaced_and_leaves_nothing_beside_it(target: Path) -> None:
    """First publication, then a second: the old generation is gone, and only a hidden note stands by."""
    for generation in (1, 2):
        publish_generation(target, generation)
        assert generations_at(target) == {str(generation)}
        assert sorted(path.name for path in target.parent.iterdir()) == [".class.site", "class"]


def test_files_say_nothing_of_when_and_by_whom_they_were_written(target: Path) -> None:
    """One time, one mode for files and one for folders, whatever the umask was."""
    before = os.umask(0o077)
    try:
        publish_generation(target, 1)
    finally:
        os.umask(before)
    for path in [target, *target.rglob("*")]:
        facts = path.stat()
        assert facts.st_mtime == FIXED_TIME, path
        assert facts.st_mode & 0o777 == (0o755 if path.is_dir() else 0o644), path


# What the killed child does: it counts the lines run inside the publishing module and dies at the chosen one.
CHILD = """
import json, os, random, signal, sys, time
from pathlib import Path
from journey.site import publish as publishing
from tests.site.test_publish import FILES, generations_at, publish_generation

target = Path(sys.argv[1])
here = publishing.__file__

def publish_until(line_count, generation):
    # Kills itself at the chosen line of the module; line 0 means to count them all.
    lines = 0
    def watch(frame, event, argument):
        nonlocal lines
        if frame.f_code.co_filename != here:
            return None
        if event == "line":
            lines += 1
            if lines == line_count:
                os.kill(os.getpid(), signal.SIGKILL)
        return watch
    sys.settrace(watch)
    publish_generation(target, generation)
    sys.settrace(None)
    return lines

publish_generation(target, 0)
total = publish_until(0, 1)
chance = random.Random(20240903)
expected, missing, torn, killed, at = {"1"}, 0, 0, 0, []
for number in range(int(sys.argv[2])):
    generation, by_time, line = number + 2, number % 4 == 0, chance.randrange(1, total)
    child = os.fork()
    if child == 0:
        while by_time:
            publish_generation(target, generation)
        publish_until(line, generation)
        os._exit(0)
    if by_time:
        time.sleep(chance.random() * 0.03)
        os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    killed += os.WIFSIGNALED(status)
    try:
        found = generations_at(target)
    except FileNotFoundError:
        missing += 1
        continue
    if len(found) != 1 or not found <= expected | {str(generation)}:
        torn += 1
    expected = found
publish_generation(target, 9999)
left = sorted(path.name for path in target.parent.iterdir())
print(json.dumps({"killed": killed, "missing": missing, "torn": torn, "left": left, "lines": total,
                  "last": sorted(generations_at(target))}))
"""


def test_killed_at_any_point_the_site_is_whole(target: Path) -> None:
    """200 publishers killed by SIGKILL, 150 at a seeded line of the module and 50 at a seeded time: 0 sites
    missing, 0 torn, and the next publication clears away what they left."""
    run = subprocess.run(
        [sys.executable, "-c", CHILD, str(target), "200"],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )
    assert run.returncode == 0, run.stderr
    outcome = json.loads(run.stdout)
    assert outcome["killed"] == 200
    assert outcome["lines"] > 60
    assert (outcome["missing"], outcome["torn"]) == (0, 0)
    assert outcome["left"] == [".class.site", "class"]
    assert outcome["last"] == ["9999"]


def test_a_reader_by_handle_never_sees_a_mix(target: Path) -> None:
    """While generations change, whoever opened the folder reads one of them to its end (with some grace)."""
    publish_generation(target, 0)
    stop = threading.Event()
    seen: list[set[str]] = []

    def read() -> None:
        while not stop.is_set():
            handle = os.open(target, os.O_RDONLY | os.O_DIRECTORY)
            try:
                found = set()
                for name in FILES:
                    with os.fdopen(os.open(name, os.O_RDONLY, dir_fd=handle)) as file:
                        found.add(file.read().split()[0])
                seen.append(found)
            finally:
                os.close(handle)

    reader = threading.Thread(target=read)
    reader.start()
    try:
        for generation in range(1, 15):
            with staging_folder(target) as staging:
                write_generation(staging, generation)
                publish(staging, target, grace_s=0.02)
    finally:
        stop.set()
        reader.join()
    assert len(seen) > 20
    assert all(len(found) == 1 for found in seen)
    assert len(set().union(*seen)) > 3


@pytest.mark.parametrize("code", [errno.ENOSYS, errno.EINVAL])
def test_without_the_exchange_two_renames_do(
    target: Path, code: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On file systems that can not exchange, and when the second rename fails the first is taken back."""

    def cannot(one: Path, other: Path) -> None:
        raise OSError(code, "cannot")

    publish_generation(target, 1)
    monkeypatch.setattr(publishing, "_exchange", cannot)
    publish_generation(target, 2)
    assert generations_at(target) == {"2"}
    assert sorted(path.name for path in target.parent.iterdir()) == [".class.site", "class"]
    real = Path.rename

    def stubborn(self: Path, other: Path) -> Path:
        if ".new-" in self.name:
            raise OSError(errno.EIO, "input/output error")
        return real(self, other)

    monkeypatch.setattr(Path, "rename", stubborn)
    with pytest.raises(PublishError, match="input/output"):
        publish_generation(target, 3)
    assert generations_at(target) == {"2"}


def test_a_run_cut_off_between_two_renames_is_put_right(target: Path) -> None:
    """The old generation comes back first, then the new one takes its place."""
    publish_generation(target, 1)
    target.rename(target.with_name(".class.old"))
    publish_generation(target, 2)
    assert generations_at(target) == {"2"}
    assert sorted(path.name for path in target.parent.iterdir()) == [".class.site", "class"]


def test_work_left_over_is_cleared_but_living_work_is_not(target: Path) -> None:
    """Folders of dead runs go at the next publication; one that somebody is writing stays."""
    publish_generation(target, 1)
    dead = target.with_name(".class.new-dead")
    write_generation_into(dead)
    other = target.with_name(".client.new-other")
    other.mkdir()
    with staging_folder(target) as living:
        write_generation(living, 7)
        publish_generation(target, 2)
        assert living.is_dir()
        assert not dead.exists()
        assert other.is_dir()
        publish(living, target)
    assert generations_at(target) == {"7"}


def test_a_worker_does_not_keep_the_work_of_a_killed_run_alive(target: Path) -> None:
    """Processes copied from a run may outlive it; what it was writing goes at the next publication anyway."""
    told, tell = os.pipe()
    waits, release = os.pipe()
    run = os.fork()
    if not run:
        with staging_folder(target) as staging:
            write_generation(staging, 7)
            if not os.fork():
                os.write(tell, b"!")
                os.close(release)
                os.read(waits, 1)
                os._exit(0)
            os.kill(os.getpid(), signal.SIGKILL)
    os.waitpid(run, 0)
    assert os.read(told, 1) == b"!"
    publish_generation(target, 2)
    os.close(release)
    assert sorted(path.name for path in target.parent.iterdir()) == [".class.site", "class"]


def write_generation_into(folder: Path) -> None:
    folder.mkdir()
    write_generation(folder, 0)


def test_one_publisher_at_a_time(target: Path) -> None:
    """A second one is refused when it will not wait, and waits its turn otherwise."""
    publish_generation(target, 1)
    handle = os.open(target.parent, os.O_RDONLY)
    fcntl.flock(handle, fcntl.LOCK_EX)
    staging = target.with_name("by-hand")
    staging.mkdir()
    write_generation(staging, 2)
    with pytest.raises(PublishBusyError):
        publish(staging, target, wait=False)
    assert generations_at(target) == {"1"}
    waiting = threading.Thread(target=publish, args=(staging, target))
    waiting.start()
    waiting.join(0.1)
    assert waiting.is_alive()
    assert generations_at(target) == {"1"}
    os.close(handle)
    waiting.join(10)
    assert generations_at(target) == {"2"}


def test_what_was_not_published_from_here_is_never_replaced_or_removed(target: Path) -> None:
    """Somebody's folder, file or link of that name stays as it is."""
    target.mkdir(parents=True)
    (target / "diary.txt").write_text("mine")
    linked = target.with_name("linked")
    linked.symlink_to(target)
    plain = target.with_name("plain")
    plain.write_text("mine")
    for place in (target, linked, plain):
        with pytest.raises(NotOurFolderError):
            publish_generation(place, 1)
        with pytest.raises(NotOurFolderError):
            unpublish(place)
    assert (target / "diary.txt").read_text() == "mine"
    assert linked.is_symlink()
    assert plain.read_text() == "mine"
    (target / "diary.txt").unlink()
    publish_generation(target, 1)
    assert generations_at(target) == {"1"}


@pytest.mark.parametrize("odd", ["link", "pipe", "missing", "file"])
def test_a_staging_folder_must_be_plain(target: Path, odd: str) -> None:
    """Links and pipes in a finished site, or no folder at all: refused, and the readers' site untouched."""
    publish_generation(target, 1)
    staging = target.with_name("by-hand")
    if odd == "file":
        staging.write_text("")
    elif odd != "missing":
        write_generation_into(staging)
        (staging / "out").symlink_to("/etc/passwd") if odd == "link" else os.mkfifo(staging / "out")
    with pytest.raises(PublishError):
        publish(staging, target)
    assert generations_at(target) == {"1"}


def test_withdrawal_removes_the_site_and_every_generation(target: Path) -> None:
    """Site, old generation, work of dead runs and the note: nothing is left, and asking twice is no error."""
    publish_generation(target, 1)
    write_generation_into(target.with_name(".class.new-dead"))
    write_generation_into(target.with_name(".class.old"))
    publish_generation(target.with_name("client"), 1)
    unpublish(target)
    assert sorted(path.name for path in target.parent.iterdir()) == [".client.site", "client"]
    unpublish(target)
    unpublish(target.parent / "never" / "there")


def test_everything_is_on_disk_before_it_is_seen(target: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Files are synced before their folders, all of them before the exchange, the parent after it."""
    publish_generation(target, 1)
    events: list[str] = []
    real_sync, real_swap = publishing._sync, publishing._change_places

    def sync(path: Path) -> None:
        events.append(path.name if ".new-" not in path.name else "staging")
        real_sync(path)

    def swap(staging: Path, place: Path) -> None:
        events.append("exchange")
        real_swap(staging, place)

    monkeypatch.setattr(publishing, "_sync", sync)
    monkeypatch.setattr(publishing, "_change_places", swap)
    publish_generation(target, 2)
    names = [name.rpartition("/")[2] for name in FILES]
    assert events[-2:] == ["exchange", "sites"]
    assert events[-3] == "staging"
    assert sorted(events[: len(FILES)]) == sorted(names)
    assert set(events[len(FILES) : -3]) == {"pictures", "data"}


def test_settling_can_be_done_before_the_audit(tmp_path: Path) -> None:
    """The times and modes that will be published can be looked at beforehand."""
    write_generation(tmp_path, 1)
    settle(tmp_path)
    assert {path.stat().st_mtime for path in tmp_path.rglob("*")} == {FIXED_TIME}
