"""A bowl that can not or must not be so is refused with its reason, from what stands in the folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from journey.hair.bowl_checks import REFUSED
from journey.record.reader import read_record
from journey.study.bowls import problems_of
from tests.record.folders import sound_folder

DEVELOPER = "            - product: developer\n              grams: 80 g\n"
LEFT = "          left_over: 6 g\n"
STRONG = "  - key: strong\n    name: Developer of another kind\n    role: developer\n    peroxide: 40 %\n"
WEAK = "  - key: weak\n    name: 10 volume developer\n    role: developer\n    peroxide: 10 vol\n"
HALVES = (
    "            - product: developer\n              grams: 40 g\n"
    "            - product: weak\n              grams: 40 g\n"
)

# (reason, text of the sound folder, what stands there instead, what is refused)
CASES: tuple[tuple[str, str, str, dict[str, float]], ...] = (
    ("sum-mismatch", LEFT, f"{LEFT}          total: 150 g\n", {"total": 120.0, "stated": 150.0}),
    ("ratio-mismatch", LEFT, f"{LEFT}          ratio: 1:1\n", {"parts": 2.0, "stated": 1.0}),
    # 80 g of 40 % in 120 g are 26.7 %; Regulation (EC) 1223/2009, Annex III, 12(a) allows 12.
    (
        "over-the-limit",
        DEVELOPER,
        DEVELOPER.replace("developer", "strong"),
        {"percent": 80 * 40 / 120, "limit": 12.0},
    ),
    (
        "strength-out-of-reach",
        LEFT,
        f"{LEFT}          developer_strength: 30 vol\n",
        {"stated": 9.0, "low": 6.0, "high": 6.0},
    ),
    # 12 % & 6 % -> 9 % is 1:1 by Pearson's square; so 6 % & 3 % in equal parts are 4.5 %, not 3.6 %.
    (
        "strength-mismatch",
        DEVELOPER + LEFT,
        f"{HALVES}{LEFT}          developer_strength: 12 vol\n",
        {"percent": 4.5, "stated": 3.6},
    ),
)


def _problems(at: Path, old: str, new: str) -> dict[str, tuple[str, dict[str, object]]]:
    folder = sound_folder(at)
    journey, salon = folder / "journey.yaml", folder / "salon.yaml"
    text = journey.read_text(encoding="utf-8")
    assert old in text
    journey.write_text(text.replace(old, new, 1), encoding="utf-8")
    salon.write_text(salon.read_text(encoding="utf-8") + STRONG + WEAK, encoding="utf-8")
    record = read_record(folder)
    bowl = record.journey.visits[0].services[1].bowl
    assert bowl is not None
    return {one.code: (one.severity, dict(one.reason.values)) for one in problems_of(record, bowl)}


@pytest.mark.parametrize(("code", "old", "new", "values"), CASES, ids=[case[0] for case in CASES])
def test_refused_from_the_folder(
    code: str, old: str, new: str, values: dict[str, float], tmp_path: Path
) -> None:
    """With the numbers that do not fit."""
    severity, found = _problems(tmp_path, old, new)[code]
    assert severity == REFUSED
    assert found == pytest.approx(values)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (LEFT, LEFT),
        (LEFT, f"{LEFT}          total: 120 g\n          ratio: 1:2\n          developer_strength: 6 %\n"),
        (DEVELOPER + LEFT, f"{HALVES}{LEFT}          developer_strength: 15 vol\n"),
    ],
    ids=["sound", "stated as it is", "half and half"],
)
def test_what_fits_is_not_refused(old: str, new: str, tmp_path: Path) -> None:
    """20 and 10 volumes in equal parts are 15."""
    assert not _problems(tmp_path, old, new)
