"""What identifies is replaced in every writing; what only looks like it stays; doubts go to a person."""

from __future__ import annotations

import unicodedata
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.edition.text_filter import AmbiguousTextError, TextFilter, Withheld
from journey.identifiers import Identifier, IdentifierKind
from tests.persona import IDENTIFIERS, NEUTRAL_WORDS

Kind = IdentifierKind


def week_of(day: date) -> str:
    return f"week {(day - date(2024, 9, 3)).days // 7}"


FILTER = TextFilter(IDENTIFIERS, NEUTRAL_WORDS, week_of)


def one(kind: Kind, value: str, **how: dict[str, str]) -> TextFilter:
    return TextFilter([Identifier(kind, value)], NEUTRAL_WORDS, **how)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "clean"),
    [
        ("Ana came in, and Ana liked it.", "The client came in, and the client liked it."),
        ("ANA LUCÍA RUIZ-FERNÁNDEZ, ana ruiz, Ruiz-Fernandez, Ana", "The client"),
        ("Ana’s roots, Ana's ends, Anas nape", "The client’s roots, the client's ends, the clients nape"),
        ("It was A. L. Ruiz.", "It was the client."),
        ("Signed A.L.R.F. today", "Signed the client today"),
        ("with Ana R. and A. Ruiz", "with the client and the client"),
        ("An<b>a</b> liked **Ru**iz", "The client liked the client"),
        ("so A\u200bn\u00ada is &#65;n&#x61;", "so the client is the client"),
        ("%41na or Аna, never Ana\u0301", "The client or the client, never the client"),
        ("she is Анна Руис", "she is the client"),
        ("A n a came; R-u-i-z too", "The client came; the client too"),
        ("4na Ru1z and F3rn4ndez", "The client and the client"),
        ("Anna Ruis, later Fernandes", "The client, later the client"),
        ("#AnaRuiz on anaruizfernandez... ana_ruiz_front", "#The client on the client... the client_front"),
        ("so ziuR anA", "so the client"),
        ("Anita's fringe", "The client's fringe"),
        ("her cousin Benedikt", "her cousin a relative"),
        ("at Quimera and the Quimera Dental Clinic", "at her work and her work"),
        ("Solvei B. before her", "Another client before her"),
        ("booked by Philippa", "booked by the stylist"),
        ("Salon Marisma, MARISMA hair", "The salon, the salon"),
        ("in Valdetorno, at C/ Mayor nº14", "in a place, at a place"),
        ("write to Ana.Ruiz91+hair@CORREO.example", "write to an e-mail address"),
        ("ana.ruiz91 [at] correo [dot] example", "an e-mail address"),
        ("someone@elsewhere.example wrote", "an e-mail address wrote"),
        ("on pictures.example/anita.tonos/reels/7", "on a link"),
        ("call 07700 900-123 or +44 (7700) 900123", "call a phone number or a phone number"),
        ("call ٠٧٧٠٠٩٠٠١٢٣", "call a phone number"),
        ("born 14.III.1991", "born her birthday"),
        ("it is the fourteenth of March.", "it is her birthday."),
        ("(07700 900123) or (call +44 7700 900123)", "A phone number or (call a phone number)"),
        ("at Quimera Dental, not at a clinic", "at her work, not at a clinic"),
        ("toned 15/10/24, not on 16/10/24", "toned week 6, not on 16/10/24"),
        ("3 de septiembre de 2024: lightened", "Week 0: lightened"),
        ("her car 4821-kzt", "her car a number plate"),
        ("bowl from lot L24 0917", "bowl from lot a lot"),
        ("see img_7731_ana.JPG", "see a photo"),
        ("card 4111 1111 1111 1111, ES91 2100 0418 4502 0005 1332", "card a number, a number"),
        ("a 93-year-old, aged 93, not 89 years old", "a 90+-year-old, aged 90+, not 89 years old"),
    ],
)  # fmt: skip
def test_what_identifies_is_replaced(text: str, clean: str) -> None:
    """Each form becomes its kind's neutral word, or the week, with a capital where a sentence begins.

    The card is a network's published test number; the account is the example of the ISO 13616 registry.
    """
    assert FILTER.clean(text).text == clean


TRADE_PROSE = (
    "Coral rose to violet in fourteen weeks: a rose gloss over level 8, then 7/1 with 20 vol 1:2 for 35 min.",
    "Take 30 g of 4NA, 4A, 6N or 9.1 and 45 ml at 6 %; the nape stays 2-3 cm. Lab 60.1, -12.3, 14.9.",
    "You may march on; set aside. Root smudge 3 mm, mid-lengths warmer, ends greyer. Week 3, photo week-3.",
    "Porosity is high at the ends: rinse at 30 °C, wait 14 min, and come back 14 days later on a May day.",
    "The banana clip held; a mayor change of hue; the mason jar; analysis of an anagram; ruin, fern, quiz.",
    "Developer 1.9 % against 6 % (20 vol): 60 g + 60 g makes 3.95 %. 0612 is no phone, nor is 12345678.",
)


