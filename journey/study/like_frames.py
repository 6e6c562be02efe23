"""Which earlier photo each photo has to be framed like, and what is said of its readings when it is not.

It decides that a photo is held against the same view at the visit before: photos from home are framed as it
happens, so they serve only where no visit shows that view. The comparison stands in `journey.colour.framing`.
A reading from another frame is kept and marked weak: the patch may lie on other hair, in other light.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import replace

from journey.colour.framing import frame_checks
from journey.colour.reason import Reason
from journey.study.model import PhotoStudy, Reading


def frames_compared(studies: Sequence[PhotoStudy], visits: Set[str]) -> tuple[PhotoStudy, ...]:
    """The photos, in order of day, with their frame checks; `visits` are the keys of entries that are visits."""
    return tuple(
        study if earlier is None else _compared(study, earlier)
        for number, study in enumerate(studies)
        for earlier in [_earlier(study, studies[:number], visits)]
    )


def _earlier(study: PhotoStudy, before: Sequence[PhotoStudy], visits: Set[str]) -> PhotoStudy | None:
    """The first photo of this view at the last visit before that shows it, else at the last entry."""
    same = [one for one in before if one.view == study.view and one.entry != study.entry]
    at_visits = [one for one in same if one.entry in visits]
    chosen = at_visits or same
    return next((one for one in chosen if one.entry == chosen[-1].entry), None)


def _compared(study: PhotoStudy, earlier: PhotoStudy) -> PhotoStudy:
    checks = frame_checks(study.outline, earlier.outline)
    failed = tuple(check.reason for check in checks if not check.passed)
    readings = tuple(_weaker(reading, failed) for reading in study.readings)
    return replace(study, checks=(*study.checks, *checks), readings=readings)


def _weaker(reading: Reading, failed: tuple[Reason, ...]) -> Reading:
    return replace(reading, weak=tuple(dict.fromkeys((*reading.weak, *failed)))) if failed else reading
