"""What a teacher asks about one zone's strand: new growth, lines, coats in order, what lies underneath.

It decides which day is asked about and how far the picture of the strand runs into the forecast; the answers
stand in `journey.hair`.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import zip_longest

from journey.hair.absent import Absent
from journey.hair.growth import AcrossGrowth, GrowthRate, across_growth, new_growth
from journey.hair.interval import Interval
from journey.hair.layers import Coat, Layers
from journey.hair.strand import Strand
from journey.hair.strand_questions import day_colour_is_cut_off
from journey.study.growing import Grown
from journey.study.model import AddedHair, StrandStudy
from journey.study.strand_colours import StrandColours, on_screen, raster
from journey.study.strand_lines import clip_takes_all, lines_today

FORECAST_WEEKS = 8
FOLLOWED_SHARE = 0.25
"""The point that is followed lies a quarter down the hair on the first day: far enough to grow, not cut."""


def study_strand(
    spread: AcrossGrowth[Grown], rate: GrowthRate, colours: StrandColours, as_of: date
) -> StrandStudy:
    """Everything about one zone, up to eight weeks past `as_of`."""
    grown = spread.expected
    start = colours.start
    today = float((as_of - start).days)
    strand = grown.history.at(today)
    last_day = as_of + timedelta(weeks=FORECAST_WEEKS)

    def remaining(coat: Coat) -> float:
        return colours.remaining(coat, as_of)

    standing = [piece.layers.standing(remaining) for piece in strand.profile()]
    deepest = max(standing, key=len, default=())
    return StrandStudy(
        zone=grown.zone.key,
        history=grown.history,
        raster=on_screen(raster(colours, grown, start, last_day)),
        first_day=start,
        forecast_from=as_of,
        last_day=last_day,
        follow=_followed(grown, start, as_of),
        grown_cm=_growth(today, rate),
        cut_cm=strand.cut_cm,
        new_growth_cm=_new_growth(grown, rate, today),
        added=tuple(_added(grown, colours, as_of)),
        lines=lines_today(spread, remaining, as_of, start),
        coats_today=tuple(coat.name for coat in reversed(deepest)),
        coat_shares=tuple(coat.share * remaining(coat) for coat in reversed(deepest)),
        under_top=_under(deepest, strand.layers_at(strand.length_cm() / 2)),
        colour_gone_on=_gone_on(grown, start),
        clip_takes_all=clip_takes_all(spread, start),
    )


def _added(grown: Grown, colours: StrandColours, as_of: date) -> Iterator[AddedHair]:
    """Every stretch of days with extensions in, as the strand's states tell."""
    put_in: date | None = None
    for state, after in zip_longest(grown.history.states, grown.history.states[1:]):
        if not state.extension:
            continue
        put_in = put_in or colours.start + timedelta(days=state.day)
        if after is None:
            yield _as_last(state, put_in, None, as_of, colours)
        elif not after.extension:
            taken_out = colours.start + timedelta(days=after.day)
            yield _as_last(state, put_in, taken_out, taken_out, colours)
            put_in = None


def _as_last(
    state: Strand, put_in: date, taken_out: date | None, last: date, colours: StrandColours
) -> AddedHair:
    pieces = state.extension_profile(float((last - colours.start).days))
    layers = max((piece.layers for piece in pieces), key=lambda one: len(one.coats))
    coats = ((coat.name, coat.share * colours.remaining(coat, last)) for coat in reversed(layers.coats))
    return AddedHair(
        put_in=put_in,
        taken_out=taken_out,
        span_cm=(pieces[0].from_cm, pieces[-1].to_cm),
        level=layers.level,
        coats=tuple(coats),
    )


def _growth(days: float, rate: GrowthRate) -> Interval:
    found = new_growth(days, rate)
    return Interval(found.low, found.median, found.high)


def _new_growth(grown: Grown, rate: GrowthRate, today: float) -> Interval | Absent:
    """Grown since the roots were last worked on, for slow, expected and fast growth."""
    middle = grown.history.at(today).new_growth_cm()
    if middle is None:
        return Absent("roots-not-reached")
    spread = across_growth(rate, lambda cm_per_day: cm_per_day / (rate.mm_per_day / 10))
    return Interval(middle * spread.slow, middle, middle * spread.fast)


def _followed(grown: Grown, start: date, as_of: date) -> tuple[tuple[float, float], ...]:
    """(week, cm) of one point on the fibre until it is cut off."""
    first = FOLLOWED_SHARE * grown.zone.length.cm
    days = range(0, (as_of - start).days + 1, 7)
    line = []
    for day in days:
        cm = first + grown.today.growth_cm_per_day * day
        if cm > grown.history.at(float(day)).length_cm():
            break
        line.append((day / 7, cm))
    return tuple(line)


def _under(coats: tuple[Coat, ...], layers: Layers | None) -> str:
    """What would show if the top coat were gone: a coat's name, or 'level:9' for the hair itself."""
    if len(coats) > 1:
        return coats[-2].name
    return "" if layers is None else f"level:{layers.level:g}"


def _gone_on(grown: Grown, start: date) -> date | None:
    """Day the last coloured centimetre of a clipped zone was cut off; None where it is not clipped."""
    clipped = grown.zone.clipped_to
    if clipped is None:
        return None
    states = grown.history.states
    coloured = next((state for state in states if any(p.layers.coats for p in state.segments)), None)
    if coloured is None:
        return None
    days = [state.day for state in states if state.day > coloured.day]
    gone = day_colour_is_cut_off(coloured, clipped.cm, days)
    return None if isinstance(gone, Absent) else start + timedelta(days=gone)
