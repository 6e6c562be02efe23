"""A chart that was drawn before from the same figures needs no drawing library.

Decides what of an edition a chart may be drawn from: the rest is emptied before the drawing, so that nothing can
reach a chart that is not in the key it is kept under. Two editions whose figures are alike share their charts.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any, Final

from journey.alike import Writer, bytes_of
from journey.cache import Shelf
from journey.edition.model import Edition, Entry, Picture
from journey.record.model import Audience
from journey.site.charts.words import ChartWords, Width

_TEXTS: Final = ("title", "lead")
_LISTS: Final = (
    "facts",
    "strands",
    "today",
    "today_words",
    "before_now",
    "bowls",
    "contact",
    "care",
    "cautions",
    "options",
    "tables",
    "questions",
    "method",
    "checklist",
    "data",
    "consent_lines",
    "about",
    "withheld",
    "worked",
    "condition_pairs",
    "leaving",
)


class _WithoutPictures(Writer):
    """Figures as bytes; a photo beside a chart is no part of it."""

    def reducer_override(self, value: object) -> Any:
        return (str, ()) if isinstance(value, Picture) else super().reducer_override(value)


def figures_alone(edition: Edition) -> Edition:
    """The edition with everything emptied that no chart shows. A field that is not named here stays."""
    emptied: dict[str, Any] = {**dict.fromkeys(_TEXTS, ""), **dict.fromkeys(_LISTS, ())}
    return replace(
        edition,
        **emptied,
        # Only a class counts in weeks.
        audience=Audience.CLASS if edition.audience is Audience.CLASS else Audience.ARCHIVE,
        options_table=None,
        calendar=None,
        entries=tuple(_moment(entry) for entry in edition.entries),
    )


class KeptCharts:
    """The charts of one edition, in one language."""

    def __init__(self, edition: Edition, words: ChartWords, shelf: Shelf) -> None:
        self.edition, self.words, self.shelf = figures_alone(edition), words, shelf
        self._figures = bytes_of((self.edition, words), _WithoutPictures)

    def chart(self, key: str, width: Width) -> str:
        """SVG text, empty where the edition has nothing to draw in it."""
        from journey.site import charts

        return self._kept(
            f"{key} {width}", lambda: charts.render_chart(key, self.edition, width, self.words)
        )

    def fade_place(self, index: int, width: Width) -> str:
        """The large fade plot of one place."""
        from journey.site import charts

        return self._kept(
            f"place {index} {width}",
            lambda: charts.render_fade_series(self.edition, index, width, self.words),
        )

    def fibre_shares(self, index: int, width: Width) -> str:
        """Shares of one strand mix."""
        from journey.site import charts

        return self._kept(
            f"shares {index} {width}",
            lambda: charts.render_fibre_shares(self.edition, index, width, self.words),
        )

    def _kept(self, which: str, draw: Callable[[], str | None]) -> str:
        made = self.shelf.remembered("chart", (which, self._figures), lambda: (draw() or "").encode())
        return made.decode()


def _moment(entry: Entry) -> Entry:
    """When it was, and nothing else."""
    return replace(entry, key="", title="", words="", services=(), pictures=(), chips=(), numbers=None, facts=())
