"""What the words for bands mean in centimetres."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.hair.band import ALL, ENDS, MID_LENGTHS, ROOTS, Band

LENGTHS = st.floats(0, 120)
GROWN = st.none() | st.floats(0, 60)


@given(length_cm=LENGTHS, new_growth_cm=GROWN)
def test_named_bands_tile_the_hair(length_cm, new_growth_cm):
    """Roots, mid-lengths and ends follow each other without gap or overlap and make up the whole."""
    roots, middle, ends = (
        Band(name).span_cm(length_cm, new_growth_cm) for name in (ROOTS, MID_LENGTHS, ENDS)
    )
    assert roots[0] == 0
    assert roots[1] == middle[0]
    assert middle[1] == ends[0]
    assert (roots[0], ends[1]) == Band(ALL).span_cm(length_cm, new_growth_cm)
    assert ends[1] == length_cm
    assert all(near <= far for near, far in (roots, middle, ends))


@given(length_cm=LENGTHS, from_cm=st.floats(0, 50), width_cm=st.floats(0.1, 50))
def test_explicit_bands_end_with_the_hair(length_cm, from_cm, width_cm):
    """A stretch in centimetres never reaches past the tip."""
    near, far = Band.between(from_cm, from_cm + width_cm).span_cm(length_cm)
    assert near <= far <= length_cm


def test_roots_follow_new_growth():
    """Roots are the new growth once it can be parted off, else the first two centimetres."""
    assert Band(ROOTS).span_cm(30, 3.1) == (0, 3.1)
    assert Band(ROOTS).span_cm(30, 0.2) == (0, 2)
    assert Band(ROOTS).span_cm(30) == (0, 2)
    assert Band(ROOTS).span_cm(0.6) == (0, 0.6)


def test_short_hair_has_roots_only():
    """On hair clipped to 6 mm there are no mid-lengths and no ends."""
    for name in (MID_LENGTHS, ENDS):
        near, far = Band(name).span_cm(0.6)
        assert near == far


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: Band("tips"),
        lambda: Band.between(8, 2),
        lambda: Band.between(-1, 2),
        lambda: Band.between(math.nan, 2),
    ],
)
def test_what_is_no_band(wrong):
    """Unknown words and stretches that run the wrong way are refused."""
    with pytest.raises(ValueError, match="band"):
        wrong()
