"""Nothing is shown to a class that nobody vouched for as it is, and every change asks for new eyes."""

from __future__ import annotations

import re
import stat
from dataclasses import replace
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser
from pydantic import BaseModel

from journey import pipeline
from journey.edition import consent
from journey.edition.consent import Refusal
from journey.edition.leaving import sheet_code
from journey.edition.model import Edition, LeavingKind
from journey.edition.sign_off import unsigned, why_unsigned
from journey.pipeline import Studied, compile_folder, prepare
from journey.record.model import Audience, Record
from journey.record.sign_offs import SIGN_OFF_FILE, SignOff, read_sign_offs
from journey.site.publish import publish, staging_folder
from journey.site.theme import load_theme
from journey.vouching import NotVouchedError, show, vouch
from tests.demo import DEMO, TODAY, studied_demo

PHOTO, TEXT, VALUES = LeavingKind.PHOTO, LeavingKind.TEXT, LeavingKind.VALUES


def edition_of(studied: Studied, audience: Audience = Audience.CLASS) -> Edition:
    made = prepare(studied, audience, today=TODAY, theme=load_theme(), to_look_only=True)
    assert isinstance(made, Edition), made
    return made


@cache
def class_edition() -> Edition:
    return edition_of(studied_demo())


@cache
def signed_for_class() -> tuple[SignOff, ...]:
    """A signature for everything the demo's class edition holds, without looks."""
    return tuple(
        SignOff(
            edition=Audience.CLASS,
            kind=one.kind.value,
            name=one.name,
            sha256=one.sha256,
            by="ilse",
            on=TODAY,
            sheet=sheet_code(class_edition().leaving),
        )
        for one in class_edition().leaving
    )


def changed(record: Record, kind: str, field: str, value: Any, number: int = 0) -> Record:
    """The record with one field of the `number`th part of that kind changed."""
    seen = [0]

    def walk(node: Any) -> Any:
        if isinstance(node, tuple):
            return tuple(walk(one) for one in node)
        if not isinstance(node, BaseModel):
            return node
        if type(node).__name__ == kind:
            seen[0] += 1
            if seen[0] == number + 1:
                return node.model_copy(update={field: value})
        return node.model_copy(update={name: walk(getattr(node, name)) for name in type(node).model_fields})

    found = walk(record)
    assert isinstance(found, Record)
    assert seen[0] > number
    return found


def waiting_after(kind: str, field: str, value: Any, number: int = 0) -> list[tuple[LeavingKind, str]]:
    studied = replace(studied_demo(), record=changed(studied_demo().record, kind, field, value, number))
    missing = unsigned(edition_of(studied), signed_for_class())
    return [(one.kind, one.name) for one in missing]


def test_every_text_somebody_wrote_is_signed_for() -> None:
    """Each free text of the record is marked; every mark found in the class edition is in a signed text."""
    number = iter(range(10_000))

    def mark(node: Any) -> Any:
        if isinstance(node, tuple):
            return tuple(mark(one) for one in node)
        if isinstance(node, BaseModel):
            # An allowed sentence has to be the text's own, word for word; it is compared and never leaves.
            kept = ("language", "allowed_sentences")
            made = {name: mark(getattr(node, name)) for name in type(node).model_fields if name not in kept}
            return node.model_copy(update=made)
        if type(node) is str and " " in node:
            return f"{node} mark{next(number):04d}x"
        return node

    record = studied_demo().record
    marked = record.model_copy(update={"journey": mark(record.journey), "salon": mark(record.salon)})
    edition = edition_of(replace(studied_demo(), record=marked))
    out = set(re.findall(r"mark\d{4}x", repr(replace(edition, leaving=(), withheld=()))))
    known = set(re.findall(r"mark\d{4}x", " ".join(one.text for one in edition.leaving)))
    assert len(out) > 60
    assert out <= known


def test_every_picture_is_signed_for() -> None:
    """Whatever the site asks to be written is among the items, each with a hash of its own."""
    from journey.site.writer import pictures_of

    shown = {picture.name for picture in pictures_of(class_edition())}
    items = {one.picture.name: one.sha256 for one in class_edition().leaving if one.picture is not None}
    assert len(shown) >= 50
    assert shown <= set(items)
    assert len(set(items.values())) == len(items)


