"""Strengths of developers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.hair.peroxide import (
    EU_LIMIT_PERCENT,
    MOLAR_VOLUME_1_ATM,
    MOLAR_VOLUME_1_BAR,
    mixed_strength,
    over_eu_limit,
    pearson_square,
    percent_by_formula,
    percent_from_volumes,
    strength_in_mixture,
    thin_with_water,
    volumes_by_formula,
    volumes_from_percent,
)


# 2 H2O2 -> 2 H2O + O2 worked by hand at two molar volumes of oxygen (CODATA; 0 °C at 1 atm and at 1 bar).
@pytest.mark.parametrize(
    ("percent", "at_1_atm", "at_1_bar"),
    [
        (1, 3.2948, 3.3384),
        (3, 9.88, 10.02),
        (6, 19.77, 20.03),
        (9, 29.65, 30.05),
        (12, 39.54, 40.06),
        (30, 98.84, 100.15),
    ],
)
def test_volumes_by_formula(percent, at_1_atm, at_1_bar):
    """Volumes follow from the reaction; the bottle's nominal ones agree within 1.2 % and 0.2 %."""
    assert volumes_by_formula(percent, MOLAR_VOLUME_1_ATM) == pytest.approx(at_1_atm, abs=0.006)
    assert volumes_by_formula(percent, MOLAR_VOLUME_1_BAR) == pytest.approx(at_1_bar, abs=0.006)
    nominal = volumes_from_percent(percent)
    assert volumes_by_formula(percent, MOLAR_VOLUME_1_ATM) == pytest.approx(nominal, rel=0.012)
    assert volumes_by_formula(percent, MOLAR_VOLUME_1_BAR) == pytest.approx(nominal, rel=0.002)


def test_ten_and_thirty_volumes_as_taught():
    """10 volumes are 3.03 % (chemzipper.com 2018/10), 30 are 9.11 % and 2.678 mol/l (chemistrytip 2010/09).

    The second is worked with 22.4 l/mol, as school texts do; with 22.414 it is 9.105.
    """
    assert percent_by_formula(10) == pytest.approx(3.035, abs=0.0006)
    assert percent_by_formula(10, MOLAR_VOLUME_1_BAR) == pytest.approx(2.995, abs=0.0006)
    assert percent_by_formula(30, 22.4) == pytest.approx(9.11, abs=0.005)
    assert percent_by_formula(30, 22.4) * 10 / 34.0147 == pytest.approx(2.678, abs=0.001)


@given(st.floats(0, 40))
def test_conversions_return(percent):
    """Going to volumes and back changes nothing, nominally and by formula."""
    assert percent_from_volumes(volumes_from_percent(percent)) == pytest.approx(percent)
    assert percent_by_formula(volumes_by_formula(percent)) == pytest.approx(percent)


def test_thinning():
    """60 ml of 20 vol from 30 are 40 + 20 of water; 80 ml of 25 from 40 are 50 + 30 (worked by hand)."""
    assert thin_with_water(60, 30, 20) == pytest.approx((40, 20))
    assert thin_with_water(80, 40, 25) == pytest.approx((50, 30))
    assert thin_with_water(60, 20, 20) == (60, 0)
    assert thin_with_water(0, 20, 0) == (0, 0)
    for impossible in ((60, 20, 30), (60, 0, 0), (-1, 20, 10)):
        with pytest.raises(ValueError, match="water only weakens"):
            thin_with_water(*impossible)


@pytest.mark.parametrize(
    ("stronger", "weaker", "target", "ratio"), [(40, 10, 20, 0.5), (12, 3, 6, 0.5), (12, 6, 9, 1.0)]
)
def test_pearson_square(stronger, weaker, target, ratio):
    """40 and 10 vol to 20 are 1:2, 12 and 3 % to 6 are 1:2, 12 and 6 % to 9 are 1:1 (worked by hand)."""
    strong, weak = pearson_square(stronger, weaker, target)
    assert strong / weak == pytest.approx(ratio)


def test_pearson_square_at_its_corners():
    """A target that is one of the developers takes nothing of the other."""
    assert pearson_square(40, 10, 40) == (30, 0)
    assert pearson_square(40, 10, 10) == (0, 30)


@given(weak=st.floats(0, 20), wide=st.floats(0.1, 20), part=st.floats(0, 1))
def test_pearson_square_mixes_to_its_target(weak, wide, part):
    """Pouring the parts together gives the target."""
    target = min(weak + part * wide, weak + wide)
    parts = pearson_square(weak + wide, weak, target)
    assert mixed_strength(parts, (weak + wide, weak)) == pytest.approx(target)


@pytest.mark.parametrize(
    ("stronger", "weaker", "target"), [(30, 10, 40), (30, 10, 5), (10, 30, 20), (20, 20, 20)]
)
def test_pearson_square_outside(stronger, weaker, target):
    """A target outside the two developers, or the two given the wrong way round, is refused."""
    with pytest.raises(ValueError, match="anything between them"):
        pearson_square(stronger, weaker, target)


@pytest.mark.parametrize(("parts", "percent"), [(1, 3.0), (1.5, 3.6), (2, 4.0)])
def test_strength_in_the_mixture(parts, percent):
    """6 % mixed 1:1, 1:1.5 and 1:2 is 3.0, 3.6 and 4.0 % on the hair (worked by hand).

    All lie within the 3-8 % reported on the head by shade (TRI Princeton library, page 132).
    """
    assert strength_in_mixture(6, 1, parts) == pytest.approx(percent)
    assert 3 <= strength_in_mixture(6, 1, parts) <= 8


def test_no_mixture():
    """Parts and amounts that can not be are refused."""
    with pytest.raises(ValueError, match="no mixture"):
        strength_in_mixture(6, 1, 0)
    with pytest.raises(ValueError, match="can not be mixed"):
        mixed_strength((0, 0), (6, 9))


def test_legal_limit():
    """12 %, 40 volumes, is the most the EU allows ready for use (Reg. 1223/2009, Annex III, 12(a))."""
    assert volumes_from_percent(EU_LIMIT_PERCENT) == pytest.approx(40)
    assert not over_eu_limit(12)
    assert over_eu_limit(12.1)
