"""What lies under a colour: hair as it was read before colouring, else an assumption by level, labelled so.

It decides which reading stands for the bare hair of a place. A wrong base is the largest single error of a
fade fit, so a reading of this very place comes first, then the same band of another zone, then the level.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from journey.colour.reason import Reason
from journey.hair.strand import Strand
from journey.record.assumptions import Assumptions
from journey.record.band import Band
from journey.study.assumed import level_lab
from journey.study.growing import Grown, act_band
from journey.study.model import Lab, Place, Reading


@dataclass(frozen=True, slots=True)
class Base:
    """Bare hair of one place."""

    lab: Lab
    source: Reason
    """Where it is from."""
    mean_error: float
    """Mean CIEDE2000 by which it may be wrong."""
    reading: str | None = None
    """Key of the reading, when there is one."""


@dataclass(frozen=True, slots=True)
class Bases:
    """Looks up bare hair for any place and day; built once from all readings and strands."""

    readings: Sequence[Reading]
    zones: dict[str, Grown]
    start: date
    assumed: Assumptions

    def under(self, place: Place, day: date) -> Base:
        """The hair under all coats of a place on a day."""
        lifted = self.lifted_level(place, day)
        return self.natural(place) if lifted is None else self.under_level(place, lifted, day)

    def under_level(self, place: Place, lifted: float, day: date) -> Base:
        """Hair of a place that has been lightened to a level by a day."""
        exact = self._latest("lightened", day, lambda one: one == place)
        if exact is not None:
            return _read(exact, Reason("base-read-here"))
        borrowed = self._latest("lightened", day, lambda one: one.band == place.band) or self._latest(
            "lightened", day, lambda one: True
        )
        if borrowed is not None:
            base = _read(borrowed, Reason("base-borrowed", zone=borrowed.place.zone))
            return Base(base.lab, base.source, base.mean_error + self.assumed.other_zone_error, base.reading)
        return Base(
            level_lab(self.assumed, lifted, lightened=True),
            Reason("base-assumed-lightened", level=lifted),
            self.assumed.level_error,
        )

    def natural(self, place: Place) -> Base:
        """Her own hair, before anything."""
        untouched = [
            reading
            for reading in self.readings
            if reading.day <= self.start and reading.stage == "before" and not reading.trend_only
        ]
        exact = [reading for reading in untouched if reading.place == place]
        same_band = [reading for reading in untouched if reading.place.band == place.band]
        found = exact or same_band or untouched
        if found:
            return _read(found[0], Reason("base-read-before"))
        zone = self.zones.get(place.zone)
        level = (
            zone.today.natural_level
            if zone is not None
            else next(iter(self.zones.values())).today.natural_level
        )
        return Base(
            level_lab(self.assumed, level, lightened=False),
            Reason("base-assumed-natural", level=level),
            self.assumed.level_error,
        )

    def lifted_level(self, place: Place, day: date) -> float | None:
        """Level the place had been lightened to by the end of a day; None where it never was."""
        strand = self._strand(place, day)
        layers = None if strand is None else strand.layers_at(middle_cm(strand, place.band))
        return None if layers is None else layers.lifted_level

    def still_carries(self, place: Place, service: str, day: date) -> bool:
        """Whether what a service laid lies anywhere on a place yet: neither grown past it nor cut off.

        The roots are what a service on the roots would reach: the new growth. Where no strand is followed nothing
        speaks against it.
        """
        strand = self._strand(place, day)
        if strand is None:
            return True
        near, far = strand.span_cm(act_band(strand, Band.parse(place.band)))
        return any(
            coat.service == service
            for piece in strand.profile()
            if piece.from_cm < far and piece.to_cm > near
            for coat in piece.layers.coats
        )

    def _strand(self, place: Place, day: date) -> Strand | None:
        zone = self.zones.get(place.zone)
        if zone is None or day < self.start:
            return None
        return zone.history.at(float((day - self.start).days))

    def _latest(self, stage: str, day: date, fits: Callable[[Place], bool]) -> Reading | None:
        found = [
            reading
            for reading in self.readings
            if reading.stage == stage
            and reading.day <= day
            and not reading.trend_only
            and fits(reading.place)
        ]
        return max(found, key=lambda one: (one.day, -len(one.weak)), default=None)


def middle_cm(strand: Strand, band: str) -> float:
    """The middle of a named band on this hair, in cm from the scalp."""
    stretch = act_band(strand, Band.parse(band))
    near, far = strand.span_cm(stretch)
    return (near + min(far, strand.length_cm())) / 2


def _read(reading: Reading, source: Reason) -> Base:
    return Base(reading.body_lab, source, reading.mean_error, reading.key)
