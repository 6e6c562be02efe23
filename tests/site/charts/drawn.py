"""Charts drawn with English words, for tests that ask about marks and not about languages."""

from __future__ import annotations

from functools import partial

from journey.site import charts
from journey.site.theme import load_theme

ENGLISH = load_theme().chart_words("en")
render_chart = partial(charts.render_chart, words=ENGLISH)
render_fade_series = partial(charts.render_fade_series, words=ENGLISH)
render_fibre_shares = partial(charts.render_fibre_shares, words=ENGLISH)
