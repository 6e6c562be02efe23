"""Words keep off each other."""

from itertools import combinations, pairwise

from hypothesis import given
from hypothesis import strategies as st

from journey.site.charts.labels import Flag, Tab, place_tab, push_apart, stack_rows, with_room, wrap

PLACES = st.lists(st.tuples(st.floats(0, 700), st.floats(10, 150)), max_size=10)


def flags(*places: tuple[float, float]) -> list[Flag]:
    return [Flag(x, x + 4, width, "") for x, width in places]


def test_earlier_takes_the_upper_row() -> None:
    """Of two labels that collide the earlier goes up; without collision both stay down."""
    assert stack_rows(flags((0, 80), (50, 80))) == (1, 0)
    assert stack_rows(flags((0, 40), (60, 80))) == (0, 0)


def test_a_label_keeps_off_the_line_of_one_above() -> None:
    """A label whose text would be cut by the line falling from a higher one goes higher still."""
    assert stack_rows(flags((0, 70), (60, 60), (100, 60))) == (2, 1, 0)


@given(PLACES)
def test_rows_never_collide(places: list[tuple[float, float]]) -> None:
    """However many labels: in one row no texts meet, and no line falls through a text below."""
    seated = flags(*sorted(places))
    rows = stack_rows(seated)
    for (one, row), (other, other_row) in combinations(zip(seated, rows, strict=True), 2):
        if row == other_row:
            assert one.right <= other.left
        if other_row > row:
            assert not one.left < other.x < one.right


def test_words_of_lower_rank_keep_their_room() -> None:
    """Where two words collide the one of lower rank stays, wherever it stands."""
    assert with_room([(10, 30, 1), (30, 30, 0), (90, 30, 1)]) == (1, 2)


@given(st.lists(st.floats(0, 300), min_size=1, max_size=9))
def test_pushed_labels_keep_their_distance_and_order(wanted: list[float]) -> None:
    """Labels end up a line apart, inside, and in the order they wanted."""
    seats = push_apart(wanted, gap=20, low=0, high=300)
    ordered = sorted(seats)
    assert all(later - earlier >= 20 - 1e-6 for earlier, later in pairwise(ordered))
    assert ordered[0] >= -1e-6
    assert ordered[-1] <= 300 + 1e-6
    for (a, seat_a), (b, seat_b) in combinations(zip(wanted, seats, strict=True), 2):
        assert a == b or (a < b) == (seat_a < seat_b)


def test_labels_that_have_room_are_not_moved() -> None:
    """Nothing is pushed that does not touch."""
    assert push_apart([10, 50, 200], gap=20, low=0, high=300) == (10, 50, 200)


def test_tab_prefers_the_free_side() -> None:
    """With the right side taken a tab goes elsewhere, and it stays on the card."""
    card = Tab(0, 0, 300, 200)
    first = place_tab((150, 100), (60, 20), card, [], [])
    second = place_tab((150, 100), (60, 20), card, [first], [])
    assert first.left > 150
    assert second.overlap(first) == 0
    corner = place_tab((298, 2), (60, 20), card, [], [])
    assert corner.overlap(card) == 60 * 20


def test_tab_keeps_off_drawn_points() -> None:
    """A tab does not lie on marks when another seat is free of them."""
    marks = [(float(x), 100.0) for x in range(150, 250, 5)]
    tab = place_tab((150, 100), (60, 20), Tab(0, 0, 300, 200), [], marks)
    assert not any(tab.holds(mark) for mark in marks if mark != (150.0, 100.0))


def test_wrap_keeps_every_word() -> None:
    """Lines are as long as the room allows and a word too long stands alone."""
    assert wrap("lightened to, today", 13, len) == ["lightened to,", "today"]
    assert wrap("extraordinarily so", 5, len) == ["extraordinarily", "so"]
    assert wrap("", 5, len) == []
