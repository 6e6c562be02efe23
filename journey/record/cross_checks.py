"""What is well formed and still makes no sense, found by an ordered row of checks.

Each check looks at the whole draft for one kind of nonsense. A new one is a function in `checks/`, a line
here, and a folder in tests/record/broken/.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from journey.errors import Problem
from journey.record.draft import Doubt, Draft

Check = Callable[[Draft], Iterator[Doubt]]

CHECKS: tuple[Check, ...] = ()
"""In the order they are run; problems are sorted by file and line afterwards."""


def senseless(draft: Draft) -> list[Problem]:
    """Every problem of sense in a folder."""
    found = [draft.problem(doubt) for check in CHECKS for doubt in check(draft)]
    return [problem for problem in found if problem is not None]
