"""The way a colour takes as its dye washes out, and where on that way a reading stands.

Decides the colours between dyed and bare hair: the dye's density is scaled by the share of it that is left
(`dye`, Beer-Lambert). In CIELAB that way is bent, often far: blue over yellow hair passes through green.
Leaves how many washes the way takes to the fade fit in `hair`.

**Remaining share** means a place on this way, 1 at the fresh colour, 0 at bare hair. It is not a mass of dye:
fibres scatter, and if hair follows Kubelka and Munk instead, half the mass sits elsewhere on nearly the same
curve. Put thresholds on colours, or on this share, and do not quote it as grams.
"""

from dataclasses import dataclass, field
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.difference import delta_e_2000
from journey.colour.dye import Dye, Method, channels_over, density_over, dye_between
from journey.colour.spaces import FloatArray, lab_to_xyz, xyz_to_lab
from journey.colour.spectra import Spectrum, smoothest_reflectance

__all__ = ["Dye", "FadePath", "NoFadePathError", "Share", "dye_between"]

TRACKING_K_L: Final = 1.5
"""Weight that forgives lightness when hair is followed from photo to photo: gloss moves it most."""

_SHORTEST_PATH_DELTA_E: Final = 2.0
_STEPS_PER_UNIT: Final = 500
# Noise can put a reading a little beyond either end; a fit has to be able to look there.
_FIRST_SHARE, _LAST_SHARE = -0.2, 1.6


class NoFadePathError(ValueError):
    """Dyed and bare hair are too alike for anything to be read between them."""


class Share(NamedTuple):
    """Where a reading stands between bare (0) and freshly dyed (1) hair."""

    value: float
    distance_delta_e: float
    """CIEDE2000 (with the k_L asked for) from the reading to the path: large when something else happened."""

    at_edge: bool
    """The reading lies beyond an end, so the value is a bound."""


@dataclass(frozen=True, slots=True, eq=False)
class FadePath:
    """All colours from bare to dyed hair. Made by `FadePath.between`."""

    substrate_lab: FloatArray
    """CIELAB (3,) of the hair without the dye."""

    dyed_lab: FloatArray
    """CIELAB (3,) freshly dyed."""

    dye: Dye
    substrate: Spectrum
    length_delta_e: float
    """CIEDE2000 summed in small steps along the path from share 1 to share 0."""

    sampled_shares: FloatArray = field(repr=False)
    """Shares (n,) evenly spaced from a little below 0 to well above 1."""

    sampled_lab: FloatArray = field(repr=False)
    """CIELAB (n, 3) at `sampled_shares`."""

    @classmethod
    def between(cls, substrate_lab: ArrayLike, dyed_lab: ArrayLike) -> "FadePath":
        """The path from CIELAB (3,) of bare hair to CIELAB (3,) of freshly dyed hair.

        NoFadePathError when the ends are less than 2 CIEDE2000 apart; NoReflectanceError for impossible
        substrates.
        """
        bare, dyed = np.asarray(substrate_lab, dtype=np.float64), np.asarray(dyed_lab, dtype=np.float64)
        apart = float(delta_e_2000(bare, dyed))
        if not apart >= _SHORTEST_PATH_DELTA_E:
            raise NoFadePathError(f"bare and dyed hair are {apart:.1f} CIEDE2000 apart: too alike to read")
        dye, substrate = dye_between(bare, dyed), smoothest_reflectance(bare)
        first, last = round(_FIRST_SHARE * _STEPS_PER_UNIT), round(_LAST_SHARE * _STEPS_PER_UNIT)
        shares = np.arange(first, last + 1) / _STEPS_PER_UNIT
        colours = _colours(bare, substrate, dye, shares)
        on_path = colours[-first : -first + _STEPS_PER_UNIT + 1]
        length = float(np.sum(delta_e_2000(on_path[1:], on_path[:-1])))
        return cls(bare, dyed, dye, substrate, length, shares, colours)

    @property
    def method(self) -> Method:
        """The law the path follows: see `dye`."""
        return self.dye.method

    def lab_at(self, share: ArrayLike) -> FloatArray:
        """CIELAB (..., 3) where `share` (...) of the dye is left."""
        return _colours(self.substrate_lab, self.substrate, self.dye, np.asarray(share, dtype=np.float64))

    def distances(self, lab: ArrayLike, *, k_L: float = TRACKING_K_L) -> FloatArray:
        """CIEDE2000 (n,) from one reading (3,) to the colour at each of `sampled_shares`."""
        return delta_e_2000(self.sampled_lab, np.asarray(lab, dtype=np.float64), k_L=k_L)

    def remaining_share(self, lab: ArrayLike, k_L: float = TRACKING_K_L) -> Share:
        """The share at the path's colour nearest to one reading (3,), kept between 0 and 1."""
        distances = self.distances(lab, k_L=k_L)
        first = int(np.searchsorted(self.sampled_shares, 0.0))
        last = first + _STEPS_PER_UNIT
        nearest = first + int(np.argmin(distances[first : last + 1]))
        beyond = (nearest == first and distances[first - 1] < distances[first]) or (
            nearest == last and distances[last + 1] < distances[last]
        )
        value = self.sampled_shares[nearest] + _vertex(distances[nearest - 1 : nearest + 2]) / _STEPS_PER_UNIT
        return Share(float(np.clip(value, 0.0, 1.0)), float(distances[nearest]), bool(beyond))

    def delta_e_per_share(self, share: float, *, k_L: float = TRACKING_K_L) -> float:
        """How fast colour moves along the path at a share: CIEDE2000 per unit of share."""
        half_step = 0.5 / _STEPS_PER_UNIT
        before, after = self.lab_at((share - half_step, share + half_step))
        return float(delta_e_2000(before, after, k_L=k_L)) * _STEPS_PER_UNIT


def _vertex(three_distances: FloatArray) -> float:
    """Offset in steps (-0.5..0.5) of the lowest point of the parabola through three squared distances."""
    before, middle, after = three_distances**2
    curvature = before - 2 * middle + after
    if curvature <= 0:
        return 0.0
    return float(np.clip((before - after) / (2 * curvature), -0.5, 0.5))


def _colours(bare_lab: FloatArray, substrate: Spectrum, dye: Dye, shares: FloatArray) -> FloatArray:
    densities = shares[..., None] * dye.coefficients
    if dye.method == "block-dye":
        return xyz_to_lab(density_over(substrate.reflectance, densities))
    return xyz_to_lab(channels_over(lab_to_xyz(bare_lab), densities, dye.method))
