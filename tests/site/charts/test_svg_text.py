"""What a chart's text may hold, so that it can stand inside a page under a strict content policy."""

import re
import threading
import xml.etree.ElementTree as ET
from dataclasses import replace

import matplotlib
import pytest

from journey.edition.model import Edition, Mark, When
from journey.site.charts import CHART_CSS, CHARTS, Width
from journey.site.charts.svg_style import presentation
from journey.site.charts.vector import Root, page_svg
from tests.site.charts.drawn import render_chart, render_fade_series
from tests.site.charts.editions import class_edition, edition, fade_figure, place
from tests.site.charts.reading_svg import parts, words

WIDTHS: tuple[Width, ...] = ("phone", "wide")
HOSTILE = '<script>alert("$x$")</script> -- --> &amp; \'"'
KNOWN_TAGS = {
    "svg", "defs", "g", "path", "use", "text", "linearGradient", "stop", "clipPath", "rect",
}  # fmt: skip
KNOWN_ATTRIBUTES = {
    "class", "id", "href", "d", "x", "y", "x1", "y1", "x2", "y2", "width", "height", "viewBox", "role",
    "aria-label", "fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap", "stroke-linejoin",
    "text-anchor", "font-size", "font-weight", "gradientUnits", "offset", "stop-color", "clip-path",
}  # fmt: skip


def all_charts() -> list[str]:
    """Everything two editions can show, in both widths, as on one page."""
    one, several = edition(), class_edition()
    drawn = [render_chart(chart.key, one, width) for chart in CHARTS for width in WIDTHS]
    drawn += [render_fade_series(several, n, width) for n in range(3) for width in WIDTHS]
    assert all(drawn)
    return [svg for svg in drawn if svg]


@pytest.fixture(scope="module")
def page() -> list[str]:
    return all_charts()


def hostile_edition() -> Edition:
    figure = fade_figure(place(HOSTILE, 0.09), place("Ends", 0.1))
    marks = (Mark(when=When(HOSTILE, 0.0), label=HOSTILE),)
    return replace(edition(), fade=replace(figure, marks=marks, alt=HOSTILE, today=When(HOSTILE, 14.0)))


def test_only_known_elements_and_attributes(page: list[str]) -> None:
    """No style, script, image, event handler, namespace or foreign address: only a fixed list of both."""
    for svg in [*page, render_chart("fade", hostile_edition(), "wide") or ""]:
        for element in ET.fromstring(svg).iter():
            assert element.tag in KNOWN_TAGS
            assert set(element.attrib) <= KNOWN_ATTRIBUTES


def test_nothing_a_strict_page_blocks(page: list[str]) -> None:
    """In the bytes themselves: no comment, document type, data address, web address or font name."""
    for svg in page:
        for forbidden in (
            "<!",
            "<?",
            "style=",
            "data:",
            "http",
            "xlink",
            "javascript:",
            "font-family",
            "DejaVu",
        ):
            assert forbidden not in svg


def test_references_stay_inside(page: list[str]) -> None:
    """Everything pointed at is defined in the same drawing."""
    for svg in page:
        defined = set(re.findall(r' id="([^"]+)"', svg))
        pointed_at = set(re.findall(r'url\(#([^)]+)\)|href="#([^"]+)"', svg))
        assert {a or b for a, b in pointed_at} <= defined


def test_ids_are_unique_on_a_page(page: list[str]) -> None:
    """All charts in both widths can stand on one page."""
    ids = [identifier for svg in page for identifier in re.findall(r' id="([^"]+)"', svg)]
    assert len(ids) == len(set(ids)) > 20
    assert all(identifier.startswith("ch-") for identifier in ids)


def test_same_bytes_twice(page: list[str]) -> None:
    """Drawing is a matter of the edition alone."""
    assert all_charts() == page


def test_text_alternative_is_the_figures() -> None:
    """A reader that does not see hears the edition's own words, whatever signs they hold."""
    one = edition()
    svg = render_chart("fade", one, "phone")
    assert svg is not None
    assert one.fade
    root = ET.fromstring(svg)
    assert root.attrib["role"] == "img"
    assert root.attrib["aria-label"] == one.fade.alt


def test_hostile_words_are_only_words() -> None:
    """Markup, formula signs and comment ends in a label are drawn as the signs they are."""
    for width in WIDTHS:
        svg = render_chart("fade", hostile_edition(), width)
        assert svg is not None
        assert HOSTILE in words(svg)
        assert "<script" not in svg
        assert ET.fromstring(svg).attrib["aria-label"] == HOSTILE


def test_other_scripts_draw_without_a_warning() -> None:
    """Letters the measuring face lacks are left to the page's fonts."""
    one = replace(edition(), fade=fade_figure(place("髪の中間", 0.09), place("முடி", 0.1)))
    svg = render_chart("fade", one, "wide")
    assert svg is not None
    assert "髪の中間" in words(svg)


