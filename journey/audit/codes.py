"""Looks for known numbers, addresses and file names in a text whose letters are plain.

It decides by stripping: the text without its separators is compared with the known value without its own.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cached_property
from typing import Final

import phonenumbers

from journey.audit.folds import plain
from journey.names_that_are_words import NAMES_THAT_ARE_WORDS

_GAP: Final = 5
"""Signs that may stand between two digits of one telephone number."""
_SPACE: Final = r"\s{0,3}"
"""Bounded, as a text may be nothing but space."""
_SHORTEST_PHONE: Final = 6
_ROOTS: Final = frozenset(
    """
    av ave avda avenida avenue c calle camino carrer cl close court ct dr drive lane ln paseo pl plaza pso pza
    rd road ronda rue sq square st str strasse street via way
    """.split()  # noqa: SIM905
)
"""Kinds of street, in full and abbreviated."""
_NUMBER_SIGNS: Final = frozenset({"no", "n", "num", "numero", "number", "o"})
_ANNOUNCED: Final = r"(?:lots?|batch|charge|lote|no|num|number|numero|file|card|ref|client|id|#)"
_SHARED_LOCAL_PARTS: Final = frozenset({"info", "hello", "hola", "contact", "contacto", "office", "mail"})


class Stripped:
    """One text without what stands between letters and digits, each shape made once."""

    def __init__(self, text: str) -> None:
        self.lower = text.lower()

    @cached_property
    def words(self) -> list[str]:
        return re.findall(r"[^\W_]+", self.lower)

    @cached_property
    def joined_words(self) -> str:
        """Words with single spaces between and around, for looking up a row of them."""
        return f" {' '.join(self.words)} "

    @cached_property
    def compact(self) -> str:
        return "".join(self.words)

    @cached_property
    def word_starts(self) -> frozenset[int]:
        """Where in `compact` a word begins; its end is where the next begins, or the end of all."""
        at, starts = 0, [0]
        for word in self.words:
            at += len(word)
            starts.append(at)
        return frozenset(starts)

    @cached_property
    def digit_runs(self) -> list[str]:
        """Digits with at most a few signs between; letters end a run."""
        meant = re.sub(r"(?<![a-z])[0-9oil|]*[0-9][0-9oil|]*(?![a-z])", _as_digits, self.lower)
        runs = re.findall(rf"[0-9](?:[^\w]{{0,{_GAP}}}[0-9]|_[0-9]|x(?=[0-9]{{3}})[0-9])*", meant)
        return [re.sub(r"[^0-9]", "", run) for run in runs if len(run) >= _SHORTEST_PHONE]

    @cached_property
    def mail(self) -> str:
        """[at] and [dot] as signs."""
        if _BRACKETED.search(self.lower) is None:
            return self.lower
        text = re.sub(rf"{_SPACE}[\[({{<]{_SPACE}(?:at|arroba){_SPACE}[\])}}>]{_SPACE}", "@", self.lower)
        return re.sub(rf"{_SPACE}[\[({{<]{_SPACE}(?:dot|punto|point){_SPACE}[\])}}>]{_SPACE}", ".", text)

    @cached_property
    def loose_mail(self) -> str:
        """Also the bare words 'at' and 'dot', which only make sense when the address is known; '' without any."""
        text = re.sub(r"\s{1,3}(?:at|arroba)\s{1,3}", "@", self.mail)
        if "@" not in text:
            return ""
        text = re.sub(r"\s{1,3}(?:dot|punto)\s{1,3}", ".", text)
        return re.sub(rf"{_SPACE}([@.]){_SPACE}", r"\1", text)


_BRACKETED: Final = re.compile(rf"[\[({{<]{_SPACE}(?:at|arroba|dot|punto|point){_SPACE}[\])}}>]")
_LIKE_DIGITS = str.maketrans("oil|", "0111")


def _as_digits(found: re.Match[str]) -> str:
    """Letters that look like digits, in a run that has one: 'O77OO'."""
    return found[0].translate(_LIKE_DIGITS)


Look = Callable[[Stripped], bool]


def phone(value: str) -> Look:
    """By the national number, whatever stands before it."""
    digits = re.sub(r"[^0-9]", "", plain(value))
    wanted = digits.lstrip("0")
    if value.strip().startswith(("+", "00")):
        try:
            number = phonenumbers.parse("+" + digits.removeprefix("00"), None)
            wanted = phonenumbers.national_significant_number(number)
        except phonenumbers.NumberParseException:
            wanted = digits
    if len(wanted) < _SHORTEST_PHONE:
        return lambda text: False
    return lambda text: any(wanted in run for run in text.digit_runs)


def code(value: str) -> Look:
    """A plate, card, file or lot number between word ends; short bare numbers only behind what they are."""
    wanted = re.sub(r"[\W_]+", "", plain(value).lower())
    if len(wanted) < 2:
        return lambda text: False
    if wanted.isdigit() and len(wanted) < 5:
        announced = re.compile(rf"(?<![a-z]){_ANNOUNCED}[\s.:#]{{0,3}}{wanted}(?![0-9])")
        return lambda text: announced.search(text.lower) is not None
    return lambda text: _stands(wanted, text)


def email(value: str) -> Look:
    """The whole address, with a tag or dots left out; its own local part as a handle."""
    local, _, domain = plain(value).lower().strip().rpartition("@")
    base = local.partition("+")[0]
    letters = re.sub(r"[\W_]+", "", base)
    pattern = re.compile(
        r"[._-]?".join(map(re.escape, letters)) + r"(?:\+[^\s@]*)?@" + re.escape(domain) + r"(?![\w-])"
    )
    as_handle = handle(base) if len(letters) > 5 and base not in _SHARED_LOCAL_PARTS else None
    return lambda text: (
        pattern.search(text.loose_mail) is not None
        or (as_handle is not None and as_handle(text))
    )


def handle(value: str) -> Look:
    """Its letters and digits between word ends, whatever separators stand within."""
    wanted = re.sub(r"[\W_]+", "", plain(value).lower())
    if len(wanted) < 4:
        sign = f"@{wanted}"
        return lambda text: re.search(rf"{re.escape(sign)}(?![^\W_])", text.lower) is not None
    return lambda text: _stands(wanted, text)


def url(value: str) -> Look:
    """Host and path without scheme, www and signs; the last step of the path as a handle."""
    bare = re.sub(r"^[a-z][a-z0-9+.-]*:", "", plain(value).lower().strip()).strip("/")
    bare = bare.removeprefix("www.")
    wanted = re.sub(r"[\W_]+", "", bare)
    step = re.sub(r"[\W_]+", "", bare.rpartition("/")[2]) if "/" in bare else ""
    as_handle = handle(step) if len(step) > 4 else None
    return lambda text: (
        (len(wanted) > 3 and wanted in text.compact) or (as_handle is not None and as_handle(text))
    )


def file_name(value: str) -> Look:
    """With its suffix; without it 'week-3' would be one."""
    name = plain(value.rpartition("/")[2]).lower()
    pattern = re.compile(rf"(?<![\w.-]){re.escape(name)}(?![\w-])")
    return lambda text: "." in name and name in text.lower and pattern.search(text.lower) is not None


def place(value: str) -> Iterator[tuple[str, Look]]:
    """The telling words of an address or town, and of each part between its commas: each with its words."""
    lower = plain(value).lower()
    for part in dict.fromkeys([lower, *_parts(lower)]):
        words = [word for word in re.findall(r"[^\W_]+", part) if word not in _NUMBER_SIGNS]
        telling = [word for word in words if word not in _ROOTS] or words
        is_number = len(telling) == 1 and telling[0].isdigit()
        if len("".join(telling)) >= (5 if is_number else 4):
            yield " ".join(telling), _row_of(telling)


def is_a_word_too(words: str) -> bool:
    """Whether a town's name is also an ordinary word: 'Reading', 'Bath'."""
    return words in NAMES_THAT_ARE_WORDS


