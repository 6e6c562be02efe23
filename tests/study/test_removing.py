"""Taking colour off the demo's hair: what is foretold, and what was when it was done."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import colour
import numpy as np
import pytest

from journey.colour.difference import delta_e_2000
from journey.colour.dye import dye_between
from journey.colour.observer import WAVELENGTHS_NM
from journey.colour.spaces import lab_to_xyz
from journey.colour.spectra import smoothest_reflectance
from journey.hair.interval import Interval
from journey.study.model import Place, Study
from journey.study.removing import _usual, _weakened
from tests.demo import studied_demo


@pytest.fixture(scope="module")
def study() -> Study:
    return studied_demo().study


def test_what_the_remover_left_was_foretold_within_what_two_photos_differ_by(study: Study) -> None:
    """Left by washing times left by the removal, on the way to bare hair, is what the photo then read."""
    assert len(study.removal_checks) >= 3
    for check in study.removal_checks:
        assert check.delta_e < check.limit, check.place
        assert check.leaves == 0.4
    worst = max(study.removal_checks, key=lambda one: one.delta_e)
    assert worst.delta_e < 5


def test_layers_come_off_in_the_reverse_order_they_were_laid(study: Study) -> None:
    """Violet, then the gloss, then coral rose (common practice, no source)."""
    lengths = next(one for one in study.removals if one.place == Place("crown", "mid-lengths"))
    assert [coat.service for coat in lengths.coats] == ["violet-colour", "gloss", "coral-rose-colour"]
    assert lengths.level_under == 9
    roots = next(one for one in study.removals if one.place == Place("crown", "roots"))
    assert roots.coats == ()
    assert roots.passes == ()


def test_more_removals_never_leave_more_colour(study: Study) -> None:
    """Shares fall, each colour lies nearer to the bare hair than the one before, light before strong."""
    found = [one for one in study.removals if one.passes]
    assert {one.place.zone for one in found} == {"crown", "hairline", "sides"}
    for one in found:
        bare = one.passes[-1].expected
        for earlier, later in pairwise(one.passes):
            assert later.share < earlier.share
            assert delta_e_2000(later.expected, bare) <= delta_e_2000(earlier.expected, bare)
        for step in one.passes[1:]:
            start = one.passes[0].expected
            apart = [float(delta_e_2000(lab, start)) for lab in (step.light, step.expected, step.strong)]
            assert apart == sorted(apart)
        for coat in one.coats:
            assert list(coat.left) == sorted(coat.left, reverse=True)


def test_colour_after_a_removal_is_that_of_a_thinner_dye(study: Study) -> None:
    """Bare reflectance times exp(-share x density), integrated by colour-science 0.4.7 under D65, 2 degrees."""
    one = next(one for one in study.removals if one.place == Place("crown", "mid-lengths"))
    fade = next(fade for fade in study.fades if fade.key == "violet-colour.crown.mid-lengths")
    bare, now = fade.substrate_lab, one.passes[0].expected
    dye = dye_between(bare, now)
    reflectance = smoothest_reflectance(bare).reflectance
    shape = colour.SpectralShape(380, 780, 5)
    for step in one.passes:
        left = reflectance * np.exp(-step.share * dye.density())
        spectrum = colour.SpectralDistribution(dict(zip(WAVELENGTHS_NM.tolist(), left.tolist(), strict=True)))
        xyz = colour.sd_to_XYZ(
            spectrum,
            cmfs=colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"].copy().align(shape),
            illuminant=colour.SDS_ILLUMINANTS["D65"].copy().align(shape),
            method="Integration",
        )
        assert xyz / 100 == pytest.approx(lab_to_xyz(step.expected), abs=2e-3)


def test_the_photo_overrules_the_eye_only_where_they_clearly_differ(study: Study) -> None:
    """Within what two photos differ by, what was seen stays; beyond it, what was read takes its place."""
    record = studied_demo().record
    assert _usual(record, study.removal_checks) == (0.4, "seen")
    read = Interval(0.6, 0.7, 0.8)
    told = [replace(check, delta_e=check.limit + 1, read_share=read) for check in study.removal_checks]
    assert _usual(record, told) == (0.7, "read")


def test_hair_that_was_too_weak_is_left_to_rest(study: Study) -> None:
    """When the last note says that wet hair stretched 31 %, the way is neither remover nor lightener."""
    ends = next(one for one in study.removals if one.place == Place("crown", "ends"))
    assert {way.step for _, way in ends.ways} == {"rest"}
    lengths = next(one for one in study.removals if one.place == Place("crown", "mid-lengths"))
    assert [way.step for _, way in lengths.ways] == ["remove", "remove", "colour-over"]
    roots = next(one for one in study.removals if one.place == Place("crown", "roots"))
    assert dict(roots.ways)["lighter"].step == "lighten"


def test_the_last_note_on_a_place_is_the_one_that_counts() -> None:
    """What stretched too far once and holds again later is not weak any more; other places are not judged."""
    record = studied_demo().record
    visits = list(record.journey.visits)
    healed = tuple(
        note.model_copy(update={"elasticity_wet_percent": 20.0}) if note.moment == "after" else note
        for note in visits[-1].conditions
    )
    visits[-1] = visits[-1].model_copy(update={"conditions": healed})
    later = record.model_copy(update={"journey": record.journey.model_copy(update={"visits": tuple(visits)})})
    assert _weakened(record, Place("crown", "ends"))
    assert not _weakened(later, Place("crown", "ends"))
    assert not _weakened(record, Place("sides", "ends"))


def test_residue_of_the_last_removal_is_looked_for_where_hair_is_fine(study: Study) -> None:
    """Half-inch sections, checked across: nothing points to residue but the fine hair of the hairline."""
    assert [(note.key, dict(note.values)) for note in study.removal_residue] == [
        ("residue-fine-hair", {"zone": "hairline"})
    ]


def test_a_planned_removal_leaves_what_is_planned(study: Study) -> None:
    """The teal option plans to leave a fifth; the study's own table keeps to what was seen before."""
    teal = next(option for option in study.options if option.key == "teal")
    assert {(one.leaves, one.leaves_from) for one in teal.removals} == {(0.2, "planned")}
    assert all(one.passes[1].share == pytest.approx(0.2) for one in teal.removals if one.passes)
    assert {(one.leaves, one.leaves_from) for one in study.removals} == {(0.4, "seen")}


def test_a_planned_colour_is_judged_over_the_hair_the_plan_has_made(study: Study) -> None:
    """Violet on lightened roots meets nothing; over brown new growth the undertone shows; a lighter demi over
    violet does not come out as light (colour does not lift colour: common practice, no source)."""
    codes = {
        option.key: {one.obstacle.code: one for one in option.unreached} for option in study.options
    }
    assert codes["roots-to-violet"] == {}
    assert set(codes["refresh-violet"]) == {"undertone-shows"}
    assert codes["refresh-violet"]["undertone-shows"].obstacle.values["level"] == 5
    assert set(codes["back-to-brown"]) == {"colour-over-colour", "adds-only"}
    over = codes["back-to-brown"]["colour-over-colour"].obstacle.values
    assert over["target"] == 7
    assert float(over["level"]) <= 6
