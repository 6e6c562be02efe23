"""Many clients: the same by threads, processes or a cluster; a broken one stops nobody; what is made is kept."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from concurrent.futures import Executor, ThreadPoolExecutor
from contextlib import AbstractContextManager, nullcontext
from datetime import date
from pathlib import Path

import pytest

from journey.cache import Cache
from journey.clients import ClientJob, compile_clients
from journey.pipeline import compile_folder
from journey.record.model import Audience
from journey.site.theme import load_theme
from journey.workers import NoEngineError, workers
from journey.workshop import Workshop
from tests.fingerprints import fingerprint
from tests.small_client import small_client

TODAY = date(2026, 6, 1)


@pytest.fixture(scope="module")
def salon(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Three clients, the second of them broken."""
    salon = tmp_path_factory.mktemp("clients") / "salon"
    for seed, name in enumerate(("anna", "berta", "carla")):
        small_client(salon / name, seed)
    journey = salon / "berta" / "journey.yaml"
    journey.write_text(journey.read_text().replace("natural_level: 5 ", "natural_level: 55 "))
    return salon


def jobs(salon: Path, to: Path, cache: Cache | None = None) -> list[ClientJob]:
    return [
        ClientJob(
            folder=folder,
            to=to / folder.name,
            all_sites=to,
            audiences=(Audience.CLIENT,),
            theme=load_theme(),
            today=TODAY,
            today_is_given=True,
            cache=cache,
        )
        for folder in sorted(salon.iterdir())
    ]


