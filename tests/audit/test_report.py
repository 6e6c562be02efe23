"""A finished site is looked through byte by byte: what must not leave is found, and nothing else is said."""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterable
from pathlib import Path
from pydoc_data.topics import topics

import pytest

from journey.audit.canaries import Canaries
from journey.audit.report import AuditReport, audit_site, audit_text
from journey.audit.views import deciphered, views_of
from journey.cache import Remembered
from journey.edition.text_filter import TextFilter
from journey.identifiers import Identifier, IdentifierKind
from journey.site.publish import FIXED_TIME, settle
from tests.canaries import (
    CANARIES,
    EVERYTHING,
    OUT_OF_REACH,
    Canary,
    clean_site,
    make_site,
    page,
    picture,
    write,
)
from tests.persona import IDENTIFIERS, NEUTRAL_WORDS

Kind = IdentifierKind


def audited(
    folder: Path, identifiers: tuple[Identifier, ...] = EVERYTHING, allowed_phrases: tuple[str, ...] = ()
) -> AuditReport:
    return audit_site(folder, identifiers=identifiers, allowed_phrases=allowed_phrases, fixed_time=FIXED_TIME)


def test_a_clean_site_has_no_findings(tmp_path: Path) -> None:
    """The site that each canary is planted in says nothing by itself."""
    clean_site(tmp_path)
    settle(tmp_path)
    report = audited(tmp_path)
    assert report.findings == ()
    assert report.is_clean
    assert report.files == 6


def test_the_table_is_whole() -> None:
    """110 forms; 106 are planted, and the four that only a person can see are named."""
    numbers = [canary.number for canary in CANARIES]
    assert sorted([*numbers, *OUT_OF_REACH]) == list(range(1, 111))
    assert len(numbers) >= 100


@pytest.mark.parametrize(
    "canary", CANARIES, ids=lambda canary: f"{canary.number}-{canary.what.replace(' ', '_')}"
)
def test_every_canary_is_found(canary: Canary, tmp_path: Path) -> None:
    """By the kind it is, in a report that does not repeat it.

    Left out: 97 to 100, what is printed or mirrored inside a photo, as no text is read from pixels.
    """
    make_site(tmp_path, canary)
    report = audited(tmp_path)
    assert {finding.kind for finding in report.findings} & set(canary.kinds), report.findings
    said = "\n".join(map(str, report.findings)).lower()
    for secret in ("ruiz", "fern", "anita", "7700", "1991", "benedikt", "quimera", "solvei", "kzt"):
        assert secret not in said


@pytest.mark.parametrize(
    "canary",
    [canary for canary in CANARIES if canary.typed],
    ids=lambda canary: f"{canary.number}-{canary.what.replace(' ', '_')}",
)
def test_what_can_be_typed_is_gone_after_the_filter(canary: Canary, tmp_path: Path) -> None:
    """The filter's output holds nothing that the audit, made apart from it, can find."""
    assert canary.typed is not None
    clean = TextFilter(EVERYTHING, NEUTRAL_WORDS).clean(canary.typed)
    assert clean.withheld
    clean_site(tmp_path)
    write(tmp_path, "index.html", page(f"<p>{clean.text}</p>"))
    settle(tmp_path)
    assert audited(tmp_path).findings == ()


