"""The few words that stand inside a chart and are not in the edition.

Decides which words there are; what they say stands in the theme, in `words/<language>/charts.yaml`.
Titles, notes and text alternatives belong to the edition, never to this list.
"""

from dataclasses import dataclass
from typing import Literal

Width = Literal["phone", "wide"]
"""Of the column a chart stands in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartWords:
    """Words drawn beside the marks of a chart. `{...}` are filled in by the chart that uses them."""

    today: str
    refresh_window: str
    weeks_axis: str
    week: str
    """For a point in time that the edition names nowhere else."""
    same_again: str
    """Names the curve repeated in every panel, so that the others can be compared with it."""
    a_axis: str
    b_axis: str
    fading: str
    service: str
    forecast: str
    straight_line: str
    measured: str
    chroma_rings: str
    base: str
    grade_5: str
    grade_1: str
    not_distinguishable: str
    level: str
    undertone: str
    neutralised_by: str
    against: str
    """The neutraliser in a phone's narrow column, under its undertone."""
    from_afar: str
    percent: str