def test_users_settings_change_nothing(page: list[str]) -> None:
    """A settings file of the drawing library does not reach a chart, and drawing leaves no trace in it."""
    with matplotlib.rc_context(
        {"lines.linewidth": 9, "svg.fonttype": "path", "font.size": 30, "path.sketch": (1, 100, 2)}
    ):
        before = dict(matplotlib.rcParams)
        assert all_charts() == page
        assert dict(matplotlib.rcParams) == before


def test_two_threads_draw_the_same(page: list[str]) -> None:
    """Drawn side by side, charts do not mix their settings."""
    found: list[list[str]] = []
    threads = [threading.Thread(target=lambda: found.append(all_charts())) for _ in range(2)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert found == [page, page]


def test_every_class_has_its_rule(page: list[str]) -> None:
    """Each swapped colour in any chart is given back by the style lines; all of these are the charts' own."""
    used = set(re.findall(r"ch-(?:fill|stroke)-\w+", "".join(page)))
    assert {"ch-fill-ink", "ch-stroke-ink", "ch-fill-paper", "ch-fill-card"} <= used
    assert all(f".{name}{{" in CHART_CSS for name in used)
    assert set(re.findall(r"\.(\w+)[-{\w]", CHART_CSS)) == {"ch"}
    assert CHART_CSS.count("{") == CHART_CSS.count("}")


def test_nearly_black_hair_stays_hair() -> None:
    """Hair of the very colour that stands in for the page's ink does not turn into ink."""
    one = edition()
    assert one.ladder
    steps = tuple(replace(step, hex="#010101") for step in one.ladder.steps)
    svg = render_chart("ladder", replace(one, ladder=replace(one.ladder, steps=steps)), "phone")
    assert svg is not None
    (step,) = parts(svg, "step-1")
    assert step.attributes["fill"] == "#000101"
    assert "fill-ink" not in step.attributes["class"]


def test_text_and_weight_survive_either_way_of_writing_fonts() -> None:
    """The library has written fonts in one piece and singly; both come out as size and weight alone."""
    whole = "font: 700 13px 'Some Face', serif; text-anchor: middle"
    single = "font-weight: 700; font-size: 13px; font-family: 'Some Face', serif; text-anchor: middle"
    wanted = {"font-size": "13", "font-weight": "700", "text-anchor": "middle"}
    assert presentation(whole) == presentation(single) == wanted


def test_a_picture_is_refused() -> None:
    """Should a drawing ever hold an image, it is named and refused instead of let through or dropped."""
    drawn = b'<svg xmlns="http://www.w3.org/2000/svg"><g><image href="data:x"/></g></svg>'
    root = Root(prefix="ch-x", classes="ch", alt="", width_px=1, height_px=1, text_px=13)
    with pytest.raises(ValueError, match="<image>"):
        page_svg(drawn, root, ())


def test_absent_figures_are_none() -> None:
    """An edition without a figure, or with nothing in it, has no chart; an unknown name is an error."""
    one = edition()
    bare = replace(one, fade=None, hue=None, grade=None, ladder=None, fibres=())
    assert [render_chart(chart.key, bare, "phone") for chart in CHARTS] == [None] * 5
    assert render_fade_series(bare, 0, "phone") is None
    assert one.fade
    assert one.grade
    empty = replace(one, fade=replace(one.fade, series=()), grade=replace(one.grade, series=()))
    assert render_chart("fade", empty, "wide") is None
    assert render_chart("grade", empty, "wide") is None
    with pytest.raises(KeyError):
        render_chart("pie", one, "phone")


def test_charts_stay_small(page: list[str]) -> None:
    """No drawing of one place weighs more than 12 KB, before any compression."""
    assert max(len(svg.encode()) for svg in page) <= 12_000


def test_lines_are_joined_filled_shapes_are_not() -> None:
    """Lines that look alike are said once; filled shapes stay apart, or one could cut a hole in the other."""
    line, filled = "fill: none; stroke: #123456", "fill: #123456"
    paths = [
        ("M 0 0 L 9 0", line),
        ("M 0 9 L 9 9", line),
        ("M 0 0 L 9 0 L 9 9 z", filled),
        ("M 0 0 L 9 9 L 9 0 z", filled),
    ]
    inside = "".join(f'<path d="{d}" style="{style}"/>' for d, style in paths)
    drawn = f'<svg xmlns="http://www.w3.org/2000/svg">{inside}</svg>'.encode()
    root = Root(prefix="ch-x", classes="ch", alt="", width_px=9, height_px=9, text_px=13)
    found = [path.attrib["d"] for path in ET.fromstring(page_svg(drawn, root, ()))]
    assert found == ["M0 0H9M0 9H9", "M0 0H9V9z", "M0 0L9 9V0z"]
