"""Every way a person's or a house's name may stand in a text.

It decides what counts as that name: whole or in part, in any order, with initials, spaced, run together,
disguised with digits, misspelt. Accents, case and look-alikes are already gone (`text_forms`). Names that are
also words are told apart here and left to a person.
"""

from __future__ import annotations

import codecs
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from journey.edition.spellings import other_spellings
from journey.edition.text_forms import FoldedText, fold_value
from journey.names_that_are_words import NAMES_THAT_ARE_WORDS

_PARTICLES: Final = frozenset(
    """
    al bin da das de del den der di do dos du e el ibn la las le les los mc of san santa st ten ter van ver
    von y zu
    """.split()  # noqa: SIM905
)
"""What may stand between the parts of a person's name."""
_JOINING_WORDS: Final = frozenset({"and", "at", "by", "for", "in", "on", "the", "to", "y", "i"})
_TITLES: Final = frozenset({"mr", "mrs", "ms", "miss", "dr", "sr", "sra", "srta", "don", "dona", "mum"})
_HOUSE_WORDS: Final = frozenset(
    """
    academy bakery bank bar barber barbers barbershop beauty cafe center centre clinic clinica co
    coiffure colegio college company dental despacho estilistas farmacia firm group hair hairdressers
    hairdressing hospital hotel inc institute libreria llc ltd office oficina panaderia peluqueria
    practice restaurant restaurante sa salon school shop sl studio stylists taller team tienda
    """.split()  # noqa: SIM905
)
_LONG: Final = 7
_FARTHEST: Final = 40
"""How far back initials, or the end of the sentence before, are looked for."""
_BETWEEN: Final = r"[\W_]{0,3}"
_LEET: Final = str.maketrans("4@3€1!|l05$7+869", "aaeeiiiiosstt" + "bgg")
_LEET_WORD: Final = re.compile(r"[a-z0-9@$!|+€]{3,}")
_SPACED: Final = re.compile(r"(?<![^\W\d_])(?:[^\W\d_][\W_]{1,3}){2,}[^\W\d_](?![^\W\d_])")
_WORD: Final = re.compile(r"[^\W\d_]{2,}")


@dataclass(frozen=True, slots=True)
class Sighting:
    """A stretch of the folded text that is, or may be, an identifier."""

    start: int
    end: int
    is_word_too: bool = False
    """The name is also an ordinary word and nothing beside it tells which is meant."""


