"""Fade: what is drawn is what the edition says."""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from journey.edition.model import Edition, FadePoint, FadeSegment, FadeSeries, Mark, When
from journey.record.model import Audience
from journey.site.charts.canvas import Canvas
from journey.site.charts.fade_marks import point_at, split_at
from tests.site.charts.drawn import ENGLISH, render_chart, render_fade_series
from tests.site.charts.editions import (
    LAST_WEEK,
    TODAY_WEEK,
    class_edition,
    edition,
    fade_figure,
)
from tests.site.charts.reading_svg import Scale, all_lines, card_scale, lines, parts, shapes, stops, words

WEEK_TOLERANCE = 0.01
SHARE_TOLERANCE = 0.0015


def drawn(one: Edition, width: str = "phone") -> tuple[str, Scale]:
    svg = render_chart("fade", one, "phone" if width == "phone" else "wide")
    assert svg is not None
    return svg, card_scale(svg, (0.0, LAST_WEEK), (0.0, 1.0))


def with_series(*segments: FadeSegment) -> Edition:
    series = FadeSeries(place="Ends", segments=segments, today_text="")
    return replace(edition(), fade=replace(fade_figure(series), marks=()))


@pytest.mark.parametrize("width", ["phone", "wide"])
def test_measured_dots(width: str) -> None:
    """Every measured share stands as a dot at its week and share, and no other dot is drawn."""
    one = edition()
    svg, scale = drawn(one, width)
    assert one.fade
    wanted = [(p.week, p.share) for s in one.fade.series[0].segments for p in s.measured]
    found = [scale.value(dot.at) for dot in parts(svg, "measured")]
    assert len(found) == len(wanted)
    for (week, share), (wanted_week, wanted_share) in zip(found, wanted, strict=True):
        assert week == pytest.approx(wanted_week, abs=WEEK_TOLERANCE * 2)
        assert share == pytest.approx(wanted_share, abs=SHARE_TOLERANCE)


def test_whiskers_reach_the_bounds() -> None:
    """A whisker runs from the low to the high bound of its reading."""
    one = edition()
    svg, scale = drawn(one)
    assert one.fade
    wanted = [(p.low, p.high) for s in one.fade.series[0].segments for p in s.measured]
    whiskers = all_lines(svg, "whiskers")[: len(wanted)]
    found = [tuple(sorted(scale.value(end)[1] for end in whisker)) for whisker in whiskers]
    assert np.allclose(found, wanted, atol=SHARE_TOLERANCE)


@pytest.mark.parametrize("width", ["phone", "wide"])
def test_course_passes_every_fitted_point(width: str) -> None:
    """Up to today the black line passes every point of the edition to a third of a pixel."""
    one = edition()
    svg, scale = drawn(one, width)
    assert one.fade
    courses = all_lines(svg, "course")
    segments = one.fade.series[0].segments
    assert len(courses) == len(segments)
    px_share = 1 / (scale.bottom - scale.top)
    for course, segment in zip(courses, segments, strict=True):
        weeks, shares = zip(*(scale.value(at) for at in course), strict=True)
        for p in segment.points:
            if p.week <= TODAY_WEEK:
                assert np.interp(p.week, weeks, shares) == pytest.approx(p.share, abs=px_share * 0.33)
        assert max(weeks) <= TODAY_WEEK + WEEK_TOLERANCE


def test_forecast_is_only_after_today() -> None:
    """The dashed line and the comb begin today and end with the forecast."""
    svg, scale = drawn(edition())
    (dashed,) = all_lines(svg, "forecast")
    assert scale.value(dashed[0])[0] == pytest.approx(TODAY_WEEK, abs=0.02)
    assert scale.value(dashed[-1])[0] == pytest.approx(LAST_WEEK, abs=0.02)
    lefts = [min(x for x, _ in tooth) for tooth in all_lines(svg, "teeth")]
    assert min(scale.value((x, 0))[0] for x in lefts) > TODAY_WEEK


def test_teeth_reach_low_and_high() -> None:
    """A wide tooth ends at the low bound of its day, the thin one on it at the high bound."""
    one = edition()
    svg, scale = drawn(one, "wide")
    assert one.fade
    points = one.fade.series[0].segments[-1].points
    weeks = [p.week for p in points]
    for part, bound in (("teeth", "low"), ("thin-teeth", "high")):
        teeth = all_lines(svg, part)
        assert len(teeth) > 20
        for tooth in teeth:
            middle = (min(x for x, _ in tooth) + max(x for x, _ in tooth)) / 2
            week, top = scale.value((middle, min(y for _, y in tooth)))
            wanted = np.interp(week, weeks, [getattr(p, bound) for p in points])
            assert top == pytest.approx(wanted, abs=0.004)


