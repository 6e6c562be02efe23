"""Compiles one client, or every client of a folder, and keeps account of who need not be compiled again.

It decides what becomes of the others when one client's folder is broken (they are made), how many are under way
at a time, and what is remembered of a client that was made. How one is made stands in `journey.pipeline`, what
counts as a change in `journey.up_to_date`.
"""

from __future__ import annotations

import time
from collections import deque
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import Final

from journey.cache import Cache
from journey.errors import JourneyError
from journey.making import Outcome
from journey.pipeline import Progress, compile_folder
from journey.record.model import Audience
from journey.site.theme import Theme
from journey.up_to_date import NEVER, Stand, files_of, stand_of
from journey.withdrawing import TakenBack
from journey.workshop import Workshop

_AHEAD: Final = 8
"""Clients handed out before their turn: enough for any worker to have one, few enough to be forgotten early."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientJob:
    """One client to be compiled. May be sent to another process."""

    folder: Path
    to: Path
    """Where her sites go."""
    all_sites: Path
    """Where all sites go: not a part of her folder, should it lie in it."""
    audiences: tuple[Audience, ...]
    theme: Theme
    today: date
    today_is_given: bool
    """Otherwise it is the real day, and her sites hold until a consent begins or ends."""
    as_of: date | None = None
    cache: Cache | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ClientMade:
    """What became of one client."""

    folder: Path
    outcomes: tuple[Outcome, ...] = ()
    taken_back: tuple[TakenBack, ...] = ()
    """Withdrawals acted upon now."""
    problems: str = ""
    """Why she was not made, a line each."""
    stand: Stand | None = None
    """How she stands, when nothing need be done until something changes."""

    @property
    def withdrawal_lines(self) -> list[str]:
        """What was taken down and who is to be told."""
        return [line for one in self.taken_back for line in one.lines()]

    @property
    def is_made(self) -> bool:
        """Some site of hers is there, and none was held back by the audit."""
        return any(one.site for one in self.outcomes) and not any(one.findings for one in self.outcomes)


def compile_client(
    job: ClientJob, executor: Executor | None = None, progress: Progress = lambda _: None
) -> ClientMade:
    """Make the sites of one client. Raises JourneyError when her folder can not be read or her sites not put."""
    before = files_of(str(job.folder), str(job.all_sites))
    taken_back: list[TakenBack] = []
    try:
        outcomes = compile_folder(
            job.folder,
            audiences=job.audiences,
            today=job.today,
            to=job.to,
            theme=job.theme,
            as_of=job.as_of,
            progress=progress,
            workshop=Workshop(job.cache, executor),
            on_withdrawal=taken_back.append,
        )
    except JourneyError as refused:
        if not taken_back:
            raise
        # What was acted upon is told once: it must not be lost because something else went wrong.
        lines = [line for one in taken_back for line in one.lines()]
        raise JourneyError("\n".join([*lines, str(refused)])) from refused
    made = ClientMade(folder=job.folder, outcomes=outcomes, taken_back=tuple(taken_back))
    if not made.is_made:
        return made
    stand = stand_of(
        str(job.folder),
        str(job.all_sites),
        before,
        sites=[str(job.to / audience) for audience in job.audiences],
        made_on="" if job.today_is_given else job.today.isoformat(),
        until=min((str(one.holds_until) for one in outcomes), default=NEVER),
    )
    return replace(made, stand=stand)


def compile_clients(
    jobs: Sequence[ClientJob], executor: Executor | None, progress: Progress = lambda _: None
) -> Iterator[ClientMade]:
    """Make the sites of many, in their order; a broken one is told in its result and stops nobody."""
    started = time.monotonic()
    for done, made in enumerate(_each(jobs, executor), 1):
        left_s = (time.monotonic() - started) / done * (len(jobs) - done)
        progress(f"{done} of {len(jobs)} clients, {time_left(left_s)}")
        yield made


def time_left(seconds: float) -> str:
    """Rounded, as it is a guess.

    >>> time_left(4), time_left(50), time_left(600), time_left(9000)
    ('a moment left', '50 s left', '10 min left', '2.5 h left')
    """
    if seconds < 10:
        return "a moment left"
    if seconds < 90:
        return f"{round(seconds, -1):.0f} s left"
    if seconds < 5400:
        return f"{seconds / 60:.0f} min left"
    return f"{seconds / 3600:.1f} h left"


def made_or_told(job: ClientJob) -> ClientMade:
    """As `compile_client`, with whatever went wrong told in the result."""
    try:
        return compile_client(job)
    except JourneyError as refused:
        return ClientMade(folder=job.folder, problems=str(refused))
    except Exception as error:
        # One client must not stop a night's work, whatever it is; it is told and the exit code says so.
        said = " ".join(str(error).split())[:200]
        return ClientMade(folder=job.folder, problems=f"an error of this tool: {type(error).__name__}: {said}")


def _each(jobs: Sequence[ClientJob], executor: Executor | None) -> Iterator[ClientMade]:
    """In order, with a few under way, so that results do not pile up."""
    if executor is None:
        yield from map(made_or_told, jobs)
        return
    waiting: deque[Future[ClientMade]] = deque()
    for job in jobs:
        waiting.append(executor.submit(made_or_told, job))
        if len(waiting) >= _AHEAD:
            yield waiting.popleft().result()
    while waiting:
        yield waiting.popleft().result()
