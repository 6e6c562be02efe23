"""The local look follows edits, and an edit costs what it touches."""

from __future__ import annotations

from http.client import HTTPConnection
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from journey.cache import Cache
from journey.preview import Watched, served
from journey.record.model import Audience
from journey.site import derivatives
from journey.study import reading_photos
from tests.small_client import small_client


@pytest.fixture
def watched(tmp_path: Path) -> Watched:
    small_client(tmp_path / "anna")
    cache = Cache.at(tmp_path / "kept")
    return Watched(tmp_path / "anna", Audience.CLIENT, tmp_path / "to", print, cache)


def edit(watched: Watched, old: str, new: str) -> None:
    journey = watched.folder / "journey.yaml"
    text = journey.read_text(encoding="utf-8")
    assert old in text
    journey.write_text(text.replace(old, new, 1), encoding="utf-8")


def counted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What is read and what is made from now on, photo by photo."""
    worked: list[str] = []
    read, make = reading_photos.read_photo, derivatives.make_group
    monkeypatch.setattr(
        reading_photos, "read_photo", lambda task: (worked.append(f"read {task.photo.key}"), read(task))[1]
    )
    monkeypatch.setattr(
        derivatives, "make_group", lambda group: (worked.append(f"made {len(group)}"), make(group))[1]
    )
    return worked


def test_an_edit_of_words_touches_no_photo(watched: Watched, monkeypatch: pytest.MonkeyPatch) -> None:
    """The page is made anew from kept readings and pictures; without an edit, nothing is."""
    assert watched.look()
    assert not watched.look()
    worked = counted(monkeypatch)
    edit(watched, "title: A first rose", "title: A second rose")
    assert watched.look()
    assert worked == []
    assert "A second rose" in (watched.to / "client" / "index.html").read_text(encoding="utf-8")


def test_a_replaced_photo_is_read_alone(watched: Watched, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The other two are not opened for reading or making."""
    assert watched.look()
    worked = counted(monkeypatch)
    other = small_client(tmp_path / "other", seed=7)
    photo = watched.folder / "photos" / "back-2.jpg"
    photo.write_bytes((other / "photos" / "back-2.jpg").read_bytes())
    assert watched.look()
    assert worked[0] == "read photo-2"
    assert [one.split()[0] for one in worked] == ["read", "made"]


def test_a_mistake_is_told_and_the_last_page_stays(watched: Watched) -> None:
    """Until it is put right."""
    assert watched.look()
    edit(watched, "natural_level: 5 ", "natural_level: 55 ")
    assert not watched.look()
    assert (watched.to / "client" / "index.html").exists()
    edit(watched, "natural_level: 55 ", "natural_level: 5 ")
    assert watched.look()


def test_an_open_page_loads_again(watched: Watched, browser: Browser) -> None:
    """In a real browser, under the page's own content policy."""
    assert watched.look()
    with served(watched, 0) as address:
        page = browser.new_page()
        page.goto(address)
        assert "A first rose" in page.content()
        edit(watched, "title: A first rose", "title: A second rose")
        assert watched.look()
        expect(page.get_by_text("A second rose").first).to_be_attached(timeout=60_000)
        page.close()


def test_nothing_but_the_site_is_handed_out_and_only_to_this_machine(watched: Watched, tmp_path: Path) -> None:
    """No path climbs out; no other name for this machine is answered, as a page elsewhere may own one."""
    assert watched.look()
    (watched.to / "secret.txt").write_text("secret", encoding="utf-8")
    with served(watched, 0) as address:
        port = int(address.rsplit(":", 1)[1].strip("/"))

        def asked(path: str, host: str = f"127.0.0.1:{port}", method: str = "GET") -> tuple[int, bytes]:
            connection = HTTPConnection("127.0.0.1", port, timeout=10)
            connection.putrequest(method, path, skip_host=True)
            connection.putheader("Host", host)
            connection.endheaders()
            answer = connection.getresponse()
            told = answer.status, answer.read()
            connection.close()
            return told

        assert asked("/")[0] == 200
        assert asked("/", f"localhost:{port}")[0] == 200
        for up in ("/../", "/..%2f", "/%2e%2e/", "//", "/pictures/../../"):
            assert asked(f"{up}secret.txt")[0] == 404, up
        for host in (f"evil.example:{port}", "evil.example", "", f"127.0.0.1.evil.example:{port}"):
            assert asked("/", host)[0] == 403, host
            assert asked("/style.css", host, "HEAD")[0] == 403, host
