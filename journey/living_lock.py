"""Locks on folders that say: the run that works here is alive.

It decides whose life is meant: that of the process that took the lock. A worker that was copied from it inherits
its open files, and would keep the lock of a run that was killed; so it lets go of them as soon as it begins.
"""

from __future__ import annotations

import fcntl
import os

_held: set[int] = set()


def hold(handle: int, operation: int) -> None:
    """Lock an open folder for as long as this process lives, or until `let_go`; `operation` as for flock."""
    fcntl.flock(handle, operation)
    _held.add(handle)


def let_go(handle: int) -> None:
    """Close the folder, and with it the lock; nothing, where a process that was copied has done so already."""
    if handle in _held:
        _held.remove(handle)
        os.close(handle)


def _let_go_of_inherited() -> None:
    for handle in tuple(_held):
        let_go(handle)


os.register_at_fork(after_in_child=_let_go_of_inherited)
