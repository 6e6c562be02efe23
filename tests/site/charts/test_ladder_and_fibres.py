"""Ladder and fibre shares: lengths, colours and words are the edition's."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from tests.site.charts.drawn import render_chart, render_fibre_shares
from tests.site.charts.editions import edition
from tests.site.charts.reading_svg import lines, parts, shapes, words


def box(shape_path: str) -> tuple[float, float, float, float]:
    """Left, top, right, bottom."""
    corners = np.array(lines(shape_path)[0])
    return (*corners.min(axis=0), *corners.max(axis=0))


@pytest.mark.parametrize("width", ["phone", "wide"])
def test_steps(width: str) -> None:
    """Ten steps in their undertones, each lighter level above and longer in proportion."""
    one = edition()
    svg = render_chart("ladder", one, "phone" if width == "phone" else "wide")
    assert svg is not None
    assert one.ladder
    boxes = {}
    for step in one.ladder.steps:
        (drawn,) = parts(svg, f"step-{step.level}")
        assert drawn.attributes["fill"] == step.hex
        boxes[step.level] = box(drawn.path)
    longest = boxes[10][2] - boxes[10][0]
    for level, (left, _, right, _) in boxes.items():
        assert right - left == pytest.approx(longest * level / 10, abs=0.2)
    assert all(boxes[lower][1] > boxes[upper][1] for lower, upper in pairwise(range(1, 11)))


def test_words_of_a_step_stand_on_its_height() -> None:
    """Level, undertone, neutraliser and mark are all written beside the step they belong to."""
    one = edition()
    svg = render_chart("ladder", one, "wide")
    assert svg is not None
    assert one.ladder
    for step in one.ladder.steps:
        _, top, _, bottom = box(parts(svg, f"step-{step.level}")[0].path)
        beside = {s.text for s in shapes(svg) if s.tag == "text" and top < s.at[1] < bottom}
        assert {str(step.level), step.undertone, step.neutraliser} <= beside
        assert bool(step.mark) == (len(beside) > 3)


def test_phone_names_the_neutraliser_too() -> None:
    """The narrow drawing says it under the undertone."""
    svg = render_chart("ladder", edition(), "phone")
    assert svg is not None
    assert "against it: blue-violet" in words(svg)
    assert "natural" in words(svg)


def test_shares() -> None:
    """Bars are as long as the strands' shares of the whole, in the strands' colours."""
    one = edition()
    svg = render_chart("fibres", one, "phone")
    assert svg is not None
    whole = box(parts(svg, "from-afar")[0].path)
    for index, strand in enumerate(one.fibres[0].colours):
        (bar,) = parts(svg, f"share-{index}")
        left, _, right, _ = box(bar.path)
        assert (right - left) / (whole[2] - whole[0]) == pytest.approx(strand.share, abs=0.002)
        assert bar.attributes["fill"] == strand.hex
        assert strand.name in words(svg)
    assert parts(svg, "from-afar")[0].attributes["fill"] == one.fibres[0].from_afar.hex


def test_silver_strands_are_outlined() -> None:
    """A colour that vanishes into the grey has a line around it, violet has none."""
    svg = render_chart("fibres", edition(), "phone")
    assert svg is not None
    assert parts(svg, "share-2")[0].attributes["stroke"] == "#000"
    assert "stroke" not in parts(svg, "share-0")[0].attributes


def test_second_strand_mix() -> None:
    """Each strand mix can be drawn; one beyond the last is none."""
    one = edition()
    two = replace(one, fibres=(one.fibres[0], replace(one.fibres[0], alt="the second")))
    svg = render_fibre_shares(two, 1, "wide")
    assert svg is not None
    assert 'aria-label="the second"' in svg
    assert render_fibre_shares(two, 2, "wide") is None
