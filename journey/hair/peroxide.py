"""Hydrogen peroxide: per cent and volumes, thinning, mixing two developers, and the legal limit.

Decides strengths.  What a strength does to hair is left to ``level``; what else is in a bowl, to ``bowl``.
Percentages are read as the bottle gives them.  A percentage by mass and one by volume differ by a few
hundredths of themselves at these strengths; where that is left aside the function says so.
"""

from __future__ import annotations

import math

MOLAR_MASS_H2O2 = 34.0147
"""Grams per mole."""

MOLAR_VOLUME_1_ATM = 22.414
"""Litres of an ideal gas per mole at 0 °C and 1 atm."""

MOLAR_VOLUME_1_BAR = 22.711
"""Litres of an ideal gas per mole at 0 °C and 1 bar."""

EU_LIMIT_PERCENT = 12.0
"""Most hydrogen peroxide in a hair product ready for use, present or released, 40 volumes: Regulation (EC)
No 1223/2009, Annex III, entry 12(a).  Local rules may ask for less."""


def percent_from_volumes(volumes: float) -> float:
    """Nominal percentage: 10 volumes are 3 %, as on the bottle (common practice, no source)."""
    return volumes * 3 / 10


def volumes_from_percent(percent: float) -> float:
    """Nominal volumes: 3 % are 10 volumes, as on the bottle (common practice, no source)."""
    return percent * 10 / 3


def volumes_by_formula(percent_w_v: float, molar_volume_l: float = MOLAR_VOLUME_1_ATM) -> float:
    """Litres of oxygen a litre gives off, from 2 H2O2 -> 2 H2O + O2.

    ``percent_w_v`` is grams in 100 ml; volumes = (10 * percent / molar mass) / 2 * molar volume of oxygen.

    >>> round(volumes_by_formula(3), 2), round(volumes_by_formula(3, MOLAR_VOLUME_1_BAR), 2)
    (9.88, 10.02)
    """
    return 10 * percent_w_v / MOLAR_MASS_H2O2 / 2 * molar_volume_l


def percent_by_formula(volumes: float, molar_volume_l: float = MOLAR_VOLUME_1_ATM) -> float:
    """Grams in 100 ml of a solution of so many volumes: the inverse of ``volumes_by_formula``.

    >>> round(percent_by_formula(10), 3)
    3.035
    """
    return volumes * 2 * MOLAR_MASS_H2O2 / (10 * molar_volume_l)


def thin_with_water(amount: float, strength: float, target: float) -> tuple[float, float]:
    """(developer, water) that make ``amount`` of ``target`` from a developer of ``strength``.

    Amounts in any one unit, strengths in any one unit.  Refuses a target stronger than the developer.

    >>> thin_with_water(60, 30, 20)
    (40.0, 20.0)
    """
    if not (amount >= 0 and 0 <= target <= strength and strength > 0):
        raise ValueError(
            f"water only weakens: {amount:g} at {target:g} can not be made from a developer of {strength:g}"
        )
    developer = amount * target / strength
    return developer, amount - developer


def mixed_strength(amounts: tuple[float, float], strengths: tuple[float, float]) -> float:
    """Strength of two developers poured together, by amount."""
    total = math.fsum(amounts)
    if not (total > 0 and min(amounts) >= 0 and min(strengths) >= 0):
        raise ValueError(f"amounts {amounts} of strengths {strengths} can not be mixed")
    return math.fsum(a * s for a, s in zip(amounts, strengths, strict=True)) / total


def pearson_square(stronger: float, weaker: float, target: float) -> tuple[float, float]:
    """Parts of the stronger and of the weaker developer that make the target.

    Pearson's square: each developer's parts are the other's distance from the target.  A target outside
    the two refuses, as no mixture of them is stronger than the one or weaker than the other.

    >>> pearson_square(40, 10, 20)
    (10, 20)
    """
    if not (0 <= weaker < stronger and weaker <= target <= stronger):
        raise ValueError(
            f"developers of {stronger:g} and {weaker:g} mix to anything between them, not to {target:g}; "
            f"give the stronger first and a target from {weaker:g} to {stronger:g}"
        )
    return target - weaker, stronger - target


def strength_in_mixture(percent: float, colour_parts: float, developer_parts: float) -> float:
    """Percentage of peroxide once the developer is mixed with colour, parts by volume (or by mass, taken
    for equal).

    >>> round(strength_in_mixture(6, 1, 1.5), 2)
    3.6
    """
    if not (percent >= 0 and colour_parts >= 0 and developer_parts > 0):
        raise ValueError(f"{colour_parts:g} parts to {developer_parts:g} of developer is no mixture")
    return percent * developer_parts / (colour_parts + developer_parts)


def over_eu_limit(percent_ready_for_use: float) -> bool:
    """Whether a preparation ready for use holds more peroxide than EU law allows."""
    return percent_ready_for_use > EU_LIMIT_PERCENT + 1e-9
