"""Every assumption has a key in salon.yaml, and a number that moves with it."""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from pathlib import Path

import numpy as np
import pytest

from journey.colour.dye import dye_between
from journey.hair.absent import Absent
from journey.hair.fade import prior_from_posteriors
from journey.hair.fade_prior import PRIORS
from journey.quantities import Mass
from journey.record.assumptions import Assumptions
from journey.record.model import Photo, Record, ServiceKind, Visit
from journey.study import assemble, predicting
from journey.study.assumed import fade_prior
from journey.study.bases import Bases
from journey.study.bowls import problems_of
from journey.study.calendar import start_day
from journey.study.fibres import study_fibres
from journey.study.growing import grow_across, growth_rate
from journey.study.model import FibreStudy, OptionStudy, Place, Prediction, Reading, Study
from journey.study.reading_photos import PhotoToRead, read_photo, read_photos
from tests.demo import TODAY, studied_demo


@functools.cache
def _restudied(group: str) -> Study:
    """The demo studied again with the keys of one group changed, its photos as they were read."""
    known, changed = studied_demo().study, {key: value for key, value, within, _ in STUDIED if within == group}
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(assemble, "read_photos", lambda *_: known.photos)
        patch.setattr(assemble, "study_fibres", lambda *_: (known.fibres, ()))
        return assemble.study_record(_assuming(changed), studied_demo().photographs, as_of=TODAY)


def _assuming(values: Mapping[str, object]) -> Record:
    record = studied_demo().record
    written = {**record.salon.assumptions.model_dump(), **values}
    salon = record.salon.model_copy(update={"assumptions": Assumptions.model_validate(written)})
    return record.model_copy(update={"salon": salon})


def _option(study: Study, key: str) -> OptionStudy:
    return next(one for one in study.options if one.key == key)


def _foretold(study: Study, key: str, band: str = "mid-lengths") -> Prediction:
    place = Place("crown", band)
    return next(one for one in _option(study, key).predictions if one.place == place and one.weeks == 0)


def _says(study: Study, rule: str) -> bool:
    return any(one.rule == rule for one in (*study.cautions, *study.advice))


def _about(study: Study, rule: str) -> list[str]:
    return [one.about for one in study.cautions if one.rule == rule]


def _felt(study: Study, reason: str) -> int:
    return sum(one.code == reason for condition in study.conditions for one in condition.advice)


# Key, another value than the default, what is changed with it (nothing that its number rests on), and a number of
# the study that has to follow.
STUDIED: tuple[tuple[str, object, str, Callable[[Study], object]], ...] = (
    ("uptake_spread", "50 %", "a", lambda study: _foretold(study, "refresh-violet").light[0]),
    ("remover_spread", "60 %", "a", lambda study: study.removals[1].passes[1].light[0]),
    ("stain_share", "40 %", "b", lambda study: [one.needed for one in study.removals]),
    (
        "fading",
        [{"colour_class": "direct", "half_after_washes": "3"}],
        "b",
        lambda study: [one.posterior.share_at(6).median for one in study.fades if one.posterior.prior_only],
    ),
    (
        "levels",
        [{"level": "9", "lightened": "#ffffff"}],
        "c",
        lambda study: _foretold(study, "roots-to-violet", "roots").expected[0],
    ),
    ("clean_base_level", "5", "b", lambda study: len(_option(study, "refresh-violet").unreached)),
    ("muddy_below_chroma", "20", "a", lambda study: [one.turns_muddy for one in study.options]),
    ("darker_by_levels", "6", "b", lambda study: len(_option(study, "back-to-brown").darker)),
    ("turns_beyond", "30", "a", lambda study: [len(one.turns) for one in study.lift]),
    ("hot_tool_celsius", "220", "a", lambda study: _says(study, "less-heat")),
    ("much_sun_hours", "60", "a", lambda study: _says(study, "hat")),
    ("rubs_off_days", "100", "a", lambda study: _says(study, "dark-towel")),
    ("most_wet_stretch", "50 %", "b", lambda study: _says(study, "stretches-too-far")),
    ("least_wet_stretch", "29 %", "b", lambda study: _felt(study, "stiff-when-wet")),
    ("notable_stretch", "1 %", "a", lambda study: _felt(study, "lost-hold")),
    ("off_scalp_volumes", "5", "b", lambda study: _says(study, "strong-on-scalp")),
    ("widest_section_cm", "3", "b", lambda study: _says(study, "sections")),
    ("least_minutes", "40", "b", lambda study: _about(study, "usual-minutes")),
    ("most_minutes", "21", "a", lambda study: _about(study, "usual-minutes")),
    ("ratio_tolerance", "50 %", "a", lambda study: _says(study, "bowl-refused")),
)


@pytest.mark.parametrize(("group", "shown"), [one[2:] for one in STUDIED], ids=[one[0] for one in STUDIED])
def test_another_value_gives_another_number(group: str, shown: Callable[[Study], object]) -> None:
    """Written in salon.yaml, it reaches what is worked out; what is not changed stays."""
    usual = shown(studied_demo().study)
    assert shown(_restudied(group)) != usual
    others = [other for other in ("a", "b", "c") if other != group]
    assert any(shown(_restudied(other)) == usual for other in others)


_DYE = dye_between((70.0, 3.0, 25.0), (35.0, 20.0, -20.0))


def _rate_error(record: Record) -> float:
    return growth_rate(record).sd_mm_per_day


def _written_rate_error(record: Record) -> float:
    hair = record.journey.hair.model_copy(update={"growth_mm_per_month": 11.0})
    return _rate_error(record.model_copy(update={"journey": record.journey.model_copy(update={"hair": hair})}))


