"""The same text in other signs: as codes, in other alphabets' signs, cut by joints, spelt out, turned.

It decides which writings are read back into letters before anything is looked for. `views` asks for them;
what is packed (base64 and its like) is left to `packed`. A cipher with a key of its own is out of reach.

Braille: Unicode chart 2800, the letters of unified English Braille. Morse: ITU-R M.1677-1. Spelling alphabet:
ICAO Annex 10, volume II. UTF-7: RFC 2152.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from typing import Final

_LETTERS: Final = "abcdefghijklmnopqrstuvwxyz"
_BRAILLE: Final = str.maketrans("⠁⠃⠉⠙⠑⠋⠛⠓⠊⠚⠅⠇⠍⠝⠕⠏⠟⠗⠎⠞⠥⠧⠺⠭⠽⠵", _LETTERS)
_TURNED: Final = str.maketrans("ɐqɔpǝɟƃɥᴉɾʞןɯuodbɹsʇnʌʍxʎz", _LETTERS)
_MORSE: Final = dict(
    zip(
        ".- -... -.-. -.. . ..-. --. .... .. .--- -.- .-.. -- -. --- .--. --.- .-. ... - ..- ...- .-- -..- -.-- --..".split(),  # noqa: E501, SIM905
        _LETTERS,
        strict=True,
    )
)
_SPELT: Final = {
    word: word[0]
    for word in """
    alfa alpha bravo charlie delta echo foxtrot golf hotel india juliett juliet kilo lima mike november oscar papa
    quebec romeo sierra tango uniform victor whiskey whisky xray yankee zulu
    """.split()  # noqa: SIM905
}
_DIGIT_WORDS: Final = {
    **{word: str(n) for n, word in enumerate("zero one two three four five six seven eight nine".split())},  # noqa: SIM905
    **{word: str(n) for n, word in enumerate("cero uno dos tres cuatro cinco seis siete ocho nueve".split())},  # noqa: SIM905
    "oh": "0",
}
_DIGIT_WORD: Final = "|".join(_DIGIT_WORDS)
_SAID: Final = rf"(?:(?:double|doble|triple) )?(?:{_DIGIT_WORD})"
_SAID_DIGITS: Final = re.compile(rf"(?<![a-z]){_SAID}(?:[\s,.-]{{1,3}}{_SAID}){{5,}}(?![a-z])")
_SAID_DIGIT: Final = re.compile(rf"(?:(double|doble|triple) )?({_DIGIT_WORD})(?![a-z])")
_ESCAPES: Final = re.compile(
    r"\\u\{([0-9A-Fa-f]{1,6})\}|%u([0-9A-Fa-f]{4})|\\u([dD][89abAB][0-9A-Fa-f]{2})\\u([dD][c-fC-F][0-9A-Fa-f]{2})"
)
_OCTAL: Final = re.compile(r"\\([0-3][0-7]{2})")
_CODE: Final = "(?:[Uu]\\+[0-9A-Fa-f]{4}|0x[0-9A-Fa-f]{2}|[01]{8}|[0-9]{2,6})"
_CODES: Final = re.compile(
    rf"(?<![0-9A-Za-z]){_CODE}(?:[\s,;]{{1,3}}{_CODE}){{3,}}(?![0-9A-Za-z])"
)
_SHIFTED: Final = re.compile(r"\+([A-Za-z0-9/]{3,})-")
_JOINT: Final = re.compile(r"""(["'])[ \t]*[+&.]?[ \t]*\1|/\*[^*]{0,200}\*/|(?<=[a-z])-\s*\n\s*(?=[a-z])""")
_MISREAD: Final = re.compile("[\u00c2-\u00f4][\u0080-\u00bf]")


def wide_writings(text: str) -> Iterator[tuple[str, str]]:
    """Name of the writing and the text read back, where anything may stand between two letters."""
    if _JOINT.search(text):
        yield "joints undone", _JOINT.sub("", text)
    spelt = "".join(_SPELT.get(word, " ") for word in re.findall(r"[a-z]+", text.lower()))
    if re.search("[a-z]{4}", spelt):
        yield "spelling alphabet", spelt


def close_writings(text: str) -> Iterator[tuple[str, str]]:
    """Name of the writing and the text read back, where a few characters make a letter.

    A name written so is at most some ten times as long.
    """
    if ("\\" in text or "%u" in text) and (_ESCAPES.search(text) or _OCTAL.search(text)):
        yield "escapes of code undone", _OCTAL.sub(_octal, _ESCAPES.sub(_escaped, text))
    codes = [_decoded(found[0]) for found in _CODES.finditer(text)]
    if any(codes):
        yield "codes as letters", "\n".join(filter(None, codes))
    if "+" in text and (shifted := [_unshifted(found) for found in _SHIFTED.finditer(text)]):
        yield "UTF-7", "\n".join(filter(None, shifted))
    if _MISREAD.search(text):
        yield "misread UTF-8 put right", _MISREAD.sub(_put_right, text)
    yield from _in_signs(text)
    yield from _in_words(text)


def _in_signs(text: str) -> Iterator[tuple[str, str]]:
    if re.search("[\u2801-\u283f]", text):
        yield "Braille", text.translate(_BRAILLE)
    if re.search("[ɐɔǝɟƃɥᴉɾʞɯɹʇʌʍʎ]", text):
        yield "upside down", text.translate(_TURNED)[::-1]
    runs = re.findall(r"(?<![.\-])[.\-]{1,4}(?:[ /|]{1,3}[.\-]{1,4}){3,}(?![.\-])", text)
    letters = ["".join(_MORSE.get(sign, "?") for sign in re.split("[ /|]+", run)) for run in runs]
    if letters:
        yield "Morse", "\n".join(letters)


def _in_words(text: str) -> Iterator[tuple[str, str]]:
    lower = text.lower()
    said = [_said(found[0]) for found in _SAID_DIGITS.finditer(lower)]
    if said:
        yield "digits said in words", "\n".join(said)
    # Short words turned by thirteen are other words ('nan'); only long ones are looked at.
    turned = [word for word in re.findall(r"[a-z]{7,}", lower) if word != lower]
    if turned:
        yield "turned by thirteen", codecs.encode(" ".join(dict.fromkeys(turned)), "rot13")


def _escaped(found: re.Match[str]) -> str:
    braces, percent, high, low = found.groups()
    if high:
        return chr(0x10000 + ((int(high, 16) - 0xD800) << 10) + int(low, 16) - 0xDC00)
    return _character(int(braces or percent, 16))


def _octal(found: re.Match[str]) -> str:
    return chr(int(found[1], 8))


def _decoded(run: str) -> str:
    """A row of codes as characters, or '' when one of them is none."""
    numbers = []
    for one in re.split(r"[\s,;]+", run):
        one = one.upper().replace("U+", "0x")
        base = 16 if one.startswith("0x") or one.startswith("0X") else 2 if re.fullmatch("[01]{8}", one) else 10
        numbers.append(int(one, base))
    if all(number < 256 for number in numbers):
        try:
            return bytes(numbers).decode("utf-8")
        except UnicodeDecodeError:
            pass
    return "".join(_character(number) for number in numbers)


def _character(number: int) -> str:
    return chr(number) if 32 <= number < 0x110000 and not 0xD800 <= number <= 0xDFFF else " "


def _unshifted(found: re.Match[str]) -> str:
    try:
        return found[0].encode("ascii").decode("utf-7")
    except UnicodeDecodeError:
        return ""


def _put_right(found: re.Match[str]) -> str:
    try:
        return found[0].encode("latin-1").decode("utf-8")
    except UnicodeDecodeError:
        return found[0]


def _said(run: str) -> str:
    times = {"double": 2, "doble": 2, "triple": 3}
    return "".join(_DIGIT_WORDS[word] * times.get(many, 1) for many, word in _SAID_DIGIT.findall(run))
