"""A salon of many small clients: compiled cold, and left as it was."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from journey.up_to_date import NEVER, Register, files_of, stand_of
from tests.benchmark.measure import python, row, run_once
from tests.small_client import small_client

_BEGUN = "journey.command, journey.clients, journey.site.writer"
_LOADED = f"{_BEGUN}, journey.site.charts.drawing, scipy.interpolate, scipy.ndimage, scipy.optimize"
LONG_AGO_NS = 1_700_000_000_000_000_000


@dataclass(frozen=True, slots=True)
class Salon:
    arguments: tuple[str, ...]
    files: int


def unchanged_salon(folder: Path, count: int) -> Salon:
    """So many clients with the sites and the list that a compile would have left."""
    first, to = small_client(folder / "first"), folder / "sites"
    clients = folder / "clients"
    clients.mkdir()
    arguments = ("compile", str(clients), "--to", str(to))
    register = Register(list(arguments[1:]), str(clients), str(to))
    files = 0
    for number in range(count):
        client = clients / f"client-{number:04}"
        shutil.copytree(first, client)
        for path in client.rglob("*"):
            os.utime(path, ns=(LONG_AGO_NS, LONG_AGO_NS))
            files += path.is_file()
        sites = [to / client.name / audience for audience in ("client", "class", "archive")]
        (sites[0] / "pictures").mkdir(parents=True)
        (sites[0] / "index.html").write_text("<p>")
        before = files_of(str(client), str(to))
        stand = stand_of(
            str(client), str(to), before, sites=[str(site) for site in sites], made_on="", until=NEVER
        )
        assert stand is not None
        register.stands[str(client)] = stand
    register.rewrite()
    return Salon(arguments, files)


def many_rows(work: Path, counts: list[int]) -> Iterator[str]:
    """Time and memory per client, cold, at each number of clients; starting is not counted.

    Processor time: an hour is long enough for the machine to have other things to do.
    """
    first: tuple[float, float] | None = None
    begun_s, loaded_s = (run_once(python("-c", f"import {names}")).cpu_s for names in (_BEGUN, _LOADED))
    # Each of two workers loads for itself what it is the first to call.
    start_s = begun_s + 2 * (loaded_s - begun_s)
    for count in counts:
        clients = work / f"salon-{count}"
        for number in range(count):
            small_client(clients / f"client-{number:04}", seed=number)
        to = work / f"sites-{count}"
        command = [str(Path(python()[0]).with_name("journey")), "compile", str(clients), "--to", str(to)]
        taken = run_once([*command, "--for", "client"])
        each_s = (taken.cpu_s - start_s) / count
        first = first or (each_s, taken.peak_mb)
        yield row(
            f"{count:,} small clients cold: time per client ÷ that of {counts[0]}",
            each_s / first[0],
            "0.8 to 1.2",
            f"{each_s:.2f} s of one processor each, {taken.wall_s / count:.2f} s on the clock",
        )
        yield row(
            f"{count:,} small clients cold: peak memory ÷ that of {counts[0]}",
            taken.peak_mb / first[1],
            "≤ 1.2",
            f"{taken.peak_mb:.0f} MB the largest process",
        )
        shutil.rmtree(clients)
        shutil.rmtree(to)
