"""What is kept is found again whether its inputs were made or read: equal values give equal bytes."""

from __future__ import annotations

import pickle

from journey.alike import bytes_of


def test_values_that_share_parts_and_values_that_do_not_are_alike() -> None:
    """One text held twice and two equal texts: a pickle tells them apart, a key must not."""
    text = "".join(["mid", "-lengths"])
    shared, apart = (text, text), (text, "".join(["mid", "-lengths"]))
    assert pickle.dumps(shared) != pickle.dumps(apart)
    assert bytes_of(shared) == bytes_of(apart)
    assert bytes_of(shared) != bytes_of((text, "ends"))
