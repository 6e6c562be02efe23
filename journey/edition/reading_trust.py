"""What the method page says of how far this journey's readings can be trusted, in its own numbers.

It decides nothing but the counting: what a way to calibrate states, and how often each check spoke.
"""

from __future__ import annotations

from collections import Counter

from journey.colour.reading_limits import smallest_real_change
from journey.edition.desk import Desk

METHODS = ("chart", "lamp profile", "grey card", "none")


def stated_by_method(desk: Desk) -> list[str]:
    """One part of a sentence for each way this journey's photos were calibrated, the surest first."""
    words = desk.words
    said = []
    for method in METHODS:
        found = [photo.calibration for photo in desk.study.photos if photo.calibration.method == method]
        if not found:
            continue
        limit = found[0].detection_limit
        said.append(
            words.say(
                "method.stated",
                method=words.say(f"calibration.{method}"),
                n=float(len(found)),
                within=max(one.uncertainty.delta_e_90 for one in found),
                same=smallest_real_change(limit, limit, same_lamp=True),
                other=smallest_real_change(limit, limit, same_lamp=False),
            )
        )
    return said


def found_by_checks(desk: Desk) -> list[str]:
    """Each check that spoke, with how often: photos first, then patches."""
    words, study = desk.words, desk.study
    photos = Counter(check.name for photo in study.photos for check in photo.checks if not check.passed)
    patches = Counter(reason.key for reading in study.readings for reason in reading.weak)
    said = [
        words.say("method.check.photo", what=words.say(f"method.check.{name}"), n=float(count))
        for name, count in sorted(photos.items())
    ]
    said += [
        words.say("method.check.patch", what=words.say(f"method.check.{key}"), n=float(patches[key]))
        for key in ("clipped", "patch-small")
        if patches[key]
    ]
    return said
