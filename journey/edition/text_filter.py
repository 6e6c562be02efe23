"""Replaces in free text what identifies someone, by a neutral word or a week.

It decides which forms are looked for of which kind of identifier (`FORMS`), what stands instead, and when a
person must decide: a name that is also a word ('Rose', 'Reading') is left alone only in a sentence that was
allowed with a reason. Whether the text may be shown at all is the edition's rule; whether anything slipped
through is looked at again, by other means, in `journey.audit`.

A filter cannot make free text anonymous. What a reader could guess from the story itself stays.
"""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import astuple, dataclass, replace
from datetime import date
from functools import partial
from itertools import accumulate
from typing import Final

from journey.cache import NOT_KEPT, Shelf
from journey.edition.address_forms import (
    any_email_sightings,
    coordinate_sightings,
    email_sightings,
    file_name_sightings,
    handle_sightings,
    street_sightings,
    url_sightings,
)
from journey.edition.date_forms import date_sightings
from journey.edition.name_forms import NameForms, Sighting, house_forms, person_forms
from journey.edition.number_forms import (
    checked_number_sightings,
    code_sightings,
    foreign_phone_sightings,
    phone_sightings,
    said_phone_sightings,
)
from journey.edition.other_signs import stretches
from journey.edition.text_forms import FoldedText, readings
from journey.errors import JourneyError
from journey.identifiers import Identifier, IdentifierKind

Kind = IdentifierKind
Look = Callable[[FoldedText], Iterator[Sighting]]


def _person(name: str) -> Look:
    return person_forms(name).sightings


def _house(name: str) -> Look:
    forms: NameForms = house_forms(name)
    return forms.sightings


def _day(iso: str) -> Look:
    return partial(date_sightings, date.fromisoformat(iso))


def _phone(value: str, text: FoldedText) -> Iterator[Sighting]:
    yield from phone_sightings(value, text)
    yield from said_phone_sightings(value, text)


FORMS: Final[Mapping[Kind, Callable[[str], Look]]] = {
    Kind.CLIENT: _person,
    Kind.NICKNAME: _person,
    Kind.RELATIVE: _person,
    Kind.OTHER_CLIENT: _person,
    Kind.STYLIST: _person,
    Kind.WORKPLACE: _house,
    Kind.SALON: _house,
    Kind.PLACE: lambda value: partial(street_sightings, value),
    Kind.PHONE: lambda value: partial(_phone, value),
    Kind.EMAIL: lambda value: partial(email_sightings, value),
    Kind.HANDLE: lambda value: partial(handle_sightings, value),
    Kind.URL: lambda value: partial(url_sightings, value),
    Kind.BIRTHDAY: _day,
    Kind.DATE: _day,
    Kind.PLATE: lambda value: partial(code_sightings, value),
    Kind.NUMBER: lambda value: partial(code_sightings, value),
    Kind.NUMBER_OF_LOT: lambda value: partial(code_sightings, value),
    Kind.TRAIT: _house,
    Kind.FILE_NAME: lambda value: partial(file_name_sightings, value),
}
"""How each kind is looked for."""

ANYBODYS: Final[tuple[tuple[Kind, Look], ...]] = (
    (Kind.EMAIL, any_email_sightings),
    (Kind.PHONE, foreign_phone_sightings),
    (Kind.NUMBER, checked_number_sightings),
    (Kind.PLACE, coordinate_sightings),
)
"""What is replaced though nobody declared it: it is somebody's by its shape."""

_GREAT_AGE: Final = re.compile(
    r"\b(?:9[0-9]|1[01][0-9])(?=[ -](?:years?[ -]old|years of age|year[ -]olds?|yo\b|años\b|ans\b|anys\b))"
    r"|(?<=\bshe is )(?:9[0-9]|1[01][0-9])\b(?!\+| ?[%°a-z])|(?<=\bhe is )(?:9[0-9]|1[01][0-9])\b(?!\+| ?[%°a-z])"
    r"|\bninety(?:-(?:one|two|three|four|five|six|seven|eight|nine))?"
    r"(?=[ -](?:years?[ -]old|years of age|year-olds?))"
    r"|(?<=\baged )(?:9[0-9]|1[01][0-9])\b(?!\+)|(?<=\bage )(?:9[0-9]|1[01][0-9])\b(?!\+)"
)
"""Ages from 90 on are told as 90+ (45 CFR 164.514(b)(2)(i)(C))."""
_SENTENCE_END: Final = re.compile(r"(?<=[.!?…])\s+|\n+")
_OPENING_TAG: Final = re.compile(r"<[A-Za-z][^<>]*>")
_CLOSING_TAG: Final = re.compile(r"</[A-Za-z][^<>]*>")
_KIND_ORDER: Final = {kind: place for place, kind in enumerate(Kind)}


@dataclass(frozen=True, slots=True)
class Withheld:
    """How often something of a kind was replaced."""

    kind: IdentifierKind
    count: int


@dataclass(frozen=True, slots=True)
class CleanText:
    text: str
    withheld: tuple[Withheld, ...]
    """In the order of the kinds."""


