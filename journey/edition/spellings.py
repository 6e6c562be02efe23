"""Other spellings of one name: letters spelt out, gaps closed, in Latin letters by their sound.

It decides which are usual. 'Müller' is written Mueller on a keyboard without the letter, O'Brien becomes OBrien in
a handle, De la Cruz one word in a list, Петров Petrov on a page in English.

Spelling out: German (DIN 5008), Danish, Norwegian and Swedish usage, Icelandic passports; from memory.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import Final

from journey.edition.text_forms import fold_value, readings

_SPELT_OUT: Final = str.maketrans(
    {"ä": "ae", "ö": "oe", "ü": "ue", "ø": "oe", "å": "aa", "æ": "ae", "þ": "th", "ð": "dh", "ñ": "ny"}
)
_GAP: Final = re.compile(
    r"(?<=\w)['’ʼ](?=\w)|(?<=\b[oOdDmM]) (?=[A-Z])|(?<=\bmc) (?=\w)|"
    r"(?<=\bde la) |(?<=\bde los) |(?<=\bde) |(?<=\bdel) |(?<=\bda) |(?<=\bvan) |(?<=\bvon) |(?<=\bla) |"
    r"(?<=\blos) ",
    re.IGNORECASE,
)


def other_spellings(name: str) -> tuple[str, ...]:
    """Folded names that differ from the name's own fold, none twice."""
    own = fold_value(name)
    return tuple(dict.fromkeys(one for one in _spellings(name) if one != own))


def _spellings(name: str) -> Iterator[str]:
    composed = unicodedata.normalize("NFC", name).lower()
    yield fold_value(composed.translate(_SPELT_OUT))
    yield fold_value(_GAP.sub("", unicodedata.normalize("NFC", name)))
    yield from (reading.lower for reading in readings(name)[1:])
