"""Who does the work: this process alone, a few processes beside it, or an engine that is there already.

It decides how many and how they are started; what they do is handed to them as a `concurrent.futures` executor. An
engine elsewhere must see the same folders under the same names.
"""

from __future__ import annotations

import multiprocessing
import os
import sys
import threading
import time
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from typing import Any, cast

from journey.errors import JourneyError
from journey.tool_version import tool_version

_LOOKS_EVERY_S = 1.0


class NoEngineError(JourneyError):
    """The engine is not installed here, or does not answer."""


def processors() -> int:
    """How many this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


@contextmanager
def workers(count: int, scheduler: str | None = None) -> Iterator[Executor | None]:
    """An executor of so many processes, or that of a Dask scheduler at an address; None for one worker.

    Raises NoEngineError.
    """
    if scheduler is not None:
        with _engine(scheduler) as executor:
            yield executor
        return
    if count < 2:
        yield None
        return
    # Once, for all of them.
    tool_version()
    # On Linux a copy of this process, with everything imported; elsewhere copying is not safe.
    method = "fork" if sys.platform == "linux" else "spawn"
    context = multiprocessing.get_context(method)
    executor = ProcessPoolExecutor(count, context, initializer=_end_with, initargs=(os.getpid(),))
    try:
        yield executor
    finally:
        executor.shutdown(cancel_futures=True)


def _end_with(parent: int) -> None:
    """Let this worker end soon after the process that started it: killed, that can tell it nothing any more."""

    def watch() -> None:
        while os.getppid() == parent:
            time.sleep(_LOOKS_EVERY_S)
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()


@contextmanager
def _engine(address: str) -> Iterator[Executor]:
    try:
        import distributed
    except ImportError:
        raise NoEngineError("a cluster needs Dask: pip install 'colour-journey[cluster]'") from None
    try:
        # The library tells no types.
        client: Any = distributed.Client(address, timeout="5s")  # type: ignore[no-untyped-call]
    except (OSError, TimeoutError, ValueError):
        raise NoEngineError(f"no scheduler answers at {address}") from None
    with client:
        yield cast("Executor", client.get_executor(pure=False))
