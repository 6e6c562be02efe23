"""Sums about hair over time: washes, fade, refresh, growth and trims, lift, removal, an option's bowls."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from journey.edition.desk import Desk
from journey.edition.model import WorkedSum
from journey.edition.sums import Lines
from journey.hair.absent import Absent
from journey.hair.fade_grid import (
    MEAN_DELTA_E_PER_AXIS_SD,
    NOISE_PRIOR_PHOTOS,
    TEMPER,
    axis_sd,
    log_likelihood_of_squares,
    squared_distances,
)
from journey.hair.fade_law import share_after, washes_until_share
from journey.hair.growth import DEFAULT_RATE
from journey.hair.level import levels_to_lift, lightening_sessions
from journey.hair.strand import worked_days
from journey.study.calendar import entries_in_order
from journey.study.fading import latest_fade
from journey.study.growing import rulers
from journey.study.model import Fade, OptionStudy, StrandStudy


def sums_of_hair(desk: Desk) -> Iterator[WorkedSum]:
    """For the leading place and its zone."""
    study = desk.study
    fade = latest_fade(study.fades, study.leading)
    if fade is not None and fade.measured:
        yield _washes(desk, fade)
        yield _fade(desk, fade)
    yield _rate(desk)
    strand = next((one for one in study.strands if one.zone == study.leading.zone), None)
    if strand is not None:
        yield _growth(desk, strand)
    yield from _clipped(desk)
    yield from _lift(desk)
    yield from _removal(desk)
    yield from _option(desk)


def _washes(desk: Desk, fade: Fade) -> WorkedSum:
    """Counted where she counted, else days times habit."""
    lines, journey = Lines(desk.words, "washes"), desk.record.journey
    n, parts, day = lines.n, list[str](), fade.applied
    habit = journey.hair.washes_a_week
    last, total, *_ = fade.measured[-1]
    for entry in entries_in_order(journey):
        if not fade.applied < entry.date <= last:
            continue
        counted = getattr(entry, "washes_since_last", None)
        days = (entry.date - day).days
        parts.append(n(counted, 0) if counted is not None else f"{n(days, 0)} × {n(habit, 1)} ÷ 7")
        day = entry.date
    lines.note("washes")
    lines.sum("washes", " + ".join(parts), total, 1)
    return lines.done(**{"from": desk.words.day(fade.applied), "to": desk.words.day(last)})


def _fade(desk: Desk, fade: Fade) -> WorkedSum:
    """The likeliest cell of the grid by hand; the grid is the same for every cell, weighed."""
    lines = Lines(desk.words, "fade")
    n, posterior = lines.n, fade.posterior
    best = int(np.argmax(posterior.weight))
    k, floor, shape = (float(one[best]) for one in (posterior.rate_per_wash, posterior.floor, posterior.shape))
    prior = posterior.prior
    lines.note("fade-grid", median=n(prior.median_rate_per_wash, 4), spread=n(prior.log_sd))
    lines.note("fade-cell", k=n(k, 4), floor=n(floor), shape=n(shape, 3), washes=n(fade.measured[-1][1], 1))
    readings = {reading.key: reading for reading in desk.study.readings}
    squares, noises = [], []
    for day, washes, _, key in fade.measured:
        share = float(share_after(washes, k, floor=floor, shape=shape))
        power = f"({n(k, 4)} × {n(washes, 1)})^{n(shape, 3)}"
        law = f"{n(floor)} + (1 − {n(floor)}) × exp(−({power}))"
        lines.sum(f"q({desk.words.day(day)})", law, share, 3)
        squares.append(float(squared_distances(fade.path, readings[key].body_lab, np.array(share))))
        noises.append(readings[key].mean_error)
    apart = [float(np.sqrt(one)) for one in squares]
    axis = n(MEAN_DELTA_E_PER_AXIS_SD)
    lines.note(
        "fade-distances",
        distances="; ".join(n(one, 2) for one in apart),
        noises="; ".join(n(one, 3) for one in noises),
        axis=axis,
    )
    total = " + ".join(f"({n(one, 2)} ÷ ({n(off, 3)} ÷ {axis}))^2" for one, off in zip(apart, noises, strict=True))
    over = sum(one / axis_sd(off) ** 2 for one, off in zip(squares, noises, strict=True))
    lines.sum("S", total, over, 1)
    log = float(log_likelihood_of_squares(np.array(over), len(squares)))
    freedom = f"({n(NOISE_PRIOR_PHOTOS, 0)} + 3 × {len(squares)} × {n(TEMPER, 1)})"
    inside = f"{n(NOISE_PRIOR_PHOTOS, 0)} + {n(TEMPER, 1)} × {n(over, 3)}"
    lines.sum("ln L", f"{n(-0.5, 1)} × {freedom} × ln({inside})", log, 1)
    now = posterior.share_at(fade.measured[-1][1])
    lines.note("fade-weighed", share=n(now.median), low=n(now.low), high=n(now.high))
    _refresh(desk, fade, lines, (k, floor, shape))
    return lines.done(colour=desk.gate.text("Service.name", fade.label))


def _refresh(desk: Desk, fade: Fade, lines: Lines, cell: tuple[float, float, float]) -> None:
    """When the same cell reaches the salon's mark, and what the whole grid says."""
    (k, floor, shape), n = cell, lines.n
    mark = desk.record.salon.refresh_from
    washes = float(washes_until_share(mark, np.array([k]), floor=np.array([floor]), shape=np.array([shape]))[0])
    if not np.isfinite(washes):
        lines.note("refresh-never", mark=n(mark))
        return
    law = f"(−ln(({n(mark)} − {n(floor)}) ÷ (1 − {n(floor)})))^(1 ÷ {n(shape, 3)}) ÷ {n(k, 4)}"
    lines.sum("washes-until", law, washes, 1)
    habit = desk.record.journey.hair.washes_a_week
    lines.sum("days-until", f"{n(washes, 2)} × 7 ÷ {n(habit, 1)}", washes * 7 / habit, 0)
    refresh = desk.study.refresh
    if not isinstance(refresh, Absent) and not isinstance(refresh.window, Absent):
        first, last = (desk.words.day(day) for day in refresh.window)
        lines.note("refresh", first=first, last=last, until=n(desk.record.salon.refresh_until))


