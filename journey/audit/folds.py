"""A text with its letters made plain, so that a disguised name reads like the name.

It decides which characters are one and the same for the audit: by Unicode's own names for letters of other
scripts, by compatibility forms, by the look of a few. Written apart from the filter's folding on purpose.
"""

from __future__ import annotations

import re
import unicodedata
from typing import Final

_LOOKS: Final[dict[str, str]] = {
    "в": "b", "В": "B", "е": "e", "ё": "e", "к": "k", "К": "K", "м": "m", "М": "M", "н": "h", "Н": "H",
    "р": "p", "Р": "P", "с": "c", "С": "C", "т": "t", "Т": "T", "у": "y", "У": "Y", "х": "x", "Х": "X",
    "ѕ": "s", "Ѕ": "S", "і": "i", "І": "I", "ј": "j", "Ј": "J", "ԁ": "d", "ԛ": "q", "ԝ": "w", "һ": "h",
    "ӏ": "l", "а": "a", "А": "A", "о": "o", "О": "O", "Е": "E", "г": "r", "п": "n",
    "α": "a", "Α": "A", "Β": "B", "Ε": "E", "Ζ": "Z", "Η": "H", "η": "n", "ι": "i", "Ι": "I", "κ": "k",
    "Κ": "K", "Μ": "M", "ν": "v", "Ν": "N", "ο": "o", "Ο": "O", "ρ": "p", "Ρ": "P", "τ": "t", "Τ": "T",
    "υ": "u", "Υ": "Y", "χ": "x", "Χ": "X", "ω": "w", "γ": "y", "ε": "e", "β": "b",
    "ı": "i", "ł": "l", "Ł": "L", "ø": "o", "Ø": "O", "đ": "d", "Đ": "D", "ð": "d", "ħ": "h", "ß": "ss",
    "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "þ": "th", "ɡ": "g", "ɑ": "a", "’": "'", "‘": "'", "ʼ": "'",
}  # fmt: skip
"""After decomposition, so accents need no line of their own."""
_LOOKS.update(zip("ᴀʙᴄᴅᴇꜰɢʜɪᴊᴋʟᴍɴᴏᴘǫʀꜱᴛᴜᴠᴡʏᴢ", "abcdefghijklmnopqrstuvwyz", strict=True))
_LOOKS.update(zip("ꓐꓑꓓꓔꓖꓗꓙꓚꓜꓝꓟꓠꓡꓢꓣꓦꓧꓪꓫꓬꓮꓰꓲꓳꓴ", "BPDTGKJCZFMNLSRVHWXYAEIOU", strict=True))
_LOOKS.update(zip("ᎠᎡᎢᎪᎫᎬᎳᎷᎻᏀᏃᏚᏞᏟᏢᏦᏙ", "DRTAJEWMHGZSLCPKV", strict=True))
_LOOKS.update(zip("աոսցհլօքеⲁⲉⲟⲣⲥ", "wnughlopeaeopc", strict=True))
_LOOKS.update(zip("〇一二三四五六七八九€", "0123456789e", strict=True))

_SOUNDS_BY_NAME: Final[dict[str, str]] = {
    "GHE": "g", "IE": "e", "ZHE": "zh", "SHORT I": "i", "HA": "h", "TSE": "ts", "CHE": "ch", "SHA": "sh",
    "SHCHA": "sch", "HARD SIGN": "", "SOFT SIGN": "", "YERU": "y", "YU": "yu", "YA": "ya", "E": "e",
    "UKRAINIAN IE": "e", "BYELORUSSIAN-UKRAINIAN I": "i", "YI": "i", "JE": "j", "THETA": "th", "PSI": "ps",
    "FINAL SIGMA": "s", "ETA": "i", "UPSILON": "y", "OMEGA": "o", "CHI": "h", "XI": "x", "PHI": "f",
    "BETA": "v",
}  # fmt: skip
"""Letters of the Cyrillic and Greek scripts whose Unicode name does not begin with their sound."""


class _Plain(dict[int, str]):
    """Character -> plain characters, worked out when first met."""

    def __init__(self, by_sound: bool) -> None:
        super().__init__()
        self._by_sound = by_sound

    def __missing__(self, code: int) -> str:
        self[code] = plain = _plain_character(chr(code), self._by_sound)
        return plain


def _plain_character(character: str, by_sound: bool) -> str:
    if character.isascii():
        return character
    if 0xE0020 <= ord(character) <= 0xE007E:
        # Tag characters: invisible, and each stands for a letter of ASCII.
        return chr(ord(character) - 0xE0000)
    category = unicodedata.category(character)
    if category in ("Mn", "Me", "Cf") or character in "\u115f\u1160\u3164\uffa0\u034f":
        return ""
    if category == "Nd":
        return str(unicodedata.decimal(character))
    if category[0] in "ZC":
        return " "
    if by_sound and (sound := _sound(character)) is not None:
        return sound
    if 0x1F130 <= ord(character) <= 0x1F189 or 0x1F1E6 <= ord(character) <= 0x1F1FF:
        # Boxed, circled and flag letters: their names end in the letter.
        return unicodedata.name(character, " ").rpartition(" ")[2][:1]
    return _LOOKS.get(character, character)


def _sound(character: str) -> str | None:
    name = unicodedata.name(character, "")
    found = re.fullmatch(r"(?:CYRILLIC|GREEK) (SMALL|CAPITAL) LETTER ([A-Z -]+?)(?: WITH .*)?", name)
    if not found:
        return None
    letter = found[2]
    if letter in _SOUNDS_BY_NAME:
        sound = _SOUNDS_BY_NAME[letter]
    else:
        # 'EL', 'EM', 'ER' are named after the vowel in front; 'BE', 'KA', 'LAMDA' after the sound itself.
        sound = (letter[1] if letter[0] == "E" and len(letter) == 2 else letter[0]).lower()
    return sound if found[1] == "SMALL" else sound.capitalize()


_BY_LOOK: Final = _Plain(by_sound=False)
_BY_SOUND: Final = _Plain(by_sound=True)
_OTHER_SCRIPT: Final = re.compile(r"[\u0370-\u052f]")


def plain(text: str) -> str:
    """Letters by their look; capitals are kept. Not of the same length as the source."""
    if text.isascii():
        return text
    return unicodedata.normalize("NFKD", text).translate(_BY_LOOK)


def plain_readings(text: str) -> tuple[str, ...]:
    """By look and, where Cyrillic or Greek letters are met, also by sound."""
    by_look = plain(text)
    if text.isascii() or not _OTHER_SCRIPT.search(text):
        return (by_look,)
    by_sound = unicodedata.normalize("NFKC", text).translate(_BY_SOUND)
    return by_look, plain(by_sound)


def split_humps(text: str) -> str:
    """'AnaBello' as 'Ana Bello'."""
    return re.sub(r"(?<=[a-z])(?=[A-Z])", " ", text)
