"""Reading one number and its unit from text, and writing a number back.

Decides the grammar every quantity shares: points for decimals, a space before the unit, fractions of an
inch.  Which units there are and what a value may be is left to ``quantities``.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

NUMBER = r"[0-9]{1,9}(?:\.[0-9]{1,9})?"
_SPACES = re.compile(r"[ \t\u00a0\u2009\u202f]+")
_AMOUNT = re.compile(
    rf"(?:(?P<whole>[0-9]{{1,4}}) )?(?P<over>[0-9]{{1,4}})/(?P<under>[0-9]{{1,4}})|(?P<number>{NUMBER})"
)
DECIMALS = 6
"""Values are kept to a millionth of their unit, which makes text and value exchangeable."""


def tidy_text(text: object, form: str) -> str:
    """``text`` with plain single spaces; refuses what is not text and what holds a decimal comma."""
    if not isinstance(text, str):
        raise ValueError(f"{text!r} is not text; write {form}")
    tidy = _SPACES.sub(" ", text.strip())
    if not tidy:
        raise ValueError(f"nothing is written here; write {form}")
    if re.search(r"[0-9],[0-9]", tidy):
        with_point = tidy.replace(",", ".")
        raise ValueError(
            f"{text!r} has a comma in its number; write the decimal mark as a point ({with_point!r} if that "
            f"is what you mean) and thousands without any mark"
        )
    return tidy


def read_amount(text: str) -> float | None:
    """``2``, ``0.6``, ``1/2`` or ``1 1/2`` as a number; ``None`` when it is none of these."""
    found = _AMOUNT.fullmatch(text)
    if found is None:
        return None
    if found["number"]:
        return float(found["number"])
    if int(found["under"]) == 0:
        return None
    return int(found["whole"] or 0) + int(found["over"]) / int(found["under"])


def read_measure(text: object, units: Mapping[str, float], form: str) -> float:
    """The number in ``text`` times the factor of its unit, which is the longest spelling that ends it."""
    tidy = tidy_text(text, form)
    for unit in sorted(units, key=lambda spelling: (-len(spelling), spelling)):
        if not tidy.endswith(unit):
            continue
        before = tidy[: -len(unit)]
        amount = read_amount(before.rstrip(" "))
        if amount is None:
            continue
        if not before.endswith(" "):
            raise ValueError(f"{text!r} has no space before its unit; write '{before} {unit}'")
        return round(amount * units[unit], DECIMALS)
    if read_amount(tidy) is not None:
        raise ValueError(f"{text!r} has no unit; write {form}")
    raise ValueError(f"{text!r} can not be read; write {form}")


def plain_decimal(number: float) -> str:
    """The shortest decimal text of a number, without exponent and without idle zeros."""
    text = f"{number:.{DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text
