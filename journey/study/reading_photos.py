"""Reads the colour of every patch the stylist marked, and says how far each reading can be trusted.

It decides how a photo is calibrated: by the chart in it, else by an earlier chart under the same lamp, else by
its grey card, else not at all, and what is said where one of these can not be used. The arithmetic stands in
`journey.colour`. Weak readings are kept and marked, never dropped.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

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
from journey.record.intake import PhotoFolder
from journey.record.model import CheckIn, Patch, Photo, Record, Visit
from journey.record.photograph_intake import Photograph
from journey.study.calendar import entries_in_order
from journey.study.chart_patches import chart_means
from journey.study.model import PhotoStudy, Place, Reading

MOST_CLIPPED_SHARE = 0.02
"""One clipped channel moves a colour by ΔE 4 to 9; above this share of the patch the reading is weak."""


@dataclass(frozen=True, slots=True)
class _Seen:
    """A photo with the calibration it got."""

    photo: Photo
    calibration: Calibration
    notes: tuple[Reason, ...]


def read_photos(
    record: Record, photographs: PhotoFolder, progress: Callable[[str], None] = lambda _: None
) -> tuple[PhotoStudy, ...]:
    """Every photo that has patches, in order of day."""
    found: list[PhotoStudy] = []
    charts: dict[str, Calibration] = {}
    for entry in entries_in_order(record.journey):
        for photo in entry.photos:
            if not photo.patches or photo.magnified is not None:
                continue
            progress(f"measuring photo {len(found) + 1}")
            with photographs.opened(photo.file) as photograph:
                study = _read_photo(entry, photo, photograph, charts)
            if study.calibration.method == "chart":
                charts[photo.key] = study.calibration
            found.append(study)
    return tuple(found)


def _read_photo(
    entry: Visit | CheckIn,
    photo: Photo,
    photograph: Photograph,
    charts: Mapping[str, Calibration],
) -> PhotoStudy:
    seen = _calibrate(photo, photograph, charts)
    checks = _check(photo, photograph)
    common = tuple(check.reason for check in checks if not check.passed) + seen.notes
    readings = tuple(
        reading
        for key, patch in keyed_patches(photo)
        if (reading := _read_patch(entry, photo, key, patch, photograph, seen.calibration, common))
        is not None
    )
    return PhotoStudy(
        photo=photo.key, entry=entry.key, calibration=seen.calibration, checks=checks, readings=readings
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


def _calibrate(photo: Photo, photograph: Photograph, charts: Mapping[str, Calibration]) -> _Seen:
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
        lamp = charts.get(photo.lamp_from or "")
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
    entry: Visit | CheckIn,
    photo: Photo,
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
        photo=photo.key,
        entry=entry.key,
        day=entry.date,
        stage=photo.moment,
        view=photo.view,
        rect=patch.rect,
        place=place,
        from_afar_lab=np.array(swatch.from_afar_lab),
        body_lab=np.array(swatch.body_lab),
        uncertainty=calibration.uncertainty,
        limit=calibration.detection_limit,
        light=photo.light,
        calibration=calibration.method,
        clipped_share=swatch.clipped_share,
        weak=tuple(dict.fromkeys(weak)),
        trend_only=calibration.method == "none",
    )
