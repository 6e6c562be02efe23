"""Magnified photos: strands sorted by colour, their mixture from afar, and the scale of the picture.

It decides which ordinary photo a magnified one is compared with (the same place on the same day, the soundest
reading), and how uncertain that comparison is: by both readings, and because a field holds few strands. Both sides
are seen from afar, the mean of all light; body colour has no part in it. The sorting stands in
`journey.colour.strand_mix`, the scale in `journey.colour.micro_scale`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from journey.alike import bytes_of
from journey.cache import key_of
from journey.colour.difference import delta_e_2000, hue_chroma_lightness
from journey.colour.fade_path import TRACKING_K_L
from journey.colour.micro_scale import (
    MicroScale,
    NoFibreError,
    scale_from_field,
    scale_from_magnification,
    typical_fibre_width,
)
from journey.colour.photo_checks import sharpness_check
from journey.colour.reason import Reason
from journey.colour.spaces import lab_to_xyz, xyz_to_lab
from journey.colour.strand_mix import bright_ground, strand_mix
from journey.colour.swatch import NotReadableError
from journey.hair.absent import Absent
from journey.hair.interval import Interval
from journey.record.intake import PhotoFolder, let_go
from journey.record.model import Magnified, Photo, Record
from journey.record.parts import texts_of
from journey.record.photograph_intake import Photograph
from journey.record.rectangle import Rectangle
from journey.study.calendar import entries_in_order
from journey.study.lamps import LampProfile, calibrate_without_chart, lamp_profile
from journey.study.model import AfarComparison, FibreStudy, PhotoStudy, Place, Reading
from journey.study.reading_photos import NOT_MEASURED
from journey.study.unread import UnreadPatch, reduced_codes, unread, without_colour
from journey.workshop import Kept, Workshop

THINNEST_UM, THICKEST_UM = 15.0, 200.0
"""Scalp hair is some 17 to 180 µm thick (from memory): a width outside is a mistake of the picture."""
CARD_RIM = 0.02
"""The rim and shadow of a grey card, in shares of the sides: neither card nor hair."""
_Z_90 = 1.645


@dataclass(frozen=True, slots=True)
class PhotoToSort:
    """One magnified photo to be studied. May be sent to another process."""

    photographs: PhotoFolder
    entry: str
    day: date
    photo: Photo
    magnified: Magnified
    lamp: LampProfile | None
    scale_error: float
    """Of its scale, as a share."""
    strand_um: float
    """Taken for the width of a strand where none could be measured."""

    def kept(self) -> Kept:
        """Where its study is kept: under the file's content and what was written about it."""
        sha256 = self.photographs.facts(self.photo.file).sha256
        marked = self.photo.model_copy(update=NOT_MEASURED)
        taken = bytes_of((self.lamp, self.scale_error, self.strand_um))
        key = key_of("fibres", sha256, repr(marked), self.entry, str(self.day), taken)
        return Kept(key, (sha256,), tuple(texts_of(marked)))


def study_fibres(
    record: Record,
    photographs: PhotoFolder,
    photos: Sequence[PhotoStudy],
    workshop: Workshop | None = None,
) -> tuple[tuple[FibreStudy, ...], tuple[UnreadPatch, ...]]:
    """Every magnified photo, in order of day; those that no strands could be read from stand apart."""
    assumed = record.salon.assumptions
    charts = {study.photo: study for study in photos}
    tasks = [
        PhotoToSort(
            photographs,
            entry.key,
            entry.date,
            photo,
            photo.magnified,
            lamp_profile(charts.get(photo.lamp_from or ""), assumed.chart_holds_days),
            assumed.scale_error,
            assumed.strand_width_um,
        )
        for entry in entries_in_order(record.journey)
        for photo in entry.photos
        if photo.magnified is not None
    ]
    readings = [reading for study in photos for reading in study.readings]
    studies = list((workshop or Workshop()).each(study_fibre_photo, tasks, PhotoToSort.kept))
    found = tuple(_compared(study, readings) for study in studies if isinstance(study, FibreStudy))
    return found, tuple(study for study in studies if isinstance(study, UnreadPatch))


def study_fibre_photo(task: PhotoToSort) -> FibreStudy | UnreadPatch:
    """One photo by itself, not yet compared; or why no strands can be read from it."""
    try:
        with task.photographs.opened(task.photo.file) as photograph:
            return _study(task, photograph)
    finally:
        let_go()