@pytest.fixture(scope="module")
def plain(salon: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sites made by one worker without a cache."""
    to = tmp_path_factory.mktemp("plain")
    list(compile_clients(jobs(salon, to), None))
    return to


def cluster() -> Iterator[Executor]:
    """A scheduler and two worker processes on this machine's own loopback address."""
    distributed = pytest.importorskip("distributed")
    options = {"n_workers": 2, "threads_per_worker": 1, "processes": True, "dashboard_address": None}
    with (
        distributed.LocalCluster(host="127.0.0.1", **options) as started,
        workers(1, started.scheduler_address) as executor,
    ):
        assert executor is not None
        yield executor


@pytest.fixture(scope="module", params=["none", "threads", "processes", "cluster"])
def executor(request: pytest.FixtureRequest) -> Iterator[Executor | None]:
    if request.param == "cluster":
        yield from cluster()
        return
    made: AbstractContextManager[Executor | None] = {
        "none": lambda: nullcontext(None),
        "threads": lambda: ThreadPoolExecutor(2),
        "processes": lambda: workers(2),
    }[request.param]()
    with made as one:
        yield one


def test_clients_are_the_same_whoever_makes_them(
    salon: Path, plain: Path, tmp_path: Path, executor: Executor | None
) -> None:
    """With a cache, in their order, the broken one told in one line and the others made."""
    cache = Cache.at(tmp_path / "kept")
    told: list[str] = []
    made = list(compile_clients(jobs(salon, tmp_path / "to", cache), executor, told.append))
    assert [one.is_made for one in made] == [True, False, True]
    assert "natural_level" in made[1].problems
    assert "Traceback" not in made[1].problems
    assert fingerprint(tmp_path / "to") == fingerprint(plain)
    assert len(fingerprint(plain)) > 20
    assert told[0].startswith("1 of 3 clients")


def test_one_client_is_the_same_by_any_workers(
    salon: Path, plain: Path, tmp_path: Path, executor: Executor | None
) -> None:
    """Photo by photo, first with an empty cache, then with a full one."""
    shop = Workshop(Cache.at(tmp_path / "kept"), executor)
    for turn in ("cold", "warm"):
        compile_folder(
            salon / "anna",
            audiences=[Audience.CLIENT],
            today=TODAY,
            to=tmp_path / turn,
            theme=load_theme(),
            workshop=shop,
        )
        assert fingerprint(tmp_path / turn) == fingerprint(plain / "anna")


def test_a_cluster_that_is_not_there_is_told(tmp_path: Path) -> None:
    """In one line, after a few seconds."""
    pytest.importorskip("distributed")
    with pytest.raises(NoEngineError, match="answers"), workers(1, "tcp://127.0.0.1:9"):
        pass


def run(salon: Path, to: Path, kept: Path, *more: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "journey", "compile", str(salon), "--for", "client", "--to", str(to)]
    environment = {**os.environ, "XDG_CACHE_HOME": str(kept)}
    return subprocess.run([*command, *more], capture_output=True, text=True, env=environment, check=False)


@pytest.mark.parametrize(
    ("seed", "zone", "how"),
    [
        ("1", "Pacific/Auckland", ("--fresh", "--workers", "1")),
        ("2", "America/Los_Angeles", ("--workers", "2")),
    ],
)
def test_seed_zone_workers_and_cache_change_no_byte(
    salon: Path, plain: Path, tmp_path: Path, seed: str, zone: str, how: tuple[str, ...]
) -> None:
    """Whole processes: one worker and nothing kept, or two with a cache."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("PYTHONHASHSEED", seed)
        patch.setenv("TZ", zone)
        day = ("--today", TODAY.isoformat())
        done = run(salon / "anna", tmp_path / "to", tmp_path / "kept", *how, *day)
    assert done.returncode == 0, done.stderr
    assert fingerprint(tmp_path / "to") == fingerprint(plain / "anna")
    assert (tmp_path / "kept" / "colour-journey").exists() is ("--fresh" not in how)


def test_the_end_says_who_was_not_made_and_why(salon: Path, plain: Path, tmp_path: Path) -> None:
    """Once more, only the broken one is tried; put right, all is as it was and nothing is done."""
    mine, to, kept = tmp_path / "salon", tmp_path / "to", tmp_path / "kept"
    shutil.copytree(salon, mine)
    first = run(mine, to, kept)
    assert first.returncode == 1
    assert first.stdout == "3 clients: 2 made, 0 as they were\n"
    assert first.stderr.splitlines()[0] == "berta: not made"
    assert first.stderr.splitlines()[1].startswith("  journey.yaml:")
    assert len(first.stderr.splitlines()) == 2
    assert fingerprint(to) == fingerprint(plain)
    assert run(mine, to, kept).stdout == "3 clients: 0 made, 2 as they were\n"
    journey = mine / "berta" / "journey.yaml"
    journey.write_text(journey.read_text().replace("natural_level: 55 ", "natural_level: 5 "))
    mended = run(mine, to, kept)
    assert (mended.returncode, mended.stdout, mended.stderr) == (0, "3 clients: 1 made, 2 as they were\n", "")
    assert run(mine, to, kept).stdout == "3 clients, nothing changed\n"
    shutil.rmtree(mine / "carla")
    assert run(mine, to, kept).stdout == "2 clients, nothing changed\n"


def test_a_run_cut_off_goes_on(salon: Path, tmp_path: Path) -> None:
    """Killed after the first client is made, the next run makes the others alone."""
    to, kept = tmp_path / "to", tmp_path / "kept"
    command = [sys.executable, "-m", "journey", "compile", str(salon), "--for", "client", "--to", str(to)]
    command += ["--workers", "1"]
    environment = {**os.environ, "XDG_CACHE_HOME": str(kept)}
    running = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environment)
    for _ in range(1200):
        if list((kept / "colour-journey" / "up-to-date").glob("*")) or running.poll() is not None:
            break
        time.sleep(0.05)
    running.send_signal(signal.SIGKILL)
    running.wait()
    again = run(salon, to, kept, "--workers", "1")
    made, as_they_were = (int(part.split()[0]) for part in again.stdout.partition(": ")[2].split(", "))
    assert as_they_were >= 1
    assert made + as_they_were == 2
