"""Whatever stands in a folder, the command refuses it by name, at once, and leaves the published site alone."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

import journey.pipeline
from tests.bad_folders import LIMIT_BYTES, ROWS, Row, compiled
from tests.fingerprints import fingerprint
from tests.small_client import small_client

assert journey.pipeline, "read before the children are made, so that they measure only their own work"


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that compiles, with its published site beside it."""
    at = tmp_path_factory.mktemp("sound")
    folder = small_client(at / "client")
    end = compiled(folder, at / "sites")
    assert end.code == 0, end.said
    return folder


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.what.replace(" ", "_"))
def test_a_bad_folder_is_refused_by_name(row: Row, sound: Path, tmp_path: Path) -> None:
    """Exit code 1, the words that name it, no traceback, 2 seconds, a gigabyte, the old site untouched.

    The sound folder compiles, or the fixture fails: it is the disturbance that is refused.
    """
    sites = sound.parent / "sites"
    before = fingerprint(sites)
    folder = Path(shutil.copytree(sound, tmp_path / "client"))
    row.disturb(folder)
    end = compiled(folder, sites)
    assert "Traceback" not in end.said, end.said
    assert row.says in end.said, end.said
    assert end.code == 1
    assert end.seconds <= 2
    assert end.peak_bytes <= LIMIT_BYTES
    assert fingerprint(sites) == before
    assert len(before) > 3
    assert not Path("/tmp/owned").exists()
