"""A value that can not be had, and why: what a computation gives back in place of a made-up number."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Absent:
    """Stands where a value would stand.  Test with ``isinstance(value, Absent)``."""

    reason: str
    """Why there is no value, as a sentence without a full stop, fit to be shown."""

    def __bool__(self) -> bool:
        return False
