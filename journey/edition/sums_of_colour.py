"""Sums about colours: a reading, a difference with grade and limit, a place on the fade path, strands, layers."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from journey.colour.difference import delta_e_2000, difference_terms
from journey.colour.fade_path import TRACKING_K_L
from journey.colour.grey_scale import grey_scale_terms
from journey.colour.reading_limits import PLACEMENT_REPEATABILITY, tracked_share
from journey.colour.spaces import D65_WHITE, lab_to_xyz
from journey.edition.desk import Desk
from journey.edition.model import WorkedSum
from journey.edition.sum_files import PATH_STEP, laid_over
from journey.edition.sums import Lines
from journey.hair.absent import Absent
from journey.study import predicting
from journey.study.bowls import products_of
from journey.study.fading import latest_fade
from journey.study.model import Change, Fade, FibreStudy, Reading


def sums_of_colour(desk: Desk) -> Iterator[WorkedSum]:
    """For the leading place where it serves, else for the first there is."""
    study = desk.study
    readings = {reading.key: reading for reading in study.readings}
    fade = latest_fade(study.fades, study.leading)
    if fade is not None and fade.measured:
        key = fade.measured[-1][3]
        yield _reading(desk, readings[key])
        change = next((one for one in study.changes if (one.earlier, one.later) == (fade.fresh, key)), None)
        if change is not None:
            yield _difference(desk, change, readings)
            yield _grade(desk, change, readings)
            yield _limit(desk, change, readings)
        yield _share(desk, fade, readings[key])
    for fibre in study.fibres[:1]:
        yield _strands(desk, fibre)
        yield from _scale(desk, fibre)
    yield from _layering(desk)


def _reading(desk: Desk, reading: Reading) -> WorkedSum:
    """From the mean light of the patch on the card to L*, a* and b*."""
    lines = Lines(desk.words, "reading")
    n = lines.n
    calibration = next(photo.calibration for photo in desk.study.photos if photo.photo == reading.photo)
    xyz = lab_to_xyz(reading.from_afar_lab)
    if calibration.curves is None:
        matrix = np.array(calibration.matrix)
        light = (xyz @ np.linalg.inv(matrix)) / calibration.gains
        lines.note("reading-card" if calibration.method == "grey card" else "reading-none")
        balanced = light * calibration.gains
        for channel, seen, gain, value in zip("RGB", light, calibration.gains, balanced, strict=True):
            lines.sum(channel, f"{n(seen, 5)} × {n(gain, 5)}", value, 4)
        for name, column, value in zip("XYZ", matrix.T, xyz, strict=True):
            parts = " + ".join(f"{n(one, 4)} × {n(m, 5)}" for one, m in zip(balanced, column, strict=True))
            lines.sum(name, parts, value, 3)
    lines.note("cube-roots", X=n(D65_WHITE[0], 5), Z=n(D65_WHITE[2], 5))
    X, Y, Z = (f"({n(value, 5)} ÷ {n(white, 5)})^(1 ÷ 3)" for value, white in zip(xyz, D65_WHITE, strict=True))
    if np.min(xyz / D65_WHITE) > (6 / 29) ** 3:
        L, a, b = reading.from_afar_lab
        lines.sum("L*", f"116 × {Y} − 16", L, 1)
        lines.sum("a*", f"500 × ({X} − {Y})", a, 1)
        lines.sum("b*", f"200 × ({Y} − {Z})", b, 1)
    lines.note("body")
    L, a, b = reading.body_lab
    lines.sum("C*", f"√({n(a, 1)}^2 + {n(b, 1)}^2)", float(np.hypot(a, b)), 1)
    lines.sum("h°", f"atan2({n(b, 2)}, {n(a, 2)})", float(np.degrees(np.arctan2(b, a)) % 360), 0)
    return lines.done(place=desk.place(reading.place), when=desk.words.day(reading.day))


def _pair(change: Change, readings: dict[str, Reading]) -> tuple[Reading, Reading]:
    return readings[change.earlier], readings[change.later]


def _difference(desk: Desk, change: Change, readings: dict[str, Reading]) -> WorkedSum:
    lines = Lines(desk.words, "difference")
    n = lines.n
    one, two = (reading.body_lab for reading in _pair(change, readings))
    t = difference_terms(one, two)
    C = n(t.mean_ab_chroma, 3)
    chromas = " + ".join(f"√({n(a)}^2 + {n(b)}^2)" for _, a, b in (one, two))
    lines.sum("C̄", f"({chromas}) ÷ 2", float(t.mean_ab_chroma), 2)
    lines.sum("1 + G", f"1 + 0.5 × (1 − √({C}^7 ÷ ({C}^7 + 25^7)))".replace("0.5", n(0.5, 1)), float(t.stretch), 3)
    for number, (lab, chroma, hue) in enumerate(((one, t.C_1, t.h_1), (two, t.C_2, t.h_2)), 1):
        a = f"{n(t.stretch, 4)} × {n(lab[1])}"
        lines.sum(f"C′{number}", f"√(({a})^2 + {n(lab[2])}^2)", float(chroma), 2)
        lines.sum(f"h′{number}", f"atan2({n(lab[2])}, {a})", float(hue), 1)
    lines.sum("ΔL′", f"{n(two[0])} − {n(one[0])}", float(t.lightness), 2)
    lines.sum("ΔC′", f"{n(t.C_2, 3)} − {n(t.C_1, 3)}", float(t.chroma), 2)
    half = f"sin(({n(t.h_2)} − {n(t.h_1)}) ÷ 2)"
    lines.sum("ΔH′", f"2 × √({n(t.C_1)} × {n(t.C_2)}) × {half}", float(t.hue), 1)
    off = f"({n(t.L_mean)} − 50)^2"
    lines.sum("S_L", f"1 + {n(0.015, 3)} × {off} ÷ √(20 + {off})", float(t.S_L), 3)
    lines.sum("S_C", f"1 + {n(0.045, 3)} × {n(t.C_mean)}", float(t.S_C), 2)
    h = n(t.h_mean)
    weight = (
        f"1 − {n(0.17)} × cos({h} − 30) + {n(0.24)} × cos(2 × {h}) + {n(0.32)} × cos(3 × {h} + 6)"
        f" − {n(0.2)} × cos(4 × {h} − 63)"
    )
    lines.sum("S_H", f"1 + {n(0.015, 3)} × {n(t.C_mean)} × ({weight})", float(t.S_H), 2)
    bell = f"exp(−((({h} − 275) ÷ 25)^2))"
    Cm = n(t.C_mean, 3)
    lines.sum("R_T", f"−2 × √({Cm}^7 ÷ ({Cm}^7 + 25^7)) × sin(60 × {bell})", float(t.rotation), 3)
    l_, c_, h_ = (
        f"({n(t.lightness, 3)} ÷ ({n(TRACKING_K_L, 1)} × {n(t.S_L, 4)}))",
        f"({n(t.chroma, 3)} ÷ {n(t.S_C, 4)})",
        f"({n(t.hue, 3)} ÷ {n(t.S_H, 4)})",
    )
    formula = f"√({l_}^2 + {c_}^2 + {h_}^2 + {n(t.rotation, 4)} × {c_} × {h_})"
    lines.sum("ΔE₀₀", formula, change.delta_e_2000, 1)
    return lines.done(**_when(desk, change, readings))


def _grade(desk: Desk, change: Change, readings: dict[str, Reading]) -> WorkedSum:
    lines = Lines(desk.words, "grade")
    n = lines.n
    one, two = (reading.body_lab for reading in _pair(change, readings))
    t = grey_scale_terms(one, two)
    off = f"((180 − |180 − |{n(t.h_mean)} − 280||) ÷ 30)^2"
    lines.note("grade", chroma=n(t.c_mean), hue=n(t.h_mean))
    lines.sum("D", f"{n(t.delta_c, 3)} × {n(t.c_mean, 3)} × exp(−({off})) ÷ 100", float(t.turn), 2)
    for name, delta, factor, found in (("C", t.delta_c, 20, t.c_f), ("H", t.delta_h, 10, t.h_f)):
        damped = f"(1 + ({factor} × {n(t.c_mean)} ÷ 1000)^2)"
        lines.sum(f"Δ{name}_F", f"({n(delta, 3)} − {n(t.turn, 3)}) ÷ {damped}", float(found), 2)
    total = f"√({n(t.delta_l, 3)}^2 + {n(t.c_f, 3)}^2 + {n(t.h_f, 3)}^2)"
    lines.sum("ΔE_F", total, change.grade.delta_e_f, 2)
    lines.note("grades", grade=change.grade.grade)
    return lines.done(**_when(desk, change, readings))


def _limit(desk: Desk, change: Change, readings: dict[str, Reading]) -> WorkedSum:
    lines = Lines(desk.words, "limit")
    n = lines.n
    one, two = _pair(change, readings)
    same = one.light == two.light
    limits = [reading.limit.same_lamp if same else reading.limit.other_lamp for reading in (one, two)]
    pair = " + ".join(f"{n(limit)}^2" for limit in limits)
    lines.note("limit-same" if same else "limit-other", share=n(tracked_share(same_lamp=same)))
    formula = f"√(({n(tracked_share(same_lamp=same))} × √(({pair}) ÷ 2))^2 + {n(PLACEMENT_REPEATABILITY, 1)}^2)"
    lines.sum("limit", formula, change.limit, 1)
    verdict = "told" if change.distinguishable else "not-told"
    lines.note(verdict, apart=n(change.delta_e_2000, 1), limit=n(change.limit, 1))
    return lines.done(**_when(desk, change, readings))


def _when(desk: Desk, change: Change, readings: dict[str, Reading]) -> dict[str, object]:
    one, two = _pair(change, readings)
    day = desk.words.day
    return {"place": desk.place(change.place), "from": day(one.day), "to": day(two.day)}


def _share(desk: Desk, fade: Fade, reading: Reading) -> WorkedSum:
    """The nearest place on the printed path, between two of its steps."""
    lines = Lines(desk.words, "share")
    n = lines.n
    nearest = fade.path.remaining_share(reading.body_lab).value
    below = np.floor(nearest / PATH_STEP) * PATH_STEP
    shares = below + PATH_STEP * np.array([-1, 0, 1, 2])
    distances = delta_e_2000(fade.path.lab_at(shares), reading.body_lab, k_L=TRACKING_K_L)
    told = "; ".join(f"{n(share)}: {n(one, 1)}" for share, one in zip(shares, distances, strict=True))
    lines.note("share-table", distances=told)
    best = int(np.argmin(distances))
    best = min(max(best, 1), len(shares) - 2)
    before, middle, after = distances[best - 1 : best + 2] ** 2
    squares = [n(one) for one in distances[best - 1 : best + 2]]
    b, m, a = (f"{one}^2" for one in squares)
    vertex = f"{n(shares[best])} + {n(PATH_STEP)} × ({b} − {a}) ÷ (2 × ({b} − 2 × {m} + {a}))"
    found = shares[best] + PATH_STEP * (before - after) / (2 * (before - 2 * middle + after))
    lines.sum("share", vertex, found, 2)
    median = next(share for *_, share, key in fade.measured if key == reading.key)
    range_told = {"share": n(median.median), "low": n(median.low), "high": n(median.high)}
    lines.note("share-median", **range_told, fresh=n(fade.path.length_delta_e, 0))
    return lines.done(place=desk.place(fade.place), when=desk.words.day(reading.day))


def _strands(desk: Desk, fibre: FibreStudy) -> WorkedSum:
    """Light added up by share, never names or CIELAB."""
    lines = Lines(desk.words, "strands")
    n = lines.n
    xyz = lab_to_xyz(np.array(fibre.labs))
    mixed = np.array(fibre.shares) @ xyz
    for channel, column, value in zip("XYZ", xyz.T, mixed, strict=True):
        parts = " + ".join(f"{n(share, 3)} × {n(one, 4)}" for share, one in zip(fibre.shares, column, strict=True))
        lines.sum(channel, parts, value, 3)
    L = fibre.from_afar_lab[0]
    lines.sum("L*", f"116 × {n(mixed[1], 4)}^(1 ÷ 3) − 16", L, 0)
    return lines.done(place=desk.place(fibre.place), when=_day(desk, fibre))


def _day(desk: Desk, fibre: FibreStudy) -> str:
    return desk.words.day(desk.photo(fibre.photo)[0].date)


def _scale(desk: Desk, fibre: FibreStudy) -> Iterator[WorkedSum]:
    seen = desk.photo(fibre.photo)[1].magnified
    if seen is None or isinstance(fibre.um_per_px, Absent):
        return
    lines = Lines(desk.words, "scale")
    n, um = lines.n, fibre.um_per_px
    if seen.field_width_mm is not None:
        field, shown = seen.field_width_mm, n(seen.field_width_mm)
    elif seen.magnification is not None and seen.sensor_width_mm is not None:
        field = seen.sensor_width_mm / seen.magnification
        shown = f"{n(seen.sensor_width_mm)} ÷ {n(seen.magnification, 1)}"
    else:
        return
    width_px = round(field * 1000 / um)
    lines.sum("scale", f"{shown} × 1000 ÷ {n(width_px, 0)}", um, 2, "µm")
    width = fibre.fibre_width_um
    if not isinstance(width, Absent):
        lines.sum("width", f"{n(width.median / um, 1)} × {n(um, 3)}", width.median, 0, "µm")
    yield lines.done(when=_day(desk, fibre))


def _layering(desk: Desk) -> Iterator[WorkedSum]:
    """The first option that lays one colour over the leading place."""
    option = laid_over(desk)
    if option is None:
        return
    study, service, dye = option
    lines = Lines(desk.words, "layers")
    n = lines.n
    products = products_of(desk.record)
    masses, total = [], 0.0
    for line in () if service.bowl is None else service.bowl.lines:
        own = predicting.product_dye(products[line.product])
        total += line.grams.g
        if own is not None:
            masses.append((line.grams.g, own))
    for block in range(3):
        parts = " + ".join(f"{n(grams, 0)} × {n(own.coefficients[block], 3)}" for grams, own in masses)
        lines.sum(f"c{block + 1}", f"({parts}) ÷ {n(total, 0)}", dye.coefficients[block], 2)
    for older, left in study.coats[:-1]:
        for block, density in enumerate(older.coefficients, 1):
            lines.sum(f"t{block}", f"{n(left, 4)} × {n(density, 3)}", left * density, 2)
    lines.note("layers")
    shown = next(one for one in study.predictions if one.place == desk.study.leading and one.weeks == 0)
    lab = " ".join(n(value, 0) for value in shown.expected)
    lines.note("layers-result", lab=lab)
    yield lines.done(colour=desk.gate.text("Service.name", service.name))
