"""Places what stands beside the hair: curtain dates, ribbon slices, map labels, the followed point.

Decides positions only, as shares of the picture they belong to, and moves labels apart that would collide.
The pictures are made in `rasters`, their size on screen is the styles' affair.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from journey.edition.model import Entry, Mark, StrandRaster
from journey.site.hair_styles import HairStyles, percent
from journey.site.rasters import RasterFile, row_at

_LEAST_ROOM: Final = 0.25
"""Share of the width that a label needs to its right; on a phone this is about 97 px."""
_MAP_LINE_SHARE: Final = 0.052
"""Height of one label line as a share of the map's height in the styles (1.25 rem of 24 rem)."""
_MAP_LINE_CHARACTERS: Final = 16


@dataclass(frozen=True, slots=True)
class PlacedMark:
    mark: Mark
    classes: str
    """Where it stands, and for the curtain how high it hangs."""


@dataclass(frozen=True, slots=True)
class HungLabel:
    """How a label hangs under the curtain: below how many others, to which side of its line, how wide at most."""

    place: int
    to_the_left: bool
    room: float


@dataclass(frozen=True, slots=True)
class Curtain:
    measured: RasterFile
    ahead: RasterFile | None
    columns: str
    """Class that shares the width between measured and forecast."""
    marks: tuple[PlacedMark, ...]


@dataclass(frozen=True, slots=True)
class StrandMap:
    strand: StrandRaster
    picture: RasterFile
    marks: tuple[tuple[PlacedMark, str], ...]
    """Each mark at its true height, with the class that moves its label clear of its neighbours."""
    rulers: tuple[tuple[int, str], ...]
    """(centimetres, class)."""
    follow: str
    """Points of an SVG polyline in a 100 x 100 box, empty when no point is followed."""


def place_curtain(
    strand: StrandRaster, files: tuple[RasterFile, RasterFile | None], styles: HairStyles
) -> Curtain:
    """The opening picture of one strand with its labels."""
    measured, ahead = files
    end = strand.first_week + strand.rgba.shape[0] / strand.rows_per_week
    spread = end - strand.first_week
    shown = [mark for mark in joined_marks(strand.marks) if strand.first_week <= mark.when.week <= end]
    lefts = [(mark.when.week - strand.first_week) / spread for mark in shown]
    marks = tuple(
        PlacedMark(
            mark,
            styles.declare(f"--x:{percent(left)};--r:{percent(hung.room)};order:{hung.place}")
            + (" flip" if hung.to_the_left else ""),
        )
        for mark, left, hung in zip(shown, lefts, hang_labels(lefts), strict=True)
    )
    share = f"{measured.width}fr" + (f" 6px {ahead.width}fr" if ahead else "")
    return Curtain(measured, ahead, styles.declare(f"grid-template-columns:{share}"), marks)


def joined_marks(marks: Sequence[Mark]) -> list[Mark]:
    """Marks in order of time; those of one moment become one, or their labels would lie on each other."""
    joined: list[Mark] = []
    for mark in sorted(marks, key=lambda one: one.when.week):
        if joined and joined[-1].when.week == mark.when.week:
            mark = replace(joined.pop(), label=joined_label(marks, mark.when.week))
        joined.append(mark)
    return joined


def joined_label(marks: Sequence[Mark], week: float) -> str:
    """What stands at one moment; 'Today' comes before what was done today."""
    here = [mark for mark in marks if mark.when.week == week]
    return ", ".join(mark.label for mark in sorted(here, key=lambda one: one.is_service))


def hang_labels(xs: Sequence[float]) -> list[HungLabel]:
    """How labels hang under the curtain so that none lies on another or on the line another one hangs from.

    `xs` ascend, as shares of the width. Each has a row of its own, however many lines it takes: the latest runs
    to the right at the top, the one before it hangs below. Where too little room is left a label runs to
    the left, below all others; those to the right end at its line unless that leaves them too little.

    >>> [(label.place, label.to_the_left) for label in hang_labels([0, 0.5, 0.9])]
    [(1, False), (0, False), (2, True)]
    """
    right = [x for x in xs if 1 - x >= _LEAST_ROOM]
    end = next((x for x in xs if 1 - x < _LEAST_ROOM), 1.0)
    return [
        HungLabel(len(right) - 1 - i, False, end - x if end - x >= _LEAST_ROOM else 1 - x)
        for i, x in enumerate(right)
    ] + [HungLabel(len(right) + i, True, x) for i, x in enumerate(xs[len(right) :])]


