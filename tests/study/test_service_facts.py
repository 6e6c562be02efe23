"""Each rule of what a service may and may not do speaks from a folder, about a service done or one planned."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest

from journey.hair.service_rules import RULES, objections
from journey.record.reader import read_record
from journey.study.calendar import start_day
from journey.study.growing import grow_zones, growth_rate
from journey.study.service_facts import Judged, done_services, planned_services
from tests.demo import TODAY, studied_demo
from tests.record.folders import sound_folder

DEVELOPER = "            - product: developer\n              grams: 80 g\n"
ROSE = "        name: Rose\n        zones: [crown]\n        band: from 0 cm to 8 cm\n"
REMOVAL = "        name: Rose off\n        zones: [crown]\n        band: all\n"
BROWN = "        name: Brown\n        zones: [crown]\n        band: all\n"
LIGHTENED = "        name: Lightened\n        zones: [crown]\n        band: all\n"
NEW_GROWTH = "        name: New growth\n        zones: [crown]\n        band: roots\n"
OFF = "              grams: 40 g\n        time: 25 min\n        with_developer: no\n"
WATER = "  - key: strong\n    name: 40 volume developer\n    role: developer\n    peroxide: 40 vol\n"
EXTENSIONS = (
    "      - key: pieces\n        kind: extensions in\n        name: Pieces\n        zones: [crown]\n"
    "        band: roots\n        added_length: 40 cm\n"
)
AFTER = "        porosity: high\n"

# (code, text of the sound folder, what stands there instead, the service that is spoken against)
CASES: tuple[tuple[str, str, str, str], ...] = (
    ("stretches-too-far", AFTER, f"{AFTER}        elasticity_wet_percent: 38\n", "Brown"),
    ("heat-with-lightener", LIGHTENED, f"{LIGHTENED}        heat: hood\n", "Lightened"),
    ("lightener-over-lightened", "        band: roots\n", "        band: all\n", "New growth"),
    ("bonds-before-lightener", "", "", "Lightened"),
    ("safe-step", "", "", "Lightened"),
    ("strong-on-scalp", DEVELOPER, DEVELOPER.replace("developer", "strong"), "Lightened"),
    ("deposit-does-not-lift", ROSE, f"{ROSE}        to_level: 10\n", "Rose"),
    (
        "colour-does-not-lift-colour",
        BROWN,
        f"{BROWN}        to_level: 8\n        level_before: 6\n",
        "Brown",
    ),
    (
        "direct-without-developer",
        "              grams: 1.5 oz\n",
        f"              grams: 1.5 oz\n{DEVELOPER}",
        "Rose",
    ),
    ("oxidative-with-developer", DEVELOPER.replace("80", "40") + "          ratio: 1:1\n", "", "Brown"),
    ("remover-lifts-nothing", REMOVAL, f"{REMOVAL}        to_level: 10\n", "Rose off"),
    ("remover-and-class", "            - product: rose\n", "            - product: brown\n", "Rose off"),
    (
        "remover-over-lightened",
        OFF,
        f"              grams: 40 g\n{DEVELOPER}        time: 25 min\n        with_developer: yes\n",
        "Rose off",
    ),
    ("remover-minutes", OFF, OFF.replace("25", "50"), "Rose off"),
    ("remover-sections", REMOVAL, f"{REMOVAL}        section_width: 1 in\n", "Rose off"),
    ("remover-water", "", "", "Rose off"),
    ("remover-air", REMOVAL, f"{REMOVAL}        covered: yes\n", "Rose off"),
    ("added-hair", "      - key: rose\n        kind", f"{EXTENSIONS}      - key: rose\n        kind", "Rose"),
    ("usual-ratio", DEVELOPER, DEVELOPER.replace("80", "160"), "Lightened"),
    (
        "usual-minutes",
        "        time: 40 min\n        to_level",
        "        time: 55 min\n        to_level",
        "Lightened",
    ),
    ("sections", ROSE, f"{ROSE}        section_width: 1/2 in\n", "Rose"),
    ("cross-check", ROSE, f"{ROSE}        cross_checked: no\n", "Rose"),
)


def _judged(folder: Path) -> Sequence[Judged]:
    record = read_record(folder)
    grown = grow_zones(record, growth_rate(record))
    start = start_day(record.journey)
    planned = planned_services(record, grown, date(2026, 4, 11), start)
    return [*done_services(record, grown), *(one for _, one in planned)]


def _spoken(folder: Path) -> set[tuple[str, str]]:
    return {(objection.code, one.name) for one in _judged(folder) for objection in objections(one.facts)}


def _folder(at: Path, old: str, new: str) -> Path:
    folder = sound_folder(at)
    written = folder / "journey.yaml"
    text = written.read_text(encoding="utf-8")
    assert old in text
    text = text.replace(old, new, 1)
    if "product: brown" in new:
        text = text.replace("kind: direct colour", "kind: demi", 1)
    written.write_text(text, encoding="utf-8")
    salon = folder / "salon.yaml"
    salon.write_text(salon.read_text(encoding="utf-8") + WATER, encoding="utf-8")
    return folder


@pytest.mark.parametrize(("code", "old", "new", "name"), CASES, ids=[case[0] for case in CASES])
def test_each_rule_speaks_from_a_folder(code: str, old: str, new: str, name: str, tmp_path: Path) -> None:
    """What is written in the YAML reaches the rule, and the service it is about is named."""
    spoken = _spoken(_folder(tmp_path, old, new))
    assert (code, name) in spoken
    if old:
        assert (code, name) not in _spoken(sound_folder(tmp_path / "sound"))


def test_every_rule_has_its_folder() -> None:
    """In the order of the rules."""
    assert [case[0] for case in CASES] == [rule.code for rule in RULES]


FAMILIES = (
    {"stretches-too-far"},
    {"heat-with-lightener", "lightener-over-lightened", "bonds-before-lightener", "safe-step"},
    {"deposit-does-not-lift", "colour-does-not-lift-colour"},
    {"remover-lifts-nothing", "remover-and-class", "remover-over-lightened", "remover-minutes"},
    {"usual-ratio", "usual-minutes", "sections", "cross-check"},
)


def test_every_family_of_service_rules_speaks_in_the_demo() -> None:
    """What nobody can see in the demo does not exist."""
    spoken = {one.rule for one in studied_demo().study.cautions}
    for family in FAMILIES:
        assert family & spoken, family


def test_a_plan_is_judged_over_the_hair_its_earlier_steps_leave() -> None:
    """The way back to brown lays a second demi over the first, on the day the plan says."""
    record = studied_demo().record
    grown = grow_zones(record, growth_rate(record))
    steps = [
        one
        for option, one in planned_services(record, grown, TODAY, start_day(record.journey))
        if option.key == "back-to-brown"
    ]
    assert "demi" not in steps[0].facts.classes_on_hair
    assert "demi" in steps[1].facts.classes_on_hair


def test_what_holds_for_several_steps_of_a_plan_is_said_once_with_all_their_names() -> None:
    """Wet ends that stretch too far stop all three colours of the way back to brown, in one line."""
    cautions = [one for one in studied_demo().study.cautions if one.about == "back-to-brown"]
    stretched = [one for one in cautions if one.rule == "stretches-too-far"]
    assert [one.values["service"] for one in stretched] == [
        ("Missing warmth put back", "Thinned neutral brown", "Brown again where it has faded")
    ]


def test_the_bowl_mixed_outside_its_instructions_is_refused_and_one_thinned_with_water_looked_at() -> None:
    """The ratio of the touch-up stops; water in the developer of a plan is only to be looked at."""
    told = {
        (one.rule, one.about): one.values["service"]
        for one in studied_demo().study.cautions
        if one.rule.startswith("bowl-")
    }
    assert told == {
        ("bowl-refused", "root-touch-up"): "New growth lightened",
        ("bowl-look-again", "roots-to-violet"): "New growth lightened",
    }
    findings = studied_demo().study.findings
    assert {key: findings[key].value for key in findings if key.endswith(".in-water")} == {
        "bowl.first-bond-protection.in-water": 0.2,
        "bowl.root-bond-protection.in-water": 0.2,
        "bowl.removal.in-water": 0.5,
    }
