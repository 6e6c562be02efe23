"""A text as it reads once every disguise is taken off, with the way back to the text as it was written.

It decides which differences do not hide a name: case, accents, ligatures, look-alike letters of other
scripts, invisible characters, character references, escapes, tags and emphasis. What is looked for in the
result is left to `name_forms`, `date_forms`, `number_forms` and `address_forms`.

Unicode: NFKC and NFD (UAX 15), general categories, Default_Ignorable_Code_Point (UAX 44). The look-alikes are
a hand-made choice from the letters that keyboards reach (idea: UTS 39), not its table of thousands.
"""

from __future__ import annotations

import html
import re
import unicodedata
from dataclasses import dataclass
from functools import lru_cache
from typing import Final
from urllib.parse import unquote

_UNIT: Final = re.compile(
    r"(?P<tag><!--|-->|</?[A-Za-z][^<>]{0,200}>|\[(?=[^\[\]\n]{1,80}\]\()|\]\([^()\n]{0,200}\))"
    r"|(?P<entity>(?:&(?:amp;)*(?:#0*[0-9]{1,7};?|#[xX]0*[0-9A-Fa-f]{1,6};?|[A-Za-z][A-Za-z0-9]{1,30};)))"
    r"|(?P<percent>(?:%(?:25)*[0-9A-Fa-f]{2})+)"
    r"|(?P<pair>\\u[dD][89abAB][0-9A-Fa-f]{2}\\u[dD][c-fC-F][0-9A-Fa-f]{2})"
    r"|(?P<escape>(?:\\u|%u)(?:[0-9A-Fa-f]{4}|\{[0-9A-Fa-f]{1,6}\})|\\x[0-9A-Fa-f]{2})"
    r"|(?P<octal>\\[0-3][0-7]{2})"
    r"|(?P<punycode>\b[xX][nN]--[A-Za-z0-9-]{1,60})"
    r"|(?P<one>.)",
    re.DOTALL,
)

_EMPHASIS: Final = frozenset("*`~\\")
"""Marks that Markdown swallows inside a word."""

_IGNORABLE: Final = frozenset(
    "\u034f\u115f\u1160\u17b4\u17b5\u180b\u180c\u180d\u180f\u3164\uffa0"
    + "".join(map(chr, range(0xFE00, 0xFE10)))
)

