"""Photos that say little or nothing: each is told as such, by `measure` and in every edition, never left away."""

from __future__ import annotations

import csv
import io
import json
import shutil
from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from journey.colour.reason import Reason
from journey.edition.model import Edition
from journey.pipeline import Studied, prepare, study_folder
from journey.readout import in_english, readings_as
from journey.record.intake import PhotoFolder
from journey.record.model import Audience, Service, Visit
from journey.site.theme import load_theme
from journey.study.fading import _Course, _follow_ups
from journey.study.fibres import study_fibres
from journey.study.unread import without_colour
from tests.demo import DEMO, studied_demo
from tests.demo import TODAY as DEMO_DAY
from tests.small_client import GRANTS, small_client

TODAY = date(2026, 3, 7)
FURTHER = """    told_copies_cannot_be_recalled: yes
    told_limits_of_anonymity: yes
"""


@pytest.fixture(scope="module")
def studied(tmp_path_factory: pytest.TempPathFactory) -> Studied:
    """A card half blown out in orange light, a patch five pixels wide, a photo in black and white."""
    folder = small_client(tmp_path_factory.mktemp("unread") / "client")
    journey = folder / "journey.yaml"
    text = journey.read_text(encoding="utf-8")
    second = text.index("photo-2")
    text = text[:second] + text[second:].replace("0.40 0.35 0.12 0.10", "0.40 0.35 0.005 0.005", 1)
    journey.write_text(text, encoding="utf-8")
    consent = folder / "consent.yaml"
    written = consent.read_text(encoding="utf-8")
    grant = GRANTS.removeprefix("\ngrants:\n") + FURTHER
    others = [grant.replace("client", edition, 1) for edition in ("class", "archive")]
    consent.write_text(written + "".join(others), encoding="utf-8")
    first, third = folder / "photos" / "back-1.jpg", folder / "photos" / "back-3.jpg"
    pixels = np.array(Image.open(first))
    pixels[780:880, 930:1010] = (170, 119, 70)
    pixels[780:880, 1010:1100] = 255
    Image.fromarray(pixels).save(first, quality=95)
    Image.open(third).convert("L").convert("RGB").save(third, quality=90)
    return study_folder(folder)


def test_every_marked_patch_is_read_or_told_unread_with_its_reason(studied: Studied) -> None:
    """Five by five pixels are too few for strands; black and white has no hue; what is cut off is no grey."""
    first, second, third = studied.study.photos
    assert {"grey-card-partly-clipped", "strong-cast"} <= {reason.key for reason in first.readings[0].weak}
    assert [len(photo.readings) for photo in (first, second, third)] == [1, 0, 0]
    assert [one.reason.key for one in second.unread] == ["patch-unreadable"]
    assert [one.reason.key for one in third.unread] == ["photo-without-colour"]


def test_measure_prints_unread_patches_in_every_form(studied: Studied) -> None:
    """As a row of its own without numbers, and warnings as a list where the form has lists."""
    english = in_english(studied, load_theme().words)
    told = json.loads(readings_as("json", studied.study, english))
    assert [row["L*"] is None for row in told] == [False, True, True]
    assert [len(row["warnings"]) for row in told] == [3, 1, 1]
    assert all({"L*", "a*", "b*", "afar L*", "afar a*", "afar b*"} <= row.keys() for row in told)
    rows = list(csv.DictReader(io.StringIO(readings_as("csv", studied.study, english))))
    assert rows[2]["L*"] == ""
    assert "black and white" in rows[2]["warnings"]
    assert rows[0]["warnings"].count("; ") == 2
    assert readings_as("table", studied.study, english).count("not read") == 2


