"""Where on a head and along a strand something was read or is foretold, and the colour it has there."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Lab = NDArray[np.float64]
"""CIELAB, D65 2 degrees; shape (3,)."""


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """Where on the head and along the strand."""

    zone: str
    band: str
