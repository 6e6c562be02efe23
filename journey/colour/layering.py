"""Colour laid over colour: what a swatch promises on hair that is not the swatch's.

Decides how coats combine: their densities add, each scaled by how much of it is there, and together they
dim the light of the hair below. So a swatch's colour is never taken over as it stands; what is taken over is
what its dye does to light. Leaves how fast each coat leaves to the fade fit, and mixing in the bowl, before
anything touches hair, to `mixing`.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.dye import Dye, channels_over, density_over, dye_between
from journey.colour.spaces import FloatArray, xyz_to_lab
from journey.colour.spectra import Spectrum, smoothest_reflectance

UPTAKE: Final = (0.75, 1.0, 1.25)
"""Share of a swatch's density that other hair takes up: little, as the swatch, much.

An assumption (±25 %) the stylist can change; porous hair takes more. It moves the result further than any
error of the model does, which is why three results are shown.
"""


@dataclass(frozen=True, slots=True, eq=False)
class LaidOver:
    """CIELAB (3,) of the result for little, expected and much uptake."""

    light: FloatArray
    expected: FloatArray
    strong: FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class TwoCoats:
    """A newer coat over an older one on the same hair, each leaving at its own pace."""

    hair: Spectrum
    """The hair without either coat."""

    older: Dye
    newer: Dye

    def lab_at(self, newer_share: ArrayLike, older_share: ArrayLike) -> FloatArray:
        """CIELAB (..., 3) for remaining shares that broadcast to (...), 1 being each coat's full strength."""
        return lay_over(self.hair, ((self.older, older_share), (self.newer, newer_share)))


def lay_over(base: Spectrum | ArrayLike, coats: Sequence[tuple[Dye, ArrayLike]]) -> FloatArray:
    """CIELAB (..., 3) of hair under any number of coats, from the hair outwards.

    `base` is a spectrum or CIELAB (3,); each coat a dye and the share of it present, shares broadcasting to
    (...). Densities over wavelengths come first, in any order; channel dyes (see `dye`) follow in the order
    given, since their channels differ. NoReflectanceError for a base that has no colour at all.

    >>> rose = dye_between((82, 0.5, 14), (55, 35, 5))
    >>> lay_over((82, 0.5, 14), [(rose, 1.0)]).round(3).tolist()
    [55.0, 35.0, 5.0]
    """
    hair = base if isinstance(base, Spectrum) else smoothest_reflectance(base)
    shares = np.broadcast_arrays(*(np.asarray(share, dtype=np.float64) for _, share in coats))
    shape = shares[0].shape if shares else ()
    dyes = [dye for dye, _ in coats]
    layers = [(dye, share[..., None] * dye.coefficients) for dye, share in zip(dyes, shares, strict=True)]
    total = np.zeros((*shape, 3))
    for dye, densities in layers:
        if dye.method == "block-dye":
            total = total + densities
    xyz = density_over(hair.reflectance, total)
    for dye, densities in layers:
        if dye.method != "block-dye":
            xyz = channels_over(xyz, densities, dye.method)
    return xyz_to_lab(xyz)


def apply_swatch(
    current_lab: ArrayLike,
    swatch_substrate_lab: ArrayLike,
    swatch_dyed_lab: ArrayLike,
    *,
    bare_lab: ArrayLike | None = None,
    uptake: tuple[float, float, float] = UPTAKE,
) -> LaidOver:
    """The colour of hair that is `current_lab` (3,) now, after the dye seen on a swatch is laid over it.

    The swatch gives two CIELAB colours, bare and dyed; bare hair near the client's own level serves best.
    Where the client's own hair under its present colour is known, `bare_lab` (3,) makes the worst predictions
    better: the present colour is then taken for that hair under a dye, not for the smoothest spectrum.
    """
    dye = dye_between(swatch_substrate_lab, swatch_dyed_lab)
    base, coats = current_lab, [(dye, np.array(uptake))]
    if bare_lab is not None:
        base, coats = bare_lab, [(dye_between(bare_lab, current_lab), np.array(1.0)), *coats]
    light, expected, strong = lay_over(base, coats)
    return LaidOver(light, expected, strong)
