"""How far colours have moved: between days on one place, and between places on one day.

It decides which pairs are worth telling; the measures are CIEDE2000 (with lightness weighed less, as photos
repeat it less well) and the grey-scale grade of ISO 105-A05. A change smaller than two such readings of
unchanged hair can differ by is said to be 'not distinguishable from no change'.
"""

from __future__ import annotations

from collections.abc import Sequence

from journey.colour.difference import delta_e_2000, hue_chroma_lightness
from journey.colour.fade_path import TRACKING_K_L
from journey.colour.grey_scale import grey_scale_grade
from journey.colour.reading_limits import smallest_real_change
from journey.study.model import Change, Fade, Reading


def study_changes(readings: Sequence[Reading], fades: Sequence[Fade]) -> tuple[Change, ...]:
    """From each fresh colour to every later reading of it, then between places on the last day read."""
    by_key = {reading.key: reading for reading in readings}
    changes = [change(by_key[fade.fresh], by_key[key]) for fade in fades for *_, key in fade.measured]
    return (*changes, *_between_places(readings))


def _between_places(readings: Sequence[Reading]) -> list[Change]:
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
        change(first, second)
        for together in by_photo.values()
        for number, first in enumerate(together)
        for second in together[number + 1 :]
    ]


def change(earlier: Reading, later: Reading) -> Change:
    """What two readings differ by; their own places and days tell what kind of change it is."""
    apart = float(delta_e_2000(earlier.body_lab, later.body_lab, k_L=TRACKING_K_L))
    parts = hue_chroma_lightness(earlier.body_lab, later.body_lab)
    grade = grey_scale_grade(earlier.body_lab, later.body_lab)
    same_lamp = earlier.light == later.light
    limit = (
        # Two places in one photo share lamp, camera and calibration: only the patches' own repeatability counts.
        min(smallest_real_change(earlier.limit, later.limit, same_lamp=True), earlier.limit.same_lamp)
        if earlier.photo == later.photo
        else smallest_real_change(earlier.limit, later.limit, same_lamp=same_lamp)
    )
    return Change(
        place=later.place,
        earlier=earlier.key,
        later=later.key,
        delta_e_2000=apart,
        lightness=float(parts.lightness),
        chroma=float(parts.chroma),
        hue=float(parts.hue),
        grade=grade.rating,
        grade_text=grade.grade,
        distinguishable=apart > limit,
    )