def test_teeth_are_combed_four_on_four_off() -> None:
    """Forecast teeth are 4 px of hair with 4 px of card between them."""
    svg, _ = drawn(edition())
    edges = [sorted({x for x, _ in tooth}) for tooth in all_lines(svg, "teeth")]
    assert np.allclose([right - left for left, right in edges], 4, atol=0.11)
    starts = [left for left, _ in edges]
    assert np.allclose(np.diff(starts), 8, atol=0.11)


def test_fill_is_the_hair_of_each_day() -> None:
    """The colour under the curve at each fitted day is that day's hair, to three code values."""
    one = edition()
    svg, _ = drawn(one)
    assert one.fade
    for fill, segment in zip(parts(svg, "hair"), one.fade.series[0].segments, strict=True):
        offsets, colours = zip(*stops(svg, fill.attributes["fill"]), strict=True)
        codes = np.array([[int(c[i : i + 2], 16) for i in (1, 3, 5)] for c in colours])
        past, _ = split_at(segment.points, TODAY_WEEK)
        for p in past:
            at = (p.week - past[0].week) / (past[-1].week - past[0].week)
            shown = [np.interp(at, offsets, codes[:, k]) for k in range(3)]
            wanted = [int(p.hex[i : i + 2], 16) for i in (1, 3, 5)]
            assert np.abs(np.subtract(shown, wanted)).max() <= 3


def test_refresh_window() -> None:
    """The bar spans the window over the plot; its drops end on the forecast curve."""
    one = edition()
    svg, scale = drawn(one)
    assert one.fade
    assert one.fade.refresh
    (bar,) = all_lines(svg, "refresh")
    ends = [scale.value(at)[0] for at in bar]
    px_weeks = LAST_WEEK / (scale.right - scale.left)
    # The bar covers the drops, which are 2 px wide.
    assert ends == pytest.approx([15.7 - px_weeks, 18.2 + px_weeks], abs=0.02)
    assert bar[0][1] < scale.top
    points = one.fade.series[0].segments[-1].points
    for drop, week in zip(all_lines(svg, "drop"), one.fade.refresh, strict=True):
        assert scale.value(drop[0]) == pytest.approx((week, 1.0), abs=0.02)
        assert scale.value(drop[-1])[1] == pytest.approx(point_at(points, week).share, abs=0.002)


def test_no_window_no_bar() -> None:
    """When the edition can not name a window, neither bar nor drops nor their label are drawn."""
    one = edition()
    assert one.fade
    svg, _ = drawn(replace(one, fade=replace(one.fade, refresh=None)))
    assert not parts(svg, "refresh")
    assert not parts(svg, "drop")
    assert ENGLISH.refresh_window not in words(svg)


def test_client_reads_dates_class_reads_weeks() -> None:
    """A client's axis carries dates, a class's only week numbers and the axis' name."""
    client, _ = drawn(edition(), "wide")
    assert {"7 March", "4 April", "16 May", "25 June", "12 July"} <= set(words(client))
    classroom = render_chart("fade", class_edition(), "wide")
    assert classroom is not None
    assert {"0", "4", "10", "14", "weeks since the first visit"} <= set(words(classroom))
    assert not {"7 March", "4 April", "16 May", "12 July"} & set(words(classroom))


def test_labels_name_services_only() -> None:
    """Services and today are labelled; a check-in is not."""
    svg, _ = drawn(edition())
    assert {"Coral rose", "Rose gloss", "Violet", "Today"} <= set(words(svg))
    assert "photos from home" not in words(svg)


def test_places_side_by_side_share_one_scale() -> None:
    """Compared places get a plot each, with the same card and the middle place repeated in the others."""
    svg = render_chart("fade", class_edition(), "wide")
    assert svg is not None
    cards = [card_scale(svg, (0, LAST_WEEK), (0, 1), n) for n in range(3)]
    assert len({(round(c.right - c.left), c.top, c.bottom) for c in cards}) == 1
    repeated = [course[0][0] for course in all_lines(svg, "again")]
    assert len(repeated) == 6
    assert not any(cards[1].left <= x < cards[1].right for x in repeated)
    assert {"Roots", "Mid-lengths", "Ends", "72 %", "70 %", "59 %"} <= set(words(svg))