@pytest.mark.parametrize("text", TRADE_PROSE)
def test_trade_prose_is_left_alone(text: str) -> None:
    """Shades, ratios, times, colours and everyday words that resemble the names stay as written."""
    assert FILTER.clean(text).text == text
    assert FILTER.clean(text).withheld == ()


def test_it_says_how_often_and_of_which_kind() -> None:
    """Counts by kind, in the order of the kinds."""
    clean = FILTER.clean("Call 07700 900123; Ana asked. Ana again, on 3 September 2024.")
    assert clean.withheld == (Withheld(Kind.CLIENT, 2), Withheld(Kind.PHONE, 1), Withheld(Kind.DATE, 1))


def test_two_words_of_a_houses_name_in_a_row_are_enough() -> None:
    """'Blue Lantern' is the Blue Lantern Works; 'blue' or 'lantern' alone is nobody."""
    house = one(Kind.WORKPLACE, "The Blue Lantern Works")
    assert house.clean("at Blue Lantern, blue as a lantern").text == "at her work, blue as a lantern"


def test_without_weeks_a_day_becomes_the_neutral_word() -> None:
    """An edition without week offsets says 'that day'."""
    assert one(Kind.DATE, "2024-09-03").clean("on 3 Sept 2024").text == "on that day"


AMBIGUOUS = "Rose came for a rose gloss. Later Rose's ends were toned by Rose Winterbourne's friend."


def test_a_name_that_is_a_word_needs_a_decision() -> None:
    """Every doubt is raised at once, naming its sentence; a possessive or a full name is no doubt."""
    names = one(Kind.CLIENT, "Rose Winterbourne")
    with pytest.raises(AmbiguousTextError) as caught:
        names.clean(AMBIGUOUS)
    assert [(a.sentence, a.word) for a in caught.value.ambiguities] == [
        ("Rose came for a rose gloss.", "Rose"),
        ("Rose came for a rose gloss.", "rose"),
    ]
    assert "Rose came for a rose gloss." in str(caught.value)
    assert names.clean("Rose Winterbourne, or ROSE W. and Rose's hair").text == (
        "The client, or the client and the client's hair"
    )


def test_an_allowed_sentence_is_left_alone_but_only_as_it_stands() -> None:
    """A reason is demanded; one letter more and it is asked about again; sure finds in it are replaced."""
    sentence = "A rose gloss for Winterbourne."
    names = one(Kind.CLIENT, "Rose Winterbourne", allowed_sentences={sentence: "the colour"})
    assert names.clean(sentence).text == "A rose gloss for the client."
    assert names.clean(names.clean(sentence).text).text == "A rose gloss for the client."
    with pytest.raises(AmbiguousTextError):
        names.clean("A rose gloss for Winterbourne!")
    with pytest.raises(ValueError, match="reason"):
        one(Kind.CLIENT, "Rose Winterbourne", allowed_sentences={sentence: " "})


def test_colour_words_stay_when_nobody_bears_them() -> None:
    """'rose gloss' and 'violet' are nobody's name here, so they are not even asked about."""
    assert FILTER.ambiguous("A rose gloss, violet ends, amber and reading lamps in May.") == ()


@pytest.mark.parametrize(
    ("kind", "value", "text"),
    [
        (Kind.PLACE, "Reading", "The reading was weak."),
        (Kind.NICKNAME, "May", "It may fade."),
        (Kind.SALON, "The Violet Studio", "A violet toner."),
        (Kind.RELATIVE, "Clara Stern", "clara"),
    ],
)
def test_towns_nicknames_and_houses_may_be_words_too(kind: Kind, value: str, text: str) -> None:
    """The same question is asked for every kind that carries a name."""
    assert [a.kind for a in one(kind, value).ambiguous(text)] == [kind]


def test_a_neutral_word_must_not_identify() -> None:
    """'the client' would be no cover for somebody called Client."""
    with pytest.raises(ValueError, match="neutral word"):
        one(Kind.CLIENT, "Maria Client")


def test_a_two_letter_name_is_only_met_with_a_capital() -> None:
    """'Bo' is a person, 'bo' a slip of the pen."""
    names = one(Kind.CLIENT, "Bo Lindqvist")
    assert names.clean("Bo and bo").text == "The client and bo"


