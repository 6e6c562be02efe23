"""A name that is also a word stops an edition until somebody has decided about the sentence."""

from __future__ import annotations

from dataclasses import replace

import pytest

from journey.audit.canaries import Canaries
from journey.audit.views import View
from journey.edition.identifiers import must_not_appear
from journey.edition.text_filter import AmbiguousTextError
from journey.pipeline import Studied, prepare
from journey.record.model import Audience
from journey.site.theme import load_theme
from tests.demo import TODAY, studied_demo


def _without_decisions() -> Studied:
    studied = studied_demo()
    undecided = studied.record.journey.model_copy(update={"allowed_sentences": ()})
    return replace(studied, record=studied.record.model_copy(update={"journey": undecided}))


def test_a_sentence_with_a_name_that_is_a_word_is_refused_until_it_is_allowed() -> None:
    """Ginger is somebody near her and a colour: the sentence is told word for word, and no edition is made."""
    sentence = studied_demo().record.journey.allowed_sentences[0].sentence
    with pytest.raises(AmbiguousTextError) as refused:
        prepare(_without_decisions(), Audience.CLASS, today=TODAY, theme=load_theme(), to_look_only=True)
    assert [one.sentence for one in refused.value.ambiguities] == [sentence]
    assert "allow each with a written reason" in str(refused.value)


def test_an_allowed_sentence_is_published_as_it_stands_and_its_reason_is_not() -> None:
    """The class reads the sentence; why it was allowed, and by whom, stays in the folder."""
    studied = studied_demo()
    allowed = studied.record.journey.allowed_sentences[0]
    edition = prepare(studied, Audience.CLASS, today=TODAY, theme=load_theme(), to_look_only=True)
    said = repr(edition)
    assert allowed.sentence in said
    assert allowed.because not in said


@pytest.mark.parametrize(
    ("text", "hits"),
    [
        ("Ginger was the first thing the remover gave back", 0),
        ("Ginger came along and waited", 1),
        ("Ginger was the first thing the remover gave back. Then Ginger paid", 1),
    ],
)
def test_the_audit_excuses_the_allowed_sentence_and_nothing_else(text: str, hits: int) -> None:
    """The same word in any other sentence still stops publication."""
    record = studied_demo().record
    canaries = Canaries(
        must_not_appear(record, Audience.CLASS), ["Ginger was the first thing the remover gave back"]
    )
    assert len(list(canaries.hits(View("text", text)))) == hits