def test_repeated_course_is_the_middle_place() -> None:
    """The dashes among the ends are the mid-lengths, not the ends once more."""
    one = class_edition()
    svg = render_chart("fade", one, "wide")
    assert svg is not None
    assert one.fade
    ends = card_scale(svg, (0, LAST_WEEK), (0, 1), 2)
    among_ends = [c for c in all_lines(svg, "again") if c[0][0] >= ends.left - 0.1]
    first = one.fade.series[1].segments[0].points[-1]
    assert ends.value(among_ends[0][-1]) == pytest.approx((first.week, first.share), abs=0.02)


def test_of_two_places_the_first_is_repeated() -> None:
    """With two places it is the first that is repeated, in the second alone."""
    one = class_edition()
    assert one.fade
    svg = render_chart("fade", replace(one, fade=replace(one.fade, series=one.fade.series[1:])), "wide")
    assert svg is not None
    second = card_scale(svg, (0, LAST_WEEK), (0, 1), 1)
    assert len(all_lines(svg, "again")) == 3
    assert all(course[0][0] >= second.left - 0.1 for course in all_lines(svg, "again"))
    assert "Mid-lengths again" in words(svg)


def test_dates_of_neighbouring_plots_keep_apart() -> None:
    """Long dates under plots side by side stay under their own plot."""
    one = class_edition()
    assert one.fade
    marks = tuple(
        Mark(when=When(f"2026-0{n + 3}-07", week), label="") for n, week in enumerate((0, 5, 10, LAST_WEEK))
    )
    dated = replace(one, audience=Audience.ARCHIVE, fade=replace(one.fade, marks=marks, refresh=None))
    svg = render_chart("fade", dated, "wide")
    assert svg is not None
    width = Canvas("wide", ENGLISH).text_width("2026-03-07")
    middles = sorted(s.at[0] for s in shapes(svg) if s.text.startswith("2026-"))
    assert len(middles) >= 6
    assert all(later - earlier > width for earlier, later in pairwise(middles))


@pytest.mark.parametrize("width", ["phone", "wide"])
def test_both_marks_of_the_key_stand_on_the_sheet(width: str) -> None:
    """A long name of a place sends the second mark to a line of its own where there is no room beside it."""
    one = class_edition()
    assert one.fade
    long = tuple(replace(series, place="Crown, mid-lengths and ends") for series in one.fade.series)
    svg = render_chart("fade", replace(one, fade=replace(one.fade, series=long)), width)  # type: ignore[arg-type]
    assert svg is not None
    canvas = Canvas("phone" if width == "phone" else "wide", ENGLISH)
    said = [shape for shape in shapes(svg) if shape.text == ENGLISH.refresh_window]
    assert said
    assert all(shape.at[0] + canvas.text_width(shape.text) <= canvas.width for shape in said)


def test_one_place_of_several() -> None:
    """A single place can be drawn alone, and its text alternative says which it is."""
    one = class_edition()
    svg = render_fade_series(one, 2, "phone")
    assert svg is not None
    assert one.fade
    scale = card_scale(svg, (0, LAST_WEEK), (0, 1))
    wanted = [p.share for s in one.fade.series[2].segments for p in s.measured]
    found = [scale.value(dot.at)[1] for dot in parts(svg, "measured")]
    assert found == pytest.approx(wanted, abs=SHARE_TOLERANCE)
    assert 'aria-label="Ends. ' in svg
    with pytest.raises(IndexError):
        render_fade_series(one, 3, "phone")


def test_one_single_point() -> None:
    """A colour laid today has a dot and no course; nothing is invented around it."""
    p = FadePoint(week=TODAY_WEEK, share=1.0, low=1.0, high=1.0, hex="#6b3f9b")
    one = with_series(FadeSegment(label="Violet", points=(p,), measured=(p,)))
    svg = render_chart("fade", one, "phone")
    assert svg is not None
    assert len(parts(svg, "measured")) == 1
    assert not [part for part in ("hair", "course", "teeth", "forecast", "whiskers") if parts(svg, part)]


def test_nothing_left() -> None:
    """A share of nothing is drawn on the ground line, not left out."""
    gone = tuple(FadePoint(week=w, share=0.0, low=0.0, high=0.0, hex="#e6c896") for w in (0.0, 21.0))
    one = with_series(FadeSegment(label="Violet", points=gone, measured=gone[:1]))
    svg, scale = drawn(one)
    assert scale.value(parts(svg, "measured")[0].at)[1] == pytest.approx(0, abs=SHARE_TOLERANCE)
    assert all(
        y == pytest.approx(scale.bottom, abs=0.1) for y in np.array(all_lines(svg, "course"))[..., 1].flat
    )


