"""Which place headlines follow, and which places options are judged at."""

from __future__ import annotations

from collections.abc import Sequence

from journey.record.model import Record
from journey.study.model import Fade, Place, Reading

_BAND_ORDER = ("mid-lengths", "ends", "all", "roots")


def leading_place(record: Record, readings: Sequence[Reading], fades: Sequence[Fade]) -> Place:
    """Mid-lengths of the first zone whose colour was followed; else the place that was read most."""
    zones = [zone.key for zone in record.journey.zones]
    followed = {fade.place for fade in fades} or {reading.place for reading in readings}
    if not followed:
        return Place(zones[0], "mid-lengths")
    return min(followed, key=lambda place: (_band_rank(place.band), zones.index(place.zone)))


def places_in_order(record: Record, readings: Sequence[Reading]) -> tuple[Place, ...]:
    """Every place that was read, zone by zone from scalp to tip."""
    zones = [zone.key for zone in record.journey.zones]
    bands = ("roots", "mid-lengths", "ends", "all")
    found = {reading.place for reading in readings}
    return tuple(
        sorted(
            found,
            key=lambda place: (
                zones.index(place.zone),
                bands.index(place.band) if place.band in bands else len(bands),
                place.band,
            ),
        )
    )


def _band_rank(band: str) -> int:
    return _BAND_ORDER.index(band) if band in _BAND_ORDER else len(_BAND_ORDER)