def _rate(desk: Desk) -> WorkedSum:
    """Rulers weighed against the literature by how much each knows."""
    lines = Lines(desk.words, "rate")
    n, rate = lines.n, desk.study.rate
    assumed, read = desk.record.salon.assumptions, rulers(desk.record.journey)
    if desk.record.journey.hair.growth_mm_per_month is not None or not read:
        lines.note("rate-as-it-is", rate=n(rate.mm_per_day, 3), spread=n(rate.sd_mm_per_day, 3))
        return lines.done()
    error = float(np.hypot(assumed.ruler_error_cm, assumed.start_error_cm)) * 10
    lines.note("rate", rate=n(DEFAULT_RATE.mm_per_day, 3), spread=n(DEFAULT_RATE.sd_mm_per_day, 3))
    lines.sum("error", f"√({n(assumed.ruler_error_cm)}^2 + {n(assumed.start_error_cm)}^2) × 10", error, 2, "mm")
    above, below = [], []
    for one in read:
        days = one.day - one.since_day
        rate_here = 10 * one.regrowth_cm / days
        lines.sum("ruler", f"10 × {n(one.regrowth_cm)} ÷ {n(days, 0)}", rate_here, 3, "mm")
        weight = f"({n(days, 0)} ÷ {n(error, 4)})^2"
        above.append(f"{weight} × {n(rate_here, 4)}")
        below.append(weight)
    own = f"1 ÷ {n(DEFAULT_RATE.sd_mm_per_day, 4)}^2"
    total = f"({' + '.join((own, *below))})"
    mean = f"({own} × {n(DEFAULT_RATE.mm_per_day, 4)} + {' + '.join(above)}) ÷ {total}"
    lines.sum("rate", mean, rate.mm_per_day, 2, "mm")
    lines.sum("spread", f"1 ÷ √{total}", rate.sd_mm_per_day, 3, "mm")
    return lines.done()


def _growth(desk: Desk, strand: StrandStudy) -> WorkedSum:
    """Grown + first length = present length + cut."""
    lines = Lines(desk.words, "growth")
    n, rate = lines.n, desk.study.rate
    days = (desk.study.as_of - desk.study.start).days
    grown = strand.grown_cm
    lines.sum("grown", f"{n(rate.mm_per_day, 4)} × {days} ÷ 10", grown.median, 1, "cm")
    for label, share, value in (("slow", 0.1, grown.low), ("fast", 0.9, grown.high)):
        z = (rate.quantile_cm_per_day(share) * 10 - rate.mm_per_day) / rate.sd_mm_per_day
        formula = f"({n(rate.mm_per_day, 4)} + {n(z, 4)} × {n(rate.sd_mm_per_day, 4)}) × {days} ÷ 10"
        lines.sum(label, formula, value, 1, "cm")
    length = strand.history.latest.length_cm()
    first = next(zone.length.cm for zone in desk.record.journey.zones if zone.key == strand.zone)
    lines.sum("length", f"{n(first, 1)} + {n(grown.median, 2)} − {n(strand.cut_cm, 2)}", length, 1, "cm")
    for line in strand.lines[:1]:
        beyond = strand.history.latest.layers_at(line.cm + 0.1)
        since = days - max(worked_days(beyond) if beyond is not None else (0.0,), default=0.0)
        lines.sum("line", f"{n(rate.mm_per_day, 4)} × {n(since, 0)} ÷ 10", line.cm, 1, "cm")
    return lines.done(zone=desk.zone(strand.zone))


