"""Of more than a hundred words hidden in photos of four formats, none is left in the sites made of them."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from journey.edition.photographs import COVER_COLOUR, COVER_TOLERANCE
from journey.site.publish import FIXED_TIME
from tests.metadata_canaries import COVER, Planted, is_secret, left_in, planted_sites

GROUPS = {"ExifTool", "System", "File", "Composite", "JFIF", "RIFF", "PNG", "QuickTime", "Meta"}
"""What exiftool may name for the formats that are published."""


@pytest.fixture(scope="module")
def planted(tmp_path_factory: pytest.TempPathFactory) -> tuple[Planted, Path]:
    """The canaries, and the class's and client's sites of a folder whose four photos carry them."""
    at = tmp_path_factory.mktemp("planted")
    return planted_sites(at), at / "sites"


def pictures(sites: Path, audience: str) -> list[Path]:
    found = sorted((sites / audience / "pictures").iterdir())
    assert len({path.name.partition("-")[0] for path in found}) >= 4, found
    return found


def test_the_photos_hold_what_is_looked_for(planted: tuple[Planted, Path]) -> None:
    """Each canary stands in the photo it was put in, in its bytes or packed: else nothing is proved."""
    plant, site = planted
    assert len(plant.places) > 130
    photos = site.parent / "client" / "photos"
    for path in sorted(photos.iterdir()):
        kind = {"jpg": "JPEG", "png": "PNG", "webp": "WebP", "avif": "AVIF"}[path.suffix[1:]]
        own = {place for place in plant.places.values() if place.startswith(kind)}
        assert set(left_in(path.read_bytes(), plant)) == own


def test_no_canary_is_in_any_byte_of_the_site(planted: tuple[Planted, Path]) -> None:
    """Plain, backwards, in two bytes a letter, in hexadecimal, in whatever unpacks; also in no file's name."""
    plant, site = planted
    for path in sorted(site.rglob("*")):
        assert left_in(path.name.encode() + (path.read_bytes() if path.is_file() else b""), plant) == [], path.name


def test_exiftool_finds_nothing_but_the_format_itself(planted: tuple[Planted, Path]) -> None:
    """An outside reader: no other group, no warning, no time, no word of ours, also in what is embedded."""
    plant, site = planted
    command = ["exiftool", "-a", "-u", "-g1", "-ee", "-j", "-r", str(site)]
    told = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    assert len(told) > 12
    for one in told:
        groups = {name for name, value in one.items() if isinstance(value, dict)}
        if Path(one["SourceFile"]).suffix in (".jpg", ".avif", ".webp", ".png"):
            assert groups <= GROUPS, (one["SourceFile"], groups - GROUPS)
        assert "Warning" not in json.dumps(one), one
        assert not any(word in json.dumps(one) for word in plant.places)


@pytest.mark.parametrize("audience", ["class", "client"])
def test_what_is_covered_is_in_no_size_and_format(planted: tuple[Planted, Path], audience: str) -> None:
    """Decoded: the colour that lay under the covers, and where nothing is seen, is in no picture; the cover is."""
    for path in pictures(planted[1], audience):
        with Image.open(path) as picture:
            assert not is_secret(picture), path.name
            pixels = np.asarray(picture.convert("RGB")).astype(int)
        is_cover = np.abs(pixels - COVER_COLOUR).max(axis=-1) <= COVER_TOLERANCE
        height, width = is_cover.shape
        assert is_cover.mean() > 0.02, path.name
        if audience == "client" and max(height, width) > 400:
            left, top, wide, tall = COVER
            rows = slice(round(top * height), round((top + tall) * height))
            assert is_cover[rows, round(left * width) : round((left + wide) * width)].all(), path.name


@pytest.mark.parametrize("audience", ["class", "client"])
def test_names_are_neutral_and_times_are_fixed(planted: tuple[Planted, Path], audience: str) -> None:
    """p01, p02, ... without a gap, each shown on the page; every file bears the one time."""
    site = planted[1] / audience
    page = (site / "index.html").read_text(encoding="utf-8")
    stems = list(dict.fromkeys(path.name.partition("-")[0] for path in pictures(planted[1], audience)))
    assert stems == [f"p{number:02d}" for number in range(1, len(stems) + 1)]
    assert all(f"pictures/{stem}-" in page for stem in stems)
    assert {path.stat().st_mtime for path in site.rglob("*")} == {FIXED_TIME}
