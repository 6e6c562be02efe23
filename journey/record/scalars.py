"""What one piece of text may say: keys, days, levels, shares, yes and no, notes.

This module decides how each is written. How quantities with a unit are written is left to
`journey.quantities`, and which field holds what to `journey.record.model`.

A refusal is a `ValueError` whose text ends in '; write ...' where something short would help. Refusals of
private fields never quote what was written.
"""

from __future__ import annotations

import re
from datetime import date

from pydantic import ValidationInfo

from journey.quantities import Percent, parse_date
from journey.record.private import Private

KEY_PATTERN = r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$"
NOTE_PATTERN = r"^notes/[a-z0-9][a-z0-9_-]*\.md$"
SHORT_TEXT_LIMIT = 300
MARKDOWN_LIMIT_BYTES = 64 * 1024
"""Past this a Markdown parser can be made to work for seconds by hostile text."""
NOTES_CONTEXT = "notes"
"""Name under which the reader hands over what opens a note; without it 'notes/...' stays as written."""

NUMBER_PATTERN = r"[0-9]{1,9}(?:\.[0-9]{1,9})?"


def as_text(value: object, form: str) -> str:
    """``value`` without outer space; refuses lists, mappings and nothing at all."""
    if not isinstance(value, str):
        raise ValueError(f"a single text is wanted here; write {form}")
    text = value.strip()
    if not text:
        raise ValueError(f"nothing is written here; write {form}")
    return text


def parse_day(value: object) -> date:
    """A day from 1900 to 2099: a mistyped year is caught rather than believed."""
    day = parse_date(as_text(value, "'2026-03-07'"))
    if not 1900 <= day.year <= 2099:
        raise ValueError(f"{value!r} lies in the year {day.year}; write the year with its four digits")
    return day


def parse_key(value: object) -> str:
    """A short word others refer by."""
    form = "a short word in small letters, hyphens between, as in 'root-touch-up'"
    text = as_text(value, form)
    if len(text) > 60 or re.fullmatch(KEY_PATTERN, text) is None:
        raise ValueError(f"{quoted(text)} cannot be a key; write {form}")
    return text


def parse_hex(value: object) -> str:
    """An sRGB colour as '#rrggbb', in small letters."""
    form = "'#e0c48a', in quotes, because # begins a comment"
    text = as_text(value, form)
    if re.fullmatch(r"#[0-9a-fA-F]{6}", text) is None:
        raise ValueError(f"{quoted(text)} is not a colour; write {form}")
    return text.lower()


def parse_number(value: object) -> float:
    """A plain decimal number."""
    text = as_text(value, "a number, as in '12.5'")
    if re.fullmatch(NUMBER_PATTERN, text) is None:
        raise ValueError(f"{quoted(text)} is not a plain number; write it as in '12.5'")
    return float(text)


def parse_level(value: object) -> float:
    """A level of depth from 1 (black) to 10 (lightest blonde), in halves."""
    form = "a level from 1 to 10, as in '7' or '7.5'"
    text = as_text(value, form)
    if re.fullmatch(r"[1-9](\.[05])?|10(\.0)?", text) is None:
        raise ValueError(f"{quoted(text)} is not a level; write {form}")
    return float(text)


def parse_share(value: object) -> float:
    """A share of a whole, 0 to 1."""
    form = "'0.35' or '35 %'"
    text = as_text(value, form)
    if "%" in text:
        return Percent.parse(text).fraction
    if re.fullmatch(NUMBER_PATTERN, text) is None or float(text) > 1:
        raise ValueError(f"{quoted(text)} is not a share from 0 to 1; write {form}")
    return float(text)


def parse_weekly(value: object) -> float:
    """How many times, or hours, in a week."""
    form = "a number from 0 to 100, as in '3' or '2.5'"
    text = as_text(value, form)
    if re.fullmatch(NUMBER_PATTERN, text) is None or float(text) > 100:
        raise ValueError(f"{quoted(text)} is not a number of times a week; write {form}")
    return float(text)


def parse_whole(value: object) -> int:
    """A whole number, without thousands marks."""
    text = as_text(value, "a whole number, as in '3'")
    if re.fullmatch(r"[0-9]{1,6}", text) is None:
        raise ValueError(f"{quoted(text)} is not a whole number; write one as in '3'")
    return int(text)


