"""Every way a known day may be written.

It decides by enumeration: the forms of the day that is known are made and looked for, since guessing which
words of a text are dates turns 'may', 'march on' and '3 at 1:2' into days. Left out: day and month in digits
alone ('7/1' is a shade), and a month without a year.

Languages of the month names: English, Spanish, Catalan, French, Italian, Portuguese, German.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta
from functools import lru_cache
from typing import Final

from journey.edition.name_forms import Sighting
from journey.edition.text_forms import FoldedText

MONTHS: Final = tuple(
    tuple(line.split())
    for line in (
        "january jan enero ene gener janvier janv gennaio gen janeiro januar janner yanvarya",
        "february feb febrero febrer fevrier fevr febbraio fevereiro fev februar fevralya",
        "march mar marzo marc mars marco marz maerz marta",
        "april apr abril abr avril avr aprile aprelya",
        "may mayo maig mai maggio mag maio maya",
        "june jun junio juny juin giugno giu junho juni iyunya",
        "july jul julio juliol juillet juil luglio lug julho juli iyulya",
        "august aug agosto ago agost aout avgusta",
        "september sept sep septiembre setiembre set setembre septembre settembre setembro sentyabrya",
        "october oct octubre octobre ottobre ott outubro out oktober okt oktyabrya",
        "november nov noviembre novembre novembro noyabrya",
        "december dec diciembre dic desembre des decembre dicembre dezembro dez dezember dekabrya",
    )
)
"""Folded: no accents, lower case."""
_WORDS_TOO: Final = frozenset({"may", "march", "mar", "mars", "mag", "set", "out", "des", "gen", "fev"})
"""Month names that are words or parts of words: only with a capital, or with a year."""
_ROMAN: Final = ("i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix", "x", "xi", "xii")
_ORDINALS: Final = """
    first second third fourth fifth sixth seventh eighth ninth tenth eleventh twelfth thirteenth fourteenth
    fifteenth sixteenth seventeenth eighteenth nineteenth twentieth twenty-first twenty-second twenty-third
    twenty-fourth twenty-fifth twenty-sixth twenty-seventh twenty-eighth twenty-ninth thirtieth thirty-first
    """.split()  # noqa: SIM905
_CARDINALS: Final = """
    one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen
    eighteen nineteen twenty twenty-one twenty-two twenty-three twenty-four twenty-five twenty-six twenty-seven
    twenty-eight twenty-nine thirty thirty-one
    """.split()  # noqa: SIM905
_SPANISH_DAYS: Final = """
    uno dos tres cuatro cinco seis siete ocho nueve diez once doce trece catorce quince dieciseis diecisiete
    dieciocho diecinueve veinte veintiuno veintidos veintitres veinticuatro veinticinco veintiseis veintisiete
    veintiocho veintinueve treinta treinta-y-uno
    """.split()  # noqa: SIM905
_SECONDS: Final = re.compile(r"(?<![0-9.])([0-9]{9,10})(?:[0-9]{3})?(?![0-9])")
"""Since 1970, or milliseconds."""
_SEPARATOR: Final = r"(?: ?(?:[-/._ –—]|--) ?)"
_RARE_SEPARATOR: Final = r" ?[:|·・\\] ?"
"""Only before a whole year: tables and ratios are full of these."""
_OF: Final = r"(?:[ ,.]|(?:\bday of\b|\bof\b|\bde\b|\bdel\b|\bd'|\bden\b|\bthe\b))*"


def date_sightings(day: date, text: FoldedText) -> Iterator[Sighting]:
    """Where this day stands, in digits or words."""
    for found in _pattern(day).finditer(text.lower):
        month = found.group("month1") or found.group("month2")
        if month in _WORDS_TOO and not found.group().endswith(f"{day.year % 100:02d}"):
            group = "month1" if found.group("month1") else "month2"
            article = text.lower[max(0, found.start() - 3) : found.start()]
            if not text.cased[found.start(group)].isupper() and article not in ("le ", "el "):
                continue
        yield Sighting(found.start(), found.end())
    for found in _SECONDS.finditer(text.lower):
        if date(1970, 1, 1) + timedelta(seconds=int(found[1])) == day:
            yield Sighting(found.start(), found.end())


@lru_cache(maxsize=512)
def _pattern(day: date) -> re.Pattern[str]:
    return re.compile(rf"(?:\bthe )?(?<![0-9])(?:{'|'.join((*_in_digits(day), *_in_words(day)))})(?![0-9])")


def _in_digits(day: date) -> Iterator[str]:
    s = _SEPARATOR
    d, m, year = f"0?{day.day}", f"0?{day.month}", f"(?:{day.year}|'?{day.year % 100:02d})"
    iso_year, iso_week, weekday = day.isocalendar()
    yield rf"{year}{s}{m}{s}{d}"
    yield rf"{d}{s}{m}{s}{year}"
    yield rf"{m}{s}{d}{s}{year}"
    yield rf"{d}{_RARE_SEPARATOR}{m}{_RARE_SEPARATOR}{day.year}"
    yield r" ?".join(f"{day:%d}") + rf" ?{s} ?" + r" ?".join(f"{day:%m}") + rf" ?{s} ?" + r" ?".join(str(day.year))
    yield day.strftime("%Y%m%d")
    yield day.strftime("%d%m%Y")
    yield day.strftime("%m%d%Y")
    yield day.strftime("%y%m%d")
    yield f"{day.day}{day.month}{day.year}"
    yield day.strftime("%d%m%y")
    yield day.strftime("%m%d%y")
    yield rf"{d}{s}{_ROMAN[day.month - 1]}{s}{year}"
    yield rf"(?:{day.year} ?年 ?)?{m} ?月 ?{d} ?日"
    yield rf"{iso_year}-?w{iso_week:02d}(?:-?{weekday})?"
    yield rf"{day.year}-?{day.timetuple().tm_yday:03d}"
    yield rf"(?:week|semana|w) ?0?{iso_week}(?: of| de|,|/)? ?{iso_year}"
    yield rf"(?:day|dia) {day.timetuple().tm_yday}(?: of| de|,|/)? ?{day.year}"
    yield rf"{day.day}(?:st|nd|rd|th)? (?:day )?of the {_ORDINALS[day.month - 1]} month,? (?:of )?{day.year}"
    yield rf"(?<![a-z]){_numeral(day.day)}{s}{_ROMAN[day.month - 1]}{s}{_numeral(day.year)}(?![a-z])"


def _numeral(number: int) -> str:
    """A whole number in Roman numerals."""
    written = ""
    for value, sign in zip(
        (1000, 900, 500, 400, 100, 90, 50, 40, 10, 9, 5, 4, 1),
        ("m", "cm", "d", "cd", "c", "xc", "l", "xl", "x", "ix", "v", "iv", "i"),
        strict=True,
    ):
        times, number = divmod(number, value)
        written += sign * times
    return written


def _in_words(day: date) -> Iterator[str]:
    names = "|".join(sorted(MONTHS[day.month - 1], key=lambda name: (-len(name), name)))
    ordinal, spanish = _ORDINALS[day.day - 1], _SPANISH_DAYS[day.day - 1]
    cardinal = _CARDINALS[day.day - 1]
    told = (ordinal, ordinal.replace("-", " "), spanish.replace("-", " "), cardinal, cardinal.replace("-", " "))
    words = "|".join(dict.fromkeys(told))
    d = rf"(?:0?{day.day}(?: ?(?:st|nd|rd|th|er|o|a)(?![a-z]))?|(?<![a-z])(?:{words})(?![a-z]))"
    full, short = day.year, f"{day.year % 100:02d}"
    year = rf"(?:[-/]?{full}|{_OF}{full}|{_OF}'{short}|[-/ .]{{0,2}}{short}(?![0-9:%]))?"
    yield rf"{d}{_OF}[-/]?(?<![a-z])(?P<month1>{names})(?![a-z]){year}"
    yield rf"(?<![a-z])(?P<month2>{names})(?![a-z])[-/. ]{{0,2}}(?:the )?{d}(?:,? ?{full}|{year})"
    yield rf"(?<![a-z])(?:{names})(?![a-z]){_OF}(?:{full}|'{short})"
