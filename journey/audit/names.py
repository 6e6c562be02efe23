"""Looks for the name of a person or a house in a text whose letters are plain.

It decides by comparing words: each word of the text against the words of the name, then runs of letters,
then words that are a slip away. Names that are also ordinary words count only where a capital or a neighbour
makes them a name, and are then reported as doubtful.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise, permutations
from typing import Final

from journey.audit.folds import plain, plain_readings, split_humps
from journey.names_that_are_words import NAMES_THAT_ARE_WORDS

_SMALL_WORDS: Final = frozenset(
    """
    a al and at bin by co da das de del den der di do dos du e el for i in inc la las le les lo los ltd mc mr
    mrs ms of on sa san santa sl st ten ter the to van von y zu
    """.split()  # noqa: SIM905
)
_HOUSE_KINDS: Final = frozenset(
    """
    academy bakery bank bar barber barbers beauty cafe center centre clinic clinica colegio college
    company dental despacho farmacia firm group hair hairdressers hairdressing hospital hotel institute
    libreria office oficina panaderia peluqueria practice restaurant restaurante salon school shop
    studio taller team tienda
    """.split()  # noqa: SIM905
)
_CODE_WORDS: Final = frozenset(
    """
    alt art aria bold clip code col data del dir em fill flex font form gap grid head href hue id img ins key
    lab lang lime link main map mark mask max media min name nav none page path pre print ray rel rem root row
    rx ry sans src stroke sub sup svg tab tan text title top use val var view will
    """.split()  # noqa: SIM905
)
"""Words of HTML, CSS and SVG that could be a name."""
_DIGITS_FOR_LETTERS: Final = {
    "0": "o", "1": "il", "!": "il", "|": "il", "3": "e", "4": "a", "@": "a", "5": "s", "$": "s", "7": "t",
    "+": "t", "8": "b", "6": "g", "9": "g", "2": "z",
}  # fmt: skip
_ALIKE: Final = str.maketrans({"l": "i", **{sign: letters[0] for sign, letters in _DIGITS_FOR_LETTERS.items()}})
"""Digits and signs as the first letter they stand for; i and l stand for the same ones."""
_NO_LETTERS: Final = "0123456789@$!|+"
"""With letters they make up `PlainText.mixed_words`."""
_SPELT_OUT: Final = {
    "ä": "ae", "ö": "oe", "ü": "ue", "ø": "oe", "å": "aa", "æ": "ae", "þ": "th", "ð": "dh", "ñ": "ny",
}  # fmt: skip
_JOINED_ON: Final = ("mc", "de la", "de los", "de las", "de", "del", "da", "la", "los", "van", "von")
_SHORTEST_RUN: Final = 7
"""Letters of a run-together name that may stand anywhere, even inside other letters."""


@dataclass(frozen=True, slots=True)
class Seen:
    """That a name was seen, and how."""

    form: str
    is_doubtful: bool = False
    """It may be an ordinary word."""
    word: str = ""


class PlainText:
    """One text in the shapes the comparisons need, each made once."""

    def __init__(self, text: str) -> None:
        self.cased = text

    @cached_property
    def lower(self) -> str:
        return self.cased.lower()

    @cached_property
    def words(self) -> list[str]:
        """In order, with their capitals; runs like 'AnaBello' are split."""
        return re.findall(r"[^\W\d_]+", split_humps(self.cased))

    @cached_property
    def lower_words(self) -> list[str]:
        return [word.lower() for word in self.words]

    @cached_property
    def lower_set(self) -> frozenset[str]:
        """Also without a final s."""
        found = set(self.lower_words)
        singular = {word[:-1] for word in found if len(word) > 3 and word.endswith("s")}
        hissing = {word[:-2] for word in found if len(word) > 4 and re.search("[sxz]es$", word)}
        return frozenset(found | singular | hissing)

    @cached_property
    def lower_runs(self) -> list[str]:
        """In order, without capitals; none is split."""
        return re.findall(r"[^\W\d_]+", self.lower)

    @cached_property
    def unsplit_words(self) -> frozenset[str]:
        return frozenset(self.lower_runs)

    @cached_property
    def cased_words(self) -> frozenset[str]:
        return frozenset(re.findall(r"[^\W\d_]+", self.cased))

    @cached_property
    def neighbours(self) -> frozenset[tuple[str, str]]:
        """Pairs of words that follow each other, over name particles."""
        telling = [word for word in self.lower_words if word not in _SMALL_WORDS]
        stripped = [word[:-1] if len(word) > 3 and word.endswith("s") else word for word in telling]
        return frozenset([*pairwise(telling), *pairwise(stripped)])

    @cached_property
    def letters(self) -> str:
        return "".join(self.lower_runs)

    @cached_property
    def word_bounds(self) -> frozenset[int]:
        """Where in `letters` a word begins, or the last one ends."""
        at, bounds = 0, [0]
        for word in self.lower_runs:
            at += len(word)
            bounds.append(at)
        return frozenset(bounds)

    @cached_property
    def spaced_runs(self) -> list[str]:
        runs = re.findall(r"(?<![^\W\d_])[^\W\d_](?:[\W_]{1,4}[^\W\d_](?![^\W\d_])){2,}", self.lower)
        return [re.sub(r"[\W_]+", "", run) for run in runs]

    @cached_property
    def mixed_words(self) -> list[str]:
        """Words as runs of letters, digits and the signs that stand for letters."""
        return re.findall(r"(?:[^\W\d_]|[0-9@$!|+])+", self.lower)

    @cached_property
    def disguised(self) -> dict[str, list[int]]:
        """Those of `mixed_words` that hold both letters and something else, with the places where each stands."""
        found: dict[str, list[int]] = {}
        for i, word in enumerate(self.mixed_words):
            if not word.isalpha() and word.strip(_NO_LETTERS):
                found.setdefault(word, []).append(i)
        return found

    @cached_property
    def disguised_alike(self) -> dict[str, list[str]]:
        """Words of `disguised` by what they are with all that look alike written as one letter."""
        found: dict[str, list[str]] = {}
        alike = "\n".join(self.disguised).translate(_ALIKE).split("\n")
        for word, one in zip(self.disguised, alike, strict=False):
            found.setdefault(one, []).append(word)
        return found

    @cached_property
    def dotted(self) -> frozenset[str]:
        """Letters with a point behind them."""
        return frozenset(re.findall(r"[^\W\d_](?=\.)", self.cased))

    @cached_property
    def capitalised_low(self) -> list[str]:
        """Words with a capital, in small letters, each once and in order."""
        return sorted({word.lower() for word in self.capitalised})

    @cached_property
    def capitalised(self) -> frozenset[str]:
        return frozenset(word for word in self.words if word[0].isupper())

    @cached_property
    def capitalised_pairs(self) -> frozenset[tuple[str, str]]:
        return frozenset((a, b) for a, b in pairwise(self.words) if a[0].isupper() and b[0].isupper())


class Name:
    """One declared name of a person, or of a house when `is_house`."""

    def __init__(self, value: str, *, is_house: bool = False) -> None:
        dropped = _SMALL_WORDS | (_HOUSE_KINDS if is_house else frozenset())
        words = [word for word in re.findall(r"[^\W\d_]+", plain(value).lower()) if len(word) > 1]
        self.parts = tuple(dict.fromkeys(word for word in words if word not in dropped)) or tuple(words)
        # Each word gives a person away; a house only all of them.
        self.telling = frozenset(self.parts if not is_house or len(self.parts) == 1 else ())
        if not is_house:
            self.telling |= {word for word in _written_otherwise(value) if word not in dropped}
        self.is_house = is_house
        self._disguises = {part: re.compile(_disguise(part)) for part in self._distinct(3)}
        runs = {"".join(pair) for pair in permutations(self.parts, 2)}
        whole = ["".join(words), "".join(self.parts), "".join(reversed(self.parts))]
        self._runs = sorted(run for run in runs | set(whole) if len(run) >= _SHORTEST_RUN)
        if is_house:
            self._runs = sorted({run for run in whole if len(run) >= _SHORTEST_RUN})

    def seen_in(self, text: PlainText) -> Iterator[Seen]:
        """Each form once; doubtful only if nothing sure was seen."""
        sure = list(self._sure(text))
        yield from sure
        if not sure:
            yield from self._doubtful(text)

    def _sure(self, text: PlainText) -> Iterator[Seen]:
        for part in sorted(self.telling & (text.lower_set | text.unsplit_words)):
            if self._is_sure_alone(part, text):
                yield Seen("as a word")
                break
        rows = pairwise(self.parts) if self.is_house else permutations(self.parts, 2)
        if any(row in text.neighbours for row in rows):
            yield Seen("side by side")
        if any(run in text.letters for run in self._runs):
            yield Seen("run together")
        if any(run[::-1] in text.letters for run in self._runs) or self._is_backwards(text):
            yield Seen("backwards")
        if any(part in run for run in text.spaced_runs for part in self._distinct(3)):
            yield Seen("letter by letter")
        elif any(_stands(part, text) for part in self._distinct(6)):
            yield Seen("in syllables")
        if self._with_digits(text):
            yield Seen("with digits for letters")
        if self._by_initials(text):
            yield Seen("by initials")
        if self._slips(text, shortest=8, slips=2) or self._pair_slips(text):
            yield Seen("misspelt")

    def _doubtful(self, text: PlainText) -> Iterator[Seen]:
        for part in sorted(self.telling & (NAMES_THAT_ARE_WORDS | _CODE_WORDS)):
            if part.capitalize() in text.capitalised or part.upper() in text.capitalised:
                yield Seen("as a word that may be a name", is_doubtful=True, word=part)
        for word in self._slips(text, shortest=6, slips=1):
            yield Seen("as a word that may be the name misspelt", is_doubtful=True, word=word)

    def _is_sure_alone(self, part: str, text: PlainText) -> bool:
        if part in NAMES_THAT_ARE_WORDS or part in _CODE_WORDS:
            return False
        return len(part) > 2 or part.capitalize() in text.capitalised

    def _distinct(self, shortest: int) -> list[str]:
        return [part for part in self.telling if len(part) >= shortest and part not in NAMES_THAT_ARE_WORDS]

    def _is_backwards(self, text: PlainText) -> bool:
        # From seven letters on: 'animal' is not Lamina backwards, but 'animaL' is.
        if any(part[::-1] in text.unsplit_words for part in self._distinct(7) if part != part[::-1]):
            return True
        return any(part.capitalize()[::-1] in text.cased_words for part in self._distinct(4))

    def _with_digits(self, text: PlainText) -> bool:
        wanted = self._disguises
        for part, look in wanted.items():
            for word in text.disguised_alike.get(part.translate(_ALIKE), ()):
                if look.fullmatch(word) is None:
                    continue
                # A three-letter name may be a shade: '4na' needs another part beside it.
                near = (j for i in text.disguised[word] for j in (i - 1, i + 1))
                beside = {text.mixed_words[j] for j in near if 0 <= j < len(text.mixed_words)}
                if len(part) > 3 or any(look.fullmatch(word) for look in wanted.values() for word in beside):
                    return True
        return False

    def _by_initials(self, text: PlainText) -> bool:
        if self.is_house or len(self.parts) < 2:
            return False
        first = [part[0].upper() for part in self.parts]
        if len(first) < 4 and text.dotted.isdisjoint(first):
            return False
        dotted = r"\.[ -]?".join(first) + r"\."
        family = "|".join(re.escape(part) for part in self._distinct(3)) or r"(?!)"
        some = f"[{''.join(first)}]"
        patterns = [rf"(?<!\w){dotted}(?!\w)", rf"(?<!\w)(?:{some}\. ?){{1,6}}(?i:{family})(?!\w)"]
        if len(first) > 3:
            patterns.append(rf"(?<!\w){'[ -]?'.join(first)}(?!\w)")
        return any(re.search(pattern, text.cased) for pattern in patterns)

    def _slips(self, text: PlainText, *, shortest: int, slips: int) -> list[str]:
        """Words with a capital that are nearly a part of the name."""
        long = self._distinct(shortest)
        return [
            low
            for low in text.capitalised_low
            if low not in NAMES_THAT_ARE_WORDS and low not in self.telling
            for part in long
            if low[0] == part[0] and low != part + "s" and is_within(low, part, slips)
        ]

    def _pair_slips(self, text: PlainText) -> bool:
        return not self.is_house and any(
            is_within(a.lower(), one, 1) and is_within(b.lower(), other, 1)
            for a, b in text.capitalised_pairs
            for one, other in permutations(self.parts, 2)
        )


def _written_otherwise(value: str) -> Iterator[str]:
    """Words of a name with its letters spelt out, its gaps closed, or in Latin letters by their sound."""
    whole = unicodedata.normalize("NFC", value).lower()
    spelt = "".join(_SPELT_OUT.get(letter, letter) for letter in whole)
    closed = re.sub(rf"(?<=\w)['’ʼ](?=\w)|(?<=\b[odm]) (?=\w)|(?<=\b(?:{_JOINED_ON[0]})) ", "", whole)
    closed_too = re.sub(rf"\b({'|'.join(_JOINED_ON)}) (?=\w)", lambda found: found[1].replace(" ", ""), whole)
    for text in (spelt, closed, closed_too, *plain_readings(value)[1:]):
        yield from (word for word in re.findall(r"[^\W\d_]+", plain(text).lower()) if len(word) > 1)


def _stands(part: str, text: PlainText) -> bool:
    """Whether the letters stand in a row that begins and ends where words do."""
    at = text.letters.find(part)
    while at >= 0:
        if at in text.word_bounds and at + len(part) in text.word_bounds:
            return True
        at = text.letters.find(part, at + 1)
    return False


def is_within(word: str, name: str, slips: int) -> bool:
    """Whether so many insertions, losses, changes or swaps of neighbours turn one into the other."""
    if abs(len(word) - len(name)) > slips:
        return False
    shared = 0
    while shared < min(len(word), len(name)) and word[shared] == name[shared]:
        shared += 1
    word, name = word[shared:], name[shared:]
    if not word or not name or not slips:
        return len(word) + len(name) <= slips
    return (
        is_within(word[1:], name, slips - 1)
        or is_within(word, name[1:], slips - 1)
        or is_within(word[1:], name[1:], slips - 1)
        or (word[:2] == name[1::-1] and is_within(word[2:], name[2:], slips - 1))
    )


def _disguise(part: str) -> str:
    """A pattern for the name with any of its letters written as a digit that looks like it."""
    instead: dict[str, str] = {}
    for digit, letters in _DIGITS_FOR_LETTERS.items():
        for letter in letters:
            instead[letter] = instead.get(letter, "") + digit
    return "".join(f"[{letter}{re.escape(instead.get(letter, ''))}]" for letter in part)
