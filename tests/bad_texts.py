"""Texts made to break or to deceive: YAML that unfolds, hides or stands for something else; Markdown that is no note."""

# ruff: noqa: E501 - a table reads best with a row a line

from __future__ import annotations

from pathlib import Path

from tests.bad_rows import FILE, J, Row, added, raw, swapped

BOMB = "&a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{now}: &{now} [{', '.join(['*' + before] * 9)}]\n"
    for before, now in zip("abcdefgh", "bcdefghi", strict=True)
)
_TITLE = "title: A first rose"


def _hollow(folder: Path) -> None:
    """A file of a gigabyte that takes no place on the disk."""
    with (folder / J).open("wb") as file:
        file.truncate(1 << 30)


TEXT_ROWS = (
    Row("alias bomb", added(J, f"bomb: {BOMB}"), "names a place for aliases", "alias bomb"),
    Row("alias to itself", added(J, "x: &x [*x]\n"), "names a place for aliases", "alias bomb"),
    Row("merge key", added(J, "<<: {title: y}\n"), "merges another mapping", "alias bomb"),
    Row("merge key in quotes", added(J, '"<<": {title: y}\n'), "merges another mapping", "alias bomb"),
    Row("nesting", added(J, "deep: " + "[" * 100_000), "levels deep", "nesting"),
    Row("nesting of mappings", added(J, "deep: " + "{a: " * 50_000), "levels deep", "nesting"),
    Row("nesting by lines", added(J, "deep:\n" + "".join(" " * n + "- \n" for n in range(1, 300))), "levels deep",
        "nesting"),
    Row("equal keys", added("consent.yaml", "\ngrants: []\n"), "is given twice", "equal keys"),
    Row("equal keys written differently", added(J, '"t\\x69tle": y\n'), "is given twice", "equal keys"),
    Row("key that looks equal", added(J, "t\u0456tle: y\n"), "is not known here", "equal keys"),
    Row("list for a key", added(J, "? [a, b]\n: c\n"), "where a key belongs", "equal keys"),
    Row("ten megabytes", added(J, "x: [" + "a," * 5_000_000 + "]"), "larger than", "ten megabytes", True),
    Row("too many entries", added(J, "x: [" + "a," * 30_000 + "]"), "entries", "ten megabytes"),
    Row("a gigabyte that is not there", _hollow, "larger than", "ten megabytes", True),
    Row("text of five megabytes", raw("notes/goal.md", b"a* " * 1_700_000), "larger than", "Markdown that is slow"),
    Row("text just too long", swapped(J, "goal: notes/goal.md", "goal: " + "a* " * 22_000), "longer than 64 KB",
        "Markdown that is slow"),
    Row("raw NUL", added(J, "x: a\0b\n"), "U+0000", "characters that hide"),
    Row("escaped NUL", added(J, 'x: "a\\0b"\n'), "U+0000", "characters that hide"),
    Row("direction override", added(J, "x: a\u202eb\n"), "U+202E", "characters that hide"),
    Row("direction override, escaped", swapped(J, _TITLE, 'title: "a\\u202eb"'), "U+202E", "characters that hide"),
    Row("isolate", swapped(J, _TITLE, "title: a\u2067b"), "U+2067", "characters that hide"),
    Row("zero width", swapped(J, _TITLE, "title: a\u200bb"), "U+200B", "characters that hide"),
    Row("tags of language", swapped(J, _TITLE, "title: a\U000e0041b"), "U+E0041", "characters that hide"),
    Row("escape sequence of a terminal", swapped(J, _TITLE, 'title: "\\e[2Ja"'), "U+001B", "characters that hide"),
    Row("backspace", swapped(J, _TITLE, 'title: "a\\bb"'), "U+0008", "characters that hide"),
    Row("half of a pair", added(J, "x: \ud83d\n"), "not UTF-8", "characters that hide"),
    Row("half of a pair, escaped", swapped(J, _TITLE, 'title: "\\ud83d"'), "journey.yaml", "characters that hide"),
    Row("hidden character in a note", raw("notes/goal.md", "To shine\u202e.\n".encode()), "U+202E",
        "characters that hide"),
    Row("hidden character in a key", added(J, '"a\\u202eb": x\n'), "U+202E", "characters that hide"),
    Row("terminal's escape in a key", added("consent.yaml", '"\\e[2J":\n  a: "\\b"\n'), "U+001B", "characters that hide"),
    Row("line break in a key", added("consent.yaml", '"a\\nb":\n  a: "\\b"\n'), "'a\\nb'", "characters that hide"),
    Row("UTF-16", raw(J, "title: x\n".encode("utf-16")), "not UTF-8", "another coding"),
    Row("UTF-16 without a mark", raw(J, "title: x\n".encode("utf-16-le")), "U+0000", "another coding"),
    Row("UTF-32", raw(J, "title: x\n".encode("utf-32")), "not UTF-8", "another coding"),
    Row("UTF-7", added(J, "x: +ADw-script+AD4-\n"), "is not known here", "another coding"),
    Row("Latin-1", raw("notes/goal.md", b"caf\xe9"), "not UTF-8", "another coding"),
    Row("overlong coding", raw("notes/goal.md", b"a\xc0\xafb"), "not UTF-8", "another coding"),
    Row("two documents", added(J, "---\nx: 1\n"), "second document", "two documents"),
    Row("end of a document, and more", added(J, "...\n---\ntitle: y\n"), "second document", "two documents"),
    Row("directive", raw(J, b"%YAML 1.1\n---\ntitle: x\n"), "changes how YAML is read", "two documents"),
    Row("200,000 digits", added(J, "x: " + "9" * 200_000 + "\n"), "is not known here", "numbers that are none"),
    Row("200,000 digits for a number", swapped(J, "washes_a_week: 3", "washes_a_week: " + "9" * 200_000),
        "is not a", "numbers that are none"),
    Row("not a number", swapped(J, "washes_a_week: 3", "washes_a_week: .nan"), "is not a", "numbers that are none"),
    Row("endless", swapped(J, "grams: 40 g", "grams: inf g"), "inf g", "numbers that are none"),
    Row("exponent", swapped(J, "grams: 40 g", "grams: 1e400 g"), "1e400", "numbers that are none"),
    Row("minus", swapped(J, "time: 40 min", "time: -40 min"), "-40 min", "numbers that are none"),
    Row("digits of another script", swapped(J, "time: 40 min", "time: ٤٠ min"), "journey.yaml:",
        "numbers that are none"),
    Row("a year that is far", swapped(J, "date: 2026-03-07", "date: 9999-12-31"), "journey.yaml:",
        "numbers that are none"),
    Row("octal", swapped(J, "washes_a_week: 3", "washes_a_week: 0o17"), "is not a", "numbers that are none"),
    Row("minutes by sixties", swapped(J, "time: 40 min", "time: 12:34"), "12:34", "numbers that are none"),
    Row("bare word for a day", swapped(J, "date: 20", "date: off # 20"), "is not a date", "words for other types"),
    Row("bare yes for a text", swapped(J, "heat: none", "heat: [yes]"), "journey.yaml:", "words for other types"),
    Row("object of Python", added(J, "x: !!python/object/apply:os.system ['touch /tmp/owned']\n"), "the tag", "tags"),
    Row("object of Python, long", added(J, "x: !<tag:yaml.org,2002:python/object/new:os.system> [id]\n"), "the tag",
        "tags"),
    Row("binary", swapped(J, _TITLE, "title: !!binary PHNjcmlwdD4="), "the tag", "tags"),
    Row("tag on a file name", swapped(J, FILE, "file: !!str back-1.jpg"), "the tag", "tags"),
    Row("a note that names a note outside", swapped(J, "goal: notes/goal.md", "goal: notes/../../secret.md"),
        "cannot name a note", "names that climb"),
    Row("wording that names a note outside", swapped("consent.yaml", "note: notes/consent-client.md",
        "note: /etc/passwd"), "consent.yaml:", "names that climb"),
    Row("tab set in", added(J, "\tx: 1\n"), "journey.yaml:", "broken YAML"),
    Row("quote left open", added(J, 'x: "a\n'), "journey.yaml:", "broken YAML"),
    Row("nothing", raw(J, b""), "journey.yaml", "broken YAML"),
    Row("only a text", raw(J, b"rose\n"), "journey.yaml", "broken YAML"),
    Row("bytes at random", raw(J, bytes(range(256)) * 40), "not UTF-8", "broken YAML"),
)  # fmt: skip
