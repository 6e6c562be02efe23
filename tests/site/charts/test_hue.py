"""Hue path: colours stand where their a* and b* say, and the plane is not bent."""

from dataclasses import replace
from itertools import combinations

import colour
import numpy as np
import pytest

from journey.edition.model import Edition, Entry, HuePoint, When
from journey.site.charts.hue_marks import weekly
from tests.site.charts.drawn import render_chart
from tests.site.charts.editions import class_edition, edition
from tests.site.charts.reading_svg import Point, Scale, all_lines, card_scale, parts, shapes, stops, words

TOLERANCE = 0.05
"""Half a tenth of a px is 0.015 units of a* or b*."""


def drawn(one: Edition, width: str = "wide") -> tuple[str, Scale]:
    """The drawing, and its scale worked out from the ticks and their words alone."""
    svg = render_chart("hue", one, "phone" if width == "phone" else "wide")
    assert svg is not None
    card = card_scale(svg, (0, 1), (0, 1))
    ticks = [x for x, y in ((line[0][0], line[0][1]) for line in all_lines(svg, "tick"))]
    numbers = [t for t in shapes(svg) if t.tag == "text" and t.text.lstrip("−").isdigit()]
    a_words = [int(t.text.replace("−", "-")) for t in numbers if t.attributes["text-anchor"] == "middle"]
    per_px = (a_words[-1] - a_words[0]) / (ticks[-1] - ticks[0])
    a = tuple(a_words[0] + (x - ticks[0]) * per_px for x in (card.left, card.right))
    b_words = [t for t in numbers if t.attributes["text-anchor"] == "end"]
    (zero,) = [t.at[1] - (13 if width == "phone" else 14) * 0.36 for t in b_words if t.text == "0"]
    b = ((zero - card.bottom) * per_px, (zero - card.top) * per_px)
    return svg, card_scale(svg, (a[0], a[1]), b)


def at(p: HuePoint) -> Point:
    return p.a, p.b


@pytest.mark.parametrize("width", ["phone", "wide"])
def test_measured_points(width: str) -> None:
    """Every measured colour stands at its a* and b*, filled with itself."""
    one = edition()
    svg, scale = drawn(one, width)
    assert one.hue
    wanted = [p for s in one.hue.stretches for p in s.measured]
    # The key repeats one mark at the end.
    dots = parts(svg, "measured")[: len(wanted)]
    assert np.allclose([scale.value(d.at) for d in dots], [at(p) for p in wanted], atol=0.1)
    assert [d.attributes["fill"] for d in dots] == [p.hex for p in wanted]


def test_axes_have_one_scale() -> None:
    """Ten units of a* are as long as ten units of b*: the b* words agree with the scale of a*."""
    svg, scale = drawn(edition())
    forty = next(t for t in shapes(svg) if t.text == "−40")
    assert scale.value((scale.left, forty.at[1] - 14 * 0.36))[1] == pytest.approx(-40, abs=0.1)


def test_path_goes_through_every_point() -> None:
    """The fade's line misses none of its points by more than a third of a px."""
    one = edition()
    svg, scale = drawn(one)
    assert one.hue
    px = (scale.x[1] - scale.x[0]) / (scale.right - scale.left)
    for path, stretch in zip(all_lines(svg, "path"), one.hue.stretches, strict=False):
        corners = np.array([scale.value(c) for c in path])
        for p in stretch.path:
            assert distance_to_line(corners, np.array(at(p))) < px * 0.33


def distance_to_line(corners: np.ndarray, point: np.ndarray) -> float:
    steps = np.linspace(0, len(corners) - 1, 2000)
    dense = np.stack([np.interp(steps, range(len(corners)), corners[:, k]) for k in (0, 1)], axis=1)
    return float(np.hypot(*(dense - point).T).min())


def test_rings_are_lines_of_equal_chroma() -> None:
    """The rings' reach from the centre is the chroma colour-science gives a colour lying there."""
    svg, scale = drawn(edition())
    reaches = []
    for ring in parts(svg, "ring")[0].path.split("M")[1:]:
        numbers = ring.split("C")[0].split()
        a, b = scale.value((float(numbers[0]), float(numbers[1])))
        reaches.append(float(colour.models.Jab_to_JCh([60.0, a, b])[1]))
    assert reaches == pytest.approx([20, 40, 60], abs=0.15)


def test_rings_stop_at_the_card() -> None:
    """Rings larger than the plane are clipped to exactly the card."""
    svg, scale = drawn(edition())
    assert all("clip-path" in ring.attributes for ring in parts(svg, "ring"))
    size = f'width="{scale.right - scale.left:g}" height="{scale.bottom - scale.top:g}"'
    assert size in svg[svg.index("<clipPath") :]


def test_forecast_squares_are_a_week_apart() -> None:
    """Of half-weekly forecasts every other one is drawn, where its colour will be."""
    one = edition()
    svg, scale = drawn(one)
    assert one.hue
    ahead = one.hue.stretches[-1].forecast
    assert [p.week for p in weekly(ahead)] == pytest.approx([ahead[0].week + n for n in range(6)])
    squares = parts(svg, "forecast")[:6]
    assert np.allclose([scale.value(s.at) for s in squares], [at(p) for p in ahead[::2]], atol=0.1)


