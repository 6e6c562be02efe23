"""The examples written beside the formulas of hair and of quantities."""

from __future__ import annotations

import doctest
import importlib

import pytest

MODULES = (
    "journey.quantities",
    "journey.hair.band",
    "journey.hair.bowl",
    "journey.hair.growth",
    "journey.hair.level",
    "journey.hair.peroxide",
    "journey.hair.removal",
    "journey.hair.strand",
)


@pytest.mark.parametrize("name", MODULES)
def test_examples(name):
    """Every example in a docstring gives what stands under it, and there is at least one."""
    result = doctest.testmod(importlib.import_module(name))
    assert result.attempted > 0
    assert result.failed == 0