def _study(task: PhotoToSort, photograph: Photograph) -> FibreStudy | UnreadPatch:
    photo, magnified = task.photo, task.magnified
    key = f"{photo.key}.strands"
    if without_colour(reduced_codes(photograph.decoded())):
        return unread(key, task.entry, task.day, photo, magnified, Reason("photo-without-colour"))
    pixels = photograph.linear_pixels()
    seen = calibrate_without_chart(photo, photograph, task.day, task.lamp)
    xyz = seen.calibration.to_xyz(pixels.values)
    free = _free_of(photo.neutral.rect if photo.neutral else None, pixels.clipped.shape)
    hair = ~bright_ground(xyz) & free
    try:
        mix = strand_mix(xyz, colours=magnified.colours, inside=hair & ~pixels.clipped)
    except NotReadableError as error:
        return unread(key, task.entry, task.day, photo, magnified, error.reason)
    scale = _scale(magnified, photograph.width, task.scale_error)
    width = _width(hair, scale)
    sharp = sharpness_check(photograph.encoded_pixels())
    failed = (check.reason for check in (*seen.checks, sharp) if not check.passed)
    return FibreStudy(
        photo=photo.key,
        entry=task.entry,
        place=Place(magnified.zone, str(magnified.band)),
        labs=tuple(np.array(strand.lab) for strand in mix.strands),
        shares=tuple(strand.share for strand in mix.strands),
        declared=mix.declared,
        from_afar_lab=np.array(mix.from_afar_lab),
        ordinary=None,
        difference=Absent("no-ordinary-photo"),
        calibration=seen.calibration.method,
        uncertainty=seen.calibration.uncertainty,
        strands_seen=max(_strands_seen(hair, scale, width, task.strand_um), float(len(mix.strands))),
        um_per_px=scale if isinstance(scale, Absent) else scale.um_per_px,
        fibre_width_um=width,
        warnings=(*seen.notes, *seen.calibration.warnings, *mix.warnings, *failed),
    )


def _free_of(card: Rectangle | None, shape: tuple[int, ...]) -> NDArray[np.bool_]:
    """Where neither a grey card nor its rim lies, (rows, columns)."""
    free = np.ones(shape, dtype=np.bool_)
    if card is not None:
        rows, columns = shape
        top, bottom = card.top - CARD_RIM, card.bottom + CARD_RIM
        left, right = card.left - CARD_RIM, card.right + CARD_RIM
        free[
            max(0, int(top * rows)) : int(np.ceil(bottom * rows)),
            max(0, int(left * columns)) : int(np.ceil(right * columns)),
        ] = False
    return free


def _strands_seen(
    hair: NDArray[np.bool_], scale: MicroScale | Absent, width: Interval | Absent, usual_um: float
) -> float:
    """Strands side by side: the hair's area over that of one strand that runs across the longer side."""
    if isinstance(scale, Absent):
        return 0.0
    width_px = (usual_um if isinstance(width, Absent) else width.median) / scale.um_per_px
    return float(hair.sum() / (width_px * max(hair.shape)))


def _compared(study: FibreStudy, readings: Sequence[Reading]) -> FibreStudy:
    """With the ordinary photo of its place, where there is one."""
    ordinary = _ordinary(readings, study.entry, study.place)
    if ordinary is None:
        return study
    parts = hue_chroma_lightness(ordinary.from_afar_lab, study.from_afar_lab)
    off = (study.uncertainty.delta_e_90, ordinary.uncertainty.delta_e_90, _by_few_strands(study))
    difference = AfarComparison(
        delta_e_2000=float(delta_e_2000(ordinary.from_afar_lab, study.from_afar_lab, k_L=TRACKING_K_L)),
        lightness=float(parts.lightness),
        chroma=float(parts.chroma),
        hue=float(parts.hue),
        within_90=float(np.linalg.norm(off)),
    )
    return replace(study, ordinary=ordinary.key, difference=difference)


def _by_few_strands(study: FibreStudy) -> float:
    """CIEDE2000 that nine in ten fields with so many strands of this head stay within.

    A share p counted on n strands is off by sqrt(p (1 - p) / n) (binomial); the others make room for it.
    """
    xyz = lab_to_xyz(np.stack(study.labs))
    shares = np.array(study.shares)
    apart = [0.0]
    for at, share in enumerate(shares):
        if share >= 1:
            continue
        more = min(1.0, share + _Z_90 * float(np.sqrt(share * (1 - share) / study.strands_seen)))
        moved = shares * (1 - more) / (1 - share)
        moved[at] = more
        apart.append(float(delta_e_2000(xyz_to_lab(moved @ xyz), xyz_to_lab(shares @ xyz), k_L=TRACKING_K_L)))
    return max(apart)


def _ordinary(readings: Sequence[Reading], entry: str, place: Place) -> Reading | None:
    """The soundest ordinary reading of the place at that entry."""
    same = [reading for reading in readings if reading.entry == entry and reading.place == place]
    return min(same, key=lambda one: (one.trend_only, len(one.weak), one.uncertainty.delta_e_90), default=None)


def _scale(magnified: Magnified, width_px: int, error: float) -> MicroScale | Absent:
    """By the field's width, else by magnification and sensor."""
    if magnified.field_width_mm is not None:
        return scale_from_field(magnified.field_width_mm, width_px, relative_error=error)
    if magnified.magnification is not None and magnified.sensor_width_mm is not None:
        return scale_from_magnification(
            magnified.magnification, magnified.sensor_width_mm, width_px, relative_error=error
        )
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
