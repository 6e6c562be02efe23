"""What is kept is found again whether its inputs were made or read: equal values give equal bytes."""

from __future__ import annotations

import pickle

import numpy as np

from journey.alike import bytes_of


def test_values_that_share_parts_and_values_that_do_not_are_alike() -> None:
    """One text held twice and two equal texts: a pickle tells them apart, a key must not."""
    text = "".join(["mid", "-lengths"])
    shared, apart = (text, text), (text, "".join(["mid", "-lengths"]))
    assert pickle.dumps(shared) != pickle.dumps(apart)
    assert bytes_of(shared) == bytes_of(apart)
    assert bytes_of(shared) != bytes_of((text, "ends"))


def test_an_array_is_alike_however_it_lies_in_memory() -> None:
    """A slice and its copy, rows first and columns first, writable or not; but not other numbers."""
    made = np.arange(12.0).reshape(3, 4)
    read = pickle.loads(pickle.dumps(made))
    read.flags.writeable = False
    assert bytes_of([made]) == bytes_of([read]) == bytes_of([np.asfortranarray(made)])
    assert bytes_of(made[:, :2]) == bytes_of(made[:, :2].copy())
    assert bytes_of(made) != bytes_of(made.reshape(4, 3)) != bytes_of(made.astype(np.float32).reshape(4, 3))
    assert bytes_of(made) != bytes_of(made + 1)
