"""The colours of single strands in a magnified picture, their shares, and what they make together from afar.

Decides how pixels are sorted into strand colours, and how many colours to suggest when the colourist has not
said. Sorting and mixing need different spaces: strands are told apart by chroma with the shading taken out,
with lightness counting little; their mixture is formed in linear light. Sorting in linear light would part
light from shadow, and mixing in CIELAB errs by 4 CIEDE2000.

The mixture of the shares is the mean of the pixels it was made from, whatever the sorting: it says nothing
about how good the sorting is. Comparing it with an ordinary photo of the same place does.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
import scipy
from numpy.typing import ArrayLike, NDArray

from journey.colour.difference import delta_e_2000
from journey.colour.mixing import partitive_xyz
from journey.colour.reason import Reason
from journey.colour.spaces import D65_WHITE, FloatArray, Lab, as_lab, xyz_to_lab
from journey.colour.swatch import NotReadableError

# Darker than this share of the median luminance is a gap; the brightest 3 % are sheen.
_GAP: Final = 0.12
_SHEEN_QUANTILE: Final = 0.97
_LIGHTNESS_WEIGHT: Final = 0.3
_FEWEST_PIXELS: Final = 1000
# A scale bar, dust and the shadow of a card cover some .7 % of a field; one strand across a wide field 2 %.
_LEAST_OF_PICTURE: Final = 0.01
_TRIMS: Final = (0.02, 0.10, 0.0)
_LARGEST_SIDE: Final = 1200
_MOST_COLOURS: Final = 6

# Colours are suggested when they are tight and apart, and no lighter one is a darker one under white gloss.
# On simulated strands right for 1, 2 and 3 colours in 100, 97 and 70 of 100 pictures.
_LEAST_SILHOUETTE: Final = 0.50
_LEAST_CHROMA_APART: Final = 6.0
_GLOSS_ALIKE: Final = 2.0

Mask = NDArray[np.bool_]
Labels = NDArray[np.int8]


@dataclass(frozen=True, slots=True)
class StrandColour:
    """One colour of strand, its linear mean, and its share of all strand pixels (0..1)."""

    lab: Lab
    share: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StrandMix:
    """Strand colours, largest share first, and their mixture.

    `labels` (rows, columns) numbers each pixel's strand colour, -1 in gaps, sheen and outside; it is smaller
    than the picture where the picture's longer side exceeds 1200 pixels. `silhouette` (-1..1, None for one
    colour) tells how clearly the colours part. `declared` is False when their number is a suggestion.
    """

    strands: tuple[StrandColour, ...]
    from_afar_lab: Lab
    labels: Labels
    silhouette: float | None
    declared: bool
    warnings: tuple[Reason, ...]

    def difference_from(self, reading_lab: ArrayLike, *, k_L: float = 1.5) -> float:
        """CIEDE2000 between the mixture and an ordinary photo's reading (3,) of the same place.

        Two good photos of one head differ by about 2 to 3: a field holds few strands.
        """
        return difference_from_afar(self.from_afar_lab, reading_lab, k_L=k_L)


def difference_from_afar(mixture_lab: ArrayLike, reading_lab: ArrayLike, *, k_L: float = 1.5) -> float:
    """CIEDE2000 between a mixture (3,) and a reading (3,), lightness counting less: the light may differ."""
    return float(delta_e_2000(mixture_lab, reading_lab, k_L=k_L))


def strand_mix(xyz: ArrayLike, *, colours: int | None = None, inside: ArrayLike | None = None) -> StrandMix:
    """Sort a calibrated magnified picture, XYZ (rows, columns, 3), into strand colours.

    `colours` is how many the colourist sees (1 to 6); without it a number from 1 to 4 is suggested. `inside`
    (rows, columns) leaves out what is not hair. ValueError for another number of colours; NotReadableError
    when fewer than 1000 pixels of hair are left, or less than 1 % of the picture.
    """
    if colours is not None and not 1 <= colours <= _MOST_COLOURS:
        raise ValueError(f"strand colours are counted from 1 to {_MOST_COLOURS}, not {colours}")
    picture, hair = _reduced(np.asarray(xyz, dtype=np.float64), inside)
    hair &= _neither_gap_nor_sheen(picture, hair)
    pixels = picture[hair]
    fewest = max(_FEWEST_PIXELS, math.ceil(_LEAST_OF_PICTURE * hair.size))
    if len(pixels) < fewest:
        raise NotReadableError("too-little-hair", n=len(pixels), all=hair.size, fewest=fewest)
    features = _shadeless(pixels)
    counts = (2, 3, 4) if colours is None else (colours,)
    sorted_ways = [_sorted_into(count, features, pixels) for count in counts]
    chosen = sorted_ways[0]
    if colours is None:
        believable = [way for way in sorted_ways if way.silhouette >= _LEAST_SILHOUETTE and way.colours_differ]
        one = _sorted_into(1, features, pixels)
        chosen = max(believable, key=lambda way: way.silhouette, default=one)
    labels: Labels = np.full(hair.shape, -1, dtype=np.int8)
    labels[hair] = chosen.labels
    return StrandMix(
        strands=tuple(
            StrandColour(as_lab(xyz_to_lab(mean)), float(share))
            for mean, share in zip(chosen.means, chosen.shares, strict=True)
        ),
        from_afar_lab=as_lab(xyz_to_lab(partitive_xyz(chosen.shares, chosen.means))),
        labels=labels,
        silhouette=None if len(chosen.means) == 1 else chosen.silhouette,
        declared=colours is not None,
        warnings=_warnings(chosen),
    )


def bright_ground(xyz: ArrayLike) -> Mask:
    """Where a magnified picture (rows, columns, 3) shows lit ground behind the hair: bright, grey, smooth."""
    picture = np.asarray(xyz, dtype=np.float64)
    luminance = picture[..., 1]
    bright = luminance >= 0.75 * np.quantile(luminance, 0.98)
    grey = np.zeros_like(bright)
    grey[bright] = np.hypot(*xyz_to_lab(picture[bright])[:, 1:].T) < 10
    mean = scipy.ndimage.uniform_filter(luminance, 9)
    spread = np.sqrt(np.maximum(scipy.ndimage.uniform_filter(luminance**2, 9) - mean**2, 0))
    smooth = scipy.ndimage.binary_opening(bright & grey & (spread < 0.06 * mean), iterations=2)
    # Out to the rim of the fibres, whose pixels are half ground and belong to neither.
    ground: Mask = scipy.ndimage.binary_dilation(smooth, iterations=6, mask=bright & grey)
    return ground


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sorted:
    """Pixels sorted into colours, largest first; `colours_differ` unless two are one under gloss."""

    labels: NDArray[np.intp]
    means: FloatArray
    shares: FloatArray
    silhouette: float
    colours_differ: bool


def _reduced(picture: FloatArray, inside: ArrayLike | None) -> tuple[FloatArray, Mask]:
    """Averaged in linear light over whole blocks, so that the longer side has at most 1200 pixels."""
    mask = np.ones(picture.shape[:2], dtype=np.bool_) if inside is None else np.array(inside, dtype=np.bool_)
    block = -(-max(mask.shape) // _LARGEST_SIDE)
    rows, columns = (side // block for side in mask.shape)
    cut = (slice(0, rows * block), slice(0, columns * block))
    blocks = picture[cut].reshape(rows, block, columns, block, 3).mean(axis=(1, 3))
    whole: Mask = np.asarray(mask[cut].reshape(rows, block, columns, block).all(axis=(1, 3)))
    return blocks, whole


def _neither_gap_nor_sheen(picture: FloatArray, hair: Mask) -> Mask:
    luminance = picture[..., 1]
    if not hair.any():
        return hair
    brightest = np.quantile(luminance[hair], _SHEEN_QUANTILE)
    kept: Mask = (luminance >= _GAP * np.median(luminance[hair])) & (luminance <= brightest)
    return kept


def _shadeless(pixels: FloatArray) -> FloatArray:
    """Features to sort by: lightness, little; a* and b* as they would be at L* 50.

    Half the light scales L* + 16, a* and b* alike (beyond CIELAB's straight part), so their quotient keeps
    the colour and loses the shading.
    """
    lab = xyz_to_lab(pixels)
    at_middle = 66.0 / (lab[:, :1] + 16.0)
    return np.concatenate([_LIGHTNESS_WEIGHT * lab[:, :1], lab[:, 1:] * at_middle], axis=1)


def _sorted_into(count: int, features: FloatArray, pixels: FloatArray) -> _Sorted:
    centres = features.mean(axis=0, keepdims=True) if count == 1 else _centres(count, features)
    labels = np.argmin(scipy.spatial.distance.cdist(features, centres, "sqeuclidean"), axis=1)
    sizes = np.bincount(labels, minlength=count)
    order = [int(i) for i in np.argsort(-sizes, kind="stable") if sizes[i] > 0]
    rank = np.zeros(count, dtype=np.intp)
    rank[order] = np.arange(len(order))
    labels = rank[labels]
    means = np.array([pixels[labels == i].mean(axis=0) for i in range(len(order))])
    return _Sorted(
        labels=labels,
        means=means,
        shares=sizes[order] / len(pixels),
        silhouette=_silhouette(features, labels, len(order)),
        colours_differ=_colours_differ(centres[order], means),
    )


def _centres(count: int, features: FloatArray) -> FloatArray:
    """k-means, the tightest of a few runs; three and more colours easily settle on a gloss instead."""
    sample = features[:: max(1, len(features) // 8000)]
    trims = _TRIMS if count > 2 else _TRIMS[:1]
    cluster, distances = scipy.cluster.vq.kmeans2, scipy.spatial.distance.cdist
    runs = [cluster(sample, _starts(count, sample, trim), minit="matrix", iter=40)[0] for trim in trims]
    looseness = [float(np.min(distances(sample, run, "sqeuclidean"), axis=1).sum()) for run in runs]
    centres: FloatArray = runs[int(np.argmin(looseness))]
    return centres


def _starts(count: int, sample: FloatArray, trim: float) -> FloatArray:
    """Points farthest from the middle, then from each other, with a share trimmed off either end."""
    low, high = np.quantile(sample, trim, axis=0), np.quantile(sample, 1 - trim, axis=0)
    candidates = sample[np.all((sample >= low) & (sample <= high), axis=1)]
    distance = np.sum((candidates - np.median(candidates, axis=0)) ** 2, axis=1)
    starts: list[FloatArray] = []
    for _ in range(count):
        starts.append(candidates[int(np.argmax(distance))])
        distance = np.min(scipy.spatial.distance.cdist(candidates, np.array(starts), "sqeuclidean"), axis=1)
    return np.array(starts)


def _silhouette(features: FloatArray, labels: NDArray[np.intp], count: int) -> float:
    """Mean silhouette (Rousseeuw 1987) of every so-many-th pixel, about 1200 of them; -1 for one colour."""
    step = max(1, len(features) // 1200)
    sample, own = features[::step], labels[::step]
    sizes = np.bincount(own, minlength=count)
    if count < 2 or sizes.min() == 0:
        return -1.0
    distance = scipy.spatial.distance.cdist(sample, sample)
    mean = np.stack([distance[:, own == i].sum(axis=1) / sizes[i] for i in range(count)], axis=1)
    each = np.arange(len(sample))
    inside = mean[each, own] * sizes[own] / np.maximum(sizes[own] - 1, 1)
    mean[each, own] = np.inf
    outside = mean.min(axis=1)
    return float(np.mean((outside - inside) / np.maximum(np.maximum(inside, outside), 1e-12)))


def _colours_differ(centres: FloatArray, means: FloatArray) -> bool:
    for i in range(len(means)):
        for j in range(i):
            if np.linalg.norm((centres[i] - centres[j])[1:]) < _LEAST_CHROMA_APART:
                return False
            if _is_gloss_over(means[[i, j]]):
                return False
    return True


def _is_gloss_over(pair: FloatArray) -> bool:
    """Whether the lighter of two XYZ colours is the darker plus white gloss (Shafer 1985, dichromatic)."""
    darker, lighter = pair[np.argsort(pair[:, 1])]
    amounts, _ = scipy.optimize.nnls(np.stack([darker, D65_WHITE], axis=1), lighter)
    rebuilt = amounts[0] * darker + amounts[1] * D65_WHITE
    alike = float(delta_e_2000(xyz_to_lab(rebuilt), xyz_to_lab(lighter))) < _GLOSS_ALIKE
    return alike and 0.5 < amounts[0] < 2.0


def _warnings(chosen: _Sorted) -> tuple[Reason, ...]:
    if len(chosen.means) > 1 and not chosen.colours_differ:
        return (Reason("colours-may-be-one"),)
    return ()
