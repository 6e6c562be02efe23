"""Magnified photos: strands sorted by colour, their mixture from afar, and the scale of the picture.

It decides which ordinary photo a magnified one is compared with: the same place on the same day, the soundest
reading. The sorting stands in `journey.colour.strand_mix`, the scale in `journey.colour.micro_scale`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from journey.cache import key_of
from journey.colour.calibrate import (
    Calibration,
    NotCalibratableError,
    calibrate_by_grey,
    uncalibrated,
)
from journey.colour.micro_scale import (
    MicroScale,
    NoFibreError,
    scale_from_field,
    scale_from_magnification,
    typical_fibre_width,
)
from journey.colour.photo_checks import sharpness_check
from journey.colour.reason import Reason
from journey.colour.strand_mix import bright_ground, difference_from_afar, strand_mix
from journey.colour.swatch import NotReadableError
from journey.hair.absent import Absent
from journey.hair.interval import Interval
from journey.record.intake import PhotoFolder, let_go
from journey.record.model import Magnified, Photo, Record
from journey.record.photograph_intake import LinearPixels, Photograph
from journey.study.calendar import entries_in_order
from journey.study.model import FibreStudy, Place, Reading
from journey.study.reading_photos import NOT_MEASURED
from journey.workshop import Kept, Workshop

THINNEST_UM, THICKEST_UM = 15.0, 200.0
"""Scalp hair is some 17 to 180 µm thick (from memory): a width outside is a mistake of the picture."""


@dataclass(frozen=True, slots=True)
class PhotoToSort:
    """One magnified photo to be studied. May be sent to another process."""

    photographs: PhotoFolder
    entry: str
    photo: Photo
    magnified: Magnified

    def kept(self) -> Kept:
        """Where its study is kept: under the file's content and what was written about it."""
        sha256 = self.photographs.facts(self.photo.file).sha256
        said = repr(self.photo.model_copy(update=NOT_MEASURED))
        return Kept(key_of("fibres", sha256, said, self.entry), (sha256,))


def study_fibres(
    record: Record,
    photographs: PhotoFolder,
    readings: Sequence[Reading],
    workshop: Workshop | None = None,
) -> tuple[FibreStudy, ...]:
    """Every magnified photo, in order of day; one that shows too little hair is left out."""
    tasks = [
        PhotoToSort(photographs, entry.key, photo, photo.magnified)
        for entry in entries_in_order(record.journey)
        for photo in entry.photos
        if photo.magnified is not None
    ]
    studies = (workshop or Workshop()).each(study_fibre_photo, tasks, PhotoToSort.kept)
    return tuple(_compared(study, readings) for study in studies if study is not None)


def study_fibre_photo(task: PhotoToSort) -> FibreStudy | None:
    """One photo by itself, not yet compared; None when it shows too little hair."""
    try:
        with task.photographs.opened(task.photo.file) as photograph:
            return _study(task.entry, task.photo, task.magnified, photograph)
    finally:
        let_go()


def _compared(study: FibreStudy, readings: Sequence[Reading]) -> FibreStudy:
    ordinary = _ordinary(readings, study.entry, study.place)
    if ordinary is None:
        return study
    difference = difference_from_afar(study.from_afar_lab, ordinary.from_afar_lab)
    return replace(study, ordinary=ordinary.key, difference=difference)


def _study(entry: str, photo: Photo, magnified: Magnified, photograph: Photograph) -> FibreStudy | None:
    pixels = photograph.linear_pixels()
    calibration, warnings = _calibrate(photo, photograph, pixels)
    xyz = calibration.to_xyz(pixels.values)
    hair = ~bright_ground(xyz)
    try:
        mix = strand_mix(xyz, colours=magnified.colours, inside=hair & ~pixels.clipped)
    except NotReadableError:
        return None
    place = Place(magnified.zone, str(magnified.band))
    scale = _scale(magnified, photograph.width)
    sharp = sharpness_check(photograph.encoded_pixels())
    return FibreStudy(
        photo=photo.key,
        entry=entry,
        place=place,
        labs=tuple(np.array(strand.lab) for strand in mix.strands),
        shares=tuple(strand.share for strand in mix.strands),
        declared=mix.declared,
        from_afar_lab=np.array(mix.from_afar_lab),
        ordinary=None,
        difference=Absent("no-ordinary-photo"),
        um_per_px=scale if isinstance(scale, Absent) else scale.um_per_px,
        fibre_width_um=_width(hair, scale),
        warnings=(*warnings, *mix.warnings, *(() if sharp.passed else (sharp.reason,))),
    )


def _calibrate(
    photo: Photo, photograph: Photograph, pixels: LinearPixels
) -> tuple[Calibration, tuple[Reason, ...]]:
    if photo.neutral is not None:
        card = photograph.linear_pixels(photo.neutral.rect)
        try:
            mean = card.values.reshape(-1, 3).mean(axis=0)
            return calibrate_by_grey(mean, photo.neutral.reflectance, primaries=card.primaries), ()
        except NotCalibratableError as error:
            return uncalibrated(primaries=pixels.primaries), (error.reason,)
    return uncalibrated(primaries=pixels.primaries), ()


def _ordinary(readings: Sequence[Reading], entry: str, place: Place) -> Reading | None:
    """The soundest ordinary reading of the place at that entry."""
    same = [reading for reading in readings if reading.entry == entry and reading.place == place]
    return min(
        same, key=lambda one: (one.trend_only, len(one.weak), one.uncertainty.delta_e_90), default=None
    )


def _scale(magnified: Magnified, width_px: int) -> MicroScale | Absent:
    """By the field's width, else by magnification and sensor."""
    if magnified.field_width_mm is not None:
        return scale_from_field(magnified.field_width_mm, width_px)
    if magnified.magnification is not None and magnified.sensor_width_mm is not None:
        return scale_from_magnification(magnified.magnification, magnified.sensor_width_mm, width_px)
    return Absent("magnification-not-written")


def _width(hair: NDArray[np.bool_], scale: MicroScale | Absent) -> Interval | Absent:
    if isinstance(scale, Absent):
        return scale
    try:
        width = typical_fibre_width(hair, scale)
    except NoFibreError as error:
        return Absent("fibre-width-unread", why=error.reason)
    if not THINNEST_UM <= width.width_um <= THICKEST_UM:
        return Absent("strands-do-not-part")
    return Interval(width.low_um, width.width_um, width.high_um)