def neutral_prose() -> str:
    """A little over 100,000 words about nobody: the language's own help, licences where the system has them,
    and docstrings of the standard library until there are enough."""
    texts = [*topics.values()]
    texts += [path.read_text() for path in sorted(Path("/usr/share/common-licenses").glob("GPL-[23]"))]
    words = sum(len(text.split()) for text in texts)
    for path in sorted(Path(ast.__file__).parent.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
                texts.append(ast.get_docstring(node) or "")
                words += len(texts[-1].split())
        if words > 101_000:
            break
    return "\n\n".join(texts)


def test_neutral_prose_raises_no_alarm() -> None:
    """100,000 words of technical and legal English: no declared value is seen in any view of them."""
    prose = neutral_prose()
    assert len(prose.split()) > 100_000
    canaries = Canaries(IDENTIFIERS)
    hits = {(hit.kind, hit.form) for _, hit in audit_text(prose, "txt", canaries)}
    # The texts' own authors' addresses are rightly told apart from declared values.
    assert {hit for hit in hits if not hit[0].startswith("nobody")} == set()


TRADE_PAGE = page(
    "<p>Rose gloss over violet at level 8, 7/1 with 20 vol 1:2 for 35 min; 6N, 4NA, 9.1 at 30 g. It may fade "
    "by week 14. A reading of 60.1, 44.2, 24.0 and ruin, quiz, banana, anagram, mayor.</p>"
    '<svg viewBox="0 0 24 24"><path d="M14 3 91 14.3.91 3 14 91"/></svg>'
)


def test_trade_words_and_drawings_raise_no_alarm(tmp_path: Path) -> None:
    """Shades, ratios, colour names, coordinates of a path that look like a date."""
    clean_site(tmp_path)
    write(tmp_path, "index.html", TRADE_PAGE)
    settle(tmp_path)
    assert audited(tmp_path).findings == ()


def test_a_name_that_is_a_word_is_doubtful_until_a_phrase_is_allowed(tmp_path: Path) -> None:
    """A client called Rose: small letters pass, a capital is a finding, the exact phrase excuses it, and no
    phrase excuses her full name."""
    rose = (Identifier(Kind.CLIENT, "Rose Winterbourne"),)
    clean_site(tmp_path)
    write(tmp_path, "index.html", page("<p>A rose gloss.</p>"))
    settle(tmp_path)
    assert audited(tmp_path, rose).findings == ()
    write(tmp_path, "index.html", page("<p>Rose gloss in week 3.</p>"))
    settle(tmp_path)
    (finding,) = audited(tmp_path, rose).findings
    assert "may be a name" in finding.form
    assert audited(tmp_path, rose, allowed_phrases=("Rose gloss in week 3.",)).findings == ()
    assert audited(tmp_path, rose, allowed_phrases=("Rose gloss in week 4.",)).findings
    write(tmp_path, "index.html", page("<p>Rose Winterbourne in week 3.</p>"))
    settle(tmp_path)
    assert audited(tmp_path, rose, allowed_phrases=("Rose Winterbourne in week 3.",)).findings


def test_a_finding_says_where() -> None:
    """File, reading and form, in words that lead to it."""
    (first, *_) = audit_text('<p title="x Fernández">y</p>', "html", Canaries(IDENTIFIERS))
    assert first[1].excerpt == "A… (24 characters)"
    places = {
        view.where for view, _ in audit_text('<p title="x Fernández">y</p>', "html", Canaries(IDENTIFIERS))
    }
    assert places == {"source", "attribute title"}


def test_what_is_no_site_is_not_called_clean(tmp_path: Path) -> None:
    """An empty folder, or none at all."""
    assert not audited(tmp_path).is_clean
    assert not audited(tmp_path / "nowhere").is_clean


def test_files_that_can_not_be_looked_through_are_findings(tmp_path: Path) -> None:
    """Text in another encoding, unknown kinds, links, empty files, odd names."""
    clean_site(tmp_path)
    (tmp_path / "notes.txt").write_bytes("Fernández".encode("utf-16"))
    (tmp_path / "font.bin").write_bytes(b"x")
    (tmp_path / "empty.csv").write_bytes(b"")
    (tmp_path / "out.html").symlink_to("/etc/passwd")
    (tmp_path / "Two words.html").write_text(page())
    settle_all_but_links(tmp_path)
    said = {(finding.file, finding.form) for finding in audited(tmp_path).findings}
    assert said == {
        ("notes.txt", "it is not UTF-8, so it can not be looked through"),
        ("font.bin", "a kind of file that is not published"),
        ("empty.csv", "an empty file"),
        ("out.html", "a link, pipe or device"),
        ("out.html", "a time that tells when somebody was at work"),
        ("Two words.html", "a name that is not in plain small letters and digits"),
        (".", "3 files that no page leads to"),
    }


def test_a_picture_no_page_shows_does_not_leave(tmp_path: Path) -> None:
    """It could be fetched by whoever guesses p02; told by number, as its name might be what was hidden."""
    clean_site(tmp_path)
    (tmp_path / "pictures" / "p02.jpg").write_bytes(picture("JPEG"))
    settle(tmp_path)
    (finding,) = audited(tmp_path).findings
    assert finding.form == "1 files that no page leads to"


def settle_all_but_links(folder: Path) -> None:
    link = folder / "out.html"
    target = link.readlink()
    link.unlink()
    settle(folder)
    link.symlink_to(target)


def test_work_grows_with_the_page_and_not_with_its_square(tmp_path: Path) -> None:
    """A page twice as long, of 135 KB, is not read in more than twice as many letters."""
    body = TRADE_PAGE.partition("<body>")[2].partition("</body>")[0]
    views = [list(views_of(page(body * times), "html")) for times in (150, 300)]
    letters = [sum(len(one.text) for view in all_of for one in (view, *deciphered(view))) for all_of in views]
    assert letters[1] < 2.1 * letters[0] < 60 * len(page(body * 300))
    clean_site(tmp_path)
    write(tmp_path, "index.html", page(body * 300 + '<img src="pictures/p01-480.jpg" alt="">'))
    settle(tmp_path)
    assert audited(tmp_path).findings == ()


def counting_shelf() -> tuple[Remembered, list[str]]:
    """What keeps results, and the first input of each that it did not have, as `repr` writes it."""
    shelf: dict[tuple[str, ...], bytes] = {}
    made: list[str] = []

    def remembered(kind: str, inputs: Iterable[str | bytes], make: Callable[[], bytes]) -> bytes:
        key = (kind, *map(repr, inputs))
        if key not in shelf:
            made.append(key[1])
            shelf[key] = make()
        return shelf[key]

    return remembered, made


def test_a_file_known_to_be_clean_is_not_read_again_and_a_found_one_always(tmp_path: Path) -> None:
    """Kept is that nothing was found, under the bytes, the name and what was looked for; never a finding."""
    clean_site(tmp_path)
    remembered, made = counting_shelf()

    def audit(*names: str) -> AuditReport:
        known = [Identifier(IdentifierKind.CLIENT, name) for name in names]
        return audit_site(tmp_path, identifiers=known, remembered=remembered)

    assert audit("Maribel Quintanar").is_clean
    first = len(made)
    assert first > 5
    assert audit("Maribel Quintanar").is_clean
    assert len(made) == first
    for _ in range(2):
        found = audit("Maribel Quintanar", "Coral Rose").findings
        assert {one.file for one in found} == {"index.html"}
    index = tmp_path / "index.html"
    clean = index.read_bytes()
    index.write_bytes(clean.replace(b"35 min", b"35 min, Maribel Quintanar"))
    assert not audit("Maribel Quintanar").is_clean
    index.write_bytes(clean)
    assert audit("Maribel Quintanar").is_clean
    (tmp_path / "chart.svg").rename(tmp_path / "maribel-quintanar.svg")
    assert any(one.where == "file name" for one in audit("Maribel Quintanar").findings)


def test_a_changed_page_is_read_again_only_where_its_readings_differ(tmp_path: Path) -> None:
    """A label that stayed is known; the sentence that changed is read, and a name in it found."""
    clean_site(tmp_path)
    remembered, read = counting_shelf()

    known = [Identifier(IdentifierKind.CLIENT, "Maribel Quintanar")]
    index = tmp_path / "index.html"
    label = '<p aria-label="a remark that stays">…</p>'
    page = index.read_text(encoding="utf-8").replace("<body>", f"<body>{label}", 1)
    for sentence, is_clean in (("35 min", True), ("36 min", True), ("36 min, said Quintanar", False)):
        read.clear()
        index.write_text(page.replace("35 min", sentence, 1), encoding="utf-8")
        report = audit_site(tmp_path, identifiers=known, remembered=remembered)
        assert report.is_clean is is_clean
        assert any(sentence in one for one in read)
        assert ("'a remark that stays'" in read) is (sentence == "35 min")
