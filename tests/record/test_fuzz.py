"""A little of the long run of `python -m tests.fuzz`, with every test."""

from __future__ import annotations

from tests import fuzz


def test_disturbed_files_and_photos_are_read_or_refused() -> None:
    """Two seconds of random damage: nothing but our own refusals."""
    read, refused, odd = fuzz.run(2, seed=1)
    assert odd is None
    assert read > 10
    assert refused > 5
