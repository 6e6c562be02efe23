"""What is computed from the demo, against what its pictures were drawn from."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from journey.colour.difference import delta_e_2000
from journey.hair.absent import Absent
from journey.study import predicting
from journey.study.model import Fade, Place, Reading, Study
from tests.demo import studied_demo
from tests.demo_pictures import scenario

TRUTH = json.loads((Path(__file__).parents[1] / "demo_pictures" / "truth.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def study() -> Study:
    return studied_demo().study


def _fade(study: Study, service: str, band: str) -> Fade:
    return next(
        fade for fade in study.fades if fade.service == service and fade.place == Place("crown", band)
    )


def _back(study: Study, *bands: str) -> list[Reading]:
    views = [reading.view for reading in study.readings]
    usual = max(set(views), key=views.count)
    return [
        reading
        for reading in study.readings
        if reading.view == usual and reading.place.zone == "crown" and reading.place.band in bands
    ]


def test_readings_of_the_lengths_lie_within_their_stated_uncertainty_of_the_drawn_colour(
    study: Study,
) -> None:
    """Through tungsten, daylight and greenish light, sensor crosstalk and a tone curve.

    The drawn colour is a diffuse albedo; the picture adds gloss and shadow, for which placement allows four
    more (PLACEMENT_REPEATABILITY). Nine in ten have to hold.
    """
    shown = {
        (photo["file"], patch["zone"], patch["band"]): patch.get("shown_lab")
        for photo in TRUTH["photos"]
        for patch in photo.get("patches", ())
    }
    record = studied_demo().record
    files = {
        photo.key: photo.file
        for entry in (*record.journey.visits, *record.journey.check_ins)
        for photo in entry.photos
    }
    held = []
    for reading in _back(study, "mid-lengths", "ends"):
        truth = shown.get((files[reading.photo], reading.place.zone, reading.place.band))
        if truth is not None:
            apart = float(delta_e_2000(reading.body_lab, truth, k_L=1.5))
            held.append(apart <= reading.uncertainty.delta_e_90 + 4.0)
    assert len(held) >= 20
    assert np.mean(held) >= 0.9


def test_violet_left_after_four_weeks_is_what_was_drawn_or_nearly(study: Study) -> None:
    """The drawn shares are .47 and .34; a grey card's readings and the path's ends allow .2."""
    for band in ("mid-lengths", "ends"):
        now = _fade(study, "violet-colour", band).share_now
        assert not isinstance(now, Absent)
        drawn = scenario.remaining_share("violet", band, date(2026, 5, 16), date(2026, 6, 13))
        assert abs(now.median - drawn) < 0.2


def test_ends_fade_faster_than_mid_lengths(study: Study) -> None:
    """As drawn: .10 a wash against .07."""
    ends = _fade(study, "violet-colour", "ends").posterior.rate().median
    assert ends > _fade(study, "violet-colour", "mid-lengths").posterior.rate().median


def test_the_clipped_nape_has_lost_its_colour_by_the_fourth_week(study: Study) -> None:
    """Hair clipped to 0.6 cm has lost all colour laid a month before (common practice, no source)."""
    nape = next(strand for strand in study.strands if strand.zone == "nape")
    assert nape.colour_gone_on == date(2026, 4, 4)
    assert nape.coats_today == ()


def test_material_is_conserved_on_every_zone(study: Study) -> None:
    """First length plus grown is present length plus cut."""
    for strand in study.strands:
        latest = strand.history.latest
        grown = latest.grown_cm(latest.day)
        assert latest.initial_cm + grown == pytest.approx(latest.length_cm() + latest.cut_cm)


def test_every_raster_is_as_long_as_the_hair_is_on_that_day(study: Study) -> None:
    """A column a millimetre, a row a quarter day; nothing past the tip."""
    for strand in study.strands:
        hair = (strand.raster[..., 3] > 0).sum(axis=1) / 10
        for row in (0, len(hair) // 2, len(hair) - 1):
            assert hair[row] == pytest.approx(strand.history.at(row / 4).length_cm(), abs=0.11)


def test_readings_of_new_growth_say_nothing_about_the_colour_and_say_so(study: Study) -> None:
    """Roots that have grown out are left out of the fit, each with its reason."""
    roots = _fade(study, "violet-colour", "roots")
    assert not roots.measured
    assert all(reason.key == "grown-into-patch" for _, reason in roots.left_out)


def test_like_views_alone_are_compared(study: Study) -> None:
    """A lock on a board is lit otherwise than a head: it never joins a head's fade."""
    readings = {reading.key: reading for reading in study.readings}
    for fade in study.fades:
        assert {readings[key].view for *_, key in fade.measured} <= {readings[fade.fresh].view}


