"""Fades whose truth is known: a dye, hair under it, a way to fade, and photos of it with noise.

Our own construction throughout. Colours come from whole spectra (`hair`), not from the block dyes the tool
recovers; decay may follow the tool's law or break it. Washes are counted from the laying of the colour.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.fade_path import FadePath
from tests.simulators.hair import DYE_DENSITIES, LIGHTENED
from tests.simulators.spectra import FloatArray, spectrum_to_lab

Scenario = Literal["as the prior", "irregular washes", "Kubelka-Munk hair"]

MEDIAN_RATE_PER_WASH: Final = 0.09  # assumption, the same as the tool's prior for direct colour
LOG_SD: Final = 0.8
THRESHOLD: Final = 0.25
STRENGTHS: Final = (0.6, 1.0, 1.4)
MEAN_DELTA_E_PER_AXIS_SD: Final = 1.97
FOLLOW_UPS: Final = 4
_WASHES_FOLLOWED: Final = 3000


@dataclass(frozen=True, slots=True, eq=False)
class SimulatedFade:
    """Photos as a client would send them, and what they do not show."""

    bare_lab: FloatArray
    dyed_lab: FloatArray
    follow_ups: tuple[tuple[float, FloatArray], ...]
    """(washes as counted, CIELAB as photographed), in order."""

    true_shares: tuple[float, ...]
    """True places on the true path at the follow-ups."""

    true_washes_until_threshold: float
    true_share_ahead: float
    """True place on the true path five washes after the last follow-up, as counted."""

    def photos(self, count: int) -> tuple[tuple[float, FloatArray], ...]:
        """The first `count` photos, the fresh one included."""
        return ((0.0, self.dyed_lab), *self.follow_ups[: count - 1])


def with_noise(rng: np.random.Generator, lab: ArrayLike, mean_delta_e: float) -> FloatArray:
    """A reading of CIELAB (3,): noise of equal spread along the axes of CIEDE2000 with k_L 1.5.

    So lightness errs 1.5 times as far, as gloss makes it.
    """
    L, a, b = np.asarray(lab, dtype=np.float64)
    sd = mean_delta_e / MEAN_DELTA_E_PER_AXIS_SD
    chroma, hue = math.hypot(a, b), math.atan2(b, a)
    d_lightness, d_chroma, d_hue = rng.normal(0, sd, 3)
    S_L = 1 + 0.015 * (L - 50) ** 2 / math.sqrt(20 + (L - 50) ** 2)
    new_chroma = chroma + d_chroma * (1 + 0.045 * chroma)
    across = d_hue * (1 + 0.015 * chroma)
    return np.array(
        [
            L + 1.5 * S_L * d_lightness,
            new_chroma * math.cos(hue) - across * math.sin(hue),
            new_chroma * math.sin(hue) + across * math.cos(hue),
        ]
    )


def simulated_fades(seed: int, scenario: Scenario, count: int) -> Iterator[SimulatedFade]:
    """`count` fades, the same for the same seed."""
    rng = np.random.default_rng(seed)
    for _ in range(count):
        yield simulate_fade(rng, scenario)


def simulate_fade(rng: np.random.Generator, scenario: Scenario) -> SimulatedFade:
    """One fade with five photos, follow-ups 2 to 4 washes apart, readings 1.5 to 3 mean CIEDE2000 off.

    Half of all fades keep a stain of up to 20 %. "irregular washes": every wash takes 40 % more or less, and
    counts are off by up to one. "Kubelka-Munk hair": shares are of K/S, and the true share is the place on
    the tool's own path between the true colours.
    """
    density = tuple(DYE_DENSITIES.values())[rng.integers(len(DYE_DENSITIES))] * rng.choice(STRENGTHS)
    substrate = tuple(LIGHTENED.values())[rng.integers(len(LIGHTENED))]
    rate = MEDIAN_RATE_PER_WASH * math.exp(rng.normal(0, LOG_SD))
    floor = rng.uniform(0, 0.2) if rng.random() < 0.5 else 0.0
    noise = rng.uniform(1.5, 3.0)
    true_washes = np.cumsum(rng.integers(2, 5, FOLLOW_UPS))
    counted = true_washes.astype(float)
    worn = rate * np.arange(_WASHES_FOLLOWED + 1)
    if scenario == "irregular washes":
        worn = rate * np.concatenate([[0.0], np.cumsum(rng.uniform(0.6, 1.4, _WASHES_FOLLOWED))])
        counted = np.maximum(counted + rng.integers(-1, 2, FOLLOW_UPS), 1.0)
    shares = floor + (1 - floor) * np.exp(-worn)

    def colour(share: FloatArray) -> FloatArray:
        if scenario == "Kubelka-Munk hair":
            return spectrum_to_lab(_kubelka_munk_fade(substrate, density, share))
        return spectrum_to_lab(substrate * 10 ** (-share[:, None] * density))

    placed = shares
    if scenario == "Kubelka-Munk hair":
        placed = _places_on_path(colour, shares)
    bare, dyed = colour(np.array([0.0, 1.0]))
    return SimulatedFade(
        bare_lab=with_noise(rng, bare, noise),
        dyed_lab=with_noise(rng, dyed, noise),
        follow_ups=tuple(
            (float(n), with_noise(rng, lab, noise))
            for n, lab in zip(counted, colour(shares[true_washes]), strict=True)
        ),
        true_shares=tuple(float(share) for share in placed[true_washes]),
        true_washes_until_threshold=_first_crossing(placed),
        true_share_ahead=float(placed[true_washes[-1] + 5]),
    )


def _kubelka_munk_fade(substrate: FloatArray, density: FloatArray, share: FloatArray) -> FloatArray:
    """Reflectances (n, 81) when shares (n,) of the dye's K/S are left."""

    def k_over_s(reflectance: FloatArray) -> FloatArray:
        return (1 - reflectance) ** 2 / (2 * reflectance)

    bare, dyed = k_over_s(substrate), k_over_s(substrate * 10**-density)
    mixed = bare + share[:, None] * (dyed - bare)
    return 1 + mixed - np.sqrt(mixed**2 + 2 * mixed)


def _places_on_path(colour: Callable[[FloatArray], FloatArray], shares: FloatArray) -> FloatArray:
    """Where true colours stand on the tool's path between the true ends, by interpolation on a grid."""
    grid = np.linspace(0, 1, 31) ** 2
    colours = colour(grid)
    path = FadePath.between(colours[0], colours[-1])
    return np.interp(shares, grid, [path.remaining_share(lab).value for lab in colours])


def _first_crossing(shares: FloatArray) -> float:
    """Washes until the threshold, linear within the wash that crosses it; infinite when none does."""
    below = np.flatnonzero(shares <= THRESHOLD)
    if len(below) == 0:
        return math.inf
    n = int(below[0])
    if n == 0:
        return 0.0
    return n - 1 + float((shares[n - 1] - THRESHOLD) / (shares[n - 1] - shares[n]))
