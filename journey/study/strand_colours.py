"""The colour of any centimetre on any day: what lies there, and how much of it washing has left.

It decides how fades read at a few places (roots, mid-lengths, ends) stand for the hair between: along the
fibre, colours of the same service run evenly from one read place to the next. Hair that no photo has read
gets the colour of the nearest place that has, if need be of the other zone that was read at most places.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from journey.colour.spaces import lab_to_code_values
from journey.hair.layers import Coat, Layers
from journey.hair.strand_history import NO_HAIR, layer_map
from journey.hair.wash_calendar import WashCalendar
from journey.study.bases import Bases, middle_cm
from journey.study.growing import Grown
from journey.study.model import Fade, Lab, Place

ROWS_PER_DAY = 4
STEP_CM = 0.1

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class _Anchor:
    """A place that was read: where it lies on the fibre, and its fade."""

    material_cm: float
    fade: Fade


@dataclass(slots=True)
class StrandColours:
    """Answers for all zones; colours already worked out are kept."""

    fades: Sequence[Fade]
    bases: Bases
    washes: WashCalendar
    start: date
    _anchors: dict[tuple[str, str], list[_Anchor]] = field(default_factory=dict)
    _labs: dict[tuple[str, date, float], FloatArray] = field(default_factory=dict)
    _left: dict[tuple[str, float, date], float] = field(default_factory=dict)

    def remaining(self, coat: Coat, day: date) -> float:
        """Median share of a coat that washing has left, by the fade of its service."""
        key = (coat.service, coat.washes_before, day)
        if key not in self._left:
            fades = [fade for fade in self.fades if fade.service == coat.service]
            washes = max(0.0, self.washes.washes_by(day) - coat.washes_before)
            shares = [fade.posterior.share_at(washes).median for fade in fades]
            self._left[key] = float(np.median(shares)) if shares else 1.0
        return self._left[key]

    def lab(self, zone: str, layers: Layers, material_cm: FloatArray, day: date) -> FloatArray:
        """CIELAB (n, 3) of hair with these layers at places on the fibre (n,) on a day."""
        # Coats that no photo read fresh have no fade of their own: the last one that has one speaks for all.
        read = [(coat, self._anchors_of(zone, coat.service)) for coat in layers.coats]
        coat, anchors = next(((coat, found) for coat, found in reversed(read) if found), (None, []))
        if coat is None:
            return self._bare(zone, layers, len(material_cm), day)
        labs = np.stack([self._fade_lab(anchor.fade, day, coat.share) for anchor in anchors])
        at = np.array([anchor.material_cm for anchor in anchors])
        return np.stack([np.interp(material_cm, at, labs[:, channel]) for channel in range(3)], axis=-1)

    def _fade_lab(self, fade: Fade, day: date, share: float) -> FloatArray:
        key = (fade.key, day, share)
        if key not in self._labs:
            washes = max(0.0, self.washes.washes_by(day) - self.washes.washes_by(fade.applied))
            left = fade.posterior.share_at(washes).median * share
            self._labs[key] = fade.path.lab_at(left)
        return self._labs[key]

    def _anchors_of(self, zone: str, service: str) -> list[_Anchor]:
        key = (zone, service)
        if key not in self._anchors:
            fades = [fade for fade in self.fades if fade.service == service]
            read = Counter(fade.place.zone for fade in fades)
            # Of one zone: two zones' readings of one band would lie at one place on the fibre and tear it.
            lender = zone if zone in read else max(read, key=lambda one: read[one], default=zone)
            chosen = [fade for fade in fades if fade.place.zone == lender]
            self._anchors[key] = sorted(
                (_Anchor(self._material(zone, fade), fade) for fade in chosen),
                key=lambda anchor: (anchor.material_cm, anchor.fade.key),
            )
        return self._anchors[key]

    def _material(self, zone: str, fade: Fade) -> float:
        """Where the middle of the read band lay on this zone's fibre on the day of the service."""
        strand = self.bases.zones[zone].history.at(float((fade.applied - self.start).days))
        return middle_cm(strand, fade.place.band) - strand.grown_cm(strand.day)

    def _bare(self, zone: str, layers: Layers, count: int, day: date) -> FloatArray:
        place = Place(zone, "mid-lengths")
        base = self.bases.natural(Place(zone, "roots"))
        if layers.lifts:
            base = self.bases.under_level(place, layers.level, day)
        return np.broadcast_to(base.lab, (count, 3)).copy()


def raster(colours: StrandColours, grown: Grown, start: date, last_day: date) -> NDArray[np.float32]:
    """CIELAB of one zone over time, shape (rows, columns, 3), NaN past the tip.

    A row is a quarter day from `start` to the end of `last_day`, a column a millimetre from the scalp.
    """
    days = np.arange(((last_day - start).days + 1) * ROWS_PER_DAY) / ROWS_PER_DAY
    lying = layer_map(grown.history, days.tolist(), STEP_CM)
    labs = np.full((*lying.index.shape, 3), np.nan, dtype=np.float32)
    middles = (np.arange(lying.index.shape[1]) + 0.5) * STEP_CM
    for row, day in enumerate(days):
        material = middles - grown.today.growth_cm_per_day * day
        today = start + timedelta(days=int(day))
        for number in np.unique(lying.index[row]):
            if number == NO_HAIR:
                continue
            here = lying.index[row] == number
            labs[row, here] = colours.lab(grown.zone.key, lying.layers[number], material[here], today)
    return labs


def on_screen(labs: NDArray[np.float32]) -> NDArray[np.uint8]:
    """A raster (rows, columns, 3) as sRGB codes (rows, columns, 4), alpha 0 past the tip.

    Colours a screen can not show are clipped.
    """
    hair = ~np.isnan(labs[..., 0])
    rgba = np.zeros((*labs.shape[:2], 4), dtype=np.uint8)
    rgba[hair, :3] = lab_to_code_values(labs[hair].astype(np.float64)).codes
    rgba[hair, 3] = 255
    return rgba


def lab_at(colours: StrandColours, grown: Grown, cm: float, day: date) -> Lab | None:
    """The colour at a distance from the scalp on a day; None past the tip."""
    at = float((day - colours.start).days)
    strand = grown.history.at(at)
    layers = strand.layers_at(cm)
    if layers is None:
        return None
    material = np.array([cm - strand.grown_cm(at)])
    found: Lab = colours.lab(grown.zone.key, layers, material, day)[0]
    return found
