"""Where a person can be found: e-mail, handles, web addresses, streets and towns, and files named after her.

It decides how each is told in other spellings: with [at] and [dot], without separators, with or without the
scheme, with the street's kind abbreviated. Percent signs, references and look-alikes are already undone
(`text_forms`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from typing import Final

from journey.edition.name_forms import Sighting
from journey.edition.text_forms import FoldedText, fold_value
from journey.names_that_are_words import NAMES_THAT_ARE_WORDS

_AT: Final = r" ?(?:@|[\[({<] ?(?:at|arroba) ?[\])}>]| at | arroba ) ?"
_DOT: Final = r" ?(?:\.|[\[({<] ?(?:dot|punto|point) ?[\])}>]| dot | punto ) ?"
_ANY_EMAIL: Final = re.compile(
    r"(?<![\w.+-])[\w.+-]+(?: ?@ ?|[\[(] ?at ?[\])])(?:[\w-]+(?:\.|[\[(] ?dot ?[\])]))+[a-z]{2,}(?![\w-])"
)
_SHARED_MAILBOXES: Final = frozenset({"info", "hello", "hola", "contact", "contacto", "office", "mail"})
_LOOSE: Final = r"[\s._\-]?"
_STREET: Final = (
    r"(?:calle|c/|c\.|cl|avenida|avda|av|paseo|pso|plaza|pza|pl|carrer|rue|strasse|str|street|st|road|rd|avenue|"
    r"ave|lane|ln|drive|dr|square|sq|close|court|ct|way|via|viale|piazza|travessera|ronda|camino)"
)
_NUMBER_WORD: Final = r"(?:nº|n°|no|num|numero|number|n|#)"
_SHORTEST_PLACE: Final = 4
_SHORTEST_CODE: Final = 5
_DEGREES: Final = r"[0-9]{1,3}(?:\.[0-9]{4,}|[° ]{1,2}[0-9]{1,2}(?:\.[0-9]{2,}|['′ ]{1,2}[0-9]{1,2}(?:\.[0-9]+)?))"
_COORDINATES: Final = re.compile(
    r"(?<![\w.])-?[0-9]{1,2}\.[0-9]{4,}°? ?[ns]?[,; ] ?-?[0-9]{1,3}\.[0-9]{4,}°? ?[ewo]?(?![\w.])"
    rf"|(?<![\w.]){_DEGREES}[°'′\"″]{{0,2}} ?[ns][,; ]{{0,2}}{_DEGREES}[°'′\"″]{{0,2}} ?[ewo](?![\w.])"
    rf"|(?<![a-z])(?:lat(?:itude)?|[ns])[ :=.]{{0,2}}-?{_DEGREES}[°,; ]{{1,3}}"
    rf"(?:lon(?:g(?:itude)?)?|[ewo])[ :=.]{{0,2}}-?{_DEGREES}(?![\w.])"
    r"|(?<![a-z0-9])[23456789cfghjmpqrvwx]{8}\+[23456789cfghjmpqrvwx]{2,3}(?![a-z0-9])"
    r"|(?<![\w/])///[a-z]{3,20}\.[a-z]{3,20}\.[a-z]{3,20}(?![\w.])"
)
"""Decimal, in degrees and minutes, with lat and lon before; an open location code; three words for a square."""


def email_sightings(declared: str, text: FoldedText) -> Iterator[Sighting]:
    """A declared e-mail address, its variants with a tag, and its local part used as a handle."""
    pattern = _email_pattern(declared)
    if pattern is not None:
        yield from _all(pattern, text)


def any_email_sightings(text: FoldedText) -> Iterator[Sighting]:
    """Any e-mail address: nobody's belongs on a page."""
    yield from _all(_ANY_EMAIL, text)


def handle_sightings(declared: str, text: FoldedText) -> Iterator[Sighting]:
    """A handle with or without its sign and separators."""
    pattern = _handle_pattern(declared)
    if pattern is not None:
        yield from _all(pattern, text)


def url_sightings(declared: str, text: FoldedText) -> Iterator[Sighting]:
    """A web address with or without scheme, www or the rest of its path; its last step used as a handle."""
    pattern = _url_pattern(declared)
    if pattern is not None:
        yield from _all(pattern, text)


def street_sightings(declared: str, text: FoldedText) -> Iterator[Sighting]:
    """An address or town, whole or in the parts between its commas, with the street's kind abbreviated."""
    for pattern, is_word in _place_patterns(declared):
        for found in pattern.finditer(text.lower):
            yield Sighting(found.start(), found.end(), is_word_too=is_word)


def coordinate_sightings(text: FoldedText) -> Iterator[Sighting]:
    """A pair of coordinates with four decimals or more, which is a house."""
    yield from _all(_COORDINATES, text)


