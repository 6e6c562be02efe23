"""What is in a bowl, and what is wrong with it."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.colour.reason import Reason
from journey.hair.absent import Absent
from journey.hair.bowl import Bowl, BowlLine, Coverage, bowl_for
from journey.hair.bowl_checks import CAUTION, REFUSED, bowl_problems
from journey.hair.peroxide import strength_in_mixture


def line(role, grams, percent=None, price=None, name=None):
    return BowlLine(name=name or role, role=role, grams=grams, peroxide_percent=percent, price_per_g=price)


def tint(colour=40, developer=60, percent=6.0):
    return Bowl((line("colour", colour), line("developer", developer, percent)))


def codes(bowl, **said):
    return [problem.code for problem in bowl_problems(bowl, **said)]


@pytest.mark.parametrize(("diluent", "share"), [(0, 1), (1, 0.5), (3, 0.25), (10, 1 / 11)])
def test_dilution(diluent, share):
    """Dye over dye and diluent: one part in three is 25 % (worked by hand)."""
    bowl = Bowl((line("colour", 20), line("clear", 20 * diluent)))
    assert bowl.pure_colour_share == pytest.approx(share)


def test_developer_does_not_thin():
    """The developer belongs to the recipe: an undiluted tint is pure colour; water and additives thin it."""
    assert tint().pure_colour_share == 1
    thinned = Bowl((line("colour", 20), line("water", 15), line("additive", 5)))
    assert thinned.pure_colour_share == 0.5
    assert isinstance(Bowl((line("remover", 20),)).pure_colour_share, Absent)


@pytest.mark.parametrize("parts", [1, 1.5, 2])
def test_peroxide_in_the_mixture(parts):
    """Grams give the strength that parts give: 6 % at 1:1, 1:1.5, 1:2 is 3.0, 3.6, 4.0 %."""
    bowl = tint(30, 30 * parts)
    assert bowl.peroxide_percent == pytest.approx(strength_in_mixture(6, 1, parts))
    assert bowl.developer_parts == pytest.approx(parts)


def test_two_developers():
    """20 g of 12 % and 40 g of 3 % are a developer of 6 % (Pearson square, worked by hand)."""
    bowl = Bowl((line("colour", 60), line("developer", 20, 12), line("developer", 40, 3)))
    assert bowl.developer_percent == pytest.approx(6)
    assert bowl.peroxide_percent == pytest.approx(3)


def test_absent_with_reason():
    """What is not known is absent and says why; a bowl without developer holds no peroxide."""
    direct = Bowl((line("colour", 40, price=0.1),))
    assert direct.peroxide_percent == 0
    assert isinstance(direct.developer_percent, Absent)
    assert isinstance(direct.developer_parts, Absent)
    assert direct.used_g == Absent("left-over-not-noted")
    unnoted = Bowl((line("colour", 40), line("developer", 40, name="the blue bottle")))
    assert unnoted.peroxide_percent == Absent("strength-not-noted", products=("the blue bottle",))
    assert unnoted.cost == Absent("price-not-known", products=("colour", "the blue bottle"))


def test_cost_and_left_over():
    """Cost is what was mixed, by the gram; used is what was not left over."""
    bowl = Bowl((line("colour", 40, price=0.15), line("developer", 60, 6, 0.02)), left_over_g=25)
    assert bowl.cost == pytest.approx(7.2)
    assert bowl.used_g == 75


@given(factor=st.floats(0.05, 20))
def test_scaling_keeps_the_mixture(factor):
    """A scaled bowl has the same ratio and strength, and so many times the grams."""
    scaled = tint().scaled(factor)
    assert scaled.total_g == pytest.approx(100 * factor)
    assert scaled.developer_parts == pytest.approx(1.5)
    assert scaled.peroxide_percent == pytest.approx(3.6)


def test_touch_up_of_the_new_growth():
    """80 g used on 30 cm of the whole head are 8 g on 3 cm of new growth; a zone needs its share."""
    full = Bowl((line("colour", 40), line("developer", 60, 6)), left_over_g=20)
    head, roots = Coverage(1, 30), Coverage(1, 3)
    assert bowl_for(full, head, roots).total_g == pytest.approx(8)
    assert bowl_for(full, head, Coverage(0.25, 3)).total_g == pytest.approx(2)
    assert bowl_for(full, head, head).total_g == pytest.approx(80)
    unnoted = Bowl(full.lines)
    assert bowl_for(unnoted, head, roots).total_g == pytest.approx(10)
    with pytest.raises(ValueError, match="nothing of this bowl was used"):
        bowl_for(Bowl(full.lines, left_over_g=100), head, roots)


def test_rounded_up_to_the_scale():
    """Every ingredient goes up to the next step and exact steps stay."""
    bowl = Bowl((line("colour", 8.1), line("developer", 15.0, 6))).rounded_up(5)
    assert [one.grams for one in bowl.lines] == [10, 15]


def test_a_product_thinned_with_water():
    """C1 V1 = C2 V2, the dilution formula: 15 g of a product in 75 g are a fifth of its strength."""
    assert Bowl((line("additive", 15), line("water", 60))).share_in_water == pytest.approx(0.2)
    assert Bowl((line("remover", 45), line("water", 45))).share_in_water == pytest.approx(0.5)
    assert Bowl((line("additive", 15),)).share_in_water == Absent("no-water")
    thinned = Bowl((line("lightener", 20), line("developer", 33, 6), line("water", 11)))
    assert thinned.share_in_water == Absent("water-thins-the-developer")
    assert thinned.thinned_developer_percent == pytest.approx(4.5)


def test_clean_bowl_has_no_problem():
    """A bowl that is what was said about it is not spoken of."""
    assert codes(tint(), stated_total_g=100, stated_parts=1.5, allowed_parts=(1, 1.5)) == []


@pytest.mark.parametrize(
    ("bowl", "said", "code", "severity"),
    [
        (tint(10, 190, 13), {}, "over-the-limit", REFUSED),
        (tint(), {"stated_total_g": 110}, "sum-mismatch", REFUSED),
        (tint(), {"stated_parts": 2}, "ratio-mismatch", REFUSED),
        (Bowl((line("colour", 5),)), {"stated_parts": 2}, "ratio-without-parts", REFUSED),
        (tint(), {"allowed_parts": (2, 2)}, "ratio-not-the-one", REFUSED),
        (Bowl((line("lightener", 30),)), {}, "lightener-without-developer", CAUTION),
        (Bowl((line("developer", 30, 6),)), {}, "developer-alone", CAUTION),
        (tint(percent=None), {}, "strength-unknown", CAUTION),
        (tint(percent=20), {}, "strong-bottle", CAUTION),
        (Bowl((*tint().lines, line("water", 10))), {}, "developer-in-water", CAUTION),
    ],
)
def test_problems(bowl, said, code, severity):
    """Each problem is found, by its code, with its weight and source."""
    problems = {problem.code: problem for problem in bowl_problems(bowl, **said)}
    if code == "strong-bottle":
        # 20 % taken for 20 volumes, 1:1.5: the mixture is at 12 %, just within the law
        assert list(problems) == [code]
    assert problems[code].severity == severity
    assert problems[code].source


def test_refusals_come_first():
    """Of several problems the refused ones are told first."""
    problems = bowl_problems(tint(percent=None), stated_total_g=110, allowed_parts=(2, 2))
    assert [problem.severity for problem in problems] == [REFUSED, REFUSED, CAUTION]


def test_poured_by_hand():
    """A ratio within a twentieth, and a sum within a gram, are as said."""
    assert codes(tint(40, 62), stated_parts=1.5, stated_total_g=101) == []
    assert codes(tint(40, 66), stated_parts=1.5) == ["ratio-mismatch"]
    assert codes(tint(100, 96), allowed_parts=(1, 1.5)) == []
    assert codes(tint(100, 90), allowed_parts=(1, 1.5)) == ["ratio-not-allowed"]
    assert codes(tint(100, 157), allowed_parts=(1, 1.5)) == []


def test_allowed_ratio_in_words():
    """One allowed ratio is told as one, a range as a range."""
    (one,) = bowl_problems(tint(), allowed_parts=(2, 2))
    assert one.reason == Reason("ratio-not-the-one", parts=1.5, least=2)
    (span,) = bowl_problems(tint(40, 40), allowed_parts=(1.5, 2))
    assert span.reason == Reason("ratio-not-allowed", parts=1.0, least=1.5, most=2)


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Bowl(()),
        lambda: Bowl((line("colour", 0),)),
        lambda: Bowl((line("colour", 10),), left_over_g=11),
        lambda: line("dye", 10),
        lambda: line("colour", -1),
        lambda: line("colour", float("nan")),
        lambda: line("colour", 10, 6),
        lambda: line("developer", 10, 140),
        lambda: tint().scaled(0),
        lambda: tint().scaled(float("inf")),
        lambda: line("colour", float("inf")),
        lambda: tint().rounded_up(0),
        lambda: Coverage(0, 3),
        lambda: Coverage(1.2, 3),
        lambda: Coverage(1, 0),
    ],
)
def test_what_can_not_be(wrong):
    """Impossible bowls, lines and coverages are refused in words."""
    with pytest.raises(ValueError, match=r"bowl|role|peroxide|scale|developer"):
        wrong()
