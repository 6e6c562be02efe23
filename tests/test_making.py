"""Sites in work: begun while the next edition is prepared, and cleared away when that goes wrong."""

from __future__ import annotations

import threading
from collections.abc import Callable
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from journey import making
from journey.cache import NOT_KEPT
from journey.edition.consent import Refusal
from journey.making import Making, Outcome, Task
from journey.record.model import Audience
from journey.site.theme import load_theme
from tests.edition_example import example_edition


def task(audience: Audience, to: Path) -> Task:
    edition = example_edition(audience)
    assert not isinstance(edition, Refusal)
    return Task(audience, edition, to, load_theme(), NOT_KEPT, (), (), ())


def test_an_edition_is_made_while_the_next_is_prepared_and_published_with_it(tmp_path: Path) -> None:
    """Begun at once where there are workers; there for readers only when all are finished."""
    with ThreadPoolExecutor(2) as executor, Making(executor) as work:
        work.add(task(Audience.ARCHIVE, tmp_path))
        work.begin()
        (begun,) = work._begun
        assert begun.result(timeout=60).site == tmp_path / "archive"
        assert not (tmp_path / "archive").exists()
        work.add(task(Audience.CLIENT, tmp_path))
        outcomes = work.finish()
    assert {outcome.site for outcome in outcomes.values()} == {tmp_path / "archive", tmp_path / "client"}
    assert sorted(path.name for path in tmp_path.iterdir() if path.is_dir()) == ["archive", "client"]


class _Elsewhere(Future[Any]):
    """Cancelled, it is over for whoever waits."""

    def cancel(self) -> bool:
        return super().cancel() and not self.set_running_or_notify_cancel()


class _Engine(Executor):
    """One elsewhere: it never says that something is being done, so that it can be cancelled, and does it."""

    def submit(self, work: Callable[..., Any], /, *arguments: Any, **named: Any) -> Future[Any]:
        future = _Elsewhere()

        def do() -> None:
            done = work(*arguments, **named)
            if not future.cancelled():
                future.set_result(done)

        threading.Thread(target=do).start()
        return future


@pytest.mark.parametrize("executor", [lambda: ThreadPoolExecutor(2), _Engine], ids=["threads", "engine"])
def test_what_goes_wrong_meanwhile_waits_for_the_worker_and_leaves_nothing(
    executor: Callable[[], Executor], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A worker never writes in a folder that is cleared away already."""
    may_go_on, was_there = threading.Event(), []

    def slowly(task: Task, staging: Path) -> Outcome:
        may_go_on.wait(60)
        was_there.append(staging.is_dir())
        return Outcome(audience=task.audience, site=None)

    monkeypatch.setattr(making, "made", slowly)

    def prepare() -> None:
        with executor() as workers, Making(workers) as work:
            work.add(task(Audience.ARCHIVE, tmp_path))
            work.begin()
            threading.Timer(0.2, may_go_on.set).start()
            raise ValueError("the next one")

    with pytest.raises(ValueError, match="the next one"):
        prepare()
    assert was_there == [True]
    assert not any(path.is_dir() for path in tmp_path.iterdir())
