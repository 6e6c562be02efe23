"""Charts of an edition as SVG that may stand inside a page.

Which charts there are and their order on a page stands in `drawing`; each is drawn by the module of its name.
Every drawing exists twice, for a phone and for a wide column; `CHART_CSS` shows the one that fits and gives the
chart the page's ink and paper. Titles, notes and tables around a chart belong to the templates.

The drawing library takes a third of a second to import: it is, when a chart has to be drawn. One that was kept
(`kept`) needs none.
"""

from typing import TYPE_CHECKING, Any

from journey.site.charts.tokens import CHART_CSS
from journey.site.charts.words import ChartWords, Width

if TYPE_CHECKING:
    from journey.site.charts.drawing import (
        CHARTS,
        Chart,
        render_chart,
        render_fade_series,
        render_fibre_shares,
    )

__all__ = [
    "CHARTS",
    "CHART_CSS",
    "Chart",
    "ChartWords",
    "Width",
    "render_chart",
    "render_fade_series",
    "render_fibre_shares",
]


def __getattr__(name: str) -> Any:
    """What draws, imported when asked for."""
    if name not in __all__:
        raise AttributeError(name)
    from journey.site.charts import drawing

    return getattr(drawing, name)