@pytest.mark.parametrize("audience", [Audience.CLIENT, Audience.CLASS, Audience.ARCHIVE])
def test_every_edition_shows_weak_and_unread_patches(studied: Studied, audience: Audience) -> None:
    """In its table by entry; those with numbers in the file to download too."""
    edition = prepare(studied, audience, today=TODAY, theme=load_theme(), to_look_only=True)
    assert isinstance(edition, Edition)
    table = next(entry.numbers for entry in edition.entries if entry.numbers is not None)
    rows = [" ".join(cell.text for cell in row) for row in table.rows]
    assert ("hint" if audience is Audience.CLIENT else "weak: ") in rows[0]
    assert ["not read" in row for row in rows] == [False, True, True]
    assert {len(row) for row in table.rows} == {len(table.columns)}
    for file in edition.data:
        if file.name == "readings.csv":
            written = list(csv.reader(io.StringIO(file.text)))
            assert {len(row) for row in written} == {len(written[0])}
            assert "cut off" in written[1][-1]
            assert "black and white" in written[3][-1]


@pytest.mark.parametrize(("spread", "grey"), [(2, True), (3, False)])
def test_black_and_white_is_told_from_colour_by_its_channels(spread: int, grey: bool) -> None:
    """However it is coded: two codes are JPEG's rounding, more is colour."""
    picture = np.full((4, 4, 3), 120, dtype=np.uint8)
    picture[1, 2, 0] += spread
    assert without_colour(picture) is grey


@pytest.mark.parametrize(("clipped_share", "left_out"), [(0.4, False), (0.6, True)])
def test_a_patch_cut_off_for_the_larger_part_is_left_out_of_the_fade(
    studied: Studied, clipped_share: float, left_out: bool
) -> None:
    """With its reason; below that it is marked weak and used."""
    demo = studied_demo().study
    fade = next(fade for fade in demo.fades if fade.measured)
    key = fade.measured[0][3]
    readings = [replace(one, clipped_share=clipped_share) if one.key == key else one for one in demo.readings]
    course = _Course(_visit(fade.applied), _service(fade.service), fade.place, fade.until)
    fresh = next(one for one in readings if one.key == fade.fresh)
    used, told = _follow_ups(course, fresh, readings, None)
    assert (key in [one.key for one in used]) is not left_out
    assert ((key, Reason("clipped", percent=60.0)) in told) is left_out


def test_a_magnified_photo_with_too_little_hair_is_told_and_not_sorted() -> None:
    """A field the strand had slipped out of shows a scale bar, dust and a card's shadow: no strands to count."""
    study = studied_demo().study
    assert "measuring-magnified-5" not in [one.photo for one in study.fibres]
    (told,) = [one for one in study.unread if one.key == "measuring-magnified-5.strands"]
    assert (told.reason.key, told.place.band) == ("too-little-hair", "mid-lengths")
    rows = csv.DictReader(io.StringIO(readings_as("csv", study, in_english(studied_demo(), load_theme().words))))
    assert "fill the field" in next(row for row in rows if row["key"] == told.key)["warnings"]


@pytest.mark.parametrize("audience", [Audience.CLIENT, Audience.CLASS, Audience.ARCHIVE])
def test_every_edition_tells_of_the_magnified_photo_without_hair(audience: Audience) -> None:
    """At its visit, in words of its reader."""
    edition = prepare(studied_demo(), audience, today=DEMO_DAY, theme=load_theme(), to_look_only=True)
    assert isinstance(edition, Edition)
    rows = [row for entry in edition.entries if entry.numbers for row in entry.numbers.rows]
    (told,) = [row for row in rows if "not read" in row[3].text]
    assert ("hardly any hair" if audience is Audience.CLIENT else "of 480000 pixels") in told[3].text


def test_a_black_and_white_magnified_photo_has_no_strand_colours(tmp_path: Path) -> None:
    """It has lightness only: clusters of greys would be sold as colours of strands."""
    known = studied_demo()
    photo = "LM200_0613_mqo_02.jpg"
    photos = tmp_path / "photos"
    shutil.copytree(DEMO / "photos", photos)
    Image.open(photos / photo).convert("L").convert("RGB").save(photos / photo, quality=90)
    found, unread = study_fibres(known.record, PhotoFolder(photos), known.study.photos)
    assert "measuring-magnified-2" not in [one.photo for one in found]
    assert Reason("photo-without-colour") in [one.reason for one in unread]


def _visit(day: date) -> Visit:
    return next(one for one in studied_demo().record.journey.visits if one.date == day)


def _service(key: str) -> Service:
    return next(one for visit in studied_demo().record.journey.visits for one in visit.services if one.key == key)