@dataclass(frozen=True, slots=True)
class Ambiguity:
    """A sentence in which a word may be a name."""

    sentence: str
    word: str
    kind: IdentifierKind


class AmbiguousTextError(JourneyError):
    """Sentences that a person must decide about: reworded, or allowed as they are with a reason."""

    def __init__(self, ambiguities: Sequence[Ambiguity]) -> None:
        self.ambiguities = tuple(ambiguities)
        lines = (f"{one.word!r} may be a {one.kind}'s name in: {one.sentence}" for one in ambiguities)
        super().__init__(
            "reword these sentences, or allow each with a written reason:\n  " + "\n  ".join(lines)
        )


@dataclass(frozen=True, slots=True)
class _Found:
    start: int
    end: int
    kind: Kind
    instead: str
    is_word_too: bool


class TextFilter:
    """Cleans texts of one client for one audience.

    Args:
        identifiers: what must not appear.
        neutral_words: what stands instead, per kind; a kind without a word raises KeyError when it is met.
        week_of: says a day of the record as a week; without it the neutral word stands.
        allowed_sentences: exact sentence -> why a word in it that could be a name is none.
        shelf: keeps where in a text something was found, so that it is not searched again; no text is kept.

    Raises:
        ValueError: an allowed sentence without a reason; a neutral word that itself identifies.
    """

    def __init__(
        self,
        identifiers: Iterable[Identifier],
        neutral_words: Mapping[IdentifierKind, str],
        week_of: Callable[[date], str] | None = None,
        *,
        allowed_sentences: Mapping[str, str] | None = None,
        shelf: Shelf = NOT_KEPT,
    ) -> None:
        self._neutral_words = neutral_words
        self._week_of = week_of
        ordered = sorted(set(identifiers), key=lambda one: (one.kind, one.value))
        self._looks = tuple((one, FORMS[one.kind](one.value)) for one in ordered)
        self._shelf = shelf
        instead = [(one.kind.name, one.value, self._instead_of(one)) for one in ordered]
        self._sought = repr((instead, [neutral_words.get(kind) for kind, _ in ANYBODYS]))
        self._refuse_telling_words({one.kind for one in ordered})
        self._allowed: frozenset[str] = frozenset()
        self._allowed = self._with_reasons(allowed_sentences or {})

    def clean(self, text: str) -> CleanText:
        """The text with every identifier replaced, and how many there were of each kind.

        Raises:
            AmbiguousTextError: a word may be a name, in a sentence that nobody allowed.
        """
        found = self._found(text)
        doubts = self._doubts(text, found)
        if doubts:
            raise AmbiguousTextError(doubts)
        return self._clean(text, found)

    def ambiguous(self, text: str) -> tuple[Ambiguity, ...]:
        """Sentences with a word that may be a name, allowed ones left out, in the order of the text."""
        return self._doubts(text, self._found(text))

    def _doubts(self, text: str, all_found: Sequence[_Found]) -> tuple[Ambiguity, ...]:
        doubts: dict[Ambiguity, None] = {}
        for found in all_found:
            if found.is_word_too:
                sentence = _sentence_at(text, found.start)
                if sentence not in self._allowed:
                    doubts[Ambiguity(sentence, text[found.start : found.end], found.kind)] = None
        return tuple(doubts)

    def _clean(self, text: str, found: Sequence[_Found]) -> CleanText:
        sure = _joined(text, [one for one in found if not one.is_word_too])
        counts: Counter[Kind] = Counter(found.kind for found in sure)
        text = _replaced(text, sure)
        text, ages = _GREAT_AGE.subn("90+", text)
        counts[Kind.BIRTHDAY] += ages
        withheld = tuple(Withheld(kind, counts[kind]) for kind in Kind if counts[kind])
        return CleanText(text, withheld)

    def _found(self, text: str) -> list[_Found]:
        """What is found, in order, without overlaps; for as long as the same is sought, it is sought once."""

        def seek() -> bytes:
            return json.dumps([astuple(one) for one in self._finds_in(text)]).encode()

        kept = self._shelf.remembered("finds in a text", (text, self._sought), seek)
        return [
            _Found(start, end, Kind(kind), instead, is_word_too)
            for start, end, kind, instead, is_word_too in json.loads(kept)
        ]

    def _finds_in(self, text: str) -> list[_Found]:
        """A sure find wins over a doubtful one."""
        found = [
            _Found(
                *_balanced(text, *folded.source_span(seen.start, seen.end)), kind, instead, seen.is_word_too
            )
            for folded in readings(text)
            for kind, instead, look in self._all_looks()
            for seen in look(folded)
        ]
        found += self._in_other_signs(text)
        sure = _merged([one for one in found if not one.is_word_too])
        doubtful = _merged([one for one in found if one.is_word_too])
        clear = [one for one in doubtful if not any(one.start < s.end and s.start < one.end for s in sure)]
        return sorted([*sure, *clear], key=lambda one: one.start)

    def _in_other_signs(self, text: str) -> Iterator[_Found]:
        """Declared values in base64, Morse and the like: what says one is replaced whole."""
        hidden = stretches(text)
        ends = list(accumulate(len(one.says) + 1 for one in hidden))
        # Read together: most texts have a few chance stretches, and each reading asks every look.
        for folded in readings("\n".join(one.says for one in hidden)) if hidden else ():
            for identifier, look in self._looks:
                for seen in look(folded):
                    if not seen.is_word_too:
                        at, _ = folded.source_span(seen.start, seen.end)
                        one = hidden[bisect_right(ends, at)]
                        yield _Found(one.start, one.end, identifier.kind, self._instead_of(identifier), False)

    def _all_looks(self) -> Iterator[tuple[Kind, str, Look]]:
        for identifier, look in self._looks:
            yield identifier.kind, self._instead_of(identifier), look
        for kind, look in ANYBODYS:
            yield kind, self._neutral_words.get(kind, "…"), look

    def _instead_of(self, identifier: Identifier) -> str:
        if identifier.kind is Kind.DATE and self._week_of is not None:
            return self._week_of(date.fromisoformat(identifier.value))
        return self._neutral_words[identifier.kind]

    def _refuse_telling_words(self, kinds: Iterable[Kind]) -> None:
        def look_at_all() -> bytes:
            for kind in sorted(kinds):
                read = tuple(readings(self._neutral_words[kind]))
                for identifier, look in self._looks:
                    if any(True for folded in read for _ in look(folded)):
                        raise ValueError(f"the neutral word for a {kind} is itself a {identifier.kind}'s name")
            return b"they tell nothing"

        words = [self._neutral_words[kind] for kind in sorted(kinds)]
        self._shelf.remembered("neutral words", (repr(words), self._sought), look_at_all)

    def _with_reasons(self, allowed: Mapping[str, str]) -> frozenset[str]:
        """The allowed sentences, as they are and as they will be after cleaning."""
        for sentence, reason in allowed.items():
            if not reason.strip():
                raise ValueError(f"no reason is given for allowing: {sentence}")
        sentences = [sentence.strip() for sentence in allowed]
        cleaned = (self._clean(sentence, self._found(sentence)).text for sentence in sentences)
        return frozenset([*sentences, *cleaned])


