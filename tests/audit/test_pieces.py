"""Long texts are read in pieces: nothing falls between two of them, and an edit changes few."""

from __future__ import annotations

import base64
import codecs
from functools import partial
from pydoc_data.topics import topics

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from journey.audit.canaries import Canaries
from journey.audit.pieces import OVERLAP, pieces
from journey.audit.report import _known_empty, audit_text
from journey.cache import NOT_KEPT
from journey.identifiers import Identifier, IdentifierKind

PROSE = "\n".join(topics.values())[:400_000]
CANARIES = Canaries(
    [Identifier(IdentifierKind.CLIENT, "Maribel Quintanar"), Identifier(IdentifierKind.PHONE, "+34 612 345 677")]
)


def _is_clean(text: str) -> bool:
    """Whether the audit, which reads what is kept piece by piece, reads nothing in it."""
    known_empty = partial(_known_empty, CANARIES, "", NOT_KEPT.remembered)
    return not any(True for _ in audit_text(text, "txt", CANARIES, known_empty))


@given(st.integers(0, 300_000), st.integers(1, OVERLAP))
@settings(max_examples=200)
def test_whatever_fits_into_the_overlap_stands_whole_in_a_piece(at: int, length: int) -> None:
    """Any stretch of a long text, wherever it begins."""
    stretch = PROSE[at : at + length]
    assert any(stretch in piece for piece in pieces(PROSE))


def test_a_piece_is_long_and_all_together_are_the_text() -> None:
    """So that little is read twice; a short text is one piece, and so is a text without any gap to cut at."""
    found = list(pieces(PROSE))
    assert min(map(len, found[:-1])) >= 20_000
    assert sum(map(len, found)) < 1.1 * len(PROSE)
    assert found[0] + "".join(piece[OVERLAP:] for piece in found[1:]) == PROSE
    assert list(pieces("short")) == ["short"]
    solid = "x" * 130_000
    assert "".join([piece[OVERLAP:] if number else piece for number, piece in enumerate(pieces(solid))]) == solid


@given(st.integers(0, 390_000), st.text("abc <>\n", max_size=200))
@settings(max_examples=60)
def test_an_inserted_sentence_changes_few_pieces(at: int, sentence: str) -> None:
    """Wherever it is inserted, most of what was read before need not be read again."""
    known = set(pieces(PROSE))
    edited = PROSE[:at] + sentence + PROSE[at:]
    assert len([piece for piece in pieces(edited) if piece not in known]) <= 4


NAME = "Maribel Quintanar"
PHONE = "612345677"
FORMS = (
    NAME,
    "M.Quintanar",
    "M a r i b e l",
    "".join(f"&#{ord(letter)};" for letter in NAME),
    "".join(f"&#{ord(letter):060};" for letter in NAME),
    "".join(f"&amp;#x{ord(letter):04x};" for letter in NAME),
    "".join(f"%25{ord(letter):02x}" for letter in NAME),
    "".join(f"\\u{ord(letter):04x}" for letter in NAME),
    " ".join(f"U+{ord(letter):04X}" for letter in NAME),
    codecs.encode(NAME, "rot13"),
    "Mari=\nbel Quinta=6Ear",
    base64.b64encode(NAME.encode()).decode(),
    f"/*{'q' * 190}*/".join(PHONE),
)


@pytest.mark.parametrize("form", range(len(FORMS)))
def test_a_form_that_a_cut_goes_through_is_found_piece_by_piece(form: int) -> None:
    """Without a gap to cut at, a text is cut after 60,000 characters: here at each of some places of a form."""
    written = FORMS[form]
    for before in (*range(0, len(written) + 2, 1 + len(written) // 15), min(len(written), OVERLAP + 30)):
        text = "x" * (60_000 - before) + "|" + written + "|" + "x" * 5_000
        assert len(list(pieces(text))) > 1
        assert not _is_clean(text), before


def test_what_is_no_form_of_it_is_clean() -> None:
    """Prose, letters without a gap, and another name in each way of writing."""
    assert _is_clean(PROSE[:125_000])
    assert _is_clean("x" * 65_000)
    other = "".join(f"&#{ord(letter)};" for letter in "corner shop")
    assert _is_clean(f"{PROSE[:61_000]} {other} {PROSE[61_000:70_000]}")
