"""Which declared identifiers can be read in a view of a finished file.

It decides what is looked for of each kind and how a find is told without repeating it. Making the views is
left to `views`, what becomes of a find to `report`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from journey.audit import codes
from journey.audit.codes import Look, Stripped
from journey.audit.days import Days
from journey.audit.folds import plain, plain_readings
from journey.audit.names import Name, PlainText, Seen
from journey.audit.views import View
from journey.identifiers import Identifier, IdentifierKind

Kind = IdentifierKind

_PERSONS: Final = (Kind.CLIENT, Kind.NICKNAME, Kind.RELATIVE, Kind.OTHER_CLIENT, Kind.STYLIST)
_HOUSES: Final = (Kind.WORKPLACE, Kind.SALON, Kind.TRAIT)
_DAYS: Final = (Kind.BIRTHDAY, Kind.DATE)
_BY_CODE: Final = {
    Kind.PHONE: codes.phone,
    Kind.EMAIL: codes.email,
    Kind.HANDLE: codes.handle,
    Kind.URL: codes.url,
    Kind.PLATE: codes.code,
    Kind.NUMBER: codes.code,
    Kind.NUMBER_OF_LOT: codes.code,
    Kind.FILE_NAME: codes.file_name,
}
_ALSO_BACKWARDS: Final = (Kind.PHONE, Kind.EMAIL, Kind.HANDLE, Kind.URL)


@dataclass(frozen=True, slots=True)
class Hit:
    """One identifier read in one view."""

    kind: str
    form: str
    excerpt: str
    """Told without repeating it: first character and length."""


def redacted(value: str) -> str:
    """Enough to recognise a value one knows, too little to learn one.

    >>> redacted("Aurelia Winterbourne")
    'A… (20 characters)'
    """
    return f"{value[:1]}… ({len(value)} characters)"


class Canaries:
    """Everything that must not appear, ready to be looked for.

    Args:
        identifiers: the declared values.
        allowed_phrases: exact phrases in which a word that may be a name is none. They excuse doubtful words
            and values that nobody declared, never a declared value.
    """

    def __init__(self, identifiers: Sequence[Identifier], allowed_phrases: Sequence[str] = ()) -> None:
        ordered = sorted(set(identifiers), key=lambda one: (one.kind, one.value))
        self._names = [
            (one, Name(one.value, is_house=one.kind in _HOUSES))
            for one in ordered
            if one.kind in _PERSONS or one.kind in _HOUSES
        ]
        self._looks: list[tuple[Identifier, Look]] = [
            (one, _BY_CODE[one.kind](one.value)) for one in ordered if one.kind in _BY_CODE
        ]
        self._places = [
            (one, words, look)
            for one in ordered
            if one.kind is Kind.PLACE
            for words, look in codes.place(one.value)
        ]
        by_day = {date.fromisoformat(one.value): one for one in reversed(ordered) if one.kind in _DAYS}
        self._by_day = by_day
        self._days = Days(by_day)
        self._allowed = [
            re.compile(r"\s+".join(map(re.escape, plain(phrase).split())), re.IGNORECASE)
            for phrase in sorted(allowed_phrases, key=lambda phrase: (-len(phrase), phrase))
            if phrase.strip()
        ]

    def hits(self, view: View) -> Iterator[Hit]:
        """What can be read in a view, each form of each identifier once."""
        seen: set[Hit] = set()
        for text in plain_readings(view.text):
            for hit in (
                *self._name_hits(text, view.is_prose),
                *self._day_hits(text, view.is_prose),
                *self._code_hits(text, view.is_prose),
            ):
                if hit not in seen:
                    seen.add(hit)
                    yield hit

    def _name_hits(self, text: str, is_prose: bool) -> Iterator[Hit]:
        shapes = PlainText(text)
        excused: PlainText | None = None
        for identifier, name in self._names:
            for seen in name.seen_in(shapes):
                if seen.is_doubtful:
                    if not is_prose:
                        continue
                    excused = excused or PlainText(self._without_allowed(text))
                    if not _still_there(seen, excused):
                        continue
                yield Hit(identifier.kind, seen.form, redacted(identifier.value))

    def _day_hits(self, text: str, is_prose: bool) -> Iterator[Hit]:
        for form, day in self._days.seen_in(text, is_prose=is_prose):
            identifier = self._by_day[day]
            yield Hit(identifier.kind, form, redacted(identifier.value))

    def _code_hits(self, text: str, is_prose: bool) -> Iterator[Hit]:
        stripped, backwards = Stripped(text), Stripped(text[::-1])
        for identifier, look in self._looks:
            if look(stripped):
                yield Hit(identifier.kind, "without its separators", redacted(identifier.value))
            elif identifier.kind in _ALSO_BACKWARDS and look(backwards):
                yield Hit(identifier.kind, "backwards", redacted(identifier.value))
        yield from self._place_hits(text, stripped, is_prose)
        if is_prose:
            for what in codes.anybodys(Stripped(self._without_allowed(text))):
                yield Hit("nobody's in particular", what, "not declared, known by its shape")

    def _place_hits(self, text: str, stripped: Stripped, is_prose: bool) -> Iterator[Hit]:
        excused: Stripped | None = None
        for identifier, words, look in self._places:
            if not look(stripped):
                continue
            if codes.is_a_word_too(words):
                capital = re.search(
                    rf"\b{words.capitalize()}|\b{words.upper()}\b", self._without_allowed(text)
                )
                excused = excused or Stripped(self._without_allowed(text))
                if not (is_prose and capital and look(excused)):
                    continue
            yield Hit(identifier.kind, "as a row of words", redacted(identifier.value))

    def _without_allowed(self, text: str) -> str:
        for phrase in self._allowed:
            text = phrase.sub(" ", text)
        return text


def _still_there(seen: Seen, excused: PlainText) -> bool:
    """Whether the doubtful word also stands outside every allowed phrase, with a capital."""
    return any(word.lower() == seen.word for word in excused.capitalised)