def _bases(record: Record, *readings: Reading) -> Bases:
    grown = {one.expected.zone.key: one.expected for one in grow_across(record, growth_rate(record))}
    return Bases(readings, grown, start_day(record.journey), record.salon.assumptions)


def _borrowed_error(record: Record) -> float:
    lightened = next(one for one in studied_demo().study.readings if one.stage == "lightened")
    return _bases(record, lightened).under_level(Place("hairline", "ends"), 9, TODAY).mean_error


def _sum_refused(record: Record) -> bool:
    bowl = next(
        one.bowl
        for visit in record.journey.visits
        for one in visit.services
        if one.bowl is not None and one.bowl.total is not None
    )
    poured = bowl.lines[0].model_copy(update={"grams": Mass(bowl.lines[0].grams.g + 3)})
    codes = {one.code for one in problems_of(record, bowl.model_copy(update={"lines": (poured, *bowl.lines[1:])}))}
    return "sum-mismatch" in codes


def _left_by_lightener(record: Record) -> float:
    option = next(one for one in record.journey.options if one.key == "roots-to-violet")
    lighten = next(one for one in option.services if one.kind is ServiceKind.LIGHTEN)
    dyed = predicting.Place(np.array([70.0, 3, 25]), (predicting.Coating(_DYE, 1.0, None),))
    return predicting.after(record, dyed, lighten, ()).coats[0].share


def _photo(record: Record, key: str) -> tuple[Visit, Photo]:
    return next((v, p) for v in record.journey.visits for p in v.photos if p.key == key)


def _chart_error(record: Record) -> float:
    visit, photo = _photo(record, "coral-rose-lock-after")
    spread = record.salon.assumptions.light_spread
    task = PhotoToRead(studied_demo().photographs, visit.key, visit.date, photo, light_spread=spread)
    return read_photo(task).calibration.uncertainty.delta_e_90


def _weak_error(record: Record) -> float:
    visit, photo = _photo(record, "coral-rose-three-quarter-after")
    alone = visit.model_copy(update={"photos": (photo,)})
    journey = record.journey.model_copy(update={"visits": (alone,), "check_ins": ()})
    (study,) = read_photos(record.model_copy(update={"journey": journey}), studied_demo().photographs)
    return next(one for one in study.readings if one.weak).uncertainty.delta_e_90


def _stale(record: Record) -> list[bool]:
    photos = read_photos(record, studied_demo().photographs)
    return [check.passed for photo in photos for check in photo.checks if check.name == "stale profile"]


def _fibre(record: Record, key: str) -> FibreStudy:
    visits = tuple(
        visit.model_copy(update={"photos": tuple(photo for photo in visit.photos if photo.key == key)})
        for visit in record.journey.visits
    )
    journey = record.journey.model_copy(update={"visits": visits, "check_ins": ()})
    ((study,), _) = study_fibres(record.model_copy(update={"journey": journey}), studied_demo().photographs, ())
    return study


def _width_range(record: Record) -> float:
    width = _fibre(record, "violet-magnified-1").fibre_width_um
    assert not isinstance(width, Absent)
    return width.high - width.low


def _own_spread(record: Record) -> float:
    earlier = [fade.posterior for fade in studied_demo().study.fades]
    spread = record.salon.assumptions.own_fades_spread
    return prior_from_posteriors(PRIORS["direct"], earlier, within_log_sd=spread).log_sd


# The same for what the demo's own numbers rest on only a little, or not at all.
LOOKED_UP: tuple[tuple[str, str, Callable[[Record], object]], ...] = (
    ("own_fades_spread", "0.2", _own_spread),
    ("light_spread", "12 %", _chart_error),
    ("weakness_adds", "12", _weak_error),
    ("chart_holds_days", "10", _stale),
    ("scale_error", "12 %", _width_range),
    ("strand_width_um", "40", lambda record: _fibre(record, "measuring-magnified-3").strands_seen),
    ("level_error", "12", lambda record: _bases(record).natural(Place("crown", "ends")).mean_error),
    ("other_zone_error", "8", _borrowed_error),
    ("lightener_leaves", "60 %", _left_by_lightener),
    ("sum_tolerance_g", "5", _sum_refused),
    ("ruler_error_cm", "0.5", _rate_error),
    ("start_error_cm", "0.5", _rate_error),
    ("written_growth_error", "0.08", _written_rate_error),
)


@pytest.mark.parametrize(("key", "value", "found"), LOOKED_UP, ids=[one[0] for one in LOOKED_UP])
def test_another_value_changes_what_rests_on_it(key: str, value: str, found: Callable[[Record], object]) -> None:
    """Written in salon.yaml, it reaches what is looked up."""
    assert found(_assuming({key: value})) != found(studied_demo().record)


def test_no_assumption_is_left_out() -> None:
    """Each key has its case here, and its row in DEVELOPERS.md with the default that the code has."""
    keys = [key for key, *_ in (*STUDIED, *LOOKED_UP)]
    assert sorted(keys) == sorted(Assumptions.model_fields)
    handbook = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    for key, default in Assumptions().model_dump().items():
        shown = f"{default:g}" if isinstance(default, int | float) else "none"
        assert f"| `{key}` | {shown} |" in handbook, (key, shown)


def test_the_spread_of_a_class_is_the_salon_s_to_say() -> None:
    """Beside the middle of all heads, how widely they lie around it."""
    written = [{"colour_class": "direct", "half_after_washes": "8", "spread": "0.4"}]
    prior = fade_prior(_assuming({"fading": written}).salon.assumptions, "direct")
    assert prior.log_sd == 0.4
    assert prior.median_rate_per_wash == pytest.approx(np.log(2) / 8)
    assert fade_prior(studied_demo().record.salon.assumptions, "direct") == PRIORS["direct"]