def _clipped(desk: Desk) -> Iterator[WorkedSum]:
    """After how many days a clipped zone has lost what was coloured to its skin."""
    zones = {zone.key: zone for zone in desk.record.journey.zones}
    for strand in desk.study.strands:
        clipped = zones[strand.zone].clipped_to
        if strand.colour_gone_on is None or clipped is None:
            continue
        lines = Lines(desk.words, "clipped")
        n, rate = lines.n, desk.study.rate
        lines.sum("days", f"10 × {n(clipped.cm)} ÷ {n(rate.mm_per_day, 4)}", 10 * clipped.cm / rate.mm_per_day, 0)
        lines.note("clipped", day=desk.words.day(strand.colour_gone_on))
        yield lines.done(zone=desk.zone(strand.zone))


def _lift(desk: Desk) -> Iterator[WorkedSum]:
    lift = next((one for one in desk.study.lift if one.zone == desk.study.leading.zone), None)
    if lift is None or lift.lifted_level is None:
        return
    lines = Lines(desk.words, "lift")
    n, step = lines.n, float(desk.record.salon.safe_lift_per_session)
    levels = levels_to_lift(lift.natural_level, lift.lifted_level)
    lines.sum("levels", f"{n(lift.lifted_level, 1)} − {n(lift.natural_level, 1)}", levels, 1)
    sessions = lightening_sessions(lift.natural_level, lift.lifted_level, step)
    lines.sum("sessions", f"⌈{n(levels, 1)} ÷ {n(step, 0)}⌉", sessions, 0)
    yield lines.done(zone=desk.zone(lift.zone))


def _removal(desk: Desk) -> Iterator[WorkedSum]:
    removal = next((one for one in desk.study.removals if one.place == desk.study.leading and one.coats), None)
    if removal is None:
        return
    lines = Lines(desk.words, "removal")
    n, coat = lines.n, removal.coats[0]
    for times, left in enumerate(coat.left[1:], 1):
        lines.sum(str(times), f"{n(100 * coat.left[0], 2)} × {n(removal.leaves)}^{times}", 100 * left, 0, "%")
    spread = desk.record.salon.assumptions.remover_spread
    for label, effect in (("little", 1 - spread), ("much", 1 + spread)):
        lines.sum(label, f"100 × {n(removal.leaves)}^{n(effect)}", 100 * removal.leaves**effect, 0, "%")
    yield lines.done(place=desk.place(removal.place))


def _upkeep(desk: Desk, study: OptionStudy, lines: Lines) -> None:
    """What it costs by the month, for the salon alone."""
    numbers = (study.cost, study.refresh_weeks, study.upkeep_per_month)
    cost, weeks, upkeep = numbers
    if isinstance(cost, Absent) or isinstance(weeks, Absent) or isinstance(upkeep, Absent):
        return
    if desk.gate.may_derive("Product.price"):
        per_month = f"{lines.n(365.25)} ÷ 12 ÷ 7"
        lines.sum("upkeep", f"{lines.n(cost)} ÷ {lines.n(weeks, 0)} × {per_month}", upkeep, 1)


def _option(desk: Desk) -> Iterator[WorkedSum]:
    """Minutes and grams of the option with the most steps."""
    pairs = list(zip(desk.record.journey.options, desk.study.options, strict=True))
    if not pairs:
        return
    option, study = max(pairs, key=lambda pair: len(pair[0].services))
    lines = Lines(desk.words, "option")
    n = lines.n
    minutes = " + ".join(n(service.time.minutes, 0) for service in option.services)
    lines.sum("minutes", minutes, study.minutes, 0, "min")
    bowls = [service.bowl for service in option.services if service.bowl is not None]
    grams = " + ".join(n(line.grams.g, 0) for bowl in bowls for line in bowl.lines)
    if grams:
        lines.sum("grams", grams, study.grams, 0, "g")
    _upkeep(desk, study, lines)
    yield lines.done(option=desk.gate.text("Option.title", option.title))