@pytest.mark.parametrize(
    ("kind", "field", "value", "name"),
    [
        ("Visit", "class_note", "Other words for students.", (TEXT, "Visit.class_note")),
        ("TeachingPoint", "choices", ("this", "that"), (TEXT, "TeachingPoint.choices")),
        ("BowlLine", "grams", "16 g", (VALUES, "BowlLine.grams")),
        ("Hair", "washes_a_week", 4.0, (VALUES, "Hair.washes_a_week")),
        ("Photo", "no_face", False, (VALUES, "Photo.no_face")),
    ],
)
def test_a_change_voids_what_it_changes_and_no_more(
    kind: str, field: str, value: Any, name: tuple[LeavingKind, str]
) -> None:
    """A text, a caption, a choice, a mass, a habit: that item waits for eyes again, the others do not."""
    if kind == "BowlLine":
        from journey.quantities import Mass

        value = Mass(16.0)
    waiting = waiting_after(kind, field, value)
    assert name in waiting
    assert {kind for kind, _ in waiting} == {name[0]} or field == "no_face"
    assert len(waiting) <= 2 or field == "no_face"


def test_another_caption_of_a_shown_photo_voids_that_caption() -> None:
    """A class sees the captions of magnified strands; those of whole photos stay behind with their photos."""
    photos = [photo for visit in studied_demo().record.journey.visits for photo in visit.photos]
    shown = next(index for index, photo in enumerate(photos) if photo.magnified is not None)
    assert waiting_after("Photo", "caption", "Another caption", shown) == [(TEXT, "Photo.caption")]
    assert waiting_after("Photo", "caption", "Another caption", 0) == []


def test_a_moved_cover_voids_every_picture_of_that_photo_and_no_other() -> None:
    """One pixel's width is enough; every part of the photo waits, photos without that cover do not."""
    photos = [photo for visit in studied_demo().record.journey.visits for photo in visit.photos]
    place = next(index for index, one in enumerate(photos) if one.key == "root-touch-up-lock-before")
    moved = tuple(replace(cover, width=cover.width - 0.001) for cover in photos[place].covers)
    waiting = waiting_after("Photo", "covers", moved, place)
    assert (VALUES, "Photo.covers") in waiting
    names = {name.split("/")[0] for kind, name in waiting if kind is PHOTO}
    assert names == {"root-touch-up-lock-before"}


def test_other_pixels_under_the_same_name_void_the_photo(tmp_path: Path) -> None:
    """A file exchanged for another of the same name is another photo."""
    import shutil

    from journey.record.intake import PhotoFolder

    photos = shutil.copytree(DEMO / "photos", tmp_path / "photos")
    file = next(v.photos[0].file for v in studied_demo().record.journey.visits if v.photos)
    with (photos / file).open("ab") as grown:
        grown.write(b"\0")
    studied = replace(studied_demo(), photographs=PhotoFolder(photos))
    waiting = unsigned(edition_of(studied), signed_for_class())
    assert {one.name.split("/")[0] for one in waiting} == {"consultation-back-before"}


def test_what_a_class_does_not_see_voids_nothing() -> None:
    """The salon's own note, a lot number, the day a consent ends."""
    assert waiting_after("Visit", "private_note", "Something for us alone.") == []
    assert waiting_after("BowlLine", "lot", "XX-1") == []
    assert waiting_after("Grant", "expires_on", date(2046, 7, 1)) == []


def test_a_signature_for_another_edition_does_not_count() -> None:
    """Signed for the archive is not signed for a class."""
    others = [one.model_copy(update={"edition": Audience.ARCHIVE}) for one in signed_for_class()]
    assert len(unsigned(class_edition(), others)) == len(class_edition().leaving)


def test_the_refusal_is_one_line_that_names_what_changed_and_what_to_do() -> None:
    """A photo and a text are named with whether they changed or are new, and both commands."""
    signed = [one for one in signed_for_class() if one.name not in ("Journey.title", "violet-magnified-1/0 0 1 1")]
    stale = signed_for_class()[0].model_copy(update={"name": "Journey.title", "kind": "text", "sha256": "0" * 64})
    line = why_unsigned(class_edition(), [*signed, stale], "demo_client")
    assert line is not None
    assert "\n" not in line
    for said in (
        "1 photo (violet-magnified-1/0 0 1 1 new)",
        "1 text (Journey.title changed)",
        "journey disclose demo_client --for class",
        "journey vouch demo_client --for class",
    ):
        assert said in line
    assert why_unsigned(class_edition(), signed_for_class(), "demo_client") is None


def folder_in(tmp_path: Path) -> Studied:
    folder = tmp_path / "client"
    folder.mkdir()
    return replace(studied_demo(), folder=folder, sign_offs=())