def test_reading_above_all_is_not_cut() -> None:
    """A reading of more than all the colour keeps its place; the scale makes room."""
    p = FadePoint(week=0.0, share=1.08, low=1.0, high=1.16, hex="#6b3f9b")
    end = replace(p, week=LAST_WEEK, share=0.5, low=0.4, high=0.6)
    one = with_series(FadeSegment(label="Violet", points=(replace(p, share=1.0), end), measured=(p,)))
    svg = render_chart("fade", one, "phone")
    assert svg is not None
    scale = card_scale(svg, (0, LAST_WEEK), (0, 1.08))
    assert scale.value(parts(svg, "measured")[0].at)[1] == pytest.approx(1.08, abs=0.003)
    (whisker,) = all_lines(svg, "whiskers")[:1]
    assert min(y for _, y in whisker) >= scale.top - 0.1


def test_silver_hair_gets_a_line_around_its_teeth() -> None:
    """Forecast teeth that would vanish into the grey ground are outlined; clearly coloured ones are not."""
    ends = (0.0, LAST_WEEK)
    grey = tuple(FadePoint(week=w, share=0.8, low=0.7, high=0.9, hex="#7a7876") for w in ends)
    silver, _ = drawn(with_series(FadeSegment(label="Silver", points=grey, measured=())))
    violet, _ = drawn(edition())
    assert parts(silver, "teeth")[0].attributes["stroke"] == "#000"
    assert "stroke" not in parts(violet, "teeth")[0].attributes


def test_no_forecast_no_comb() -> None:
    """When the figure ends today, nothing is combed and today has no line of its own."""
    one = edition()
    assert one.fade
    segments = one.fade.series[0].segments
    past = replace(segments[-1], points=tuple(p for p in segments[-1].points if p.week <= TODAY_WEEK))
    series = replace(one.fade.series[0], segments=(*segments[:-1], past))
    svg, _ = drawn(replace(one, fade=replace(one.fade, series=(series,), last_week=TODAY_WEEK, refresh=None)))
    assert not parts(svg, "teeth")
    assert not parts(svg, "today")


def test_twelve_services_find_room() -> None:
    """With a service every other week, no two labels of a row overlap and none leaves the sheet."""
    one = edition()
    assert one.fade
    marks = tuple(Mark(when=When(f"day {n}", n * 1.5), label=f"Gloss number {n}") for n in range(12))
    svg, _ = drawn(replace(one, fade=replace(one.fade, marks=marks)))
    sheet = Canvas("phone", ENGLISH)
    labels = [s for s in shapes(svg) if s.tag == "text" and s.text.startswith(("Gloss", "Today", "refresh"))]
    assert len(labels) == 14
    spans: dict[float, list[tuple[float, float]]] = {}
    for label in labels:
        width = sheet.text_width(label.text, bold="font-weight" in label.attributes)
        left = label.at[0] - (width if label.attributes.get("text-anchor") == "end" else 0)
        spans.setdefault(label.at[1], []).append((left, left + width))
    assert all(left >= 0 and right <= sheet.width + 0.1 for row in spans.values() for left, right in row)
    for row in spans.values():
        assert all(one[1] < other[0] for one, other in pairwise(sorted(row)))


def test_split_meets_at_today() -> None:
    """Cut anywhere, both halves of a course share the very point of the cut."""
    a = FadePoint(week=0.0, share=1.0, low=1.0, high=1.0, hex="#000000")
    b = FadePoint(week=4.0, share=0.6, low=0.5, high=0.7, hex="#404040")
    past, ahead = split_at((a, b), 1.0)
    assert past[-1] == ahead[0]
    assert (past[-1].share, past[-1].low) == pytest.approx((0.9, 0.875))
    assert past[-1].hex == "#101010"
    assert split_at((a, b), 4.0) == ([a, b], [])
    assert split_at((a, b), -1.0) == ([], [a, b])


def test_course_is_lines_only() -> None:
    """The course is drawn through its points, never bent into a curve that no fit gave."""
    svg, _ = drawn(edition())
    assert all("C" not in shape.path and lines(shape.path) for shape in parts(svg, "course"))
