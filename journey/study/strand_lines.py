"""Lines along one zone's hair: where each lies today, how sure that is, and when it will be at the tips.

It decides how the spread of growth becomes a range: the whole journey is grown three times, for slow, expected
and fast growth, and lines between the same services are taken for the same line.
"""

from __future__ import annotations

from datetime import date, timedelta

from journey.hair.absent import Absent
from journey.hair.growth import AcrossGrowth
from journey.hair.layers import Layers, Remaining
from journey.hair.strand import Strand
from journey.hair.strand_questions import Demarcation, days_until_cut_off, demarcations
from journey.study.growing import Grown
from journey.study.model import DateRange, Line


def lines_today(spread: AcrossGrowth[Grown], remaining: Remaining, as_of: date, start: date) -> tuple[Line, ...]:
    """All lines of a zone, scalp to tip."""
    strands = spread.ask(lambda grown: grown.history.at(float((as_of - start).days)))
    slow, fast = (demarcations(one, remaining=remaining) for one in (strands.slow, strands.fast))
    return tuple(
        Line(
            cm=line.cm,
            range_cm=_range(line, slow, fast),
            reaches_tips=reaches_tips(line.cm, strands, as_of),
        )
        for line in demarcations(strands.expected, remaining=remaining)
    )


def _range(
    line: Demarcation, slow: tuple[Demarcation, ...], fast: tuple[Demarcation, ...]
) -> tuple[float, float] | Absent:
    alike = [[one.cm for one in lines if _sides(one) == _sides(line)] for lines in (slow, fast)]
    if not all(alike):
        return Absent("line-not-everywhere")
    nearest = [min(places, key=lambda cm: abs(cm - line.cm)) for places in alike]
    return min(nearest), max(nearest)


def _sides(line: Demarcation) -> tuple[tuple[str, ...], tuple[str, ...]]:
    return _services(line.scalp_side), _services(line.tip_side)


def _services(layers: Layers) -> tuple[str, ...]:
    return (*(lift.service for lift in layers.lifts), *(coat.service for coat in layers.coats))


def reaches_tips(cm: float, strands: AcrossGrowth[Strand], as_of: date) -> DateRange | Absent:
    """Days until the place has grown to where the tip is today: (length − distance) ÷ growth a day."""
    length = strands.expected.length_cm()
    days = [
        days_until_cut_off(cm, length, strand.growth_cm_per_day)
        for strand in (strands.fast, strands.expected, strands.slow)
    ]
    found = [as_of + timedelta(days=round(one)) for one in days if not isinstance(one, Absent)]
    return (found[0], found[1], found[2]) if len(found) == 3 else Absent("hair-does-not-grow")


def clip_takes_all(spread: AcrossGrowth[Grown], start: date) -> DateRange | Absent | None:
    """Days from which a clip to the zone's length leaves no colour; None for a zone that is not clipped.

    The colour nearest the scalp, laid at a distance x, has grown past the clip after (clip − x) ÷ growth a day.
    """
    clipped = spread.expected.zone.clipped_to
    if clipped is None:
        return None
    days = [_last_colour_past(grown, clipped.cm) for grown in (spread.fast, spread.expected, spread.slow)]
    found = [start + timedelta(days=round(one)) for one in days if not isinstance(one, Absent)]
    return (
        (found[0], found[1], found[2])
        if len(found) == 3
        else Absent("zone-without-colour", zone=spread.expected.zone.key)
    )


def _last_colour_past(grown: Grown, clip_cm: float) -> float | Absent:
    """Day counted from week 0, from the last service that laid colour on this zone."""
    coloured = _last_coloured(grown.history.states)
    if coloured is None:
        return Absent("zone-without-colour", zone=grown.zone.key)
    nearest = next(piece.from_cm for piece in coloured.profile() if piece.layers.standing())
    days = days_until_cut_off(nearest, clip_cm, coloured.growth_cm_per_day)
    return days if isinstance(days, Absent) else coloured.day + days


def _last_coloured(states: tuple[Strand, ...]) -> Strand | None:
    laid = [
        state
        for state in states
        if any(coat.applied_day == state.day for piece in state.segments for coat in piece.layers.coats)
    ]
    return laid[-1] if laid else None
