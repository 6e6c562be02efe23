"""Reads the colour of every patch the stylist marked, and says how far each reading can be trusted.

It decides how a photo is calibrated: by the chart in it, else by an earlier chart under the same lamp, else by
its grey card, else not at all, and what is said where one of these can not be used. The arithmetic stands in
`journey.colour`. Weak readings are kept and marked, never dropped.
"""

from __future__ import annotations

import pickle
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np

from journey.cache import key_of
from journey.colour.calibrate import (
    Calibration,
    NotCalibratableError,
    calibrate_by_chart,
    calibrate_by_grey,
    calibrate_by_lamp,
    uncalibrated,
)
from journey.colour.photo_checks import PhotoCheck, patch_checks, photo_checks
from journey.colour.reason import Reason
from journey.colour.swatch import NotReadableError, read_swatch
from journey.record.intake import PhotoFolder, let_go
from journey.record.model import Patch, Photo, Record
from journey.record.photograph_intake import Photograph
from journey.study.calendar import entries_in_order
from journey.study.chart_patches import chart_means
from journey.study.model import PhotoStudy, Place, Reading
from journey.workshop import Kept, Workshop

NOT_MEASURED: Final[Mapping[str, object]] = {
    "caption": None, "covers": (), "ruler": (), "no_face": False, "file": ""
}  # fmt: skip
"""What a photo's readings do not depend on: with it changed, kept readings serve."""
MOST_CLIPPED_SHARE = 0.02
"""One clipped channel moves a colour by ΔE 4 to 9; above this share of the patch the reading is weak."""


@dataclass(frozen=True, slots=True)
class _Seen:
    """A photo with the calibration it got."""

    photo: Photo
    calibration: Calibration
    notes: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class PhotoToRead:
    """One photo to be read, with all that its readings depend on. May be sent to another process."""

    photographs: PhotoFolder
    entry: str
    day: date
    photo: Photo
    lamp: Calibration | None = None
    """That of the earlier chart under the same lamp, once it has been read."""

    def kept(self) -> Kept:
        """Where its study is kept: under the file's content and what was marked on it."""
        sha256 = self.photographs.facts(self.photo.file).sha256
        marked = repr(self.photo.model_copy(update=NOT_MEASURED))
        key = key_of("reading", sha256, marked, self.entry, str(self.day), pickle.dumps(self.lamp))
        return Kept(key, (sha256,))


def read_photos(
    record: Record,
    photographs: PhotoFolder,
    progress: Callable[[str], None] = lambda _: None,
    workshop: Workshop | None = None,
) -> tuple[PhotoStudy, ...]:
    """Every photo that has patches, in order of day; one whose lamp an earlier chart tells, after that chart."""
    workshop = workshop or Workshop()
    waiting = [
        PhotoToRead(photographs, entry.key, entry.date, photo)
        for entry in entries_in_order(record.journey)
        for photo in entry.photos
        if photo.patches and photo.magnified is None
    ]
    order = [task.photo.key for task in waiting]
    found: dict[str, PhotoStudy] = {}
    while waiting:
        later = {task.photo.key for task in waiting if _waits_for(task, order) not in (None, *found)}
        ready = [_with_lamp(task, order, found) for task in waiting if task.photo.key not in later]
        for task, study in zip(ready, workshop.each(read_photo, ready, PhotoToRead.kept), strict=True):
            found[task.photo.key] = study
            progress(f"measured photo {len(found)} of {len(order)}")
        waiting = [task for task in waiting if task.photo.key in later]
    return tuple(found[key] for key in order)


def _waits_for(task: PhotoToRead, order: list[str]) -> str | None:
    """The photo whose chart tells its lamp; one that comes later tells nothing."""
    named = task.photo.lamp_from
    return named if named in order[: order.index(task.photo.key)] else None


def _with_lamp(task: PhotoToRead, order: list[str], found: Mapping[str, PhotoStudy]) -> PhotoToRead:
    named = _waits_for(task, order)
    if named is None or found[named].calibration.method != "chart":
        return task
    return replace(task, lamp=found[named].calibration)


