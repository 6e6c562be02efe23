"""How well single strands are sorted into colours, and what the mixture says of the whole head."""

import itertools
from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from journey.colour.calibrate import uncalibrated
from journey.colour.difference import delta_e_2000
from journey.colour.spaces import FloatArray, decode_srgb, linear_rgb_to_xyz, xyz_to_lab, xyz_to_linear_rgb
from journey.colour.strand_mix import StrandMix, strand_mix
from journey.colour.swatch import read_swatch
from tests.accuracy.table import Table
from tests.simulators.hair import HAIR_REFLECTANCES
from tests.simulators.spectra import spectrum_to_xyz
from tests.simulators.strands import Light, StrandPicture, decoded, photographed, render_strands

_LEAST_APART = 12.0  # CIEDE2000 between two strand colours of one head


@dataclass(frozen=True, slots=True, eq=False)
class Head:
    """Strand colours (K, 3) in linear sRGB, their shares (K,), and the light on them."""

    albedos: FloatArray
    shares: FloatArray
    light: Light


def random_head(rng: np.random.Generator, colours: int) -> Head:
    """Hair of so many colours, any two of them well apart."""
    all_albedos = np.clip(xyz_to_linear_rgb(spectrum_to_xyz(HAIR_REFLECTANCES)), 0.002, 1)
    labs = xyz_to_lab(linear_rgb_to_xyz(all_albedos))
    while True:
        chosen = rng.choice(len(labs), colours, replace=False)
        pairs = itertools.combinations(chosen, 2)
        if all(delta_e_2000(labs[i], labs[j]) > _LEAST_APART for i, j in pairs):
            break
    light = Light(height=rng.uniform(0.3, 0.7), gloss=rng.uniform(0.1, 0.4))
    return Head(all_albedos[chosen], rng.dirichlet([5] * colours), light)


def picture_of(
    rng: np.random.Generator, head: Head, pixels_per_strand: float
) -> tuple[StrandPicture, FloatArray]:
    """The picture with its truth, and its XYZ (rows, columns, 3) after 8 bits and noise."""
    picture = render_strands(
        rng, head.albedos, head.shares, pixels_per_strand=pixels_per_strand, light=head.light
    )
    return picture, linear_rgb_to_xyz(decode_srgb(photographed(rng, picture)))


def largest_share_error(mix: StrandMix, truth: StrandPicture) -> float:
    """Largest error of a share against the visible strands, under the naming of colours that fits best."""
    sorted_pixels = mix.labels >= 0
    found, true = mix.labels[sorted_pixels], truth.labels[sorted_pixels]
    count = len(mix.strands)
    best = max(
        itertools.permutations(range(count)), key=lambda order: float(np.mean(np.array(order)[found] == true))
    )
    visible = truth.labels[truth.labels >= 0]
    return max(abs(mix.strands[i].share - float(np.mean(visible == best[i]))) for i in range(count))


def share_errors(*, seed: int, heads: int, colours: int, pixels_per_strand: float) -> FloatArray:
    """`largest_share_error` of many heads, the number of colours declared."""
    rng = np.random.default_rng(seed)
    errors = []
    for _ in range(heads):
        picture, xyz = picture_of(rng, random_head(rng, colours), pixels_per_strand)
        errors.append(largest_share_error(strand_mix(xyz, colours=colours), picture))
    return np.array(errors)


def suggestions_right(*, seed: int, heads: int, colours: int) -> float:
    """Share of heads for which the right number of colours is suggested."""
    rng = np.random.default_rng(seed)
    right = 0
    for _ in range(heads):
        _, xyz = picture_of(rng, random_head(rng, colours), 12)
        right += len(strand_mix(xyz).strands) == colours
    return right / heads


def against_ordinary_photos(*, seed: int, heads: int, pixels_per_strand: float) -> FloatArray:
    """CIEDE2000 (k_L 1.5) between the mixture of a magnified picture and an independent photo of the head."""
    rng = np.random.default_rng(seed)
    apart = []
    for _ in range(heads):
        head = random_head(rng, 2)
        _, xyz = picture_of(rng, head, pixels_per_strand)
        whole = render_strands(
            rng, head.albedos, head.shares, height=200, width=500, pixels_per_strand=2.5, light=head.light
        )
        swatch = read_swatch(*decoded(photographed(rng, whole)), uncalibrated())
        apart.append(strand_mix(xyz, colours=2).difference_from(swatch.from_afar_lab))
    return np.array(apart)


def tables() -> list[Table]:
    """Shares, suggested numbers of colours, and the mixture against an ordinary photo."""
    shares = defaultdict(list)
    for colours, pixels in itertools.product((2, 3), (12.0, 5.0)):
        errors = share_errors(seed=2, heads=40, colours=colours, pixels_per_strand=pixels)
        shares[colours].append((pixels, float(errors.mean()), float(np.percentile(errors, 90))))
    ordinary = [
        (pixels, against_ordinary_photos(seed=5, heads=30, pixels_per_strand=pixels))
        for pixels in (12.0, 5.0)
    ]
    return [
        Table(
            "Shares of strand colours: largest error in a picture",
            ("colours", "pixels a strand", "mean", "90 %"),
            tuple((str(colours), *row) for colours, rows in shares.items() for row in rows),
            "The number of colours is declared.",
        ),
        Table(
            "Suggested number of strand colours",
            ("true number", "suggested rightly (%)"),
            tuple((str(n), 100 * suggestions_right(seed=11, heads=40, colours=n)) for n in (1, 2, 3)),
        ),
        Table(
            "Mixture of two strand colours against an ordinary photo of the head (CIEDE2000, k_L 1.5)",
            ("pixels a strand", "mean", "95 %"),
            tuple((pixels, float(d.mean()), float(np.percentile(d, 95))) for pixels, d in ordinary),
        ),
    ]
