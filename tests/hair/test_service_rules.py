"""What each kind of service may and may not do.  Rules here are common practice unless a source is named."""

from __future__ import annotations

import pytest

from journey.hair.service_rules import RULES, ServiceFacts, objections

# (what breaks it, the code it breaks, one change that mends it)
CASES = [
    ({"kind": "lighten", "elasticity_wet_percent": 45}, "stretches-too-far", {"elasticity_wet_percent": 30}),
    ({"kind": "lighten", "heat": True}, "heat-with-lightener", {"heat": False}),
    (
        {"kind": "lighten", "lightened_before_cm": 2.9},
        "lightener-over-lightened",
        {"lightened_before_cm": 0.0},
    ),
    (
        {"kind": "lighten", "bond_protection_before": False},
        "bonds-before-lightener",
        {"bond_protection_before": True},
    ),
    ({"kind": "lighten", "present_level": 5, "target_level": 9}, "safe-step", {"target_level": 8}),
    ({"kind": "permanent", "volumes": 40, "reaches_scalp": True}, "strong-on-scalp", {"volumes": 30}),
    (
        {"kind": "direct colour", "present_level": 5, "target_level": 8},
        "deposit-does-not-lift",
        {"present_level": 8},
    ),
    (
        {"kind": "permanent", "level_on_hair": 3, "target_level": 6, "classes_on_hair": ("permanent",)},
        "colour-does-not-lift-colour",
        {"classes_on_hair": ()},
    ),
    ({"kind": "direct colour", "has_developer": True}, "direct-without-developer", {"has_developer": False}),
    ({"kind": "demi", "has_developer": False}, "oxidative-with-developer", {"has_developer": True}),
    (
        {"kind": "colour removal", "has_developer": False, "present_level": 5, "target_level": 7},
        "remover-lifts-nothing",
        {"target_level": 5},
    ),
    (
        {"kind": "colour removal", "has_developer": False, "classes_on_hair": ("permanent", "direct")},
        "remover-and-class",
        {"classes_on_hair": ("direct",)},
    ),
    (
        {"kind": "colour removal", "has_developer": True, "lightened_before_cm": 12},
        "remover-over-lightened",
        {"has_developer": False},
    ),
    ({"kind": "colour removal", "minutes": 45}, "remover-minutes", {"minutes": 25}),
    ({"kind": "colour removal", "section_width_cm": 2.5}, "remover-sections", {"section_width_cm": 1.27}),
    ({"kind": "colour removal", "has_water": False}, "remover-water", {"has_water": True}),
    ({"kind": "colour removal", "covered": True}, "remover-air", {"covered": False}),
    ({"kind": "toner", "added_hair": True}, "added-hair", {"added_hair": False}),
    ({"kind": "permanent", "developer_parts": 2.0}, "usual-ratio", {"developer_parts": 1.5}),
    ({"kind": "permanent", "minutes": 60}, "usual-minutes", {"minutes": 35}),
    ({"kind": "direct colour", "section_width_cm": 2.0}, "sections", {"section_width_cm": 0.6}),
    ({"kind": "direct colour", "cross_checked": False}, "cross-check", {"cross_checked": True}),
]


@pytest.mark.parametrize(("facts", "code", "mend"), CASES, ids=[case[1] for case in CASES])
def test_each_rule_speaks_and_falls_silent(facts, code, mend):
    """A rule speaks on a service that goes against it, alone, and is silent on the nearest that does not."""
    spoken = objections(ServiceFacts(**facts))
    assert [objection.code for objection in spoken] == [code]
    assert spoken[0].source
    assert code not in [objection.code for objection in objections(ServiceFacts(**(facts | mend)))]


def test_every_rule_has_its_case():
    """No rule is without a case, each code stands once, and cases follow the order of the rules."""
    assert [case[1] for case in CASES] == [rule.code for rule in RULES]


@pytest.mark.parametrize("kind", ["lighten", "direct colour", "permanent", "colour removal", "trim", "toner"])
def test_unknown_facts_are_no_fault(kind):
    """A service of which only the kind is known goes against nothing."""
    assert objections(ServiceFacts(kind=kind)) == ()


@pytest.mark.parametrize(
    ("kind", "parts"), [("permanent", 1), ("permanent", 1.5), ("demi", 2), ("lighten", 1), ("lighten", 2)]
)
def test_usual_ratios(kind, parts):
    """Permanent 1:1 or 1:1.5, demi 1:2, lightener 1:1 to 1:2 (goconqr.com, mind map 7108852) pass."""
    assert objections(ServiceFacts(kind=kind, developer_parts=parts, has_developer=True)) == ()


def test_instructions_go_before_the_outline():
    """A ratio the product's instructions give is not held against the usual one."""
    assert objections(ServiceFacts(kind="demi", developer_parts=1, instructions_give_a_ratio=True)) == ()


def test_lightener_may_be_rinsed_early():
    """Lightener is rinsed when the level is there; a tint needs its time (20-45 min, same outline)."""
    assert objections(ServiceFacts(kind="lighten", minutes=12)) == ()
    assert [one.code for one in objections(ServiceFacts(kind="permanent", minutes=12))] == ["usual-minutes"]


def test_unknown_kind():
    """A kind that is not one is refused with the kinds there are."""
    with pytest.raises(ValueError, match="write lighten, direct colour"):
        ServiceFacts(kind="bleach")


def test_rules_keep_to_their_kind():
    """A direct colour without developer over a tint is no removal; a semi mixed 1:1 is not a usual one."""
    over_tint = ServiceFacts(kind="direct colour", has_developer=False, classes_on_hair=("permanent",))
    assert objections(over_tint) == ()
    assert [one.code for one in objections(ServiceFacts(kind="demi", developer_parts=1))] == ["usual-ratio"]
    same = ServiceFacts(
        kind="permanent", level_on_hair=6, target_level=6, classes_on_hair=("permanent",), present_level=6
    )
    assert objections(same) == ()


def test_a_remover_that_dried_is_told_as_one_that_lay_covered():
    """Either leaves colour behind (common practice, no source)."""
    codes = {one.code for one in objections(ServiceFacts(kind="colour removal", soaked=False, covered=False))}
    assert "remover-air" in codes
