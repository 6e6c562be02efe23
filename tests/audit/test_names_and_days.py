"""Names and days are told from words and numbers that only look like them."""

# ruff: noqa: E501 - lists of examples read best as they are

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from journey.audit.days import Days
from journey.audit.folds import plain, plain_readings, split_humps
from journey.audit.names import Name, PlainText, is_within


def forms(name: str, text: str, *, is_house: bool = False) -> set[str]:
    return {seen.form for seen in Name(name, is_house=is_house).seen_in(PlainText(plain(text)))}


@pytest.mark.parametrize(
    ("written", "read"),
    [("Ánà Ruíz", "Ana Ruiz"), ("Ａｎａ", "Ana"), ("𝐀𝐧𝐚", "Ana"), ("A\u200bn\u00ada\u034f", "Ana"), ("Аnа", "Ana"), ("Łøß", "Loss"),
     ("🅰🅽🅰", "ANA"), ("🇦🇳🇦", "ANA"), ("Ana\u2007Ruiz", "Ana Ruiz"), ("٠٧٧", "077"), ("ſtraße", "strasse"), ("ﬁne", "fine")],
)  # fmt: skip
def test_letters_are_made_plain(written: str, read: str) -> None:
    """Accents, compatibility forms, invisible characters, look-alikes, boxes and flags."""
    assert plain(written) == read


@pytest.mark.parametrize(
    ("written", "read"),
    [("Анна Руис", "Anna Ruis"), ("Фернандес", "Fernandes"), ("Μαρία", "Maria"), ("Жанна", "Zhanna")],
)
def test_other_scripts_are_also_read_by_sound(written: str, read: str) -> None:
    """As the usual transliterations have it (ISO 9 and ISO 843 in simplified form, from memory)."""
    assert read in plain_readings(written)


@pytest.mark.parametrize(
    "text",
    [
        "An analysis of a banana.",
        "ruin, quiz, fern",
        "The 4NA shade, 4na",
        "Ferdinand's",
        "a n d r u i n",
        "RGB, AL. RF.",
        "Zuri nana",
    ],
)
def test_words_that_resemble_a_name_are_none(text: str) -> None:
    """Parts of words, shades, other names, other initials."""
    assert forms("Ana Lucía Ruiz-Fernández", text) == set()


def test_a_house_is_its_telling_words_together() -> None:
    """'Cutting' or 'Room' alone is nothing; a single telling word is."""
    assert forms("The Cutting Room", "cutting the hair in a room", is_house=True) == set()
    assert forms("The Cutting Room", "at Cutting Room", is_house=True)
    assert forms("The Blue Lantern Works", "at Blue Lantern", is_house=True)
    assert forms("The Blue Lantern Works", "blue as a lantern", is_house=True) == set()
    assert forms("Salon Marisma", "marisma", is_house=True)
    assert forms("Salon Marisma", "a salon", is_house=True) == set()


@given(st.text(alphabet="abcd", max_size=7), st.text(alphabet="abcd", max_size=7), st.integers(0, 2))
def test_slips_are_counted_as_the_definition_has_them(word: str, name: str, slips: int) -> None:
    """Against the recurrence of optimal string alignment (Damerau 1964) written out in full."""
    table = {(i, 0): i for i in range(len(word) + 1)} | {(0, j): j for j in range(len(name) + 1)}
    for i in range(1, len(word) + 1):
        for j in range(1, len(name) + 1):
            cost = word[i - 1] != name[j - 1]
            table[i, j] = min(table[i - 1, j] + 1, table[i, j - 1] + 1, table[i - 1, j - 1] + cost)
            if i > 1 and j > 1 and word[i - 2 : i] == name[j - 2 : j][::-1]:
                table[i, j] = min(table[i, j], table[i - 2, j - 2] + 1)
    assert is_within(word, name, slips) == (table[len(word), len(name)] <= slips)


def test_humps_part_words() -> None:
    """A capital inside a run begins a word."""
    assert split_humps("AnaBello anaBello ANA") == "Ana Bello ana Bello ANA"


DAYS = Days([date(1991, 3, 14), date(2024, 9, 3)])


@pytest.mark.parametrize(
    "text",
    ["14/3", "3.9", "14 May", "you march 14 times", "13 March and 14 April 1991", "15/3/91", "14-03/1991", "114/03/1991", "14/03/19911", "3 9 24", "0 3 9 24 60",
     "2024-W37", "2024-246", "march on", "14 mars bars", "3 september 2023", "19910315", "60.14.3.9", "September 2023"],
)  # fmt: skip
def test_other_days_and_numbers_are_none(text: str) -> None:
    """Other days, halves of dates, rows of numbers, mixed signs."""
    assert list(DAYS.seen_in(text, is_prose=True)) == []


@pytest.mark.parametrize("text", ["M14.3.91L3 14 91", "0 0 14 3", "910314", "14/3/91"])
def test_code_is_full_of_small_numbers(text: str) -> None:
    """In code and coordinates only a year of four digits makes a date."""
    assert list(DAYS.seen_in(text, is_prose=False)) == []
    assert list(DAYS.seen_in("p-1991-03-14.jpg", is_prose=False))


@given(
    st.dates(date(2000, 1, 1), date(2049, 12, 31)),
    st.sampled_from(["%d/%m/%y", "%Y-%m-%d", "%d %B %Y", "%B %d", "%d %b %Y", "%Y%m%d", "%G-W%V", "%Y-%j"]),
)
def test_the_c_librarys_forms_of_a_day_are_read(day: date, form: str) -> None:
    """Each way that strftime writes the day is met, for that day."""
    assert {found for _, found in Days([day]).seen_in(day.strftime(form), is_prose=True)} == {day}
