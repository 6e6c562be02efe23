"""Classes in place of style attributes."""

from __future__ import annotations

import pytest

from journey.site.hair_styles import HairStyles


@pytest.mark.parametrize(
    ("stops", "run"),
    [
        (((0, "#111111"), (4, "#222222"), (8, "#333333")), "#111111,#222222,#333333"),
        (((0, "#111111"), (1, "#222222"), (8, "#333333")), "#111111 0%,#222222 12.5%,#333333 100%"),
    ],
)
def test_a_gradient_names_positions_only_where_a_browser_would_choose_others(
    stops: tuple[tuple[float, str], ...], run: str
) -> None:
    """CSS Images 3, 3.4.3: stops without positions are spaced evenly; others need their place."""
    styles = HairStyles()
    styles.gradient(stops)
    assert styles.css() == f".s1{{background-image:linear-gradient(90deg,{run})}}\n"
