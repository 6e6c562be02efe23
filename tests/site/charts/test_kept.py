"""Charts that were drawn before."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from journey.cache import Cache, Shelf
from journey.record.model import Audience
from journey.site.charts import CHARTS, Width, drawing
from journey.site.charts.kept import KeptCharts, figures_alone
from tests.edition_example import example_edition
from tests.site.charts.drawn import ENGLISH, render_chart
from tests.site.charts.editions import edition

WIDTHS: tuple[Width, Width] = ("phone", "wide")
KEYS = [chart.key for chart in CHARTS]


@pytest.mark.parametrize("audience", [Audience.CLIENT, Audience.CLASS])
def test_a_chart_is_drawn_from_its_figures_alone(audience: Audience) -> None:
    """Emptied of everything else, an edition gives the same charts."""
    whole = example_edition(audience)
    assert figures_alone(whole).title == ""
    assert figures_alone(whole).fade is whole.fade
    charts = KeptCharts(whole, ENGLISH, Shelf())
    for key in KEYS:
        for width in WIDTHS:
            assert charts.chart(key, width) == (render_chart(key, whole, width) or "")


def test_a_kept_chart_is_the_same_and_not_drawn_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """After an edit of a title, and for the salon after the client; not after a change of a figure."""
    shelf = Shelf(Cache.at(tmp_path / "kept"), ("a photo",))
    first = {key: KeptCharts(edition(), ENGLISH, shelf).chart(key, "wide") for key in KEYS}
    drawn = []

    def counted(key: str, *_: object) -> str:
        drawn.append(key)
        return "drawn anew"

    monkeypatch.setattr(drawing, "render_chart", counted)
    edited = replace(edition(), title="Another title", lead="Other words", audience=Audience.ARCHIVE)
    for key in KEYS:
        assert KeptCharts(edited, ENGLISH, shelf).chart(key, "wide") == first[key]
    assert drawn == []
    changed = replace(edition(), as_of=replace(edition().as_of, text="another day"))
    assert KeptCharts(changed, ENGLISH, shelf).chart("fade", "wide") == "drawn anew"
    assert KeptCharts(edited, replace(ENGLISH, today="Hoy"), shelf).chart("fade", "wide") == "drawn anew"
