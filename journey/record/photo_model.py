"""A photo and what is marked on it: where to measure, what to measure against, what to cover."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from journey.record.fields import (
    BandField,
    Key,
    LengthField,
    Number,
    PhotoFile,
    Point,
    Rect,
    Share,
    ShortText,
    Truth,
    WholeNumber,
)
from journey.record.parts import Part


class Patch(Part):
    """A rectangle on a photo, named by where on the head and along the strand it lies."""

    zone: Key
    band: BandField
    rect: Rect


class Neutral(Part):
    rect: Rect
    """Where the grey card lies."""
    reflectance: Share
    """How much light the card gives back: 18 % is common."""


class Chart(Part):
    """A 24-patch colour chart: corners clockwise from the dark skin patch, in fractions."""

    corners: Annotated[tuple[Point, ...], Field(min_length=4, max_length=4)]


class Magnified(Part):
    field_width_mm: Annotated[Number, Field(gt=0, lt=50)] | None = None
    """Width of what the picture shows, read off a stage scale."""
    magnification: Annotated[Number, Field(gt=1, lt=2000)] | None = None
    """On the sensor, beside its width, where the field was not measured."""
    sensor_width_mm: Annotated[Number, Field(gt=0, lt=60)] | None = None
    colours: WholeNumber | None = None
    """How many strand colours the stylist sees; left out, a number is suggested."""
    zone: Key
    """Where the hair was taken from."""
    band: BandField


class RulerReading(Part):
    zone: Key
    new_growth: LengthField
    """From the scalp to where the last work on the roots begins."""


class Photo(Part):
    key: Key
    file: PhotoFile
    """Name of a file in photos/."""
    view: ShortText
    """From where: back, nape, three-quarter, lock on board, magnified."""
    moment: Literal["before", "lightened", "removed", "after", "home"]
    """Before the services, after lightening, after removal, after everything, or at home."""
    light: ShortText
    """What it was lit by: salon, window, tungsten lamp."""
    caption: ShortText | None = None
    patches: tuple[Patch, ...] = ()
    """Where colour is to be read."""
    neutral: Neutral | None = None
    """A grey card on the photo."""
    chart: Chart | None = None
    """A 24-patch colour chart on the photo."""
    lamp_from: Key | None = None
    """An earlier chart photo taken under the same lamp with the same camera."""
    magnified: Magnified | None = None
    """Only for photos of single hairs."""
    ruler: tuple[RulerReading, ...] = ()
    """New growth as read off a ruler on the photo."""
    no_face: Truth = False
    """Said by a person who looked: nobody can be recognised by a face here."""
    shows: tuple[Key, ...] = ()
    """Rare traits (identity.yaml) that can be seen and are not under a cover."""
    covers: tuple[Rect, ...] = ()
    """Faces, tattoos, mirrors, name tags: filled solid in every published copy."""
    people: tuple[Key, ...] = ()
    """Others who are in it, covered or not: keys of other_people in consent.yaml."""
    photographer: Key | None = None
    """Who took it: a key of photographers in consent.yaml, or 'client'. Left out: somebody who works here."""
