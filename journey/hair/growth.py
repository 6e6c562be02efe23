"""How fast hair grows, how sure that is, and what follows for new growth.

Decides the rate for one head: the literature's until rulers in her own photos say more.  Where the grown
hair lies and what is on it is left to ``strand``.

Days are numbers (fractions allowed) counted from any one fixed day; lengths are centimetres.  Every
interval is an 80 % interval: one time in ten the truth is below it, one time in ten above.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from statistics import NormalDist
from typing import Generic, TypeVar

from journey.colour.reason import Reason
from journey.hair.interval import Interval

Answer = TypeVar("Answer")
Other = TypeVar("Other")

DAYS_PER_MONTH = 30.4375
"""A twelfth of 365.25 days."""

Z_80 = NormalDist().inv_cdf(0.9)

RULER_SD_CM = 0.1
"""Assumption: how well a line between two colours is read off a ruler in a photo."""

START_SD_CM = 0.1
"""Assumption: how near to the scalp the colour was laid on the day growth is counted from."""

OWN_RATE_SD_MM_PER_DAY = 0.02
"""Assumption: how sure a rate is that the stylist wrote down herself."""

FASTEST_MM_PER_DAY = 1.2
"""36 mm a month, the upper end of the range 0.6-3.6 cm a month given by Harkey (1993): above it the
reading, not the hair, is wrong."""


@dataclass(frozen=True, slots=True)
class PublishedRate:
    """One published growth rate of scalp hair; ``sd`` is the spread between persons where it was given."""

    source: str
    whose: str
    um_per_day: float
    sd_um_per_day: float | None


PUBLISHED_RATES: tuple[PublishedRate, ...] = (
    PublishedRate("2005 survey, n = 511", "African", 280, 50),
    PublishedRate("2005 survey, n = 511", "Caucasian", 367, 56),
    PublishedRate("2005 survey, n = 511", "Asian", 411, 53),
    PublishedRate("Br J Dermatol 2001, n = 38", "African", 256, 44),
    PublishedRate("Br J Dermatol 2001", "Caucasian", 396, 55),
    PublishedRate("Vogt, 10.5 mm in 30 days", "adults", 350, None),
    PublishedRate("Barth 1986, scalp", "adults", 370, None),
    PublishedRate("Review of vertex and occiput, PMID 21382678: 1.06 cm a month", "adults", 348.3, None),
)
"""Rates read in text, mostly in secondary copies; the papers named are what to re-check."""


@dataclass(frozen=True, slots=True)
class GrowthRate:
    """A growth rate with the spread it may have, both in millimetres a day."""

    mm_per_day: float
    sd_mm_per_day: float
    source: Reason

    def __post_init__(self) -> None:
        if not (0 < self.mm_per_day <= FASTEST_MM_PER_DAY and 0 <= self.sd_mm_per_day < math.inf):
            raise ValueError(
                f"hair does not grow {self.mm_per_day!r} ± {self.sd_mm_per_day!r} mm a day; a rate lies "
                f"above 0 and up to {FASTEST_MM_PER_DAY}"
            )

    @property
    def mm_per_month(self) -> float:
        return self.mm_per_day * DAYS_PER_MONTH

    def quantile_cm_per_day(self, share: float) -> float:
        """Rate below which a ``share`` of the possible rates lies, in cm a day; never below zero."""
        return max(0.0, self.mm_per_day + self.sd_mm_per_day * NormalDist().inv_cdf(share)) / 10


DEFAULT_RATE = GrowthRate(0.35, 0.07, Reason("growth-literature"))
"""Before anything is measured on her.  The spread makes the 80 % interval 0.79-1.34 cm a month, which is the
range a 21-country study gives for persons of any place and gender (0.8-1.3 cm a month), and is wider than
any one population's spread in ``PUBLISHED_RATES``, since the tool does not ask whose hair it is."""


