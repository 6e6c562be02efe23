"""The few words that stand inside a chart and are not in the edition.

Decides the English; leaves other languages to the theme, which hands its own `ChartWords` to the renderer.
Titles, notes and text alternatives belong to the edition, never to this list.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class ChartWords:
    """Words drawn beside the marks of a chart. `{...}` are filled in by the chart that uses them."""

    today: str = "Today"
    refresh_window: str = "refresh window"
    weeks_axis: str = "weeks since the first visit"
    week: str = "week {number}"
    """For a point in time that the edition names nowhere else."""
    same_again: str = "{place} again"
    """Names the curve repeated in every panel, so that the others can be compared with it."""
    a_axis: str = "a* green ← → red"
    b_axis: str = "b* blue ↓ yellow ↑"
    fading: str = "a colour fading"
    service: str = "a service"
    forecast: str = "forecast"
    straight_line: str = "the straight line it does not take"
    measured: str = "measured"
    chroma_rings: str = "chroma 20, 40, 60"
    base: str = "hair underneath"
    grade_5: str = "no change"
    grade_1: str = "large change"
    not_distinguishable: str = "hollow: within the measuring error"
    level: str = "level"
    undertone: str = "undertone"
    neutralised_by: str = "neutralised by"
    against: str = "against it: {neutraliser}"
    """The neutraliser in a phone's narrow column, under its undertone."""
    from_afar: str = "seen from a metre"
    percent: str = "{number} %"


ENGLISH = ChartWords()