@dataclass(frozen=True, slots=True)
class NameForms:
    """What to look for of one name."""

    parts: tuple[str, ...]
    """Its words, folded, without particles and titles."""
    alone: frozenset[str]
    """Those that give the name away by themselves."""
    is_house: bool = False

    def sightings(self, text: FoldedText) -> Iterator[Sighting]:
        if not self.parts:
            return
        yield from self._together(text)
        yield from self._alone(text)
        yield from self._backwards(text)
        yield from self._initials(text)
        yield from self._spaced(text)
        yield from self._in_syllables(text)
        yield from self._with_digits(text)
        yield from self._misspelt(text)

    def _together(self, text: FoldedText) -> Iterator[Sighting]:
        """A person's parts side by side in any order, run together or not, also backwards; a house's name."""
        if self.is_house:
            pattern = _house_pattern(self.parts)
        elif len(self.parts) > 1:
            pattern = _person_pattern(self.parts)
        else:
            return
        for found in pattern.finditer(text.lower):
            if text.begins_word(found.start()) and text.ends_word(found.end()):
                yield Sighting(found.start(), found.end(), self._is_a_lone_word(found.group()))

    def _is_a_lone_word(self, written: str) -> bool:
        return len(self.parts) == 1 and written in NAMES_THAT_ARE_WORDS

    def _alone(self, text: FoldedText) -> Iterator[Sighting]:
        for part in sorted(self.alone):
            for start in _places(part, text.lower):
                end = start + len(part)
                if not (text.begins_word(start) and text.ends_word(end)):
                    continue
                if len(part) < 3 and not text.cased[start].isupper():
                    continue
                start, end, has_initial = self._with_initials(text, start, end)
                sure = has_initial or _is_possessive(text, start, end)
                yield Sighting(start, end, part in NAMES_THAT_ARE_WORDS and not sure)

    def _backwards(self, text: FoldedText) -> Iterator[Sighting]:
        """A long part backwards, or thirteen letters further, as a word; 'animal' is not a short Lamina."""
        for part in sorted(self.alone):
            if len(part) < _LONG or part == part[::-1]:
                continue
            for found in re.finditer(rf"(?<![^\W\d_]){part[::-1]}(?![^\W\d_])", text.lower):
                yield Sighting(found.start(), found.end())
        for part in sorted(self.alone - NAMES_THAT_ARE_WORDS):
            if len(part) >= _LONG:
                turned = codecs.encode(part, "rot13")
                for found in re.finditer(rf"(?<![^\W\d_]){turned}(?![^\W\d_])", text.lower):
                    yield Sighting(found.start(), found.end())
            # A short one is told by its capital at the end: 'atinA'.
            if len(part) >= 4:
                turned = rf"(?<![^\W\d_]){part.capitalize()[::-1]}(?![^\W\d_])"
                for found in re.finditer(turned, text.cased):
                    yield Sighting(found.start(), found.end())

    def _with_initials(self, text: FoldedText, start: int, end: int) -> tuple[int, int, bool]:
        """Widen a part by its owner's initials: 'A. L. Bello', 'Ana B.'."""
        initials = "".join({part[0] for part in self.parts})
        near = max(0, start - _FARTHEST)
        before = re.search(rf"(?<![^\W\d_])(?:[{initials}]\.?[\W_]{{0,2}})+$", text.lower[near:start])
        if before and _all_capitals(text.cased[near + before.start() : start]) and len(self.parts) > 1:
            return near + before.start(), end, True
        after = re.match(rf"[ \u00a0,]{{1,2}}[{initials}](?:\.|(?![^\W_]))", text.lower[end:])
        if after and _all_capitals(text.cased[end : end + after.end()]) and len(self.parts) > 1:
            return start, end + after.end(), True
        return start, end, False

    def _initials(self, text: FoldedText) -> Iterator[Sighting]:
        """'A.B.', 'A. L. B.', 'ALBC', 'A L-B-C': with dots from two on, without from four on."""
        letters = [re.escape(part[0]) for part in self.parts]
        if not self.alone or len(letters) < 2:
            return
        dotted = r"\.[ \-]?".join(letters) + r"\."
        forms = [dotted] if len(letters) < 4 else [dotted, "[ -]?".join(letters)]
        for found in re.finditer(rf"(?<![^\W_])(?:{'|'.join(forms)})(?![^\W_])", text.lower):
            if _all_capitals(text.cased[found.start() : found.end()]):
                yield Sighting(found.start(), found.end())

    def _spaced(self, text: FoldedText) -> Iterator[Sighting]:
        """Letters set apart: 'A n a', 'B-e-l-l-o'."""
        for run in _SPACED.finditer(text.lower):
            at = [i for i in range(run.start(), run.end()) if text.lower[i].isalpha()]
            joined = "".join(text.lower[i] for i in at)
            for name in self._run_together():
                for place in _places(name, joined):
                    yield Sighting(at[place], at[place + len(name) - 1] + 1)

    def _in_syllables(self, text: FoldedText) -> Iterator[Sighting]:
        """A long part with signs between its letters: 'Win-ter-bourne', or broken at a line's end."""
        for part in sorted(self.alone - NAMES_THAT_ARE_WORDS):
            if len(part) >= 6:
                for found in _syllables(part).finditer(text.lower):
                    yield Sighting(found.start(), found.end())

    def _with_digits(self, text: FoldedText) -> Iterator[Sighting]:
        """Digits for letters: 'B3ll0'. Three-letter names only beside another part: '4na' is a shade too."""
        names = {_canonical(name): len(name) for name in self._run_together()}
        short = {_canonical(part) for part in self.alone if len(part) == 3}
        words = list(_LEET_WORD.finditer(text.lower))
        disguised = [_is_disguised(word.group()) for word in words]
        known = [_canonical(word.group()) in names for word in words]
        for i, word in enumerate(words):
            if not (known[i] and disguised[i]):
                continue
            beside = any(0 <= j < len(words) and known[j] for j in (i - 1, i + 1))
            if _canonical(word.group()) in short and not beside:
                continue
            yield Sighting(word.start(), word.end())

    def _misspelt(self, text: FoldedText) -> Iterator[Sighting]:
        """By optimal string alignment: two slips in a long part, one each in two neighbouring parts."""
        if not self.alone:
            return
        words = list(_WORD.finditer(text.lower))
        for i, word in enumerate(words):
            capital = text.cased[word.start()].isupper()
            named = capital and not _begins_sentence(text.lower, word.start())
            if any(_is_slip(word.group(), part, named) for part in self.alone):
                yield Sighting(word.start(), word.end())
            if i + 1 == len(words) or not capital:
                continue
            following = words[i + 1]
            near = following.start() - word.end() <= 3 and text.cased[following.start()].isupper()
            if near and self._are_both_slips(word.group(), following.group()):
                yield Sighting(word.start(), following.end())

    def _are_both_slips(self, first: str, second: str) -> bool:
        return any(
            one != other and _near(first, one, 1) and _near(second, other, 1)
            for one in self.parts
            for other in self.parts
        )

    def _run_together(self) -> tuple[str, ...]:
        """The parts that give the name away, and neighbouring parts as one word in either order."""
        pairs = [a + b for a in self.parts for b in self.parts if a != b]
        whole = ["".join(self.parts), "".join(reversed(self.parts))]
        plain = [part for part in self.alone if len(part) >= 3 and part not in NAMES_THAT_ARE_WORDS]
        return tuple(sorted({*plain, *pairs, *whole} - {""}))


def person_forms(name: str) -> NameForms:
    """What to look for of a person: each part of the name gives it away."""
    dropped = _PARTICLES | _TITLES
    parts = _parts(name, dropped)
    others = {part for spelling in other_spellings(name) for part in _parts(spelling, dropped)}
    return NameForms(parts, frozenset(part for part in {*parts, *others} if len(part) > 1))


