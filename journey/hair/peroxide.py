"""Hydrogen peroxide: per cent and volumes, thinning, and mixing two developers into a third.

Decides strengths of developers.  What a strength does to hair is left to ``level``; what stands in a bowl
beside the developer, to ``bowl``.  All per cents are read as the bottle reads them; a per cent by mass and
one by volume differ by a few hundredths of themselves at these strengths, which is left aside here.
"""

from __future__ import annotations

VOLUMES_PER_PERCENT_NOMINAL = 10 / 3
"""As on the bottle: 3 % is 10 volumes, 6 % 20, 9 % 30, 12 % 40 (common practice, no source)."""


def percent_from_volumes(volumes: float) -> float:
    """Nominal per cent of a developer of so many volumes."""
    return volumes * 3 / 10


def volumes_from_percent(percent: float) -> float:
    """Nominal volumes of a developer of so many per cent."""
    return percent * 10 / 3
