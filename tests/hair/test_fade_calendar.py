"""Washes and dates."""

import math
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journey.colour.fade_path import FadePath
from journey.hair.fade import FadePosterior, fit_fade
from journey.hair.fade_prior import PRIORS
from journey.hair.wash_calendar import WashCalendar, compare_rhythms, refresh_window, washes_between

PATH = FadePath.between((75.0, 2.0, 24.0), (52.0, 38.0, 8.0))
LAID = date(2024, 3, 4)


def _posterior() -> FadePosterior:
    readings = [(float(n), PATH.lab_at(math.exp(-0.12 * n))) for n in (0, 3, 6, 9)]
    return fit_fade(PATH, readings, delta_e_noise=1.5, prior=PRIORS["direct"])


def test_washes_at_an_even_rhythm() -> None:
    """Two weeks at two and a half a week are five washes; a day is a seventh; backwards is refused."""
    assert washes_between(LAID, LAID + timedelta(days=14), 2.5) == 5.0
    assert washes_between(LAID, LAID + timedelta(days=1), 7) == 1.0
    assert washes_between(LAID, LAID, 3) == 0.0
    with pytest.raises(ValueError, match="before"):
        washes_between(LAID, LAID - timedelta(days=1), 3)
    with pytest.raises(ValueError, match="per week"):
        washes_between(LAID, LAID, -1)


def test_counts_override_the_rhythm() -> None:
    """Ten washes counted after four weeks hold; before, they spread evenly; after, the rhythm runs on."""
    calendar = WashCalendar(LAID, 2, ((LAID + timedelta(days=28), 10.0),))
    assert calendar.washes_by(LAID) == 0
    assert calendar.washes_by(LAID + timedelta(days=14)) == 5
    assert calendar.washes_by(LAID + timedelta(days=28)) == 10
    assert calendar.washes_by(LAID + timedelta(days=35)) == 12
    assert calendar.day_of(5) == LAID + timedelta(days=14)
    assert calendar.day_of(12) == LAID + timedelta(days=35)
    assert calendar.day_of(11.9) == LAID + timedelta(days=35)


_calendars = st.builds(
    lambda rhythm, steps: WashCalendar(
        LAID,
        rhythm,
        tuple(
            (
                LAID + timedelta(days=sum(d for d, _ in steps[: i + 1])),
                float(sum(w for _, w in steps[: i + 1])),
            )
            for i in range(len(steps))
        ),
    ),
    st.floats(0.5, 9),
    st.lists(st.tuples(st.integers(1, 40), st.integers(0, 12)), max_size=4),
)


@settings(max_examples=80, deadline=None)
@given(_calendars, st.floats(0.01, 60))
def test_the_day_of_a_wash_is_the_first_by_which_it_happened(calendar: WashCalendar, washes: float) -> None:
    """By that day there were as many washes, by the day before not yet."""
    day = calendar.day_of(washes)
    assert day is not None
    assert calendar.washes_by(day) >= washes - 1e-6
    if day > LAID:
        assert calendar.washes_by(day - timedelta(days=1)) < washes + 1e-6


def test_days_that_never_come() -> None:
    """Hair that is not washed, and a share never reached, have no day; a far day beyond calendars neither."""
    assert WashCalendar(LAID, 0).day_of(1) is None
    assert WashCalendar(LAID, 0).day_of(0) == LAID
    assert WashCalendar(LAID, 3).day_of(math.inf) is None
    assert WashCalendar(LAID, 0.001).day_of(1e9) is None


@pytest.mark.parametrize(
    "counted",
    [
        ((LAID, 1.0),),
        ((LAID + timedelta(days=3), 4.0), (LAID + timedelta(days=3), 5.0)),
        ((LAID + timedelta(days=3), 4.0), (LAID + timedelta(days=9), 3.0)),
        ((LAID + timedelta(days=3), math.nan),),
    ],
)
def test_counts_that_can_not_be_are_refused(counted: tuple[tuple[date, float], ...]) -> None:
    """Counts on the day of laying, twice on one day, falling, or no number."""
    with pytest.raises(ValueError, match="can not follow"):
        WashCalendar(LAID, 2, counted)
    with pytest.raises(ValueError, match="before the colour was laid"):
        WashCalendar(LAID, 2).washes_by(LAID - timedelta(days=1))


def test_refresh_window_is_the_crossings_as_dates() -> None:
    """Each date is the calendar's day of the posterior's washes, for the shares asked for."""
    posterior, calendar = _posterior(), WashCalendar(LAID, 3)
    window = refresh_window(posterior, calendar, best_from=0.6, latest=0.3)
    opens, closes = posterior.washes_until(0.6), posterior.washes_until(0.3)
    assert window.best_from.expected == calendar.day_of(opens.interval.median)
    assert window.latest.early == calendar.day_of(closes.interval.low)
    assert window.latest.late == calendar.day_of(closes.interval.high)
    assert window.never_latest == closes.probability_never
    usual = refresh_window(posterior, calendar)
    assert usual.best_from.expected == calendar.day_of(posterior.washes_until(0.5).interval.median)
    assert usual.latest.expected == calendar.day_of(posterior.washes_until(0.25).interval.median)


def test_window_opens_before_it_closes() -> None:
    """Thresholds the wrong way round are refused; the right way round, opening comes first."""
    posterior, calendar = _posterior(), WashCalendar(LAID, 3)
    window = refresh_window(posterior, calendar)
    assert window.best_from.expected is not None
    assert window.latest.expected is not None
    assert window.best_from.expected < window.latest.expected
    with pytest.raises(ValueError, match="larger share"):
        refresh_window(posterior, calendar, best_from=0.25, latest=0.5)


def test_washing_less_puts_the_window_off() -> None:
    """From once to every day, the same fade: days to the window fall in proportion after today."""
    posterior, calendar = _posterior(), WashCalendar(LAID, 3)
    today = LAID + timedelta(days=7)
    compared = compare_rhythms(posterior, calendar, today)
    assert [rhythm for rhythm, _ in compared] == [1, 2, 3, 4, 5, 6, 7]
    ends = [window.latest.expected for _, window in compared]
    assert all(
        later is not None and sooner is not None and sooner < later for later, sooner in pairwise(ends)
    )
    left = posterior.washes_until(0.25).interval.median - 3
    assert ends[0] == today + timedelta(days=math.ceil(left * 7))
    assert compared[2][1] == refresh_window(posterior, calendar)


def test_another_rhythm_leaves_the_past_alone() -> None:
    """What was washed until the change stays counted; later counts give way to the supposed rhythm."""
    counted = ((LAID + timedelta(days=10), 6.0), (LAID + timedelta(days=30), 9.0))
    changed = WashCalendar(LAID, 3, counted).with_rhythm_from(LAID + timedelta(days=20), 7)
    assert changed.washes_by(LAID + timedelta(days=10)) == 6
    assert changed.washes_by(LAID + timedelta(days=20)) == 7.5
    assert changed.washes_by(LAID + timedelta(days=30)) == 17.5
    same_day = WashCalendar(LAID, 3).with_rhythm_from(LAID, 7)
    assert same_day == WashCalendar(LAID, 7)
