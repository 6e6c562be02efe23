"""One zone's hair as layers along the fibre, followed through growth, cuts and services.

Decides where every service lies on the fibre, on any day.  What a place carries is ``layers``; what the
words for bands mean is ``band``; how it was on an earlier day is ``strand_history``; what can be asked
about it is ``strand_questions``.

Places are *material* coordinates: ``x`` is the distance in cm along the fibre from where the scalp was on
day 0, and stays with its piece of hair for good.  By day ``d`` the scalp has moved to ``-grown(d)``, and the
tip lies at ``initial - cut``.  Present length is the difference of the two, so that

    initial + grown = present + cut

holds by construction.  A strand is frozen; every operation gives a new one, grown to the operation's day.

>>> strand = Strand.start("crown", length_cm=30, natural_level=5, growth_cm_per_day=0.035)
>>> strand = strand.lighten(0, Band("all"), service="lift", to_level=9)
>>> strand = strand.lay_colour(0, Band("all"), service="rose", colour_class="direct", name="coral rose")
>>> strand = strand.trim(84, 1.5)
>>> [(round(piece.from_cm, 2), round(piece.to_cm, 2), piece.layers.level) for piece in strand.profile(84)]
[(0.0, 2.94, 5), (2.94, 31.44, 9)]
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from types import MappingProxyType
from typing import Self

from journey.hair.band import ALL, ENDS, ROOTS_CM, Band
from journey.hair.layers import Coat, Layers

TOUCH_CM = 1e-9
"""Lengths that differ by less than this are one length."""

LIGHTENER_LEAVES: Mapping[str, float] = MappingProxyType(
    {"direct": 0.1, "acid": 0.1, "demi": 0.0, "permanent": 0.0, "temporary": 0.0}
)
"""Assumption the stylist can change: share of each colour class still there after a lightener.  Direct and
acid colours may leave a stain that lightener fixes or shifts (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Segment:
    """A stretch of fibre whose layers are the same all along; cm, material or from the scalp."""

    from_cm: float
    to_cm: float
    layers: Layers

    @property
    def length_cm(self) -> float:
        return self.to_cm - self.from_cm

    def moved(self, by_cm: float) -> Segment:
        return Segment(self.from_cm + by_cm, self.to_cm + by_cm, self.layers)


def joined(segments: Iterable[Segment]) -> tuple[Segment, ...]:
    """Neighbours that carry the same made one, and empty stretches left out."""
    kept: list[Segment] = []
    for segment in segments:
        if segment.length_cm <= TOUCH_CM:
            continue
        if kept and kept[-1].layers == segment.layers and segment.from_cm - kept[-1].to_cm <= TOUCH_CM:
            kept[-1] = Segment(kept[-1].from_cm, segment.to_cm, segment.layers)
        else:
            kept.append(segment)
    return tuple(kept)


def _pieces(segment: Segment, start: float, end: float) -> tuple[Segment, Segment, Segment]:
    """Before, inside and after ``start``-``end``; each may be empty."""
    first = min(max(start, segment.from_cm), segment.to_cm)
    second = min(max(end, first), segment.to_cm)
    return (
        replace(segment, to_cm=first),
        Segment(first, second, segment.layers),
        replace(segment, from_cm=second),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Strand:
    """The hair of one zone on one day.  Build it with ``Strand.start``."""

    zone: str
    natural_level: float
    growth_cm_per_day: float
    initial_cm: float
    day: float
    segments: tuple[Segment, ...]
    """Her own hair from scalp to tip, in material coordinates, without gaps."""
    cut_cm: float = 0.0
    """All that was ever cut off her own hair."""
    extension: tuple[Segment, ...] = ()
    """Added hair while it is in, in the same coordinates: it moves out with the growth but never grows."""

    @classmethod
    def start(
        cls,
        zone: str,
        *,
        length_cm: float,
        natural_level: float,
        growth_cm_per_day: float,
        before: Iterable[Segment] = (),
    ) -> Self:
        """Hair on day 0.  ``before`` names stretches that already carry something, in cm from the scalp."""
        if not (0 <= length_cm < math.inf and 0 <= growth_cm_per_day < math.inf):
            raise ValueError(
                f"zone {zone!r}: length and growth are numbers from 0 up, not {length_cm!r} cm and "
                f"{growth_cm_per_day!r} cm a day"
            )
        whole: tuple[Segment, ...] = (Segment(0.0, length_cm, Layers(natural_level=natural_level)),)
        for stretch in before:
            whole = _over(whole, stretch.from_cm, stretch.to_cm, partial(_instead, stretch.layers))
        return cls(
            zone=zone,
            natural_level=natural_level,
            growth_cm_per_day=growth_cm_per_day,
            initial_cm=length_cm,
            day=0.0,
            segments=joined(whole),
        )

    # ---------------------------------------------------------------- growth

    def grown_cm(self, day: float) -> float:
        """Grown since day 0; negative for a day before it."""
        return self.growth_cm_per_day * day

    def length_cm(self, day: float | None = None) -> float:
        """Her own hair from scalp to tip, on a day from the strand's own on."""
        return max(0.0, self.initial_cm - self.cut_cm + self.grown_cm(self._not_before(day)))

    def grow_to(self, day: float) -> Strand:
        """With the hair that has come out of the scalp since, as nature made it."""
        self._not_before(day)
        fresh = Segment(
            -self.grown_cm(day), -self.grown_cm(self.day), Layers(natural_level=self.natural_level)
        )
        return replace(self, day=float(day), segments=joined((fresh, *self.segments)))

    def _not_before(self, day: float | None) -> float:
        if day is None:
            return self.day
        if day < self.day:
            raise ValueError(
                f"zone {self.zone!r}: day {day:g} lies before day {self.day:g}, up to which this strand has "
                f"been followed; put services in the order of their days"
            )
        return day

    # --------------------------------------------------------------- cutting

    def trim(self, day: float, cut_cm: float) -> Strand:
        """With so much cut off the tip of her own hair; refuses more than there is."""
        here = self.grow_to(day)
        length = here.length_cm()
        if not 0 <= cut_cm <= length + TOUCH_CM:
            raise ValueError(f"zone {self.zone!r}: {cut_cm:g} cm can not be cut off {length:.2f} cm of hair")
        return here._tip_at(here.initial_cm - here.cut_cm - min(cut_cm, length))

    def clip_to(self, day: float, length_cm: float) -> Strand:
        """Cut to a length from the scalp, added hair too; hair that is shorter stays as it is."""
        if not length_cm >= 0:
            raise ValueError(f"zone {self.zone!r}: hair can not be clipped to {length_cm!r} cm")
        here = self.grow_to(day)
        tip = length_cm - here.grown_cm(day)
        own = here if here.length_cm() <= length_cm else here._tip_at(tip)
        return replace(own, extension=_kept_before(here.extension, tip))

    def _tip_at(self, tip: float) -> Strand:
        segments = _kept_before(self.segments, tip)
        return replace(self, segments=segments, cut_cm=self.initial_cm - tip)

    # -------------------------------------------------------------- services

    def span_cm(self, band: Band, day: float | None = None) -> tuple[float, float]:
        """Where a band lies on this hair, (nearer, farther) cm from the scalp; equal when it is empty.

        New growth counts as it was before anything was done that day, so that the roots she lightens and
        the roots she colours an hour later are the same stretch.
        """
        when = self._not_before(day)
        return band.span_cm(self.length_cm(when), self._new_growth_cm(when, "either", worked_before=when))

    def lighten(
        self,
        day: float,
        band: Band,
        *,
        service: str,
        to_level: float,
        leaves: Mapping[str, float] = LIGHTENER_LEAVES,
    ) -> Strand:
        """Lightened to a level, which it keeps under whatever is laid on it later."""
        return self._act(day, band, lambda layers: layers.lightened(service, day, to_level, leaves))

    def lay_colour(
        self,
        day: float,
        band: Band,
        *,
        service: str,
        colour_class: str,
        name: str,
        washes_before: float = 0.0,
    ) -> Strand:
        """A coat over all that is there."""
        coat = Coat(
            service=service,
            colour_class=colour_class,
            name=name,
            applied_day=day,
            washes_before=washes_before,
        )
        return self._act(day, band, lambda layers: layers.coated(coat))

    def remove_colour(self, day: float, band: Band, *, leaves: Mapping[str, float]) -> Strand:
        """Coats cut down to the shares ``leaves`` names by colour class; classes not named are untouched."""
        return self._act(day, band, lambda layers: layers.stripped(leaves))

    def treat(self, day: float, band: Band, *, service: str) -> Strand:
        """Care or bond protection: it stays with the hair as a note and changes no colour."""
        return self._act(day, band, lambda layers: layers.treated(service))

    def note_porosity(self, day: float, band: Band, porosity: str) -> Strand:
        return self._act(day, band, lambda layers: layers.found_porous(porosity))

    def extensions_in(self, day: float, *, at_cm: float, length_cm: float, layers: Layers) -> Strand:
        """Hair added ``at_cm`` from the scalp; services on a band then reach both."""
        if self.extension:
            raise ValueError(f"zone {self.zone!r} already has extensions in; take those out first")
        if not (at_cm >= 0 and 0 < length_cm < math.inf):
            raise ValueError(
                f"zone {self.zone!r}: extensions of {length_cm!r} cm at {at_cm!r} cm can not be put in"
            )
        start = at_cm - self.grown_cm(day)
        return replace(self.grow_to(day), extension=(Segment(start, start + length_cm, layers),))

    def extensions_out(self, day: float) -> Strand:
        if not self.extension:
            raise ValueError(f"zone {self.zone!r} has no extensions in")
        return replace(self.grow_to(day), extension=())

    def _act(self, day: float, band: Band, change: Callable[[Layers], Layers]) -> Strand:
        here = self.grow_to(day)
        near, far = here.span_cm(band)
        if band.to_cm == math.inf and band.name in (None, ALL, ENDS):
            far = math.inf  # whoever works down to the tip also works the added hair beyond it
        scalp = -here.grown_cm(day)
        return replace(
            here,
            segments=joined(_over(here.segments, scalp + near, scalp + far, change)),
            extension=joined(_over(here.extension, scalp + near, scalp + far, change)),
        )

    # ---------------------------------------------------------------- looking

    def profile(self, day: float | None = None) -> tuple[Segment, ...]:
        """Her own hair on a day from the strand's own on, in cm from the scalp, scalp to tip."""
        here = self.grow_to(self._not_before(day))
        return tuple(segment.moved(here.grown_cm(here.day)) for segment in here.segments)

    def extension_profile(self, day: float | None = None) -> tuple[Segment, ...]:
        """Added hair, in cm from the scalp; empty when none is in."""
        return tuple(segment.moved(self.grown_cm(self._not_before(day))) for segment in self.extension)

    def layers_at(self, cm: float, day: float | None = None) -> Layers | None:
        """What her own hair carries at a distance from the scalp; ``None`` past the tip."""
        found = (piece.layers for piece in self.profile(day) if piece.from_cm <= cm < piece.to_cm)
        return next(found, None) if cm >= 0 else None

    def new_growth_cm(self, day: float | None = None, *, since: str = "either") -> float | None:
        """Hair grown since the last service that reached the roots; ``None`` when none ever did.

        ``since`` is ``lightening``, ``colour`` or ``either``.  A service reached the roots when it lay within
        the first ``ROOTS_CM`` on its day: below untouched hair of more than that there is no regrowth line,
        only hair that was never worked on.
        """
        return self._new_growth_cm(self._not_before(day), since, worked_before=math.inf)

    def _new_growth_cm(self, day: float, since: str, worked_before: float) -> float | None:
        for piece in self.profile(day):
            distances = [
                piece.from_cm - self.grown_cm(day - worked)
                for worked in worked_days(piece.layers, since)
                if worked < worked_before
            ]
            if distances:
                return piece.from_cm if min(distances) <= ROOTS_CM + TOUCH_CM else None
        return None


def worked_days(layers: Layers, since: str = "either") -> tuple[float, ...]:
    """Days on which this hair was lightened, coloured or either."""
    if since not in ("lightening", "colour", "either"):
        raise ValueError(f"new growth is counted since lightening, colour or either, not {since!r}")
    lifts = () if since == "colour" else tuple(lift.day for lift in layers.lifts)
    coats = () if since == "lightening" else tuple(coat.applied_day for coat in layers.coats)
    return lifts + coats


def _over(
    segments: Iterable[Segment], start: float, end: float, change: Callable[[Layers], Layers]
) -> tuple[Segment, ...]:
    """The segments with ``change`` made between two places."""
    done: list[Segment] = []
    for segment in segments:
        before, inside, after = _pieces(segment, start, end)
        if inside.length_cm > TOUCH_CM:
            inside = replace(inside, layers=change(inside.layers))
        done += (before, inside, after)
    return joined(done)


def _instead(layers: Layers, _was: Layers) -> Layers:
    return layers


def _kept_before(segments: Iterable[Segment], tip: float) -> tuple[Segment, ...]:
    return joined(_pieces(segment, tip, math.inf)[0] for segment in segments)
