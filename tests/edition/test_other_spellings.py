"""A declared name is met in the spellings that keyboards, handles and other scripts make of it."""

from __future__ import annotations

import pytest

from journey.audit.canaries import Canaries
from journey.audit.report import audit_text
from journey.edition.text_filter import TextFilter
from journey.identifiers import Identifier, IdentifierKind
from tests.persona import NEUTRAL_WORDS

NAMES = {
    "Jürgen Müller-Großmann": ("Juergen", "Jurgen", "Mueller", "Muller", "MÜLLER", "Grossmann"),
    "Juergen Mueller": ("Jürgen", "Müller", "Muller"),
    "Søren Ångström": ("Soeren", "Soren", "Angstrom", "Aangstroem", "Sören"),
    "Sean O'Brien": ("O’Brien", "OBrien", "O Brien", "obrien", "Seán"),
    "Fiona McDonald": ("Mc Donald", "mcdonald", "McDonald's"),
    "Lucia D'Angelo": ("DAngelo", "D Angelo", "d’angelo"),
    "María de la Cruz": ("delacruz", "De La Cruz", "de-la-Cruz"),
    "Begoña Núñez": ("Begona", "Begonya", "Nunez", "NUÑEZ"),
    "Łukasz Żółć": ("Lukasz", "Zolc"),
    "İpek Işık": ("Ipek", "Isik", "ışık"),
    "Nguyễn Thị Hương": ("Nguyen", "Huong"),
    "Þóra Björk": ("Thora", "Bjork"),
    "Иван Петров": ("Ivan", "Petrov", "ИВАН"),
    "Γιώργος Παππάς": ("Giorgos", "Pappas", "ΠΑΠΠΑΣ"),
    "Ruiz Marx": ("the Ruizes", "the Marxes", "Ruiz's"),
}


@pytest.mark.parametrize("name", NAMES)
def test_usual_spellings_of_a_name_are_met(name: str) -> None:
    """Replaced by the filter, and refused by the audit where they stand in a finished text."""
    declared = [Identifier(IdentifierKind.CLIENT, name)]
    text_filter, canaries = TextFilter(declared, NEUTRAL_WORDS), Canaries(declared)
    for written in NAMES[name]:
        said = f"Today {written} was here."
        clean = text_filter.clean(said)
        assert clean.withheld, written
        assert list(audit_text(said, "txt", canaries)), written
        assert list(audit_text(clean.text, "txt", canaries)) == [], clean.text


def test_a_word_that_only_resembles_a_spelling_is_left_alone() -> None:
    """No hiss, no plural in es; a particle by itself is nobody."""
    declared = [Identifier(IdentifierKind.CLIENT, "Tim de la Cruz")]
    text = "Three times de la mode: the crux, the cruise, la crema."
    assert TextFilter(declared, NEUTRAL_WORDS).clean(text).text == text
    assert list(audit_text(text, "txt", Canaries(declared))) == []