def ribbon_slice(entry: Entry, strand: StrandRaster, styles: HairStyles) -> tuple[str, bool] | None:
    """(class that shows this entry's own rows of the ribbon, whether they are forecast); None without rows.

    An entry that begins before the forecast stops where measuring stops; the last one may have no length
    and then shows the forecast to its end.
    """
    rows = strand.rgba.shape[0]
    start, end = entry.spans
    ahead = start >= strand.forecast_from
    end = strand.last_week if ahead else min(end, strand.forecast_from)
    first = round((start - strand.first_week) * strand.rows_per_week)
    last = min(rows, round((end - strand.first_week) * strand.rows_per_week))
    first = max(first, 0)
    if last - first < 1:
        return None
    size = rows / (last - first)
    offset = first / (rows - (last - first)) if last - first < rows else 0.0
    return styles.declare(
        f"background-size:100% {percent(size)};background-position-y:{percent(offset)}"
    ), ahead


def place_map(strand: StrandRaster, picture: RasterFile, styles: HairStyles) -> StrandMap:
    """One zone's strand map with dates, services, centimetres and perhaps a followed point."""
    weeks = row_at(strand, strand.forecast_from) / strand.rows_per_week
    shown = [mark for mark in joined_marks(strand.marks) if 0 <= mark.when.week - strand.first_week <= weeks]
    tops = [(mark.when.week - strand.first_week) / weeks for mark in shown]
    lines = [-(-len(mark.label) // _MAP_LINE_CHARACTERS) for mark in shown]
    clear = spread_apart(tops, [_MAP_LINE_SHARE * count for count in lines])
    marks = tuple(
        (PlacedMark(mark, styles.place(top=top)), styles.place(top=moved))
        for mark, top, moved in zip(shown, tops, clear, strict=True)
    )
    rulers = tuple((cm, styles.place(left=cm / picture.cm)) for cm in ruler_cm(picture.cm))
    follow = " ".join(
        f"{100 * cm / picture.cm:.2f},{100 * (week - strand.first_week) / weeks:.2f}"
        for week, cm in strand.follow
        if 0 <= week - strand.first_week <= weeks
    )
    return StrandMap(strand, picture, marks, rulers, follow)


def ruler_cm(length_cm: float) -> list[int]:
    """Round centimetres for a ruler, six marks at most.

    >>> ruler_cm(26.1), ruler_cm(4)
    ([0, 5, 10, 15, 20, 25], [0, 1, 2, 3, 4])
    """
    step = next(step for step in (1, 2, 5, 10, 20, 50) if length_cm / step <= 5.9)
    return list(range(0, int(length_cm) + 1, step))


def spread_apart(wanted: Sequence[float], heights: Sequence[float]) -> list[float]:
    """Centres near `wanted` (ascending) such that labels of these heights do not overlap.

    Labels that touch are moved as one block around the mean of where they want to be.

    >>> [round(v, 2) for v in spread_apart([0.1, 0.1, 0.9], [0.1, 0.1, 0.1])]
    [0.05, 0.15, 0.9]
    """
    blocks: list[tuple[float, list[int]]] = []
    for index in range(len(wanted)):
        members = [index]
        start = _block_start(members, wanted, heights)
        while blocks and blocks[-1][0] + sum(heights[i] for i in blocks[-1][1]) > start + 1e-9:
            members = blocks.pop()[1] + members
            start = _block_start(members, wanted, heights)
        blocks.append((start, members))
    centres = [0.0] * len(wanted)
    for start, members in blocks:
        for i in members:
            centres[i] = start + heights[i] / 2
            start += heights[i]
    return centres


def _block_start(members: Sequence[int], wanted: Sequence[float], heights: Sequence[float]) -> float:
    """Where a block begins when each label asks for the start that puts its own centre right."""
    asked, above = [], 0.0
    for i in members:
        asked.append(wanted[i] - above - heights[i] / 2)
        above += heights[i]
    return sum(asked) / len(asked)
