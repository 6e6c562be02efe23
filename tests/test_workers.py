"""Processes that share the work."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time

STARTS_AND_WAITS = """
import os, sys, time
from journey.workers import workers
with workers(2) as executor:
    print(*{executor.submit(os.getpid).result() for _ in range(20)}, flush=True)
    time.sleep(60)
"""


def _lives(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    return True


def test_workers_end_when_whoever_started_them_was_killed() -> None:
    """A killed run leaves no process behind that waits for work for ever."""
    with subprocess.Popen([sys.executable, "-c", STARTS_AND_WAITS], stdout=subprocess.PIPE, text=True) as run:
        assert run.stdout is not None
        started = [int(word) for word in run.stdout.readline().split()]
        assert started
        assert all(map(_lives, started))
        run.send_signal(signal.SIGKILL)
    for _ in range(100):
        if not any(map(_lives, started)):
            return
        time.sleep(0.1)
    raise AssertionError(f"still there: {[one for one in started if _lives(one)]}")