def house_forms(name: str) -> NameForms:
    """What to look for of a salon or workplace: its telling words together, or one if there is only one."""
    parts = _parts(name, _PARTICLES | _JOINING_WORDS | _HOUSE_WORDS)
    if not parts:
        return NameForms(_parts(name, frozenset()), frozenset(), is_house=True)
    return NameForms(parts, frozenset(parts) if len(parts) == 1 else frozenset(), is_house=True)


def _parts(name: str, dropped: frozenset[str]) -> tuple[str, ...]:
    words = [word for word in re.split(r"[\W_]+", re.sub(r"'s?\b", "", fold_value(name))) if word]
    return tuple(dict.fromkeys(word for word in words if word not in dropped))


@lru_cache(maxsize=512)
def _person_pattern(parts: tuple[str, ...]) -> re.Pattern[str]:
    longest_first = sorted(parts, key=lambda part: (-len(part), part))
    one = "(?:" + "|".join(map(re.escape, longest_first)) + ")"
    initial = "[" + "".join(sorted({re.escape(part[0]) for part in parts})) + "]"
    particles = "|".join(sorted(_PARTICLES))
    between = rf"{_BETWEEN}(?:(?:{particles})\b{_BETWEEN}|{initial}\.{_BETWEEN})*"
    backwards = "(?:" + "|".join(re.escape(part[::-1]) for part in longest_first) + ")"
    return re.compile(rf"{one}(?:{between}{one})+|{backwards}(?:{_BETWEEN}{backwards})+")


@lru_cache(maxsize=512)
def _house_pattern(parts: tuple[str, ...]) -> re.Pattern[str]:
    """Its telling words in order, with or without the common ones before, between and behind."""
    common = "|".join(sorted(_HOUSE_WORDS | _PARTICLES | _JOINING_WORDS))
    between = rf"(?:'s)?{_BETWEEN}(?:(?:{common})\b{_BETWEEN})*"
    before = rf"(?:\bthe )?(?:\b(?:{'|'.join(sorted(_HOUSE_WORDS))})\b{_BETWEEN}(?:(?:de|of)\b{_BETWEEN})?)?"
    behind = rf"(?:[\W_]{{1,3}}(?:{'|'.join(sorted(_HOUSE_WORDS))})\b)*"
    return re.compile(
        f"{before}(?:{'|'.join(between.join(map(re.escape, row)) for row in _rows(parts))}){behind}"
    )


def _rows(parts: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    """A house's telling words in a row, the longest first; two are enough to know it by."""
    for length in range(len(parts), min(2, len(parts)) - 1, -1):
        for first in range(len(parts) - length + 1):
            yield parts[first : first + length]


@lru_cache(maxsize=512)
def _syllables(part: str) -> re.Pattern[str]:
    loose = r"[\W_]{0,3}".join(map(re.escape, part))
    return re.compile(rf"(?<![^\W\d_]){loose}(?![^\W\d_])")


def _places(part: str, text: str) -> Iterator[int]:
    at = text.find(part)
    while at >= 0:
        yield at
        at = text.find(part, at + 1)


def _is_possessive(text: FoldedText, start: int, end: int) -> bool:
    return text.cased[start].isupper() and text.lower[end : end + 2] == "'s"


def _all_capitals(cased: str) -> bool:
    letters = [character for character in cased if character.isalpha()]
    return bool(letters) and all(character.isupper() for character in letters)


def _begins_sentence(text: str, at: int) -> bool:
    before = text[max(0, at - _FARTHEST) : at].rstrip(" \"'(")
    return not before or before[-1] in ".!?:\n"


def _canonical(word: str) -> str:
    return word.translate(_LEET)


def _is_disguised(word: str) -> bool:
    letters = sum(character.isalpha() for character in word)
    return 2 <= letters < len(word)


def _is_slip(word: str, part: str, named: bool) -> bool:
    """`named`: written with a capital that no sentence asks for."""
    if part in NAMES_THAT_ARE_WORDS or word in NAMES_THAT_ARE_WORDS or word[0] != part[0]:
        return False
    if len(part) >= 8:
        return _near(word, part, 2 if named else 1)
    return named and len(part) >= 6 and _near(word, part, 1)


@lru_cache(maxsize=8192)
def _near(word: str, part: str, slips: int) -> bool:
    """Whether at most so many letters are wrong, missing, added or swapped with a neighbour.

    Optimal string alignment distance (Damerau 1964, Levenshtein 1966; each stretch edited once).
    """
    if abs(len(word) - len(part)) > slips:
        return False
    before: list[int] = []
    row = list(range(len(part) + 1))
    for i, letter in enumerate(word, 1):
        before, last, row = row, before, [i]
        for j, wanted in enumerate(part, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != wanted))
            if last and j > 1 and letter == part[j - 2] and word[i - 2] == wanted:
                cost = min(cost, last[j - 2] + 1)
            row.append(cost)
        if min(row) > slips and min(before) >= slips:
            return False
    return row[-1] <= slips
