"""Questions about a strand: where its lines are, whether colour is still on it, when that ends.

Decides nothing of its own; it reads strands.  Washing enters through a ``Remaining`` function, so that a
coat counts as there only while some of it is left.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise

from journey.hair.absent import Absent
from journey.hair.layers import Coat, Layers, Remaining, unwashed
from journey.hair.strand import TOUCH_CM, Strand


@dataclass(frozen=True, slots=True)
class Demarcation:
    """A line one can see along the strand: what is on its two sides differs in level or in colour."""

    cm: float
    """From the scalp."""
    scalp_side: Layers
    tip_side: Layers

    @property
    def level_step(self) -> float:
        """Levels by which the tip side is lighter under its coats; negative when it is darker."""
        return self.tip_side.level - self.scalp_side.level


def demarcations(
    strand: Strand, day: float | None = None, remaining: Remaining = unwashed
) -> tuple[Demarcation, ...]:
    """All lines on a day, scalp to tip.  Notes, treatments and coats that are gone make none."""
    pieces = strand.profile(day)
    return tuple(
        Demarcation(near.to_cm, near.layers, far.layers)
        for near, far in pairwise(pieces)
        if _looks(near.layers, remaining) != _looks(far.layers, remaining)
    )


def _looks(layers: Layers, remaining: Remaining) -> tuple[float, tuple[Coat, ...]]:
    return layers.level, layers.standing(remaining)


def coloured_cm(strand: Strand, day: float | None = None, remaining: Remaining = unwashed) -> float:
    """How much of the strand still carries colour, in cm of length; 0 when none does."""
    return sum(piece.length_cm for piece in strand.profile(day) if piece.layers.standing(remaining))


def colour_starts_cm(
    strand: Strand, day: float | None = None, remaining: Remaining = unwashed
) -> float | None:
    """Distance from the scalp to the nearest colour that is still there; ``None`` when none is."""
    starts = (piece.from_cm for piece in strand.profile(day) if piece.layers.standing(remaining))
    return next(starts, None)


def day_colour_is_cut_off(strand: Strand, clip_to_cm: float, clip_days: Iterable[float]) -> float | Absent:
    """First of the clipping days on which the last coloured centimetre is on the floor.

    The colour nearest the scalp, ``x`` in material coordinates, is cut off on the first day with
    ``grown(day) >= clip_to_cm - x``.  Washing is left out: colour may be faded away before.
    """
    days = sorted(clip_days)
    coloured = [piece.from_cm for piece in strand.segments if piece.layers.standing()]
    if not coloured:
        return Absent("zone-without-colour", zone=strand.zone)
    gone = (day for day in days if day >= strand.day and strand.grown_cm(day) >= clip_to_cm - coloured[0])
    return next(gone, Absent("clipping-leaves-some", cm=clip_to_cm, n=len(days)))


def days_until_cut_off(
    cm_from_scalp: float, kept_length_cm: float, growth_cm_per_day: float
) -> float | Absent:
    """Days until what is now so far from the scalp is at the tip of hair kept at one length.

    Hair that is never cut carries a place outwards for good without its nearing the tip: the caller asks
    only about hair that is kept at a length.
    """
    if not growth_cm_per_day > 0:
        return Absent("hair-does-not-grow")
    return max(0.0, kept_length_cm - cm_from_scalp) / growth_cm_per_day


def lightened_twice_cm(strand: Strand, day: float | None = None) -> float:
    """Length that met lightener more than once, in cm: where overlap has to be feared."""
    return sum(piece.length_cm for piece in strand.profile(day) if len(piece.layers.lifts) > 1)


def overlap_cm(strand: Strand, from_cm: float, to_cm: float, day: float | None = None) -> float:
    """Already lightened length within a stretch that lightener is planned for, in cm."""
    return sum(
        max(0.0, min(to_cm, piece.to_cm) - max(from_cm, piece.from_cm))
        for piece in strand.profile(day)
        if piece.layers.lifts
    )


def level_range(
    strand: Strand, from_cm: float, to_cm: float, day: float | None = None
) -> tuple[float, float]:
    """Darkest and lightest level of the fibre within a stretch; refuses a stretch without hair."""
    levels = [
        piece.layers.level
        for piece in strand.profile(day)
        if piece.to_cm > from_cm + TOUCH_CM and piece.from_cm < to_cm - TOUCH_CM
    ]
    if not levels:
        raise ValueError(f"zone {strand.zone!r} has no hair between {from_cm:g} and {to_cm:g} cm")
    return min(levels), max(levels)