def _parts(address: str) -> Iterator[str]:
    for part in re.split(r"[,;\n]", address):
        yield part
        yield from re.findall(r"(?<![^\W_])[0-9]{4,}(?![^\W_])", part)
        yield re.sub(r"(?<![^\W_])[0-9]{4,}(?![^\W_])", " ", part)


def _row_of(words: list[str]) -> Look:
    skipped = "|".join(sorted({*_ROOTS, *_NUMBER_SIGNS}))
    between = rf" (?:(?:{skipped})(?: |(?=[0-9])))*"
    row = between.join(map(re.escape, words))
    if len(words) > 1 and words[-1].isdigit():
        # The house number first needs the street's kind: '14, rue Mayor'.
        row += rf"|{words[-1]} (?:{'|'.join(sorted(_ROOTS))}) {between.join(map(re.escape, words[:-1]))}"
    pattern = re.compile(rf" (?:{row})s? ")
    return lambda text: words[0] in text.lower and pattern.search(text.joined_words) is not None


def _stands(wanted: str, text: Stripped) -> bool:
    """Whether the letters and digits stand in a row that begins and ends where words do."""
    at = text.compact.find(wanted)
    while at >= 0:
        if at in text.word_starts and at + len(wanted) in text.word_starts:
            return True
        at = text.compact.find(wanted, at + 1)
    return False