def _balanced(text: str, start: int, end: int) -> tuple[int, int]:
    """Take along the other half of a tag or emphasis mark that a find cuts in two."""
    for mark in ("**", "__", "~~", "*", "`"):
        if text[start:end].replace("**" if mark == "*" else "\0", "").count(mark) % 2:
            if text.endswith(mark, 0, start):
                start -= len(mark)
            elif text.startswith(mark, end):
                end += len(mark)
    opened = len(_OPENING_TAG.findall(text, start, end)) - len(_CLOSING_TAG.findall(text, start, end))
    while opened > 0 and (closing := _CLOSING_TAG.match(text, end)):
        end, opened = closing.end(), opened - 1
    return start, end


def _merged(found: Iterable[_Found]) -> list[_Found]:
    """Overlapping finds become one, named after the longest of them."""
    merged: list[_Found] = []
    longest = 0
    for one in sorted(found, key=_first_come):
        size = one.end - one.start
        if not merged or one.start >= merged[-1].end:
            merged.append(one)
            longest = size
            continue
        last = merged.pop()
        kept = one if size > longest else last
        longest = max(size, longest)
        merged.append(_Found(last.start, max(last.end, one.end), kept.kind, kept.instead, last.is_word_too))
    return merged


def _first_come(one: _Found) -> tuple[int, int, int, str]:
    """Earlier, then longer; of two kinds the one that stands first in `IdentifierKind`."""
    return one.start, one.start - one.end, _KIND_ORDER[one.kind], one.instead


def _joined(text: str, found: Sequence[_Found]) -> list[_Found]:
    """Finds of one meaning with only space between them are one."""
    joined: list[_Found] = []
    for one in found:
        last = joined[-1] if joined else None
        if last and last.instead == one.instead and not text[last.end : one.start].strip(" \u00a0"):
            joined[-1] = replace(last, end=one.end)
        else:
            joined.append(one)
    return joined


def _replaced(text: str, found: Sequence[_Found]) -> str:
    pieces: list[str] = []
    at = 0
    for one in found:
        pieces.append(text[at : one.start])
        pieces.append(_fitted(one.instead, "".join(pieces), text[one.start : one.end]))
        at = one.end
    return "".join([*pieces, text[at:]])


def _fitted(word: str, before: str, written: str) -> str:
    """With a capital where a sentence begins."""
    opening = before.rstrip(" \"'([*_#>-")
    if (not opening or opening[-1] in ".!?\n") and not written[:1].islower():
        return word[:1].upper() + word[1:]
    return word


def _sentence_at(text: str, at: int) -> str:
    start = 0
    for end in _SENTENCE_END.finditer(text):
        if end.start() > at:
            return text[start : end.start()].strip()
        start = end.end()
    return text[start:].strip()
