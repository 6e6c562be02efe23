"""Reads the colour of every patch the stylist marked, and says how far each reading can be trusted.

It decides how a photo is calibrated: by the chart in it, else by an earlier chart under the same lamp, else by
its grey card, else not at all, and what is said where one of these can not be used. Whether it was framed like
the visit before is decided in `journey.study.like_frames`. The arithmetic stands in
`journey.colour`. Weak readings are kept and marked, never dropped.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

import numpy as np

from journey.alike import bytes_of
from journey.cache import key_of
from journey.colour.calibrate import Calibration, NotCalibratableError, calibrate_by_chart
from journey.colour.framing import frame_outline
from journey.colour.photo_checks import MOST_PROFILE_DAYS, PhotoCheck, patch_checks, photo_checks
from journey.colour.reading_limits import ORDINARY_UNEVENNESS
from journey.colour.reason import Reason
from journey.colour.swatch import NotReadableError, read_swatch
from journey.record.intake import PhotoFolder, let_go
from journey.record.model import Patch, Photo, Record
from journey.record.parts import texts_of
from journey.record.photograph_intake import Photograph
from journey.study.calendar import entries_in_order
from journey.study.chart_patches import chart_colours
from journey.study.lamps import Calibrated, LampProfile, calibrate_without_chart, lamp_profile
from journey.study.like_frames import frames_compared
from journey.study.model import PhotoStudy, Place, Reading
from journey.study.unread import UnreadPatch, reduced_codes, unread, without_colour
from journey.study.weak_readings import weak_stated
from journey.workshop import Kept, Workshop

REMARKS_ON_A_PHOTO: Final[Mapping[str, object]] = {
    "caption": None, "covers": (), "shows": (), "people": (), "photographer": None
}  # fmt: skip
"""What no computation needs of a photo."""
NOT_MEASURED: Final[Mapping[str, object]] = {**REMARKS_ON_A_PHOTO, "ruler": (), "no_face": False, "file": ""}
"""What a photo's readings do not depend on: with it changed, kept readings serve."""
MOST_CLIPPED_SHARE = 0.02
"""One clipped channel moves a colour by ΔE 4 to 9; above this share of the patch the reading is weak."""


_SAID_OTHERWISE: Final = frozenset({"nothing-neutral", "chart-from-earlier"})
"""Warnings of a calibration that its method says already: trend only, and lamp profile."""


@dataclass(frozen=True, slots=True)
class PhotoToRead:
    """One photo to be read, with all that its readings depend on. May be sent to another process."""

    photographs: PhotoFolder
    entry: str
    day: date
    photo: Photo
    lamp: LampProfile | None = None
    """That of the earlier chart under the same lamp, once it has been read."""
    light_spread: float = ORDINARY_UNEVENNESS
    chart_holds_days: int = MOST_PROFILE_DAYS

    def kept(self) -> Kept:
        """Where its study is kept: under the file's content and what was marked on it."""
        sha256 = self.photographs.facts(self.photo.file).sha256
        marked = self.photo.model_copy(update=NOT_MEASURED)
        taken = bytes_of((self.lamp, self.light_spread))
        key = key_of("reading", sha256, repr(marked), self.entry, str(self.day), taken)
        return Kept(key, (sha256,), tuple(texts_of(marked)))


def read_photos(
    record: Record,
    photographs: PhotoFolder,
    progress: Callable[[str], None] = lambda _: None,
    workshop: Workshop | None = None,
) -> tuple[PhotoStudy, ...]:
    """Every photo with patches or a chart, in order of day; one whose lamp an earlier chart tells, after that."""
    workshop = workshop or Workshop()
    waiting = [
        PhotoToRead(
            photographs,
            entry.key,
            entry.date,
            photo,
            light_spread=record.salon.assumptions.light_spread,
            chart_holds_days=record.salon.assumptions.chart_holds_days,
        )
        for entry in entries_in_order(record.journey)
        for photo in entry.photos
        if (photo.patches or photo.chart is not None) and photo.magnified is None
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
    visits = {visit.key for visit in record.journey.visits}
    adds = record.salon.assumptions.weakness_adds
    return tuple(weak_stated(study, adds) for study in frames_compared([found[key] for key in order], visits))


def _waits_for(task: PhotoToRead, order: list[str]) -> str | None:
    """The photo whose chart tells its lamp; one that comes later tells nothing."""
    named = task.photo.lamp_from
    return named if named in order[: order.index(task.photo.key)] else None


def _with_lamp(task: PhotoToRead, order: list[str], found: Mapping[str, PhotoStudy]) -> PhotoToRead:
    return replace(task, lamp=lamp_profile(found.get(_waits_for(task, order) or ""), task.chart_holds_days))


def read_photo(task: PhotoToRead) -> PhotoStudy:
    """The readings of one photo. Raises FileRefusedError or PhotographRefusedError."""
    try:
        with task.photographs.opened(task.photo.file) as photograph:
            return _read_photo(task, photograph)
    finally:
        let_go()


def _read_photo(task: PhotoToRead, photograph: Photograph) -> PhotoStudy:
    photo = task.photo
    seen = _calibrate(task, photograph)
    checks = (*_check(photo, photograph), *seen.checks)
    doubts = (one for one in seen.calibration.warnings if one.key not in _SAID_OTHERWISE)
    common = (*(check.reason for check in checks if not check.passed), *seen.notes, *doubts)
    small = reduced_codes(photograph.decoded())
    colourless = without_colour(small)
    tried = [
        unread(key, task.entry, task.day, photo, patch, Reason("photo-without-colour"))
        if colourless
        else _read_patch(task, key, patch, photograph, seen.calibration, common)
        for key, patch in keyed_patches(photo)
    ]
    return PhotoStudy(
        photo=photo.key,
        entry=task.entry,
        calibration=seen.calibration,
        checks=checks,
        readings=tuple(one for one in tried if isinstance(one, Reading)),
        unread=tuple(one for one in tried if isinstance(one, UnreadPatch)),
        day=task.day,
        light=photo.light,
        view=photo.view,
        outline=frame_outline(small),
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


def _calibrate(task: PhotoToRead, photograph: Photograph) -> Calibrated:
    """The best calibration this photo allows; what failed on the way is told in notes."""
    photo = task.photo
    if photo.chart is None:
        return calibrate_without_chart(photo, photograph, task.day, task.lamp)
    try:
        colours, usable, primaries = chart_colours(photograph, photo.chart.corners)
        return Calibrated(calibrate_by_chart(colours, usable, unevenness=task.light_spread, primaries=primaries))
    except NotCalibratableError as error:
        other = calibrate_without_chart(photo, photograph, task.day, task.lamp)
        return replace(other, notes=(Reason("chart-not-used", why=error.reason), *other.notes))


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
) -> Reading | UnreadPatch:
    place = Place(patch.zone, str(patch.band))
    pixels = photograph.linear_pixels(patch.rect)
    try:
        swatch = read_swatch(pixels.values.reshape(-1, 3), pixels.clipped.ravel(), calibration)
    except NotReadableError as error:
        return unread(key, task.entry, task.day, task.photo, patch, error.reason)
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