def read_photo(task: PhotoToRead) -> PhotoStudy:
    """The readings of one photo. Raises FileRefusedError or PhotographRefusedError."""
    try:
        with task.photographs.opened(task.photo.file) as photograph:
            return _read_photo(task, photograph)
    finally:
        let_go()


def _read_photo(task: PhotoToRead, photograph: Photograph) -> PhotoStudy:
    photo = task.photo
    seen = _calibrate(photo, photograph, task.lamp)
    checks = _check(photo, photograph)
    common = tuple(check.reason for check in checks if not check.passed) + seen.notes
    readings = tuple(
        reading
        for key, patch in keyed_patches(photo)
        if (reading := _read_patch(task, key, patch, photograph, seen.calibration, common))
        is not None
    )
    return PhotoStudy(
        photo=photo.key, entry=task.entry, calibration=seen.calibration, checks=checks, readings=readings
    )


def keyed_patches(photo: Photo) -> list[tuple[str, Patch]]:
    """Each patch with the key of its reading; a second patch on one place is numbered."""
    seen: Counter[str] = Counter()
    found = []
    for patch in photo.patches:
        key = f"{photo.key}.{patch.zone}.{patch.band}"
        seen[key] += 1
        found.append((key if seen[key] == 1 else f"{key}.{seen[key]}", patch))
    return found


def _calibrate(photo: Photo, photograph: Photograph, lamp: Calibration | None) -> _Seen:
    """The best calibration this photo allows; what failed on the way is told in notes."""
    notes: list[Reason] = []
    if photo.chart is not None:
        try:
            means, usable = chart_means(photograph, photo.chart.corners)
            return _Seen(photo, calibrate_by_chart(means, usable), ())
        except NotCalibratableError as error:
            notes.append(Reason("chart-not-used", why=error.reason))
    if photo.neutral is not None:
        pixels = photograph.linear_pixels(photo.neutral.rect)
        card = (
            pixels.values[~pixels.clipped].mean(axis=0) if not pixels.clipped.all() else pixels.values[0, 0]
        )
        try:
            if lamp is not None:
                return _Seen(photo, calibrate_by_lamp(lamp, card, photo.neutral.reflectance), tuple(notes))
            grey = calibrate_by_grey(card, photo.neutral.reflectance, primaries=pixels.primaries)
            return _Seen(photo, grey, tuple(notes))
        except NotCalibratableError as error:
            notes.append(error.reason)
    primaries = photograph.linear_pixels(photo.patches[0].rect).primaries
    return _Seen(photo, uncalibrated(primaries=primaries), tuple(notes))


def _check(photo: Photo, photograph: Photograph) -> tuple[PhotoCheck, ...]:
    neutral = photograph.linear_pixels(photo.neutral.rect).values if photo.neutral is not None else None
    return photo_checks(photograph.encoded_pixels(), neutral)


def _read_patch(
    task: PhotoToRead,
    key: str,
    patch: Patch,
    photograph: Photograph,
    calibration: Calibration,
    common: tuple[Reason, ...],
) -> Reading | None:
    place = Place(patch.zone, str(patch.band))
    pixels = photograph.linear_pixels(patch.rect)
    try:
        swatch = read_swatch(pixels.values.reshape(-1, 3), pixels.clipped.ravel(), calibration)
    except NotReadableError:
        return None
    weak = [
        *common,
        *(check.reason for check in patch_checks(pixels.values, pixels.clipped) if not check.passed),
    ]
    return Reading(
        key=key,
        photo=task.photo.key,
        entry=task.entry,
        day=task.day,
        stage=task.photo.moment,
        view=task.photo.view,
        rect=patch.rect,
        place=place,
        from_afar_lab=np.array(swatch.from_afar_lab),
        body_lab=np.array(swatch.body_lab),
        uncertainty=calibration.uncertainty,
        limit=calibration.detection_limit,
        light=task.photo.light,
        calibration=calibration.method,
        clipped_share=swatch.clipped_share,
        weak=tuple(dict.fromkeys(weak)),
        trend_only=calibration.method == "none",
    )
