"""Before and after a visit, side by side."""

from __future__ import annotations

import pytest

from journey.record.model import Audience
from tests.demo import demo_edition


@pytest.mark.parametrize("audience", [Audience.CLASS, Audience.ARCHIVE])
def test_one_place_stands_beside_itself_close_up_and_magnified(audience: Audience) -> None:
    """The ends of the last visit: two pictures of either moment, with what was felt; none where none was taken."""
    pairs = demo_edition(audience).condition_pairs
    assert [len(side.pictures) for pair in pairs for side in pair.sides] == [0, 0, 0, 0, 2, 2]
    before, after = pairs[-1].sides
    assert (before.told[0], after.told[0]) == ("stretches 33 % wet", "stretches 31 % wet")
    names = [picture.name for side in (before, after) for picture in side.pictures]
    assert len(set(names)) == 4


def test_the_client_is_told_the_meaning_and_not_the_test() -> None:
    """No pair on her page."""
    assert demo_edition(Audience.CLIENT).condition_pairs == ()
