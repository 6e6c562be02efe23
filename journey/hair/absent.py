"""A value that can not be had, and why: what a computation gives back in place of a made-up number."""

from __future__ import annotations

from dataclasses import dataclass

from journey.colour.reason import Reason


@dataclass(frozen=True, slots=True, init=False, repr=False)
class Absent(Reason):
    """Stands where a value would stand.  Test with ``isinstance(value, Absent)``.

    Its sentence stands in the theme under ``absent.<key>``, without a full stop.

    >>> Absent("no-developer"), bool(Absent("no-developer"))
    (Absent('no-developer'), False)
    """

    def __bool__(self) -> bool:
        return False
