"""What a weak reading states: it counts for less, because what made it weak adds to its error.

It decides by how much. Errors that have nothing to do with each other add up as squares, so a chart's reading
loses more than one that was uncertain anyway.
"""

from __future__ import annotations

import math
from dataclasses import replace

from journey.colour.reading_limits import CUT_OFF_ADDS
from journey.study.model import PhotoStudy, Reading


def weak_stated(study: PhotoStudy, adds: float) -> PhotoStudy:
    """A photo whose weak readings state the larger error; `adds` is the mean CIEDE2000 that doubt adds."""
    return replace(study, readings=tuple(_stated(reading, adds) for reading in study.readings))


def _stated(reading: Reading, adds: float) -> Reading:
    if not reading.weak:
        return reading
    more = max(adds, CUT_OFF_ADDS * reading.clipped_share)
    factor = math.hypot(1.0, more / reading.mean_error)
    return replace(reading, uncertainty=reading.uncertainty.times(factor), limit=reading.limit.times(factor))