_LOOK_ALIKES: Final = str.maketrans(
    # Cyrillic, Greek and rarer Latin letters that pass for a plain one.
    "абвгдеёкмнорстухкѕіјԁԛԝһӏνυορικατεηχμωβγłŁøØđĐħıȷɑɡɩʟɴʀɪɢʜʏʙɛɔŋſƒАВЕЗКМНОРСТУХЅІЈԚԜҺΑΒΕΖΗΙΚΜΝΟΡΤΥΧ",
    "a6brdeekmhopctyxksijdqwhlvupoikatenxmwbylLoOdDhijagilnrighybeonsfABE3KMHOPCTYXSIJQWHABEZHIKMNOPTYX",
)
_RARER_LOOK_ALIKES: Final = str.maketrans(
    # Armenian and Coptic letters, small capitals, Lisu and Cherokee letters, digits written as ideographs.
    "աոսցհլօքերⲁⲉⲟⲣⲥᴀʙᴄᴅᴇꜰɢʜɪᴊᴋʟᴍɴᴏᴘǫʀꜱᴛᴜᴠᴡʏᴢꓐꓑꓓꓔꓖꓗꓙꓚꓜꓝꓟꓠꓡꓢꓣꓦꓧꓪꓫꓬꓮꓰꓲꓳꓴᎠᎡᎢᎪᎫᎬᎳᎷᎻᏀᏃᏚᏞᏟᏢᏦᏙ〇一二三四五六七八九",
    "wnughlopenaeopcabcdefghijklmnopqrstuvwyzBPDTGKJCZFMNLSRVHWXYAEIOUDRTAJEWMHGZSLCPKV0123456789",
)
_ALL_LOOK_ALIKES: Final = _LOOK_ALIKES | _RARER_LOOK_ALIKES
_SPELLED: Final = {"æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "þ": "th", "Þ": "Th", "ð": "d", "Ð": "D"}

_SOUNDS: Final = {
    # Cyrillic as it is usually transliterated, and Greek.
    **dict(zip("абвгдезийклмнопрстуфыэієїґў", "abvgdeziiklmnoprstufyeieigu", strict=True)),
    **{"ё": "e", "ж": "zh", "х": "h", "ц": "ts", "ч": "ch", "ш": "sh", "щ": "sch", "ъ": "", "ь": ""},
    **{"ю": "yu", "я": "ya", "ј": "j", "љ": "lj", "њ": "nj", "ћ": "c", "ђ": "dj", "џ": "dz"},
    **dict(zip("αβγδεζηικλμνξοπρσςτυφχω", "avgdeziiklmnxoprsstyfho", strict=True)),
    **{"θ": "th", "ψ": "ps"},
}


@dataclass(frozen=True, slots=True)
class FoldedText:
    """The undisguised text and, for each of its characters, where it stood in the source."""

    lower: str
    """Casefolded, without accents or invisible characters; what is searched."""
    cased: str
    """The same with capitals, character by character."""
    starts: tuple[int, ...]
    ends: tuple[int, ...]

    def source_span(self, start: int, end: int) -> tuple[int, int]:
        """Where a non-empty stretch of the folded text stood in the source."""
        return self.starts[start], self.ends[end - 1]

    def begins_word(self, at: int) -> bool:
        """True at a word's first letter and at a capital inside a run, as in 'anaBello'."""
        if at == 0 or not self.lower[at - 1].isalpha():
            return True
        return self.cased[at].isupper() and self.cased[at - 1].islower()

    def ends_word(self, at: int) -> bool:
        """True when a word ends before `at`; a plural or possessive s may follow, or es behind a hiss."""
        if at >= len(self.lower) or not self.lower[at].isalpha():
            return True
        if self.cased[at].isupper() and self.cased[at - 1].islower():
            return True
        if self.lower[at : at + 2] == "es" and self.lower[at - 1] in "sxz":
            return at + 2 == len(self.lower) or not self.lower[at + 2].isalpha()
        return self.lower[at] == "s" and (at + 1 == len(self.lower) or not self.lower[at + 1].isalpha())


def fold(text: str) -> FoldedText:
    """The text with look-alike letters read as what they look like."""
    return _fold(text, by_sound=False, see_tags=False)


def readings(text: str) -> tuple[FoldedText, ...]:
    """Every way the text may have been meant: by look, by what stands inside its tags, by sound."""
    found = [fold(text)]
    if "<" in text or "](" in text:
        found.append(_fold(text, by_sound=False, see_tags=True))
    if any(character in _SOUNDS for character in text.casefold()):
        found.append(_fold(text, by_sound=True, see_tags=False))
    return tuple(found)


@lru_cache(maxsize=4096)
def fold_value(value: str) -> str:
    """A declared value folded the same way, for building what to look for."""
    return fold(value).lower


def _fold(text: str, *, by_sound: bool, see_tags: bool) -> FoldedText:
    lower: list[str] = []
    cased: list[str] = []
    starts: list[int] = []
    ends: list[int] = []
    for unit in _UNIT.finditer(text):
        seen = _seen(unit, see_tags)
        if unit.lastgroup == "one" and unicodedata.category(seen) == "Mn" and ends:
            # An accent belongs to the letter before it and goes with it.
            ends[-1] = unit.end()
            continue
        for character in seen:
            for plain in _plain(character, by_sound):
                folded = plain.casefold()
                lower.append(folded if len(folded) == 1 else plain)
                cased.append(plain)
                starts.append(unit.start())
                ends.append(unit.end())
    return FoldedText("".join(lower), "".join(cased), tuple(starts), tuple(ends))


def _seen(unit: re.Match[str], see_tags: bool) -> str:
    """What a reader of the finished page gets from one written unit."""
    written = unit.group()
    match unit.lastgroup:
        case "tag":
            # As text of its own the tag's inside is looked at; otherwise it joins what it stands between.
            return f" {written.strip('<>!-/[]()')} " if see_tags else ""
        case "entity":
            return html.unescape("&" + re.sub("^&(?:amp;)*", "", written))
        case "percent":
            return _unquoted(written)
        case "escape":
            code = int(written[2:].strip("{}"), 16)
            return chr(code) if code < 0x110000 else written
        case "pair":
            high, low = int(written[2:6], 16), int(written[8:], 16)
            return chr(0x10000 + ((high - 0xD800) << 10) + low - 0xDC00)
        case "octal":
            return chr(int(written[1:], 8))
        case "punycode":
            return _depunycoded(written)
    return written


def _unquoted(written: str) -> str:
    for _ in range(4):
        written = unquote(written, errors="replace")
    return written


def _depunycoded(written: str) -> str:
    try:
        return written[4:].encode("ascii").decode("punycode")
    except UnicodeError:
        return written


@lru_cache(maxsize=4096)
def _plain(character: str, by_sound: bool) -> str:
    """One character as plain letters, digits and spaces; '' when it is invisible."""
    if character.isascii():
        if character in _EMPHASIS:
            return ""
        return character if character.isprintable() or character == "\n" else " "
    if by_sound and character.casefold() in _SOUNDS:
        sound = _SOUNDS[character.casefold()]
        return sound if character.islower() else sound.capitalize()
    return "".join(_plain_compatible(one) for one in _decomposed(character))


def _decomposed(character: str) -> str:
    # Greek and Cyrillic letters with a mark, such as й, are composed again: they look like one letter.
    compatible = unicodedata.normalize("NFKC", _lettered(character))
    return unicodedata.normalize("NFD", compatible)


def _lettered(character: str) -> str:
    """Boxed and circled capitals that NFKC leaves alone: regional indicators and the squared letters."""
    code = ord(character)
    if 0xE0020 <= code <= 0xE007E:
        # Tag characters are invisible, and each stands for a letter of ASCII.
        return chr(code - 0xE0000)
    for first in (0x1F130, 0x1F150, 0x1F170, 0x1F1E6):
        if first <= code < first + 26:
            return chr(ord("A") + code - first)
    return character


def _plain_compatible(character: str) -> str:
    category = unicodedata.category(character)
    if category in ("Mn", "Me", "Cf") or character in _IGNORABLE:
        return ""
    if category == "Nd":
        return str(unicodedata.decimal(character))
    if category in ("Zs", "Zl", "Zp", "Cc", "Cn", "Co", "Cs"):
        return " "
    if character in "\u2018\u2019\u02bc\u2032":
        return "'"
    folded = character.casefold() if character.casefold() == "ss" else character
    return _SPELLED.get(folded, folded).translate(_ALL_LOOK_ALIKES)