def test_an_arrow_for_every_service() -> None:
    """Between two colours an arrow points from where the first had got to, to the second's start."""
    one = edition()
    svg, scale = drawn(one)
    assert one.hue
    stretches = one.hue.stretches
    for line, earlier, later in zip(all_lines(svg, "service"), stretches, stretches[1:], strict=False):
        way = np.subtract(scale.value(line[-1]), scale.value(line[0]))
        wanted = np.subtract(at(later.path[0]), at(earlier.path[-1]))
        assert way / np.hypot(*way) == pytest.approx(wanted / np.hypot(*wanted), abs=0.01)
        assert np.hypot(*way) < np.hypot(*wanted)


def test_straight_line_is_straight() -> None:
    """The line the colour does not take joins the fresh colour with the base in one stroke."""
    one = edition()
    svg, scale = drawn(one)
    assert one.hue
    for line, stretch in zip(all_lines(svg, "straight"), one.hue.stretches, strict=False):
        assert len(line) == 2
        assert scale.value(line[0]) == pytest.approx(at(stretch.straight[0]), abs=0.1)
        assert scale.value(line[1]) == pytest.approx(at(stretch.straight[-1]), abs=0.1)


def test_path_wears_its_own_colours() -> None:
    """The gradient along a fade begins with the fresh colour and ends with the faded one."""
    one = edition()
    svg, _ = drawn(one)
    assert one.hue
    for line, stretch in zip(parts(svg, "path-colour"), one.hue.stretches, strict=False):
        colours = [c for _, c in stops(svg, line.attributes["stroke"])]
        assert (colours[0], colours[-1]) == (stretch.path[0].hex, stretch.path[-1].hex)


def test_a_path_that_turns_back() -> None:
    """Where a colour comes back on its own way, each leg has a gradient of its own."""
    one = edition()
    assert one.hue
    course = [
        (0, 10, "#aa0000"),
        (1, 30, "#bb0000"),
        (2, 50, "#cc0000"),
        (3, 30, "#00bb00"),
        (4, 12, "#00aa00"),
    ]
    path = tuple(HuePoint(week=w, a=a, b=5.0, hex=c) for w, a, c in course)
    stretch = replace(one.hue.stretches[0], path=path, measured=(), straight=(), forecast=())
    svg, _ = drawn(replace(one, hue=replace(one.hue, stretches=(stretch,))))
    legs = parts(svg, "path-colour")[:2]
    assert [stops(svg, leg.attributes["stroke"])[0][1] for leg in legs] == ["#aa0000", "#cc0000"]


def test_tabs_say_dates_or_weeks() -> None:
    """Tabs use the edition's own words for a time: dates for a client, weeks for a class."""
    client, _ = drawn(edition())
    assert {"7 March", "4 April", "16 May", "13 June"} <= set(words(client))
    classroom, _ = drawn(class_edition())
    assert {"week 0", "week 4", "week 10", "week 14"} <= set(words(classroom))


def test_tab_of_a_time_known_from_an_entry() -> None:
    """Without a fade figure the entries' words are used, and only without any a week number."""
    entry = Entry(
        key="e1", when=When("the first day", 0.0), is_visit=True, title="", words="", services=(),
        pictures=(), chips=(), numbers=None, spans=(0, 1),
    )  # fmt: skip
    svg, _ = drawn(replace(edition(), fade=None, entries=(entry,)))
    assert {"the first day", "week 4", "week 10"} <= set(words(svg))


def tab_boxes(svg: str) -> list[tuple[Point, Point]]:
    boxes = [(np.min(line, axis=0), np.max(line, axis=0)) for line in all_lines(svg, "tab")]
    return [((low[0], low[1]), (high[0], high[1])) for low, high in boxes]


def covers(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    return all(min(one[1][k], other[1][k]) > max(one[0][k], other[0][k]) for k in (0, 1))


@pytest.mark.parametrize("width", ["phone", "wide"])
def test_tabs_keep_apart_and_on_the_card(width: str) -> None:
    """No tab covers another, none hangs over the card's edge; even of colours that start on one spot."""
    one = edition()
    assert one.hue
    same = tuple(replace(one.hue.stretches[0], label=str(n)) for n in range(3))
    crowded = replace(one, hue=replace(one.hue, stretches=same))
    for case in (one, crowded):
        svg, scale = drawn(case, width)
        tabs = tab_boxes(svg)
        assert len(tabs) == 5
        assert all(scale.left <= low[0] and high[0] <= scale.right for low, high in tabs)
        assert not any(covers(*pair) for pair in combinations(tabs, 2))


def test_only_a_base() -> None:
    """A figure without any colour yet shows the base alone."""
    one = edition()
    assert one.hue
    svg, scale = drawn(replace(one, hue=replace(one.hue, stretches=())))
    assert scale.value(parts(svg, "base")[0].at) == pytest.approx(at(one.hue.base), abs=0.1)
    assert not parts(svg, "path")
