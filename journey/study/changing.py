"""How far colours have moved: between days on one place, and between places on one day.

It decides which pairs are worth telling; the measures are CIEDE2000 (with lightness weighed less, as photos
repeat it less well) and the grey-scale grade of ISO 105-A05. A change smaller than two such readings of
unchanged hair can differ by is said to be 'not distinguishable from no change'. A grade carries the grades it may
be as well, the difference being that much larger or smaller.
"""

from __future__ import annotations

from collections.abc import Sequence

from journey.colour.difference import delta_e_2000, hue_chroma_lightness
from journey.colour.fade_path import TRACKING_K_L
from journey.colour.grey_scale import graded, grey_scale_grade
from journey.colour.reading_limits import smallest_difference_in_one_photo, smallest_real_change
from journey.study.model import Change, Fade, Reading


def study_changes(readings: Sequence[Reading], fades: Sequence[Fade], light_spread: float) -> tuple[Change, ...]:
    """From each fresh colour to every later reading of it, then between places on the last day read."""
    by_key = {reading.key: reading for reading in readings}
    pairs = ((by_key[fade.fresh], by_key[key]) for fade in fades for *_, key in fade.measured)
    changes = [change(fresh, later, light_spread) for fresh, later in pairs]
    return (*changes, *_between_places(readings, light_spread))


def _between_places(readings: Sequence[Reading], light_spread: float) -> list[Change]:
    if not readings:
        return []
    last = max(reading.day for reading in readings)
    same = [reading for reading in readings if reading.day == last and reading.stage in ("before", "home")]
    if not same:
        same = [reading for reading in readings if reading.day == last]
    by_photo: dict[str, list[Reading]] = {}
    for reading in same:
        by_photo.setdefault(reading.photo, []).append(reading)
    return [
        change(first, second, light_spread)
        for together in by_photo.values()
        for number, first in enumerate(together)
        for second in together[number + 1 :]
    ]


def change(earlier: Reading, later: Reading, light_spread: float) -> Change:
    """What two readings differ by; their own places and days tell what kind of change it is."""
    apart = float(delta_e_2000(earlier.body_lab, later.body_lab, k_L=TRACKING_K_L))
    parts = hue_chroma_lightness(earlier.body_lab, later.body_lab)
    grade = grey_scale_grade(earlier.body_lab, later.body_lab)
    limit = _limit(earlier, later, light_spread)
    # The limit is CIEDE2000; along this difference it is worth so much of the grey scale's own measure.
    slack = limit * (grade.delta_e_f / apart if apart > 0 else 1.0)
    return Change(
        place=later.place,
        earlier=earlier.key,
        later=later.key,
        delta_e_2000=apart,
        lightness=float(parts.lightness),
        chroma=float(parts.chroma),
        hue=float(parts.hue),
        grade=grade,
        grade_if_more=graded(grade.delta_e_f + slack),
        grade_if_less=graded(max(0.0, grade.delta_e_f - slack)),
        limit=limit,
        distinguishable=apart > limit,
    )


def _limit(earlier: Reading, later: Reading, light_spread: float) -> float:
    if earlier.photo == later.photo:
        return smallest_difference_in_one_photo(light_spread)
    return smallest_real_change(earlier.limit, later.limit, same_lamp=earlier.light == later.light)
