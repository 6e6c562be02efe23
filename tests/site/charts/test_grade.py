"""Grade: ratings stand where the standard's scale puts them, and places can be told apart without hue."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import numpy as np
import pytest

from journey.edition.model import Edition, GradePoint, When
from journey.site.charts.grade import runs
from tests.site.charts.drawn import render_chart
from tests.site.charts.editions import edition
from tests.site.charts.reading_svg import all_lines, card_scale, parts, shapes, words


def drawn(one: Edition | None = None) -> str:
    svg = render_chart("grade", one or edition(), "wide")
    assert svg is not None
    return svg


def test_points_stand_at_their_rating() -> None:
    """5 at the top, 1 at the bottom, evenly between (ISO 105-A05's scale); weeks evenly along."""
    one = edition()
    svg = drawn(one)
    assert one.grade
    scale = card_scale(svg, (-0.56, 14.56), (0.8, 5.2))
    for index, (_, points) in enumerate(one.grade.series):
        found = sorted(
            scale.value(p.at) for kind in ("points", "hollow") for p in parts(svg, f"{kind}-{index}")
        )
        assert np.allclose(found, [(p.when.week, p.grade) for p in points], atol=0.02)
    heights = [t.at[1] for t in shapes(svg) if t.text in {"5", "4", "3", "2", "1"}]
    assert heights == sorted(heights)
    assert np.allclose(np.diff(heights), np.diff(heights)[0], atol=0.11)


def test_hollow_is_not_distinguishable() -> None:
    """A change within the measuring error is drawn hollow, and only such a one; the chart says so."""
    one = edition()
    svg = drawn(one)
    assert one.grade
    for index, (_, points) in enumerate(one.grade.series):
        hollow = parts(svg, f"hollow-{index}")
        assert len(hollow) == sum(not p.distinguishable for p in points)
        assert all("ch-fill-card" in p.attributes["class"] for p in hollow)
    assert any("hollow" in text for text in words(svg))
    sure = tuple(
        (name, tuple(replace(p, distinguishable=True) for p in points)) for name, points in one.grade.series
    )
    assert not any("hollow" in t for t in words(drawn(replace(one, grade=replace(one.grade, series=sure)))))


def outline(svg: str, href: str) -> tuple[str, ...]:
    """A point's shape without its size: its commands and its corners as shares of its reach."""
    shape = ET.fromstring(svg).find(f".//path[@id='{href.removeprefix('#')}']")
    assert shape is not None
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", shape.attrib["d"])]
    reach = max(abs(n) for n in numbers)
    return (re.sub(r"[-\d. ]", "", shape.attrib["d"]), *(f"{n / reach:.1f}" for n in numbers))


def test_places_differ_in_shape() -> None:
    """Every place has its own shape of point, the same as beside its name."""
    svg = drawn()
    used = [{p.attributes["href"] for p in parts(svg, f"points-{n}")} for n in range(3)]
    assert all(len(shapes_used) == 1 for shapes_used in used)
    assert len({outline(svg, next(iter(shapes_used))) for shapes_used in used}) == 3
    assert [s.attributes["href"] for s in parts(svg, "sample")] == [next(iter(u)) for u in used]


def test_names_stand_where_lines_end() -> None:
    """The place that changed least is named highest; names of equal places keep a line's height apart."""
    svg = drawn()
    heights = [
        next(t.at[1] for t in shapes(svg) if t.text == name) for name in ("Roots", "Mid-lengths", "Ends")
    ]
    assert heights == sorted(heights)
    assert min(np.diff(heights)) >= 14


def test_names_of_equal_places_keep_apart() -> None:
    """Three places that end on one rating are still named one under the other."""
    one = edition()
    assert one.grade
    course = one.grade.series[0][1]
    series = tuple((name, course) for name in ("Crown", "Nape", "Sides"))
    svg = drawn(replace(one, grade=replace(one.grade, series=series)))
    heights = sorted(t.at[1] for t in shapes(svg) if t.text in {"Crown", "Nape", "Sides"})
    assert min(np.diff(heights)) >= 14


def test_every_coat_starts_from_no_change() -> None:
    """A line begins at 5 with its service and ends with the next; a reading on that day is the old coat's."""
    one = edition()
    svg = drawn(one)
    assert one.grade
    scale = card_scale(svg, (-0.56, 14.56), (0.8, 5.2))
    for index, (_, points) in enumerate(one.grade.series):
        found = [[scale.value(at) for at in line] for line in all_lines(svg, f"line-{index}")]
        at = [(p.when.week, p.grade) for p in points]
        wanted = [[(0.0, 5.0), *at[:2]], [(4.0, 5.0), *at[2:5]], [(10.0, 5.0), *at[5:]]]
        assert [len(line) for line in found] == [3, 4, 2]
        assert np.allclose(np.concatenate(found), np.concatenate(wanted), atol=0.02)


def test_coats_of_an_unnamed_place_start_with_the_services() -> None:
    """For a place the fade figure does not show, the services it labels are where lines begin."""
    one = edition()
    assert one.grade
    series = tuple((f"Nape {name}", points) for name, points in one.grade.series)
    elsewhere = replace(one, grade=replace(one.grade, series=series))
    assert all_lines(drawn(elsewhere), "line-0") == all_lines(drawn(one), "line-0")


def test_a_place_that_skipped_a_service() -> None:
    """Ends that got no gloss keep one line over that day, though the service is marked for the head."""
    one = edition()
    assert one.fade
    ends = one.fade.series[0]
    skipped = replace(ends, place="Ends", segments=(ends.segments[0], ends.segments[2]))
    svg = drawn(replace(one, fade=replace(one.fade, series=(ends, skipped))))
    assert [len(line) for line in all_lines(svg, "line-2")] == [6, 2]
    assert [len(line) for line in all_lines(svg, "line-1")] == [3, 4, 2]


def test_without_known_beginnings_points_stand_alone() -> None:
    """Where no service is known, no line pretends that coats follow from each other."""
    svg = drawn(replace(edition(), fade=None))
    assert parts(svg, "points-2")
    assert not parts(svg, "line-2")


def test_a_coat_without_readings_has_no_line() -> None:
    """A coat nobody read is not drawn as unchanged."""
    point = GradePoint(when=When("", 6.0), grade=3.0, grade_text="3", delta_e=4.0, distinguishable=True)
    assert runs([point], [0.0, 4.0, 10.0]) == [[(4.0, 5.0), (6.0, 3.0)]]


def test_one_reading_only() -> None:
    """A single reading is one point at the end of one line from its service."""
    one = edition()
    assert one.grade
    name, points = one.grade.series[0]
    svg = drawn(replace(one, grade=replace(one.grade, series=((name, points[1:2]),))))
    assert len(parts(svg, "hollow-0")) + len(parts(svg, "points-0")) == 1
    assert len(all_lines(svg, "line-0")) == 1


def test_a_place_without_readings_is_not_named() -> None:
    """A place that has no point has no name at the end of no line."""
    one = edition()
    assert one.grade
    svg = drawn(replace(one, grade=replace(one.grade, series=(*one.grade.series, ("Nape", ())))))
    assert "Nape" not in words(svg)


@pytest.mark.parametrize("places", [1, 8])
def test_any_number_of_places(places: int) -> None:
    """From one place to eight, all names are written."""
    one = edition()
    assert one.grade
    series = tuple((f"Place {n}", one.grade.series[n % 3][1]) for n in range(places))
    svg = drawn(replace(one, grade=replace(one.grade, series=series)))
    assert {f"Place {n}" for n in range(places)} <= set(words(svg))
