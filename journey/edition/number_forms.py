"""Numbers that belong to one person: telephones, plates, cards, files, lots.

It decides how a known number is told in other groupings and with other signs between, and which numbers are
somebody's by their own check digits (bank accounts, payment cards, identity numbers), known or not.
Telephone numbers: `phonenumbers`, after ITU-T E.164. Accounts: ISO 13616 with the check of ISO 7064. Cards:
the check of ISO/IEC 7812-1 annex B. Identity numbers: the letter of the Spanish DNI and NIE, from memory.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

import phonenumbers

from journey.edition.name_forms import Sighting
from journey.edition.text_forms import FoldedText, fold_value

_DIGIT_RUN: Final = re.compile(r"[0-9](?:(?:[^\w]|_){0,5}[0-9]|x(?=[0-9]{3})[0-9])*")
_MIXED_RUN: Final = re.compile(r"(?<![a-z])[0-9oil|]*[0-9][0-9oil|]*(?![a-z])")
_LIKE_DIGITS: Final = str.maketrans("oil|", "0111")
_DIGIT_WORDS: Final = {
    **{word: str(n) for n, word in enumerate("zero one two three four five six seven eight nine".split())},  # noqa: SIM905
    **{word: str(n) for n, word in enumerate("cero uno dos tres cuatro cinco seis siete ocho nueve".split())},  # noqa: SIM905
    "oh": "0",
}
_TIMES: Final = {"double": 2, "doble": 2, "triple": 3}
_SAID_WORD: Final = rf"(?:({'|'.join(_TIMES)}) )?({'|'.join(_DIGIT_WORDS)})"
_SAID_DIGIT: Final = re.compile(_SAID_WORD)
_SAID_RUN: Final = re.compile(rf"(?<![a-z]){_SAID_WORD}(?:[\s,.-]{{1,3}}{_SAID_WORD}){{4,}}(?![a-z])")
_SHORTEST_PHONE: Final = 6
_SHORT_NUMBER: Final = 5
"""A bare number of fewer digits is looked for only behind a word that says what it is."""
_ANNOUNCED: Final = (
    r"(?:(?<![a-z])(?:lots?|batch|charge|lote|no|n°|num|number|numero|file|card|ref|client|id)|#)[\s.:#]{0,3}"
)
_ACCOUNT: Final = re.compile(r"(?<![a-z0-9])[a-z]{2}[0-9]{2}(?:[ -]?[a-z0-9]{1,4}){3,10}(?![a-z0-9])")
_CARD: Final = re.compile(r"(?<![0-9])(?:[0-9][ -]?){14,15}[0-9](?![0-9])")
_NATIONAL_ID: Final = re.compile(
    r"(?<![a-z0-9.])([xyz]?)[- ]?([0-9]{7,8}|[0-9]{1,2}\.[0-9]{3}\.[0-9]{3})[- ]?([a-z])(?![a-z0-9])"
)
_SOCIAL_NUMBER: Final = re.compile(r"(?<![0-9-])(?!000|666|9)[0-9]{3}-(?!00)[0-9]{2}-(?!0000)[0-9]{4}(?![0-9-])")
"""As the United States Social Security Administration gives them out (20 CFR 422; from memory)."""
_NATIONAL_LETTERS: Final = "trwagmyfpdxbnjzsqvhlcke"
_INTERNET_ADDRESS: Final = re.compile(
    r"(?<![0-9.])(?:(?:25[0-5]|2[0-4][0-9]|1[0-9]{2}|[1-9]?[0-9])\.){3}"
    r"(?:25[0-5]|2[0-4][0-9]|1[0-9]{2}|[1-9]?[0-9])(?![0-9.])"
)


def phone_sightings(declared: str, text: FoldedText) -> Iterator[Sighting]:
    """A declared telephone number in any grouping, with or without a prefix, forwards or backwards."""
    national, before = _phone(declared)
    if len(national) < _SHORTEST_PHONE:
        return
    meant = _MIXED_RUN.sub(_as_digits, text.lower)
    for run in _DIGIT_RUN.finditer(meant):
        at = [i for i in range(run.start(), run.end()) if meant[i].isdigit()]
        digits = "".join(meant[i] for i in at)
        for place in _places(national[::-1], digits):
            last = place + len(national)
            yield Sighting(at[place], at[last if digits[last : last + 1] == "0" else last - 1] + 1)
        for place in _places(national, digits):
            prefix = next((known for known in before if digits[:place].endswith(known)), "")
            first = place - len(prefix)
            yield Sighting(*_with_signs(text.lower, at[first], at[place + len(national) - 1] + 1))


def said_phone_sightings(declared: str, text: FoldedText) -> Iterator[Sighting]:
    """A declared telephone number said digit by digit in English or Spanish words."""
    national, _ = _phone(declared)
    if len(national) < _SHORTEST_PHONE:
        return
    for run in _SAID_RUN.finditer(text.lower):
        said = list(_SAID_DIGIT.finditer(run.group()))
        digits = "".join(_DIGIT_WORDS[one[2]] * _TIMES.get(one[1], 1) for one in said)
        if national in digits:
            yield Sighting(run.start(), run.end())


def _as_digits(found: re.Match[str]) -> str:
    """Letters that look like digits, in a run that has one; of the same length."""
    return found.group().translate(_LIKE_DIGITS)


def foreign_phone_sightings(text: FoldedText) -> Iterator[Sighting]:
    """Any telephone number written with + and a country's prefix: nobody's belongs on a page."""
    for found in phonenumbers.PhoneNumberMatcher(text.lower, None):
        yield Sighting(found.start, found.end)


def code_sightings(declared: str, text: FoldedText) -> Iterator[Sighting]:
    """A plate, card, file or lot number, whatever stands between its characters."""
    pattern = _code_pattern(declared)
    if pattern is not None:
        yield from (Sighting(found.start(), found.end()) for found in pattern.finditer(text.lower))


def checked_number_sightings(text: FoldedText) -> Iterator[Sighting]:
    """Account, card, identity and internet numbers, told by their own check or shape."""
    for found in _ACCOUNT.finditer(text.lower):
        length = _account_length(found.group())
        if length:
            yield Sighting(found.start(), found.start() + length)
    for found in _CARD.finditer(text.lower):
        if _passes_luhn(found.group()):
            yield Sighting(found.start(), found.end())
    for found in _NATIONAL_ID.finditer(text.lower):
        if _is_national_id(found[1], found[2].replace(".", ""), found[3]):
            yield Sighting(found.start(), found.end())
    for found in _SOCIAL_NUMBER.finditer(text.lower):
        yield Sighting(found.start(), found.end())
    for found in _INTERNET_ADDRESS.finditer(text.lower):
        yield Sighting(found.start(), found.end())


def _with_signs(text: str, start: int, end: int) -> tuple[int, int]:
    """A plus belongs to the number behind it, and a bracket if the number closes it."""
    before = re.search(r"[+(]*$", text[max(0, start - 4) : start])
    signs = before.group() if before else ""
    open_brackets = signs.count("(") - text[start:end].count(")")
    if open_brackets > 0 and text[end : end + 1] != ")":
        return start - len(signs.rpartition("(")[2]), end
    return start - len(signs), end + max(open_brackets, 0)


def _places(wanted: str, digits: str) -> Iterator[int]:
    return (found.start() for found in re.finditer(f"(?={wanted})", digits))


@lru_cache(maxsize=256)
def _phone(declared: str) -> tuple[str, tuple[str, ...]]:
    """The digits that stay the same, and what may stand before them."""
    digits = re.sub(r"[^0-9]", "", fold_value(declared))
    international = "+" + digits.removeprefix("00") if declared.strip().startswith(("+", "00")) else None
    if international:
        try:
            number = phonenumbers.parse(international, None)
        except phonenumbers.NumberParseException:
            return digits, ("",)
        country = str(number.country_code)
        national = phonenumbers.national_significant_number(number)
        return national, (f"00{country}0", f"{country}0", f"00{country}", f"011{country}", country, "0")
    return digits.lstrip("0"), ("0",)


@lru_cache(maxsize=512)
def _code_pattern(declared: str) -> re.Pattern[str] | None:
    characters = [c for c in fold_value(declared) if c.isalnum()]
    if len(characters) < 2:
        return None
    code = r"[\s._\-/·]{0,2}".join(map(re.escape, characters))
    if "".join(characters).isdigit() and len(characters) < _SHORT_NUMBER:
        return re.compile(rf"{_ANNOUNCED}{code}(?![0-9])")
    return re.compile(rf"(?<![a-z0-9]){code}(?![a-z0-9])")


def _account_length(written: str) -> int:
    """How much of the groups is an account; words behind it look like more of them. 0 when none is."""
    ends = [found.start() for found in re.finditer(r"[ -]", written)] + [len(written)]
    return next((end for end in reversed(ends) if _is_account(re.sub(r"[ -]", "", written[:end]))), 0)


def _is_account(code: str) -> bool:
    if not 15 <= len(code) <= 34:
        return False
    return int("".join(str(int(c, 36)) for c in code[4:] + code[:4])) % 97 == 1


def _passes_luhn(written: str) -> bool:
    digits = [int(c) for c in written if c.isdigit()]
    doubled = [sum(divmod(2 * digit, 10)) for digit in digits[-2::-2]]
    return len(set(digits)) > 1 and (sum(digits[::-2]) + sum(doubled)) % 10 == 0


def _is_national_id(first: str, digits: str, letter: str) -> bool:
    if len(digits) != (7 if first else 8):
        return False
    number = int(str("xyz".index(first)) + digits if first else digits)
    return _NATIONAL_LETTERS[number % 23] == letter