def file_name_sightings(declared: str, text: FoldedText) -> Iterator[Sighting]:
    """A source file's name with its suffix; without it, 'week-3' would be one."""
    name = fold_value(declared.rpartition("/")[2])
    # A folder has many photos and a text names hardly one.
    if "." in name and name in text.lower:
        pattern = re.compile(rf"(?<![\w.-]){re.escape(name)}(?![\w-])")
        yield from _all(pattern, text)


def _all(pattern: re.Pattern[str], text: FoldedText) -> Iterator[Sighting]:
    return (Sighting(found.start(), found.end()) for found in pattern.finditer(text.lower))


@lru_cache(maxsize=256)
def _email_pattern(declared: str) -> re.Pattern[str] | None:
    local, _, domain = fold_value(declared).strip().rpartition("@")
    if not local or not domain:
        return None
    plain = local.partition("+")[0]
    loose = rf"(?:{_DOT})?".join(map(re.escape, re.findall(r"[^\W_]+|[_-]", plain)))
    labels = _DOT.join(map(re.escape, domain.split(".")))
    whole = rf"(?<![^\W_]){loose}(?:\+[^\s@]{{1,40}})?{_AT}{labels}(?![^\W_])"
    letters = re.sub(r"[\W_]", "", plain)
    if len(letters) < 6 or plain in _SHARED_MAILBOXES or letters in NAMES_THAT_ARE_WORDS:
        return re.compile(whole)
    return re.compile(rf"{whole}|(?<![^\W_])@?{_loosely(letters)}(?![^\W_])")


@lru_cache(maxsize=256)
def _handle_pattern(declared: str) -> re.Pattern[str] | None:
    letters = re.sub(r"[\W_]", "", fold_value(declared))
    if len(letters) < 2:
        return None
    sign = "@" if len(letters) < 4 or letters in NAMES_THAT_ARE_WORDS else "@?"
    return re.compile(rf"(?<![^\W_]){sign}{_loosely(letters)}(?![^\W_])")


@lru_cache(maxsize=256)
def _url_pattern(declared: str) -> re.Pattern[str] | None:
    bare = re.sub(r"^(?:[a-z][a-z0-9+.-]*:)?//|^www\.", "", fold_value(declared).strip()).rstrip("/")
    bare = bare.removeprefix("www.")
    if not bare:
        return None
    rest = r"(?:[/?#][^\s)\]>\"'<]*)?"
    whole = rf"(?:[a-z][a-z0-9+.-]*://)?(?:www\.)?(?<![\w-]){re.escape(bare)}(?![\w-]){rest}"
    step = re.sub(r"[\W_]", "", bare.rpartition("/")[2]) if "/" in bare else ""
    if len(step) >= 5 and step not in NAMES_THAT_ARE_WORDS:
        return re.compile(rf"{whole}|(?<![^\W_])@?{_loosely(step)}(?![^\W_])")
    return re.compile(whole)


def _loosely(letters: str) -> str:
    return _LOOSE.join(map(re.escape, letters))


@lru_cache(maxsize=256)
def _place_patterns(declared: str) -> tuple[tuple[re.Pattern[str], bool], ...]:
    folded = fold_value(declared)
    found = []
    for part in dict.fromkeys([folded, *_address_parts(folded)]):
        words = re.findall(r"[^\W_]+", re.sub(rf"(?<![a-z]){_NUMBER_WORD}\.? ?(?=[0-9])", "", part))
        core = [word for word in words if not re.fullmatch(_STREET, word)] or words
        length = len("".join(core))
        is_code = len(core) == 1 and core[0].isdigit()
        if length < (_SHORTEST_CODE if is_code else _SHORTEST_PLACE):
            continue
        found.append((_place_pattern(core, words), len(core) == 1 and core[0] in NAMES_THAT_ARE_WORDS))
    return tuple(found)


def _address_parts(folded: str) -> Iterator[str]:
    """What stands between commas, and there the post code and the town apart."""
    for part in re.split(r"[,;\n]", folded):
        yield part
        codes = re.findall(r"(?<![^\W_])[0-9]{4,}(?![^\W_])", part)
        if codes:
            yield from codes
            yield re.sub(r"(?<![^\W_])[0-9]{4,}(?![^\W_])", " ", part)


def _place_pattern(core: list[str], words: list[str]) -> re.Pattern[str]:
    between = rf"[\W_]{{0,3}}(?:(?:{_STREET}|{_NUMBER_WORD})(?![a-z])[\W_]{{0,3}})?"
    before = rf"(?:{_STREET}\W{{0,2}}(?:de |del |de la )?)?" if len(core) < len(words) else ""
    rows = between.join(map(re.escape, core))
    if len(core) > 1 and core[-1].isdigit() and len(core) < len(words):
        # The house number before the street, as in '14, rue Mayor'.
        named = between.join(map(re.escape, core[:-1]))
        rows += rf"|{core[-1]}[\W_]{{1,3}}{_STREET}\W{{0,2}}(?:de |del |de la )?{named}"
    return re.compile(rf"(?<![^\W_])(?:{before}{rows})(?![^\W_])")
