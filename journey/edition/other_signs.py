"""Stretches of a text that are written in other signs than letters, read back into letters.

It decides what counts as such a stretch and what it says: packed (base64, base32, hexadecimal), as codes, in the
signs of mail, in Morse, Braille or the spelling alphabet, upside down. Whether what it says identifies somebody is
left to the filter, which then replaces the whole stretch. Read apart from the audit's reading on purpose.

RFC 4648, 2045, 2047 and 2152; Morse: ITU-R M.1677-1; Braille: Unicode chart 2800; spelling: ICAO Annex 10, II.
"""

from __future__ import annotations

import base64
import binascii
import quopri
import re
from collections.abc import Callable
from dataclasses import dataclass
from email.errors import HeaderParseError
from email.header import decode_header, make_header
from typing import Final

_ALPHABET: Final = "abcdefghijklmnopqrstuvwxyz"
_MORSE_SIGNS: Final = (
    ".- -... -.-. -.. . ..-. --. .... .. .--- -.- .-.. -- -. --- .--. --.- .-. ... - ..- ...- .-- -..- -.-- --.."
)
_MORSE: Final = dict(zip(_MORSE_SIGNS.split(), _ALPHABET, strict=True))
_BRAILLE: Final = dict(zip("⠁⠃⠉⠙⠑⠋⠛⠓⠊⠚⠅⠇⠍⠝⠕⠏⠟⠗⠎⠞⠥⠧⠺⠭⠽⠵", _ALPHABET, strict=True))
_UPSIDE_DOWN: Final = str.maketrans("ɐqɔpǝɟƃɥᴉɾʞןɯuodbɹsʇnʌʍxʎz", _ALPHABET)
_SPELLING: Final = """
    alfa bravo charlie delta echo foxtrot golf hotel india juliett kilo lima mike november oscar papa quebec romeo
    sierra tango uniform victor whiskey xray yankee zulu alpha juliet whisky
    """.split()  # noqa: SIM905
_SPELT: Final = "|".join(_SPELLING)


@dataclass(frozen=True, slots=True)
class Stretch:
    """Where something stands in the text, and what it says."""

    start: int
    end: int
    says: str


def stretches(text: str) -> list[Stretch]:
    """Everything that can be read back, in the order of the ways of writing."""
    return [
        Stretch(found.start(), found.end(), said)
        for pattern, read in _WAYS
        for found in pattern.finditer(text)
        if (said := read(found.group())) is not None and any(character.isalnum() for character in said)
    ]


def _text_of(data: bytes) -> str | None:
    for coding in ("utf-8", "utf-16-le", "utf-16-be") if b"\0" in data else ("utf-8",):
        try:
            said = data.decode(coding)
        except UnicodeDecodeError:
            continue
        if said.isprintable():
            return said
    return None


def _base64(written: str) -> str | None:
    letters = written.rstrip("=").replace("-", "+").replace("_", "/")
    try:
        return _text_of(base64.b64decode(letters + "=" * (-len(letters) % 4)))
    except (binascii.Error, ValueError):
        return None


def _base32(written: str) -> str | None:
    letters = written.rstrip("=").upper()
    try:
        return _text_of(base64.b32decode(letters + "=" * (-len(letters) % 8)))
    except (binascii.Error, ValueError):
        return None


def _hexadecimal(written: str) -> str | None:
    digits = re.sub(r"0x|[^0-9A-Fa-f]", "", written)
    return _text_of(bytes.fromhex(digits)) if len(digits) % 2 == 0 else None


def _numbers(base: int) -> Callable[[str], str | None]:
    def read(written: str) -> str | None:
        numbers = [int(one, base) for one in re.findall(r"[0-9A-Fa-f]+", re.sub(r"[uU]\+", "", written))]
        said = "".join(map(chr, numbers)) if all(31 < number < 0x3000 for number in numbers) else ""
        return said if sum(map(str.isalpha, said)) * 2 > len(said) else None

    return read


def _seven_bits(written: str) -> str | None:
    try:
        return written.encode("ascii").decode("utf-7")
    except UnicodeDecodeError:
        return None


def _mail_word(written: str) -> str | None:
    try:
        return str(make_header(decode_header(written)))
    except (HeaderParseError, LookupError, ValueError):
        return None


def _quoted(written: str) -> str | None:
    return _text_of(quopri.decodestring(written.encode("ascii", "replace")))


def _morse(written: str) -> str:
    return "".join(_MORSE.get(sign, "?") for sign in re.split("[ /|]+", written))


def _braille(written: str) -> str:
    return "".join(_BRAILLE.get(sign, " ") for sign in written)


def _spelling(written: str) -> str:
    return "".join(word[0] for word in re.findall(r"[a-z]+", written.lower().replace("x-ray", "xray")))


def _turned(written: str) -> str:
    return written.translate(_UPSIDE_DOWN)[::-1]


_BASE64_SIGN: Final = r"[A-Za-z0-9+/_-]"
_WAYS: Final[tuple[tuple[re.Pattern[str], Callable[[str], str | None]], ...]] = (
    (re.compile(rf"(?<!{_BASE64_SIGN}){_BASE64_SIGN}{{6,}}={{0,2}}(?![A-Za-z0-9+/_=-])"), _base64),
    (re.compile(r"(?<![A-Za-z0-9])(?:[A-Z2-7]{8,}|[a-z2-7]{8,})={0,6}(?![A-Za-z0-9=])"), _base32),
    (re.compile(r"(?<![A-Za-z0-9])(?:(?:0x)?[0-9A-Fa-f]{2}[ :,]{0,2}){4,}(?![A-Za-z0-9])"), _hexadecimal),
    (re.compile(r"(?<![0-9])[01]{8}(?:[ ,;]{1,2}[01]{8}){2,}(?![0-9])"), _numbers(2)),
    (re.compile(r"(?<![0-9.,])[0-9]{2,4}(?:[ ,;]{1,2}[0-9]{2,4}){2,}(?![0-9.])"), _numbers(10)),
    (re.compile(r"[uU]\+[0-9A-Fa-f]{4}(?:[ ,;]{0,2}[uU]\+[0-9A-Fa-f]{4}){2,}"), _numbers(16)),
    (re.compile(r"(?:\\[0-9A-Fa-f]{2,6} ?){3,}"), _numbers(16)),
    (re.compile(r"\+[A-Za-z0-9/]{3,}-?"), _seven_bits),
    (re.compile(r"=\?[\w-]{2,20}\?[bBqQ]\?[^?\s]{1,80}\?="), _mail_word),
    (re.compile(r"\w{0,30}(?:=[0-9A-F]{2}\w{0,30}){1,30}"), _quoted),
    (re.compile(r"(?<![.-])[.-]{1,4}(?:[ /|]{1,3}[.-]{1,4}){2,}(?![.-])"), _morse),
    (re.compile("[\u2801-\u283f][\u2800-\u283f ]{2,}"), _braille),
    (re.compile(rf"(?i)(?<![a-z])(?:{_SPELT})(?:[ ,-]{{1,2}}(?:{_SPELT}|x-ray)){{2,}}(?![a-z])"), _spelling),
    (re.compile("[a-zɐɔǝɟƃɥᴉɾʞןɯɹʇʌʍʎ]*[ɐɔǝɟƃɥᴉɾʞןɯɹʇʌʍʎ][a-zɐɔǝɟƃɥᴉɾʞןɯɹʇʌʍʎ]*"), _turned),
)
"""How each way of writing is recognised, and how it is read back."""