def test_only_the_sheet_that_was_looked_at_can_be_signed(tmp_path: Path) -> None:
    """Another code, or somebody who does not work here: refused, and not a byte is recorded."""
    studied, theme = folder_in(tmp_path), load_theme()
    code = sheet_code(class_edition().leaving)
    with pytest.raises(NotVouchedError, match="stylist 'zoe'"):
        vouch(studied, Audience.CLASS, by="zoe", sheet=code, today=TODAY, theme=theme)
    for other in (code[:-1] + ("b" if code[-1] != "b" else "c"), "", None):
        with pytest.raises(NotVouchedError, match="something else"):
            vouch(studied, Audience.CLASS, by="ilse", sheet=other, today=TODAY, theme=theme)
    assert list(studied.folder.iterdir()) == []


def test_signing_adds_lines_and_never_changes_one(tmp_path: Path) -> None:
    """A second signing after one change appends that item alone; who, when and which sheet stand in each line."""
    studied, theme = folder_in(tmp_path), load_theme()
    few = replace(class_edition(), leaving=tuple(x for x in class_edition().leaving if x.picture is None)[:9])
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("journey.vouching.prepare", lambda *_, **__: few)
        first = vouch(studied, Audience.CLASS, by="ilse", sheet=sheet_code(few.leaving), today=TODAY, theme=theme)
        before = (studied.folder / SIGN_OFF_FILE).read_bytes()
        more = replace(few, leaving=(*few.leaving[:8], replace(few.leaving[8], sha256="1" * 64)))
        patch.setattr("journey.vouching.prepare", lambda *_, **__: more)
        known = replace(studied, sign_offs=read_sign_offs(studied.folder, ["ilse", "bruno"]))
        second = vouch(known, Audience.CLASS, by="bruno", sheet=sheet_code(more.leaving), today=TODAY, theme=theme)
    assert not isinstance(first, Refusal)
    assert not isinstance(second, Refusal)
    assert (len(first), len(second)) == (9, 1)
    assert (studied.folder / SIGN_OFF_FILE).read_bytes().startswith(before)
    read = read_sign_offs(studied.folder, ["ilse", "bruno"])
    assert read == (*first, *second)
    assert (read[-1].by, read[-1].on, read[-1].sheet) == ("bruno", TODAY, sheet_code(more.leaving))
    assert stat.S_IMODE((studied.folder / SIGN_OFF_FILE).stat().st_mode) == 0o600


@pytest.fixture(scope="module")
def sheet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("sheet") / "sheet.html"
    shown = show(
        replace(studied_demo(), sign_offs=()), Audience.CLASS, today=TODAY, theme=load_theme(), sheet=path
    )
    assert not isinstance(shown, Refusal)
    assert shown.code in path.read_text(encoding="utf-8")
    return path


def test_the_sheet_holds_everything_and_loads_nothing(sheet: Path, browser: Browser) -> None:
    """In a real browser: every photo decoded, every text to be read, no request but the file, no script."""
    asked: list[str] = []
    page = browser.new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.goto(sheet.as_uri())
    widths = page.eval_on_selector_all("img", "images => images.map(one => [one.naturalWidth, one.width])")
    text = page.inner_text("body")
    page.close()
    photos = [one for one in class_edition().leaving if one.kind is PHOTO]
    assert len(widths) == len(photos)
    assert all(natural > 0 for natural, _ in widths)
    flat = " ".join(text.split())
    for one in class_edition().leaving:
        assert " ".join(one.text.split()) in flat
    assert [url for url in asked if not url.startswith(("file://", "data:"))] == []
    assert "<script" not in sheet.read_text(encoding="utf-8")


def test_the_sheet_is_for_this_persons_eyes(sheet: Path) -> None:
    """It shows her: nobody else on this computer can open it."""
    assert stat.S_IMODE(sheet.stat().st_mode) == 0o600


def test_unsigned_nothing_is_made_and_the_earlier_site_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """No staging, no new page; the site that was signed then is byte for byte where it was."""
    target = tmp_path / "to" / "class"
    with staging_folder(target) as staging:
        (staging / "index.html").write_text("signed then")
        publish(staging, target)
    unsigned_folder = replace(studied_demo(), sign_offs=())
    monkeypatch.setattr(pipeline, "study_folder", lambda *_, **__: unsigned_folder)
    monkeypatch.setattr(pipeline, "ask_consent", _as_if_seen)
    outcome, *_ = compile_folder(
        DEMO, audiences=[Audience.CLASS], today=TODAY, to=tmp_path / "to", theme=load_theme()
    )
    assert outcome.site is None
    assert len(outcome.why_not) == 1
    assert outcome.why_not[0].startswith("not signed: ")
    assert (target / "index.html").read_text() == "signed then"
    assert sorted(path.name for path in target.parent.iterdir()) == [".class.site", "class"]


def _as_if_seen(record: Record, audience: Audience, today: date, **_: Any) -> Any:
    return consent.ask_consent(record, audience, today, to_look_only=True)