def parse_truth(value: object) -> bool:
    """Yes or no, in these words."""
    text = as_text(value, "'yes' or 'no'")
    if text not in ("yes", "no"):
        raise ValueError(f"{quoted(text)} is neither yes nor no; write 'yes' or 'no'")
    return text == "yes"


def parse_sha256(value: object) -> str:
    """A SHA-256 in 64 hexadecimal digits, as `sha256sum` prints it."""
    text = as_text(value, "the 64 digits that 'sha256sum' prints")
    if re.fullmatch(r"[0-9a-f]{64}", text) is None:
        raise ValueError(f"{quoted(text)} is not a SHA-256; write the 64 digits that 'sha256sum' prints")
    return text


def parse_short_text(value: object) -> str:
    """One line of at most 300 characters."""
    text = as_text(value, "one line of text")
    if "\n" in text:
        raise ValueError("this text runs over several lines; write one line here")
    if len(text) > SHORT_TEXT_LIMIT:
        raise ValueError(f"this text has {len(text)} characters; write at most {SHORT_TEXT_LIMIT}")
    return text


def parse_note_name(value: object) -> str:
    """The name of a Markdown file under notes/."""
    text = as_text(value, "the name of a note, as in 'notes/goal.md'")
    if re.fullmatch(NOTE_PATTERN, text) is None:
        raise ValueError(f"{quoted(text)} cannot name a note; write it as in 'notes/goal.md'")
    return text


def parse_photo_file(value: object) -> str:
    """The name of a file that lies in photos/; whether it is there is seen later."""
    text = parse_short_text(value)
    if "/" in text or "\\" in text:
        raise ValueError(f"{quoted(text)} names a folder too; write the file's name alone")
    return text


def parse_currency(value: object) -> str:
    """Three capital letters of ISO 4217; whether such a currency exists is not looked up."""
    return _capitals(value, 3, "EUR")


def parse_region(value: object) -> str:
    """Two capital letters of ISO 3166; whether such a country exists is not looked up."""
    return _capitals(value, 2, "ES")


def _capitals(value: object, count: int, example: str) -> str:
    text = as_text(value, f"{count} capital letters, as in '{example}'")
    if re.fullmatch(f"[A-Z]{{{count}}}", text) is None:
        raise ValueError(f"{quoted(text)} is not a code; write {count} capital letters, as in '{example}'")
    return text


def parse_private_text(value: object) -> Private[str]:
    """One line, wrapped at once; no refusal quotes it."""
    return Private(parse_short_text(value))


def parse_private_day(value: object) -> Private[str]:
    """An ISO date, wrapped at once; no refusal quotes it."""
    try:
        return Private(parse_day(value).isoformat())
    except ValueError:
        raise ValueError(
            "this is not a day of the calendar; write year-month-day, as in '1990-01-31'"
        ) from None


def parse_point(value: object) -> tuple[float, float]:
    """Two fractions of a photo's sides, from its top left corner."""
    form = "'x y' in fractions of the photo's sides, as in '0.1 0.85'"
    parts = as_text(value, form).split()
    if len(parts) != 2 or any(
        re.fullmatch(NUMBER_PATTERN, part) is None or float(part) > 1 for part in parts
    ):
        raise ValueError(f"{quoted(str(value))} is not a point on the photo; write {form}")
    return float(parts[0]), float(parts[1])


def read_markdown(value: object, info: ValidationInfo) -> str:
    """Markdown written here, or the text of the note that is named here."""
    text = as_text(value, "a text, or a note as in 'notes/goal.md'")
    open_note = (info.context or {}).get(NOTES_CONTEXT)
    if text.startswith("notes/") and "\n" not in text:
        name = parse_note_name(text)
        text = open_note(name).strip("\n") if open_note is not None else text
    if len(text.encode()) > MARKDOWN_LIMIT_BYTES:
        raise ValueError("this text is longer than 64 KB; write less, or split it")
    return text


def quoted(text: str) -> str:
    """``text`` in quotes, cut short so that one problem stays one readable line."""
    return repr(text if len(text) <= 60 else text[:57] + "...")
