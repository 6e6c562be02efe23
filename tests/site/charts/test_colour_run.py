"""Colours along a line: few stops, the same sight."""

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.site.charts.colour_run import between, fewest_stops, vanishes_into_card
from journey.site.charts.thinning import points_that_matter
from journey.site.charts.tokens import BLACK, CARD_GREY, WHITE, gradient_index, gradient_stand_in, hair

HEXES = st.integers(0, 0xFFFFFF).map(lambda n: f"#{n:06x}")


@given(st.lists(HEXES, min_size=2, max_size=30))
def test_left_out_stops_are_not_missed(colours: list[str]) -> None:
    """Between the stops that stay, every colour left out is met to two code values."""
    stops = [(n / (len(colours) - 1), c) for n, c in enumerate(colours)]
    kept = fewest_stops(stops)
    codes = np.array([[int(c[i : i + 2], 16) for i in (1, 3, 5)] for _, c in kept])
    for offset, wanted in stops:
        for channel in range(3):
            shown = np.interp(offset, [o for o, _ in kept], codes[:, channel])
            assert abs(shown - int(wanted[1 + 2 * channel : 3 + 2 * channel], 16)) <= 2 + 1e-9


def test_ends_are_kept() -> None:
    """A run of one colour is two stops, of none is none."""
    assert fewest_stops([(n / 9, "#112233") for n in range(10)]) == ((0.0, "#112233"), (1.0, "#112233"))
    assert fewest_stops([(0.0, "#112233")]) == ((0.0, "#112233"),)
    assert fewest_stops([]) == ()
    assert points_that_matter([], np.empty((0, 1)), 1.0) == []


def test_between_is_even_in_encoded_srgb() -> None:
    """Half way is the mean of the codes, as SVG fills a gradient (SVG 2, 'color-interpolation: sRGB')."""
    assert between("#ff0000", "#0000ff", 0.5) == "#800080"
    assert between("#6b3f9b", "#e6c896", 0.0) == "#6b3f9b"
    assert between("#6b3f9b", "#e6c896", 1.0) == "#e6c896"


def test_card_is_the_grey_card() -> None:
    """The charts' ground reflects 18 %, as colour-science reads it, like a photographer's grey card."""
    assert colour.sRGB_to_XYZ(colour.notation.HEX_to_RGB(CARD_GREY))[1] == pytest.approx(0.18, abs=0.003)


def test_black_and_white_stand_out_from_the_card() -> None:
    """Both reach 4.5 to 1 on the card, by the contrast ratio of WCAG 2.2 (success criterion 1.4.3)."""
    luminance = {
        c: float(colour.sRGB_to_XYZ(colour.notation.HEX_to_RGB(c))[1]) for c in (BLACK, CARD_GREY, WHITE)
    }
    assert (luminance[CARD_GREY] + 0.05) / (luminance[BLACK] + 0.05) >= 4.5
    assert (luminance[WHITE] + 0.05) / (luminance[CARD_GREY] + 0.05) >= 4.5


def test_vanishing() -> None:
    """Silver vanishes, violet does not, and one vanishing colour in a run is enough."""
    assert vanishes_into_card(["#7e7c7a"])
    assert not vanishes_into_card(["#6b3f9b", "#e6c896"])
    assert vanishes_into_card(["#6b3f9b", "#7e7c7a"])


@given(HEXES)
def test_hair_is_never_a_stand_in(colour_drawn: str) -> None:
    """Whatever colour hair has, it is drawn as a colour, at most one code value away."""
    drawn = hair(colour_drawn)
    assert gradient_index(drawn) is None
    assert not drawn.startswith("#0101")
    assert abs(int(drawn[1:3], 16) - int(colour_drawn[1:3], 16)) <= 1
    assert drawn[3:] == colour_drawn[3:]


def test_too_many_gradients() -> None:
    """The 257th gradient is refused, not mistaken for another."""
    assert gradient_index(gradient_stand_in(255)) == 255
    with pytest.raises(ValueError, match="at most 256"):
        gradient_stand_in(256)