def new_growth(days: float, rate: GrowthRate = DEFAULT_RATE) -> Interval:
    """Centimetres grown in so many days.

    >>> grown = new_growth(84, GrowthRate(0.367, 0.056, Reason("growth-literature")))
    >>> round(grown.low, 2), round(grown.median, 2), round(grown.high, 2)
    (2.48, 3.08, 3.69)
    """
    if not 0 <= days < math.inf:
        raise ValueError(f"growth is counted over a time from 0 days up, not {days!r}")
    return Interval(*(days * rate.quantile_cm_per_day(share) for share in (0.1, 0.5, 0.9)))


@dataclass(frozen=True, slots=True)
class RulerReading:
    """New growth read off a ruler: ``regrowth_cm`` on ``day``, grown since ``since_day``."""

    day: float
    regrowth_cm: float
    since_day: float


def rate_from_rulers(
    readings: Iterable[RulerReading],
    default: GrowthRate = DEFAULT_RATE,
    *,
    ruler_sd_cm: float = RULER_SD_CM,
    start_sd_cm: float = START_SD_CM,
) -> GrowthRate:
    """The rate her own rulers give, weighed against ``default`` by how much each knows.

    Each reading is a rate with the spread of its two ends, ``sqrt(ruler² + start²) / days``; readings
    and default are averaged with weights 1/spread² (the normal conjugate update with known variances,
    e.g. Gelman et al., Bayesian Data Analysis, 3rd ed., eq. 2.12).  Readings are taken as independent;
    several counted from one day share the error of that day, so they count for a little too much.

    Raises ``ValueError`` for a reading no hair can give.
    """
    reading_sd_mm = 10 * math.hypot(ruler_sd_cm, start_sd_cm)
    weights, weighted = [], []
    if default.sd_mm_per_day == 0:
        return default
    for reading in readings:
        days = reading.day - reading.since_day
        rate = 10 * reading.regrowth_cm / days if days > 0 else math.nan
        if not 0 <= rate <= FASTEST_MM_PER_DAY:
            raise ValueError(
                f"a ruler reading of {reading.regrowth_cm} cm in {days:g} days is no growth of hair; "
                f"look again at its length and at the day it is counted from"
            )
        weights.append((days / reading_sd_mm) ** 2)
        weighted.append(rate * weights[-1])
    if not weights:
        return default
    own = default.sd_mm_per_day**-2
    total = own + math.fsum(weights)
    mean = (own * default.mm_per_day + math.fsum(weighted)) / total
    source = Reason("growth-rulers", n=len(weights), before=default.source)
    return GrowthRate(mean, total**-0.5, source)


CLOSE_CUT_STUB_CM = 0.8
CLOSE_CUT_STUB_SD_CM = 0.1
"""What stays on the scalp after a "close" cut with scissors: 0.8 ± 0.1 cm (review, PMID 21382678)."""


def grown_since_close_cut(length_cm: float) -> Interval:
    """Growth hidden in a length measured from the scalp some time after a cut close to it.

    The stub that was left is taken off; what was clipped to a known length needs no such guess.
    """
    spread = Z_80 * CLOSE_CUT_STUB_SD_CM
    grown = length_cm - CLOSE_CUT_STUB_CM
    return Interval(max(0.0, grown - spread), max(0.0, grown), max(0.0, grown + spread))


@dataclass(frozen=True, slots=True)
class AcrossGrowth(Generic[Answer]):
    """The same thing worked out for slow, expected and fast growth (10th, 50th, 90th percentile)."""

    slow: Answer
    expected: Answer
    fast: Answer

    def ask(self, question: Callable[[Answer], Other]) -> AcrossGrowth[Other]:
        """One question put to all three."""
        return AcrossGrowth(question(self.slow), question(self.expected), question(self.fast))


def across_growth(rate: GrowthRate, work_out: Callable[[float], Answer]) -> AcrossGrowth[Answer]:
    """``work_out(cm_per_day)`` for a slow, the expected and a fast rate."""
    slow, expected, fast = (work_out(rate.quantile_cm_per_day(share)) for share in (0.1, 0.5, 0.9))
    return AcrossGrowth(slow, expected, fast)
