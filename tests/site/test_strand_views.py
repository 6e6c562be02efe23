"""Where labels and ribbon slices stand."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.record.model import Audience
from journey.site.hair_styles import HairStyles
from journey.site.strand_views import hang_labels, ribbon_slice, ruler_cm, spread_apart
from tests.edition_example import example_edition
from tests.example_hair import strand


@given(st.lists(st.tuples(st.floats(0, 1), st.floats(0.01, 0.2)), max_size=12))
def test_spread_labels_keep_their_order_and_never_overlap(labels: list[tuple[float, float]]) -> None:
    """Whatever moments collide, labels stay in order with room for each; one alone stays where it belongs."""
    wanted = sorted(at for at, _ in labels)
    heights = [height for _, height in labels]
    centres = spread_apart(wanted, heights)
    for i in range(len(centres) - 1):
        assert centres[i + 1] - centres[i] >= (heights[i] + heights[i + 1]) / 2 - 1e-6
    if len(labels) == 1:
        assert centres == pytest.approx(wanted)


@given(st.lists(st.floats(0, 1), min_size=1, max_size=12, unique=True))
def test_curtain_labels_never_cover_a_label_or_a_line(xs: list[float]) -> None:
    """Each label has a row of its own and a quarter of the width; no line crosses it that could pass elsewhere."""
    xs = sorted(xs)
    hung = hang_labels(xs)
    assert sorted(label.place for label in hung) == list(range(len(xs)))
    first_left = next((x for x, label in zip(xs, hung, strict=True) if label.to_the_left), 1.0)
    for i, high in enumerate(hung):
        low, end = (xs[i] - high.room, xs[i]) if high.to_the_left else (xs[i], xs[i] + high.room)
        assert high.room >= 0.25
        assert low >= -1e-9
        assert end <= 1 + 1e-9
        for j, other in enumerate(hung):
            # A line runs from the top down to its own row and would cross every text above that.
            if other.place > high.place and low + 1e-9 < xs[j] < end - 1e-9:
                assert not high.to_the_left
                assert other.to_the_left
                assert first_left - xs[i] < 0.25, "there was room to end at that line"


def test_a_label_at_the_edge_runs_to_the_left() -> None:
    """The last label does not leave the page, and one with a quarter of the width to its right stays there."""
    assert hang_labels([0.95])[0].to_the_left
    assert not hang_labels([0.74])[0].to_the_left


def test_every_entry_shows_its_own_days_of_the_ribbon() -> None:
    """The rows CSS shows for an entry, recomputed from its size and offset, are those of its weeks."""
    edition = example_edition(Audience.CLIENT)
    hair = edition.strands[0]
    rows = hair.rgba.shape[0]
    for entry in edition.entries[:-1]:
        styles = HairStyles()
        cut = ribbon_slice(entry, hair, styles)
        assert cut is not None
        size, offset = (float(v) / 100 for v in re.findall(r"([\d.]+)%", styles.css().replace("100% ", "")))
        # CSS Backgrounds 3, 3.6: an offset of p shows the image from p * (image - window) on.
        window = rows / size
        first = offset * (rows - window)
        assert first == pytest.approx(entry.spans[0] * hair.rows_per_week, abs=0.1)
        assert window == pytest.approx((entry.spans[1] - entry.spans[0]) * hair.rows_per_week, abs=0.1)
        assert not cut[1]


def test_the_last_entry_shows_the_forecast_and_says_so() -> None:
    """From today on the ribbon is forecast, to be combed; an entry before it stops where measuring stops."""
    edition = example_edition(Audience.CLIENT)
    last = ribbon_slice(edition.entries[-1], edition.strands[0], HairStyles())
    assert last is not None
    assert last[1]
    before_all = replace(edition.entries[0], spans=(-3.0, -1.0))
    assert ribbon_slice(before_all, edition.strands[0], HairStyles()) is None


def test_rulers_are_round() -> None:
    """At most six marks, at 1, 2, 5 or 10 cm."""
    assert ruler_cm(26.1) == [0, 5, 10, 15, 20, 25]
    assert ruler_cm(5.5) == [0, 1, 2, 3, 4, 5]
    assert len(ruler_cm(58)) <= 6
    assert strand(Audience.CLIENT).longest_cm > 0
