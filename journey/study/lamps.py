"""A photo's colours by its grey card, and by an earlier chart that tells the lamp where one is named.

It decides when an earlier chart serves (by the same coding of colour, in a light of the same name, not too long
ago). The arithmetic stands in `journey.colour.calibrate`; which photo names which is written in the record.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from journey.colour.calibrate import (
    Calibration,
    NotCalibratableError,
    calibrate_by_grey,
    calibrate_by_lamp,
    uncalibrated,
)
from journey.colour.photo_checks import (
    MOST_CLIPPED_SHARE,
    MOST_PROFILE_DAYS,
    PhotoCheck,
    profile_check,
)
from journey.colour.reason import Reason
from journey.record.model import Neutral, Photo
from journey.record.photograph_intake import Photograph
from journey.record.rectangle import Rectangle
from journey.study.model import PhotoStudy

_ANYWHERE = Rectangle(0.0, 0.0, 0.1, 0.1)


@dataclass(frozen=True, slots=True)
class LampProfile:
    """An earlier chart photo that is to tell the lamp of later ones."""

    calibration: Calibration
    day: date
    light: str
    holds_days: int = MOST_PROFILE_DAYS
    """For so long it is believed."""


@dataclass(frozen=True, slots=True)
class Calibrated:
    """The calibration a photo got, what failed on the way, and what was checked of the lamp."""

    calibration: Calibration
    notes: tuple[Reason, ...] = ()
    checks: tuple[PhotoCheck, ...] = ()


def lamp_profile(study: PhotoStudy | None, holds_days: int = MOST_PROFILE_DAYS) -> LampProfile | None:
    """What a chart photo tells of its lamp; None when its chart could not be used."""
    if study is None or study.calibration.method != "chart":
        return None
    return LampProfile(study.calibration, study.day, study.light, holds_days)


def calibrate_without_chart(
    photo: Photo, photograph: Photograph, day: date, lamp: LampProfile | None
) -> Calibrated:
    """By its card and the lamp's chart, by its card alone, or not at all; the notes say why not better."""
    notes: tuple[Reason, ...] = ()
    if photo.neutral is not None:
        try:
            return _by_card(photo, photo.neutral, photograph, day, lamp)
        except NotCalibratableError as error:
            notes = (error.reason,)
    elif photo.lamp_from is not None:
        notes = (Reason("profile-without-card"),)
    primaries = photograph.linear_pixels(_ANYWHERE).primaries
    return Calibrated(uncalibrated(primaries=primaries), notes)


def _by_card(
    photo: Photo, neutral: Neutral, photograph: Photograph, day: date, lamp: LampProfile | None
) -> Calibrated:
    pixels = photograph.linear_pixels(neutral.rect)
    card = pixels.values[~pixels.clipped].mean(axis=0) if not pixels.clipped.all() else pixels.values[0, 0]
    lost = float(pixels.clipped.mean())
    notes: tuple[Reason, ...] = ()
    if lost > MOST_CLIPPED_SHARE:
        notes = (Reason("grey-card-partly-clipped", percent=100 * lost),)
    if lamp is not None and lamp.calibration.primaries == pixels.primaries:
        check = profile_check(
            (day - lamp.day).days, same_light=lamp.light == photo.light, most_days=lamp.holds_days
        )
        return Calibrated(calibrate_by_lamp(lamp.calibration, card, neutral.reflectance), notes, (check,))
    if lamp is not None:
        notes = (*notes, Reason("profile-of-another-camera"))
    return Calibrated(calibrate_by_grey(card, neutral.reflectance, primaries=pixels.primaries), notes)
