"""Every number that a page may show, under one key, with the method, formula, inputs and places it comes from.

It decides the keys and what is told about each kind of number; `journey trace` prints a finding and follows
its inputs. Values are those of the study, never worked out again.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from journey.colour.reason import Reason
from journey.hair.absent import Absent
from journey.hair.growth import GrowthRate
from journey.record.model import Photo, Record
from journey.study.calendar import entries_in_order
from journey.study.model import (
    BowlStudy,
    Change,
    Fade,
    FibreStudy,
    Finding,
    Lab,
    OptionStudy,
    PhotoStudy,
    Place,
    Reading,
    RefreshStudy,
    StrandStudy,
)
from journey.study.reading_photos import keyed_patches

FADE_FORMULA = Reason("formula-fade")
PATH_FORMULA = Reason("formula-path")


def collect_findings(
    record: Record,
    *,
    photos: Sequence[PhotoStudy],
    changes: Sequence[Change],
    fades: Sequence[Fade],
    refresh: RefreshStudy | Absent,
    strands: Sequence[StrandStudy],
    fibres: Sequence[FibreStudy],
    bowls: Sequence[BowlStudy],
    options: Sequence[OptionStudy],
    rate: GrowthRate,
) -> Mapping[str, Finding]:
    """All findings by key, in a fixed order."""
    where = places_in_record(record)
    found: dict[str, Finding] = {}
    for finding in (
        *_growth(rate, record, where),
        *(one for photo in photos for one in _readings(photo, where)),
        *(one for change in changes for one in _change(change)),
        *(one for fade in fades for one in _fade(fade, where)),
        *_refresh(refresh),
        *(one for strand in strands for one in _strand(strand, where)),
        *(one for fibre in fibres for one in _fibres(fibre, where)),
        *(one for bowl in bowls for one in _bowl(bowl, where)),
        *(one for option in options for one in _option(option, where)),
    ):
        found[finding.key] = finding
    return found


def places_in_record(record: Record) -> Mapping[str, str]:
    """Where each keyed thing stands: 'photo:KEY', 'service:KEY', 'zone:KEY', 'option:KEY' and its patches."""
    journey = record.journey
    where = {
        f"zone:{zone.key}": f"journey.yaml zones[{number}]" for number, zone in enumerate(journey.zones, 1)
    }
    where |= {
        f"option:{option.key}": f"journey.yaml options[{number}]"
        for number, option in enumerate(journey.options, 1)
    }
    for number, visit in enumerate(journey.visits, 1):
        where |= _photos(f"journey.yaml visits[{number}]", visit.photos)
        for place, service in enumerate(visit.services, 1):
            where[f"service:{service.key}"] = f"journey.yaml visits[{number}].services[{place}]"
    for number, check_in in enumerate(journey.check_ins, 1):
        where |= _photos(f"journey.yaml check_ins[{number}]", check_in.photos)
    return where


def _photos(path: str, photos: Sequence[Photo]) -> dict[str, str]:
    found = {}
    for number, photo in enumerate(photos, 1):
        found[f"photo:{photo.key}"] = f"{path}.photos[{number}]"
        for place, (key, _) in enumerate(keyed_patches(photo), 1):
            found[f"patch:{key}"] = f"{path}.photos[{number}].patches[{place}]"
    return found


def _lab(lab: Lab) -> str:
    return ", ".join(f"{value:.1f}" for value in lab)


def place_key(place: Place) -> str:
    return f"{place.zone}.{place.band}"


def _growth(rate: GrowthRate, record: Record, where: Mapping[str, str]) -> Iterator[Finding]:
    half = 1.2816 * rate.sd_mm_per_day * 30.4375
    yield Finding(
        key="growth.rate",
        value=round(rate.mm_per_month, 2),
        unit="mm a month",
        low=round(rate.mm_per_month - half, 2),
        high=round(rate.mm_per_month + half, 2),
        method=rate.source,
        formula=Reason("formula-growth"),
        sources=("journey.yaml hair",)
        if record.journey.hair.growth_mm_per_month is not None
        else tuple(where[f"photo:{photo.key}"] for photo in _with_rulers(record)),
    )


def _with_rulers(record: Record) -> Iterator[Photo]:
    journey = record.journey
    yield from (photo for entry in entries_in_order(journey) for photo in entry.photos if photo.ruler)


def _readings(photo: PhotoStudy, where: Mapping[str, str]) -> Iterator[Finding]:
    for reading in photo.readings:
        yield _reading(reading, where)


def _reading(reading: Reading, where: Mapping[str, str]) -> Finding:
    return Finding(
        key=f"reading.{reading.key}",
        value=_lab(reading.body_lab),
        unit="L*, a*, b* (D65, 2°)",
        low=-reading.uncertainty.delta_e_90,
        high=reading.uncertainty.delta_e_90,
        method=Reason("how-reading", by=Reason(f"by-{reading.calibration.replace(' ', '-')}")),
        formula=Reason("formula-reading"),
        sources=(where[f"patch:{reading.key}"], where[f"photo:{reading.photo}"]),
    )


def _change(change: Change) -> Iterator[Finding]:
    yield Finding(
        key=f"change.{change.earlier}..{change.later}",
        value=round(change.delta_e_2000, 1),
        unit="CIEDE2000",
        method=Reason("how-change" if change.distinguishable else "how-no-change"),
        formula=Reason("formula-change"),
        inputs=(f"reading.{change.earlier}", f"reading.{change.later}"),
    )


def _fade(fade: Fade, where: Mapping[str, str]) -> Iterator[Finding]:
    source = (where[f"service:{fade.service}"],)
    rate = fade.posterior.rate()
    yield Finding(
        key=f"fade.{fade.key}.rate",
        value=round(rate.median, 4),
        unit="per wash",
        low=round(rate.low, 4),
        high=round(rate.high, 4),
        method=Reason("how-fade-rate", base=fade.substrate_from, prior=fade.prior_from),
        formula=Reason("formula-both", fade=FADE_FORMULA, path=PATH_FORMULA),
        inputs=(f"reading.{fade.fresh}", *(f"reading.{key}" for *_, key in fade.measured)),
        sources=source,
    )
    for day, washes, share, key in fade.measured:
        yield Finding(
            key=f"fade.{fade.key}.share.{key}",
            value=round(share.median, 3),
            unit="share left",
            low=round(share.low, 3),
            high=round(share.high, 3),
            method=Reason("how-share", day=day, washes=washes),
            formula=PATH_FORMULA,
            inputs=(f"reading.{fade.fresh}", f"reading.{key}"),
            sources=source,
        )
    if not isinstance(fade.share_now, Absent):
        yield Finding(
            key=f"fade.{fade.key}.now",
            value=round(fade.share_now.median, 3),
            unit="share left",
            low=round(fade.share_now.low, 3),
            high=round(fade.share_now.high, 3),
            method=Reason("how-share-now"),
            formula=FADE_FORMULA,
            inputs=(f"fade.{fade.key}.rate",),
            sources=source,
        )


def _refresh(refresh: RefreshStudy | Absent) -> Iterator[Finding]:
    if isinstance(refresh, Absent):
        return
    window = refresh.window
    yield Finding(
        key="refresh.window",
        value=window
        if isinstance(window, Absent)
        else f"{window[0].isoformat()} to {window[1].isoformat()}",
        method=Reason("how-refresh"),
        formula=FADE_FORMULA,
        inputs=(f"fade.{refresh.fade}.rate",),
        sources=("salon.yaml refresh_from", "salon.yaml refresh_until", "journey.yaml hair.washes_a_week"),
    )


def _strand(strand: StrandStudy, where: Mapping[str, str]) -> Iterator[Finding]:
    source = (where[f"zone:{strand.zone}"],)
    yield Finding(
        key=f"strand.{strand.zone}.grown",
        value=round(strand.grown_cm.median, 2),
        unit="cm",
        low=round(strand.grown_cm.low, 2),
        high=round(strand.grown_cm.high, 2),
        method=Reason("how-grown"),
        inputs=("growth.rate",),
        sources=source,
    )
    yield Finding(
        key=f"strand.{strand.zone}.cut",
        value=round(strand.cut_cm, 2),
        unit="cm",
        method=Reason("how-cut"),
        sources=source,
    )
    if not isinstance(strand.new_growth_cm, Absent):
        yield Finding(
            key=f"strand.{strand.zone}.new-growth",
            value=round(strand.new_growth_cm.median, 2),
            unit="cm",
            low=round(strand.new_growth_cm.low, 2),
            high=round(strand.new_growth_cm.high, 2),
            method=Reason("how-new-growth"),
            inputs=("growth.rate",),
            sources=source,
        )
    for number, line in enumerate(strand.lines, 1):
        low, high = (None, None) if isinstance(line.range_cm, Absent) else line.range_cm
        yield Finding(
            key=f"strand.{strand.zone}.line-{number}",
            value=round(line.cm, 2),
            unit="cm",
            low=low,
            high=high,
            method=Reason("how-line"),
            formula=Reason("formula-line"),
            inputs=("growth.rate",),
            sources=source,
        )
    if isinstance(strand.clip_takes_all, tuple):
        early, middle, late = strand.clip_takes_all
        yield Finding(
            key=f"strand.{strand.zone}.clip",
            value=f"{middle.isoformat()} ({early.isoformat()} to {late.isoformat()})",
            method=Reason("how-clip"),
            formula=Reason("formula-clip"),
            inputs=("growth.rate",),
            sources=source,
        )


def _fibres(fibre: FibreStudy, where: Mapping[str, str]) -> Iterator[Finding]:
    for number, (lab, share) in enumerate(zip(fibre.labs, fibre.shares, strict=True), start=1):
        yield Finding(
            key=f"fibres.{fibre.photo}.{number}",
            value=f"{100 * share:.0f} % at {_lab(lab)}",
            method=Reason("how-strands"),
            sources=(where[f"photo:{fibre.photo}"],),
        )
    yield Finding(
        key=f"fibres.{fibre.photo}.afar",
        value=_lab(fibre.from_afar_lab),
        unit="L*, a*, b* (D65, 2°)",
        method=Reason("how-afar"),
        formula=Reason("formula-afar"),
        inputs=tuple(f"fibres.{fibre.photo}.{number}" for number in range(1, len(fibre.labs) + 1)),
        sources=(where[f"photo:{fibre.photo}"],),
    )


def _bowl(bowl: BowlStudy, where: Mapping[str, str]) -> Iterator[Finding]:
    source = (where[f"service:{bowl.service}"],)
    kinds: tuple[tuple[str, float | str | Absent, str], ...] = (
        ("total", bowl.total_g, "g"),
        ("pure", bowl.pure_share, "share"),
        ("in-water", bowl.share_in_water, "share"),
        ("ratio", bowl.ratio, ""),
        ("peroxide", bowl.peroxide_percent, "%"),
        ("left-over", bowl.left_over_g, "g"),
        ("cost", bowl.cost, ""),
    )
    for name, value, unit in kinds:
        if not isinstance(value, Absent):
            yield Finding(
                key=f"bowl.{bowl.service}.{name}",
                value=round(value, 3) if isinstance(value, float) else value,
                unit=unit,
                method=Reason("how-bowl"),
                formula=Reason(f"formula-bowl-{name}"),
                sources=source,
            )


def _option(option: OptionStudy, where: Mapping[str, str]) -> Iterator[Finding]:
    source = (where[f"option:{option.key}"],)
    for one in option.predictions:
        yield Finding(
            key=f"option.{option.key}.{place_key(one.place)}.week-{one.weeks:.0f}",
            value=_lab(one.expected),
            unit="L*, a*, b* (D65, 2°)",
            method=Reason("how-option", light=_lab(one.light), strong=_lab(one.strong)),
            formula=PATH_FORMULA,
            sources=source,
        )
    for name, value in (("cost", option.cost), ("upkeep", option.upkeep_per_month)):
        if not isinstance(value, Absent):
            yield Finding(
                key=f"option.{option.key}.{name}",
                value=round(value, 2),
                method=Reason(f"how-{name}"),
                sources=source,
            )
