"""Looks for known days in a text: reads what could be a date and compares it with the set.

It decides what could be a date: three numbers with the same kind of sign between them, eight digits, a week,
a day of the year, a day and a month's name. The filter goes the other way and writes each known day in all
forms; so an oversight in one is not an oversight in both.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from typing import Final

_SIGN: Final = r"\s?(?:[-/._ |·・–—\\]|--)\s?"
_RARE_SIGNS: Final = frozenset("|·・\\")
_TRIPLE: Final = re.compile(
    rf"(?<![0-9])(?=([0-9]{{1,4}})({_SIGN})([0-9]{{1,2}}|[ivx]{{1,4}})({_SIGN})'?([0-9]{{1,4}})(?![0-9]))"
)
_YEAR_KANJI: Final = re.compile(r"([0-9]{2,4})\s?年\s?([0-9]{1,2})\s?月\s?([0-9]{1,2})\s?日")
_KANJI: Final = re.compile(r"([0-9]{1,2})\s?月\s?([0-9]{1,2})\s?日")
_BY_COLONS: Final = re.compile(r"(?<![0-9:])([0-9]{1,2}) ?: ?([0-9]{1,2}) ?: ?([0-9]{4})(?![0-9:])")
_DIGITS_APART: Final = re.compile(
    r"(?<![0-9])([0-3]) ([0-9]) ?[-/.] ?([01]) ([0-9]) ?[-/.] ?([12]) ([0-9]) ([0-9]) ([0-9])(?![0-9])"
)
_RUN: Final = re.compile(r"(?<![0-9])([0-9]{8}|[0-9]{6})(?![0-9])")
_WEEK: Final = re.compile(r"(?<![0-9])([0-9]{4})-?w([0-9]{2})(?:-?([1-7]))?(?![0-9])")
_YEAR_DAY: Final = re.compile(r"(?<![0-9])([0-9]{4})-?([0-9]{3})(?![0-9])")
_ROMAN: Final = {
    numeral: number
    for number, numeral in enumerate("i ii iii iv v vi vii viii ix x xi xii".split(), 1)  # noqa: SIM905
}

_WEEK_OF: Final = re.compile(r"\b(?:week|semana|w)\s?([0-9]{1,2})\s?(?:of|de|,|/)?\s?((?:19|20)[0-9]{2})(?![0-9])")
_DAY_OF: Final = re.compile(r"\b(?:day|dia)\s([0-9]{1,3})\s?(?:of|de|,|/)?\s?((?:19|20)[0-9]{2})(?![0-9])")
_MONTH_BY_NUMBER: Final = re.compile(
    r"(?<![0-9])([0-9]{1,2})(?:st|nd|rd|th)?\s(?:day\s)?of\sthe\s([a-z]+)\smonth,?\s(?:of\s)?([0-9]{4})(?![0-9])"
)
_SECONDS: Final = re.compile(r"(?<![0-9.])([0-9]{9,10})(?:[0-9]{3})?(?![0-9])")
_NUMERALS: Final = re.compile(r"(?<![a-z])([ivxlcdm]+)[\s./-]([ivx]+)[\s./-](m[ivxlcdm]+)(?![a-z])")
_NUMERAL_VALUES: Final = {"i": 1, "v": 5, "x": 10, "l": 50, "c": 100, "d": 500, "m": 1000}

_MONTH_STEMS: Final = (
    r"jan(?:uary|uar|eiro|vier|v)?|ene(?:ro)?|gen(?:er|naio)?|janner|yanvarya",
    r"feb(?:ruary|ruar|rero|rer|braio)?|fev(?:rier|ereiro|r|ralya)?",
    r"mar(?:ch|zo|c|s|co|z)?|maerz|marta",
    r"apr(?:il|ile)?|abr(?:il)?|avr(?:il)?|aprelya",
    r"may(?:o)?|mai(?:g|o)?|mag(?:gio)?|maya",
    r"june?|juni?o?|juny|juin|giu(?:gno)?|junho|iyunya",
    r"july?|juli?o?l?|juil(?:let)?|lug(?:lio)?|julho|iyulya",
    r"aug(?:ust)?|ago(?:sto|st)?|aout|avgusta",
    r"sept?(?:ember|iembre|embre)?|set(?:iembre|embre|tembre|embro)?|sentyabrya",
    r"oct(?:ober|ubre|obre)?|okt(?:ober)?|ott(?:obre)?|out(?:ubro)?|oktyabrya",
    r"nov(?:ember|iembre|embre|embro)?|noyabrya",
    r"dec(?:ember|embre)?|dic(?:iembre|embre)?|des(?:embre)?|dez(?:ember|embro)?|dekabrya",
)
_UNITS: Final = ("", "first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth")
_TEENS: Final = """
    tenth eleventh twelfth thirteenth fourteenth fifteenth sixteenth seventeenth eighteenth nineteenth
    """.split()  # noqa: SIM905
_SPANISH: Final = """
    uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciseis diecisiete
    dieciocho diecinueve veinte veintiuno veintidos veintitres veinticuatro veinticinco veintiseis veintisiete
    veintiocho veintinueve treinta
    """.split()  # noqa: SIM905
_TENS: Final = ("twentieth", *(f"twenty{unit}" for unit in _UNITS[1:]), "thirtieth", "thirtyfirst")
_CARDINALS: Final = """
    one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen
    eighteen nineteen twenty twentyone twentytwo twentythree twentyfour twentyfive twentysix twentyseven
    twentyeight twentynine thirty thirtyone
    """.split()  # noqa: SIM905
_DAY_WORDS: Final = {
    **{word: number for number, word in enumerate([*_UNITS, *_TEENS, *_TENS]) if word},
    **{word: number for number, word in enumerate(_SPANISH, 1)},
    **{word: number for number, word in enumerate(_CARDINALS, 1)},
}
_DAY: Final = (
    r"(?P<day>[0-9]{1,2}(?:\s?(?:st|nd|rd|th|er|o|a))?|[a-z]+(?:[- ](?:" + "|".join(_UNITS[1:]) + r"))?)"
)
_JOIN: Final = r"(?:[\s.,/-]|\bday of\b|\bof\b|\bde\b|\bdel\b|\bd'|\bthe\b)*"
_YEAR: Final = r"(?P<year>(?<=')[0-9]{2}|[0-9]{4})"
_DAY_BEFORE: Final = re.compile(rf"(?<![a-z0-9]){_DAY}{_JOIN}$")
_DAY_AFTER: Final = re.compile(rf"[\s.,/-]{{0,2}}(?:the\s)?{_DAY}(?![a-z0-9])")
_YEAR_AFTER: Final = re.compile(rf"{_JOIN}'?{_YEAR}(?![0-9])")
_FARTHEST: Final = 40
"""Characters between a day and its month, at most."""
_WORDS_TOO: Final = frozenset(
    {"may", "march", "mar", "mars", "mai", "mag", "set", "out", "des", "gen", "dec"}
)


class Days:
    """The known days."""

    def __init__(self, days: Iterable[date]) -> None:
        self._days = frozenset(days)
        self._months = frozenset((day.year, day.month) for day in self._days)
        stems = (
            f"(?P<m{number}>{_MONTH_STEMS[number - 1]})" for number in sorted({m for _, m in self._months})
        )
        self._month_words = re.compile(rf"(?<![a-z])(?:{'|'.join(stems)})(?![a-z])")

    def seen_in(self, text: str, *, is_prose: bool) -> Iterator[tuple[str, date]]:
        """The form and a known day, for each that is met; `text` is plain and keeps its capitals.

        Where it is no prose, only what has a year of four digits counts: code is full of small numbers.
        """
        if not self._days:
            return
        lower = text.lower()
        if len(lower) != len(text):
            text = lower
        for form, day in (
            *self._in_digits(lower, is_prose),
            *self._counted(lower),
            *self._in_words(text, lower),
        ):
            if day in self._days:
                yield form, day

    def _in_digits(self, text: str, is_prose: bool) -> Iterator[tuple[str, date]]:
        for a, sign, b, other_sign, c in _TRIPLE.findall(text):
            has_long_year = len(a) == 4 or len(c) == 4
            if sign.strip() in _RARE_SIGNS and not has_long_year:
                continue  # tables are full of these
            # Numbers apart by spaces alone are mostly a row of a table.
            spaced = is_prose and not sign.strip() and b.isdigit()
            counts = has_long_year if spaced else is_prose or has_long_year
            if sign.strip() == other_sign.strip() and counts:
                yield from (("in digits", day) for day in _orders(a, b, c))
        for year, month, day in _YEAR_KANJI.findall(text):
            yield from (("in digits", day) for day in _real(year, month, day))
        for day, month, year in (*_BY_COLONS.findall(text), *_apart(text)):
            yield from (("in digits", one) for one in (*_real(year, month, day), *_real(year, day, month)))
        for month, number in _KANJI.findall(text):
            matching = (day for day in self._days if (day.month, day.day) == (int(month), int(number)))
            yield from (("in digits", day) for day in sorted(matching))
        for run in _RUN.findall(text):
            if len(run) == 8:
                for a, b, c in ((run[:4], run[4:6], run[6:]), (run[4:], run[2:4], run[:2])):
                    yield from (("in one run of digits", day) for day in (*_real(a, b, c), *_real(a, c, b)))
            elif is_prose:
                yield from (("in one run of digits", day) for day in _orders(run[:2], run[2:4], run[4:]))
        for year, week, weekday in _WEEK.findall(text):
            yield from (("as a week", day) for day in self._in_week(int(year), int(week), weekday))
        for year, number in _YEAR_DAY.findall(text):
            matching = (d for d in self._days if d.year == int(year) and d.timetuple().tm_yday == int(number))
            yield from (("as a day of the year", day) for day in sorted(matching))

    def _counted(self, text: str) -> Iterator[tuple[str, date]]:
        """By week, day of the year, seconds since 1970 or Roman numerals."""
        for week, year in _WEEK_OF.findall(text):
            yield from (("as a week", day) for day in self._in_week(int(year), int(week), ""))
        for number, year in _DAY_OF.findall(text):
            matching = (d for d in self._days if d.year == int(year) and d.timetuple().tm_yday == int(number))
            yield from (("as a day of the year", day) for day in sorted(matching))
        for number, month, year in _MONTH_BY_NUMBER.findall(text):
            month_number = str(_DAY_WORDS.get(month, 0))
            yield from (("in words", day) for day in _real(year, month_number, number))
        for seconds in _SECONDS.findall(text):
            yield "as seconds", date(1970, 1, 1) + timedelta(seconds=int(seconds))
        for number, month, year in _NUMERALS.findall(text):
            numbers = [str(_numeral(one)) for one in (year, month, number)]
            yield from (("in Roman numerals", day) for day in _real(*numbers))

    def _in_week(self, year: int, week: int, weekday: str) -> Iterator[date]:
        for day in sorted(self._days):
            if day.isocalendar()[:2] == (year, week) and weekday in ("", str(day.isoweekday())):
                yield day

    def _in_words(self, cased: str, lower: str) -> Iterator[tuple[str, date]]:
        for found in self._month_words.finditer(lower):
            month = int(str(found.lastgroup).removeprefix("m"))
            told = re.search(r"\b(?:le|el) [0-9]{1,2} $", lower[max(0, found.start() - 7) : found.start()])
            may_be_a_word = found.group() in _WORDS_TOO and not cased[found.start()].isupper() and not told
            for number, year in _days_beside(lower, found.start(), found.end()):
                if year or not may_be_a_word:
                    yield from (("in words", day) for day in self._on(month, number, year))
            alone = _YEAR_AFTER.match(lower, found.end())
            if alone:
                told_year = int(alone["year"])
                matching = (
                    day for day in self._days if day.month == month and told_year in (day.year, day.year % 100)
                )
                yield from (("as a month and year", day) for day in sorted(matching))

    def _on(self, month: int, number: int, year: str | None) -> Iterator[date]:
        for day in sorted(self._days):
            if (day.month, day.day) == (month, number) and (
                not year or int(year) in (day.year, day.year % 100)
            ):
                yield day


def _apart(text: str) -> Iterator[tuple[str, str, str]]:
    """Day, month and year whose digits stand apart: '1 4 . 0 3 . 1 9 9 1'."""
    for digits in _DIGITS_APART.findall(text):
        yield "".join(digits[:2]), "".join(digits[2:4]), "".join(digits[4:])


def _numeral(written: str) -> int:
    values = [_NUMERAL_VALUES[letter] for letter in written]
    return sum(-a if a < b else a for a, b in zip(values, [*values[1:], 0], strict=True))


def _orders(a: str, b: str, c: str) -> Iterator[date]:
    """Year first, day first and month first."""
    yield from _real(a, b, c)
    yield from _real(c, b, a)
    yield from _real(c, a, b)


def _real(year: str, month: str, day: str) -> Iterator[date]:
    number = _ROMAN.get(month) or (int(month) if month.isdigit() else 0)
    if not (day.isdigit() and year.isdigit()) or len(year) == 3:
        return
    for full in (int(year),) if len(year) == 4 else (1900 + int(year), 2000 + int(year)):
        try:
            yield date(full, number, int(day))
        except ValueError:
            continue


def _days_beside(text: str, start: int, end: int) -> Iterator[tuple[int, str | None]]:
    """Day numbers before and after a month's name, each with the year that follows."""
    window = text[max(0, start - _FARTHEST) : start]
    before = _DAY_BEFORE.search(window)
    after = _DAY_AFTER.match(text, end)
    for found, stop in ((before, end), (after, after.end() if after else end)):
        number = _day_number(found["day"]) if found else None
        if number is not None:
            year = _YEAR_AFTER.match(text, stop)
            yield number, year["year"] if year else None


def _day_number(written: str) -> int | None:
    digits = re.match(r"[0-9]+", written)
    if digits:
        return int(digits[0])
    return _DAY_WORDS.get(re.sub(r"[- ]", "", written))