# ---------------------------------------------------------------- nobody declared it, and it is somebody's

_MAIL: Final = re.compile(r"[\w.+%-]+@(?:[\w-]+\.)+([a-z]{2,})(?![\w-])")
_ISO_DAY: Final = re.compile(r"(?<![0-9])[0-9]{4}-[0-9]{2}-[0-9]{2}(?![0-9])")
_CARD: Final = re.compile(r"(?<![0-9])[0-9](?:[ -]?[0-9]){14,15}(?![0-9])")
_ACCOUNT: Final = re.compile(r"(?<![a-z0-9])(?=([a-z]{2}[0-9]{2}(?:[ -]?[a-z0-9]){11,30}))")
_NATIONAL: Final = re.compile(r"(?<![a-z0-9])([xyz][0-9]{7}|[0-9]{8})[ -]?([a-z])(?![a-z0-9])")
_NATIONAL_DOTS: Final = re.compile(r"(?<![0-9.])([0-9]{1,2})\.([0-9]{3})\.(?=[0-9]{3}[ -]?[a-z](?![a-z0-9]))")
_SOCIAL: Final = re.compile(
    r"(?<![0-9-])(?:[1-578][0-9]{2}|0[1-9][0-9]|00[1-9]|6(?!66)[0-9]{2})-[0-9]{2}-[0-9]{4}(?![0-9-])"
)
_HOST_NUMBER: Final = re.compile(r"(?<![0-9.])(?:[0-9]{1,3}\.){3}[0-9]{1,3}(?![0-9.])")
_PHONE: Final = re.compile(r"\+[0-9](?:[ ().-]{0,2}[0-9]){7,14}(?![0-9])")
_HOUSE: Final = re.compile(r"(?<![\w.])-?[0-9]{1,2}\.[0-9]{4,}[,;]? ?-?[0-9]{1,3}\.[0-9]{4,}(?![\w.])")
_ARC: Final = r"[0-9]{1,3}[° ]{1,2}[0-9]{1,2}(?:\.[0-9]{2,}|['′ ]{1,2}[0-9]{1,2}(?:\.[0-9]+)?)"
_DECIMAL: Final = r"-?[0-9]{1,3}\.[0-9]{4,}"
_HOUSES: Final = tuple(
    re.compile(pattern)
    for pattern in (
        rf"(?<![\w.]){_ARC}['′\"″]{{0,2}} ?[ns][,; ]{{0,2}}{_ARC}['′\"″]{{0,2}} ?[ewo](?![\w.])",
        rf"(?<![\w.]){_DECIMAL}°? ?[ns][,; ]{{0,2}}{_DECIMAL}°? ?[ewo](?![\w.])",
        rf"(?<![a-z])(?:lat(?:itude)?|[ns])[ :=.]{{0,2}}{_DECIMAL}[°,; ]{{1,3}}"
        rf"(?:lon(?:g(?:itude)?)?|[ewo])[ :=.]{{0,2}}{_DECIMAL}",
        r"(?<![a-z0-9])[23456789cfghjmpqrvwx]{8}\+[23456789cfghjmpqrvwx]{2,3}(?![a-z0-9])",
        r"(?<![\w/])///[a-z]{3,20}\.[a-z]{3,20}\.[a-z]{3,20}(?![\w.])",
    )
)
"""Degrees and minutes, decimals with their points of the compass, open location codes, three words."""
_AGE: Final = re.compile(
    r"(?<![0-9])(?:9[0-9]|1[01][0-9])[ -](?:years?[ -]old|years of age|yo\b|anos|ans)"
    r"|\bs?he is (?:9[0-9]|1[01][0-9])(?![0-9+]| ?[%a-z°])"
    r"|ninety(?:-[a-z]{3,5})?[ -](?:years?[ -]old|years of age|year-old)|aged? (?:9[0-9]|1[01][0-9])(?![0-9+])"
)