# ---------------------------------------------------------------- for any text


def spaced(name: str) -> str:
    return " ".join(name)


def in_entities(name: str) -> str:
    return "".join(f"&#{ord(character)};" for character in name)


def in_percent(name: str) -> str:
    return "".join(f"%{byte:02X}" for byte in name.encode())


def with_soft_hyphens(name: str) -> str:
    return "\u00ad".join(name)


def fullwidth(name: str) -> str:
    return "".join(chr(ord(c) + 0xFEE0) if "!" <= c <= "~" else c for c in name)


def bold(name: str) -> str:
    return "".join(
        chr(0x1D400 + ord(c) - ord("A") - 6 * (c >= "a")) if c.isascii() and c.isalpha() else c for c in name
    )


def cyrillic(name: str) -> str:
    return name.translate(str.maketrans("aeopcxyiAEOPCXKMTBH", "аеорсхуіАЕОРСХКМТВН"))


DISGUISES = (
    str,
    str.upper,
    str.lower,
    str.title,
    lambda name: unicodedata.normalize("NFD", name),
    with_soft_hyphens,
    in_entities,
    in_percent,
    fullwidth,
    bold,
    cyrillic,
    lambda name: "".join(f"<i>{character}</i>" for character in name),
    lambda name: "".join(f"**{character}**" for character in name),
    lambda name: "".join(f"{character}\u0323" for character in name),
)
NAMES = (
    "Ana Lucía Ruiz-Fernández",
    "Ruiz",
    "Fernández",
    "Lucía",
    "Anita",
    "Benedikt",
    "Philippa Okonjo",
    "Marisma",
)
AROUND = st.text(alphabet=st.sampled_from("a z.,é0 9-\n“(aeiou wxyz"), max_size=12)


@given(st.sampled_from(NAMES), st.sampled_from(DISGUISES), AROUND, AROUND)
def test_no_planted_name_survives_a_disguise(name: str, disguise, before: str, after: str) -> None:  # type: ignore[no-untyped-def]
    """Whatever stands around it nothing of the name is left, and cleaning twice changes nothing."""
    planted = disguise(name)
    clean = FILTER.clean(f"{before} {planted} {after}")
    assert planted not in clean.text
    assert clean.withheld
    assert FILTER.clean(clean.text).text == clean.text


@given(
    st.sampled_from(NAMES),
    st.sampled_from(NAMES),
    st.sampled_from(DISGUISES),
    st.sampled_from(["", "-", "_", ", ", " & "]),
)
def test_no_two_names_hide_each_other(first: str, second: str, disguise, between: str) -> None:  # type: ignore[no-untyped-def]
    """Side by side, joined or apart, neither is left."""
    clean = FILTER.clean(f"x {disguise(first)}{between}{disguise(second)} y").text
    assert FILTER.clean(clean).text == clean
    if between:
        assert disguise(first) not in clean
        assert disguise(second) not in clean


@given(
    st.dates(date(2024, 1, 1), date(2025, 12, 31)),
    st.sampled_from(
        [
            "%Y-%m-%d",
            "%d/%m/%y",
            "%d.%m.%Y",
            "%m/%d/%Y",
            "%d %B %Y",
            "%B %d, %Y",
            "%d %b",
            "%Y%m%d",
            "%G-W%V-%u",
            "%Y-%j",
        ]
    ),
)
def test_no_form_of_a_declared_day_is_left(day: date, form: str) -> None:
    """Written by the C library's own formatting."""
    written = day.strftime(form)
    names = TextFilter([Identifier(Kind.DATE, day.isoformat())], NEUTRAL_WORDS, week_of)
    assert names.clean(f"On {written} it was toned.").text == f"On {week_of(day)} it was toned."


@given(
    st.integers(7_000_000_00, 7_999_999_99),
    st.sampled_from(" -./·"),
    st.integers(2, 4),
    st.sampled_from(["", "0", "+44 ", "0044", "+44(0)"]),
)
def test_no_grouping_of_a_declared_phone_is_left(number: int, separator: str, size: int, prefix: str) -> None:
    """National, international, bracketed, in groups of two to four."""
    digits = f"7{number}"
    grouped = separator.join(digits[i : i + size] for i in range(0, len(digits), size))
    names = one(Kind.PHONE, f"+44 {digits}")
    assert names.clean(f"call {prefix}{grouped} soon").text == "call a phone number soon"


@given(st.text(max_size=200))
def test_any_text_is_cleaned_without_error_and_stays_clean(text: str) -> None:
    """No input breaks the filter; what it gives back it would not change again."""
    clean = FILTER.clean(text).text
    assert FILTER.clean(clean).text == clean
