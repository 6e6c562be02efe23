"""Where words go so that none lies on another.

Decides rows for labels over a chart (of two that collide the earlier takes the upper row), which words under
an axis have room, where a tab stands beside its point, and how far labels at a line's end are pushed apart.
All in px; the widths come from the canvas.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

_GAP_PX = 8.0
_AWAY_PX = (10.0, 18.0, 30.0, 46.0)
_DIRECTIONS = ((1, 0), (1, -1), (1, 1), (-1, 0), (-1, -1), (-1, 1), (0, -1), (0, 1))


@dataclass(frozen=True, slots=True)
class Flag:
    """A label over the plot, tied to `x`; its text starts at `left` and is `width` wide."""

    x: float
    left: float
    width: float
    text: str
    bold: bool = False
    flush_right: bool = False
    """Set from its right end, because the sheet ends there: a narrower face then leaves room at the left."""

    @property
    def right(self) -> float:
        return self.left + self.width


@dataclass(frozen=True, slots=True)
class Tab:
    """A paper rectangle with its word: left, top, width, height."""

    left: float
    top: float
    width: float
    height: float

    def overlap(self, other: "Tab") -> float:
        """Shared area in px²."""
        wide = min(self.left + self.width, other.left + other.width) - max(self.left, other.left)
        high = min(self.top + self.height, other.top + other.height) - max(self.top, other.top)
        return max(wide, 0.0) * max(high, 0.0)

    def holds(self, point: tuple[float, float], margin: float = 4.0) -> bool:
        return (
            self.left - margin < point[0] < self.left + self.width + margin
            and self.top - margin < point[1] < self.top + self.height + margin
        )


def stack_rows(flags: Sequence[Flag]) -> tuple[int, ...]:
    """Row of each flag, 0 just over the plot. Flags are given in order of `x`.

    Later flags are seated first, each in the lowest row where it meets neither a seated label nor the line
    that falls from a label seated above; so of two that collide the earlier goes up.
    """
    rows = [0] * len(flags)
    for index in range(len(flags) - 1, -1, -1):
        row = 0
        while _blocked(flags, rows, index, row):
            row += 1
        rows[index] = row
    return tuple(rows)


def _blocked(flags: Sequence[Flag], rows: Sequence[int], index: int, row: int) -> bool:
    mine = flags[index]
    for later in range(index + 1, len(flags)):
        other = flags[later]
        if rows[later] == row and mine.right + _GAP_PX > other.left:
            return True
        if rows[later] > row and mine.right + _GAP_PX / 2 > other.x > mine.left:
            return True
    return False


def with_room(words: Sequence[tuple[float, float, int]], gap: float = _GAP_PX) -> tuple[int, ...]:
    """Indices of the words that fit along one line, in order of place.

    Each is (centre, width, rank); a lower rank is seated first, ties in the order given.
    """
    seated: list[int] = []
    for index in sorted(range(len(words)), key=lambda i: words[i][2]):
        centre, width, _ = words[index]
        if all(abs(centre - words[other][0]) >= (width + words[other][1]) / 2 + gap for other in seated):
            seated.append(index)
    return tuple(sorted(seated, key=lambda i: words[i][0]))


def place_tab(
    point: tuple[float, float],
    size: tuple[float, float],
    bounds: Tab,
    taken: Sequence[Tab],
    avoid: Sequence[tuple[float, float]],
) -> Tab:
    """The seat around `point` that hides least: no other tab, few of the points in `avoid`, and near."""
    seats = [_seat(point, size, direction, away) for away in _AWAY_PX for direction in _DIRECTIONS]

    def cost(seat: Tab) -> float:
        outside = seat.width * seat.height - seat.overlap(bounds)
        covered = sum(seat.overlap(tab) for tab in taken)
        hidden = sum(seat.holds(p) for p in avoid)
        return outside * 10 + covered * 10 + hidden * 40

    best = min(range(len(seats)), key=lambda i: (cost(seats[i]) + 8 * (i // len(_DIRECTIONS)), i))
    return seats[best]


def _seat(
    point: tuple[float, float], size: tuple[float, float], direction: tuple[int, int], away: float
) -> Tab:
    (x, y), (width, height), (right, down) = point, size, direction
    reach = away if 0 in direction else away * 0.7
    centre_x = x + right * (reach + width / 2)
    centre_y = y + down * (reach + height / 2)
    return Tab(centre_x - width / 2, centre_y - height / 2, width, height)


def wrap(text: str, room: float, width_of: Callable[[str], float]) -> list[str]:
    """Break text at blanks into lines that fit the room; a word too long for it stands alone.

    >>> wrap("the straight line", 12, len)
    ['the straight', 'line']
    """
    lines: list[str] = []
    for word in text.split():
        if lines and width_of(f"{lines[-1]} {word}") <= room:
            lines[-1] = f"{lines[-1]} {word}"
        else:
            lines.append(word)
    return lines


def push_apart(wanted: Sequence[float], gap: float, low: float, high: float) -> tuple[float, ...]:
    """Places as near as may be to `wanted`, at least `gap` apart and within low..high where they fit.

    >>> push_apart([10, 12, 50], gap=10, low=0, high=100)
    (6.0, 16.0, 50.0)
    """
    order = sorted(range(len(wanted)), key=lambda i: (wanted[i], i))
    # Runs of labels that touch are centred on the mean of where they wanted to be.
    runs: list[list[float]] = []
    for index in order:
        runs.append([wanted[index]])
        while len(runs) > 1 and _start(runs[-1], gap) - _end(runs[-2], gap) < gap:
            runs[-2:] = [runs[-2] + runs[-1]]
    seats = [_start(run, gap) + gap * i for run in runs for i in range(len(run))]
    seats = _within(seats, gap, low, high)
    placed = dict(zip(order, seats, strict=True))
    return tuple(placed[i] for i in range(len(wanted)))


def _start(run: Sequence[float], gap: float) -> float:
    return sum(run) / len(run) - gap * (len(run) - 1) / 2


def _end(run: Sequence[float], gap: float) -> float:
    return _start(run, gap) + gap * (len(run) - 1)


def _within(seats: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Shift the ends inside and let the rest give way."""
    down = [float(seat) for seat in seats]
    for i in range(len(down)):
        down[i] = max(down[i], low if i == 0 else down[i - 1] + gap)
    if down and down[-1] > high:
        down[-1] = high
        for later, earlier in pairwise(range(len(down) - 1, -1, -1)):
            down[earlier] = min(down[earlier], down[later] - gap)
    return down