def anybodys(text: Stripped) -> Iterator[str]:
    """What is somebody's by its shape or its check digits, each kind once."""
    lower = text.lower
    if "@" in text.mail and any(domain != "invalid" for domain in _MAIL.findall(text.mail)):
        yield "an e-mail address"
    if "+" in lower and any(_is_phone(found[0]) for found in _PHONE.finditer(lower)):
        yield "a telephone number"
    # A row of days is no card; days are looked for by themselves.
    if any(_luhn(found[0]) for found in _CARD.finditer(_ISO_DAY.sub("|", lower))):
        yield "a payment card's number"
    if any(_iban(found[1]) for found in _ACCOUNT.finditer(lower)):
        yield "a bank account's number"
    closed = _NATIONAL_DOTS.sub(r"\1\2", lower)
    if any("trwagmyfpdxbnjzsqvhlcke"[_national(a) % 23] == b for a, b in _NATIONAL.findall(closed)):
        yield "an identity number"
    if _SOCIAL.search(lower):
        yield "a social security number"
    if any(all(int(n) < 256 for n in found[0].split(".")) for found in _HOST_NUMBER.finditer(lower)):
        yield "an internet address"
    if _HOUSE.search(lower) or any(pattern.search(lower) for pattern in _HOUSES):
        yield "coordinates of a house"
    if _AGE.search(lower):
        yield "an age of 90 or more"


def _is_phone(written: str) -> bool:
    try:
        return phonenumbers.is_possible_number(phonenumbers.parse(written, None))
    except phonenumbers.NumberParseException:
        return False


def _luhn(written: str) -> bool:
    digits = [int(c) for c in reversed(written) if c.isdigit()]
    total = sum(d if i % 2 == 0 else d * 2 - 9 * (d > 4) for i, d in enumerate(digits))
    return total % 10 == 0 and len(set(digits)) > 1


def _iban(written: str) -> bool:
    """Whether a beginning of these groups is an account: the last words may not belong to it."""
    groups = re.split(r"[ -]", written)
    return any(_leaves_one("".join(groups[:count])) for count in range(1, len(groups) + 1))


def _leaves_one(account: str) -> bool:
    rest = 0
    for character in account[4:] + account[:4]:
        value = int(character, 36)
        rest = (rest * (100 if value > 9 else 10) + value) % 97
    return 15 <= len(account) <= 34 and rest == 1


def _national(written: str) -> int:
    return int(written.translate(str.maketrans("xyz", "012")))