def test_teal_over_faded_violet_is_judged_over_todays_hair_and_not_by_its_swatch(study: Study) -> None:
    """Every option's strip starts at today's colour, and its predictions range from light to strong."""
    assert len(study.options) >= 4
    today = study.options[0].strip[0][1]
    for option in study.options:
        assert np.allclose(option.strip[0][1], today)
        assert len({one.weeks for one in option.predictions}) == 4


def test_hair_that_was_cut_off_is_not_predicted_from(study: Study) -> None:
    """The nape's colour was clipped away and no option reaches it: it stays her own brown, as last read."""
    nape = [reading for reading in study.readings if reading.place == Place("nape", "roots")]
    for option in study.options:
        foretold = [one for one in option.predictions if one.place.zone == "nape"]
        assert foretold
        for one in foretold:
            assert delta_e_2000(one.expected, nape[-1].body_lab, k_L=1.5) < 5
            assert np.allclose(one.light, one.strong)


def test_roots_of_an_option_are_the_new_growth_a_service_on_them_would_reach(study: Study) -> None:
    """A gloss on the lengths leaves them her own brown; violet on all the hair stays dark there, no deeper hue."""
    brown = next(one for one in study.readings if one.place == Place("crown", "roots"))
    right_after = {
        (option.key, one.place.band): one.expected
        for option in study.options
        for one in option.predictions
        if one.place.zone == "crown" and one.weeks == 0
    }
    assert delta_e_2000(right_after["soften-to-lilac", "roots"], brown.body_lab) < 1
    roots, lengths = (right_after["refresh-violet", band] for band in ("roots", "mid-lengths"))
    assert roots[0] < lengths[0] - 5
    assert right_after["roots-to-violet", "roots"][0] > roots[0] + 8


def test_a_full_brown_over_fresh_brown_is_told_to_come_out_too_dark(study: Study) -> None:
    """Colour on colour adds up (Beer-Lambert): the thinned brown keeps its level, the full one does not."""
    brown = next(option for option in study.options if option.key == "back-to-brown")
    assert [(one.service, one.place) for one in brown.darker] == [
        ("Brown again where it has faded", Place("crown", "ends"))
    ]
    assert brown.darker[0].level <= brown.darker[0].target - 2
    told = [one for one in study.cautions if one.rule == "darker-than-meant"]
    assert [one.about for one in told] == ["back-to-brown"]


def test_weeks_between_two_visits_of_a_plan_are_washed_through(study: Study) -> None:
    """Washed six times and then six more is washed twelve times, and lighter than not at all."""
    fade = _fade(study, "violet-colour", "mid-lengths")
    fresh = predicting.today(fade, fade.substrate_lab, 0.0)
    assert np.allclose(fresh.washed(6).washed(6).lab(), fresh.lab(12), atol=1e-6)
    assert np.allclose(fresh.washed(6).lab(6), fresh.lab(12), atol=1e-6)
    assert fresh.washed(12).lab()[0] > fresh.lab()[0] + 5


def test_colour_laid_on_extensions_is_followed_until_they_come_out(study: Study) -> None:
    """Four pieces of level 10 took the gloss with her own hair, and were taken out with what three weeks left."""
    (sides,) = [one for one in study.strands if one.zone == "sides"]
    (pieces,) = sides.added
    assert (pieces.put_in, pieces.taken_out) == (date(2026, 4, 4), date(2026, 4, 25))
    assert pieces.level == 10
    grown = study.rate.mm_per_day / 10 * 21
    assert pieces.span_cm == pytest.approx((1 + grown, 40 + 1 + grown), abs=0.01)
    ((name, left),) = pieces.coats
    fade = _fade(study, "gloss", "mid-lengths")
    assert name == "Sheer rose gloss"
    assert left == pytest.approx(fade.posterior.share_at(9).median, abs=0.1)
    assert not any(strand.added for strand in study.strands if strand.zone != "sides")


def test_every_rule_family_of_cautions_and_care_speaks_somewhere_in_the_demo(study: Study) -> None:
    """A rule that never speaks in the demo can not be seen by anybody."""
    weights = {caution.weight for caution in study.cautions}
    assert weights == {"stop", "ask", "mind"}
    assert len({caution.rule for caution in study.cautions}) >= 8
    assert len(study.advice) >= 8
    assert any(advice.gain_days for advice in study.advice)


def test_every_finding_can_be_followed_to_something_written(study: Study) -> None:
    """Inputs of findings are findings, and every chain ends in a place of the record."""

    def ends(key: str) -> bool:
        finding = study.findings[key]
        return bool(finding.sources) or key == "growth.rate" or all(map(ends, finding.inputs))

    for key, finding in study.findings.items():
        assert set(finding.inputs) <= set(study.findings), key
        assert ends(key), key
