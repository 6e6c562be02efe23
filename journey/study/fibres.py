"""Magnified photos: strands sorted by colour, their mixture from afar, and the scale of the picture.

It decides which ordinary photo a magnified one is compared with: the same place on the same day, the soundest
reading. The sorting stands in `journey.colour.strand_mix`, the scale in `journey.colour.micro_scale`.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

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
from journey.colour.strand_mix import bright_ground, strand_mix
from journey.colour.swatch import NotReadableError
from journey.hair.absent import Absent
from journey.hair.interval import Interval
from journey.record.intake import PhotoFolder
from journey.record.model import CheckIn, Magnified, Photo, Record, Visit
from journey.record.photograph_intake import LinearPixels, Photograph
from journey.study.calendar import entries_in_order
from journey.study.model import FibreStudy, Place, Reading

THINNEST_UM, THICKEST_UM = 15.0, 200.0
"""Scalp hair is some 17 to 180 µm thick (from memory): a width outside is a mistake of the picture."""


def study_fibres(
    record: Record, photographs: PhotoFolder, readings: Sequence[Reading]
) -> tuple[FibreStudy, ...]:
    """Every magnified photo, in order of day; one that shows too little hair is left out."""
    found = []
    for entry in entries_in_order(record.journey):
        for photo in entry.photos:
            if photo.magnified is None:
                continue
            with photographs.opened(photo.file) as photograph:
                study = _study(entry, photo, photo.magnified, photograph, readings)
            if study is not None:
                found.append(study)
    return tuple(found)


def _study(
    entry: Visit | CheckIn,
    photo: Photo,
    magnified: Magnified,
    photograph: Photograph,
    readings: Sequence[Reading],
) -> FibreStudy | None:
    pixels = photograph.linear_pixels()
    calibration, warnings = _calibrate(photo, photograph, pixels)
    xyz = calibration.to_xyz(pixels.values)
    hair = ~bright_ground(xyz)
    try:
        mix = strand_mix(xyz, colours=magnified.colours, inside=hair & ~pixels.clipped)
    except NotReadableError:
        return None
    place = Place(magnified.zone, str(magnified.band))
    ordinary = _ordinary(readings, entry.key, place)
    scale = _scale(magnified, photograph.width)
    sharp = sharpness_check(photograph.encoded_pixels())
    return FibreStudy(
        photo=photo.key,
        entry=entry.key,
        place=place,
        labs=tuple(np.array(strand.lab) for strand in mix.strands),
        shares=tuple(strand.share for strand in mix.strands),
        declared=mix.declared,
        from_afar_lab=np.array(mix.from_afar_lab),
        ordinary=None if ordinary is None else ordinary.key,
        difference=Absent("no-ordinary-photo")
        if ordinary is None
        else mix.difference_from(ordinary.from_afar_lab),
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
