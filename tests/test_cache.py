"""What is kept between builds: never wrong, private, bounded, forgotten when asked."""

from __future__ import annotations

import hashlib
import multiprocessing
import os
import stat
from pathlib import Path

import pytest

from journey.cache import Cache, CacheFolderError, default_folder, key_of

ONE, TWO = (hashlib.sha256(name).hexdigest() for name in (b"one photo", b"another"))


@pytest.fixture
def cache(tmp_path: Path) -> Cache:
    return Cache.at(tmp_path / "kept")


def test_what_was_stored_comes_back(cache: Cache) -> None:
    """Byte for byte, with line ends and zeros in it; another key finds nothing."""
    content = b"\n|\0" + bytes(range(256)) + b"\n\n"
    cache.store(key_of("thing", "a"), content, [ONE])
    assert cache.get(key_of("thing", "a")) == content
    assert cache.get(key_of("thing", "b")) is None
    assert cache.get(key_of("other thing", "a")) is None


def test_a_key_tells_inputs_apart_and_knows_the_tool(monkeypatch: pytest.MonkeyPatch) -> None:
    """'ab','c' is not 'a','bc'; another version of the tool has other keys."""
    assert key_of("k", "ab", "c") != key_of("k", "a", "bc")
    assert key_of("k", "a") == key_of("k", b"a")
    before = key_of("k", "a")
    monkeypatch.setattr("journey.cache.tool_version", lambda: "another")
    assert key_of("k", "a") != before


def test_purging_a_source_forgets_all_that_was_made_from_it_and_nothing_else(cache: Cache) -> None:
    """Also what was made from it and from others."""
    cache.store(key_of("a"), b"from one", [ONE])
    cache.store(key_of("b"), b"from both", [TWO, ONE])
    cache.store(key_of("c"), b"from two", [TWO])
    assert cache.purge(ONE) == 2
    assert [cache.get(key_of(name)) for name in "abc"] == [None, None, b"from two"]
    assert cache.purge(ONE) == 0
    left = [path.read_bytes() for path in cache.folder.rglob("*") if path.is_file()]
    assert len(left) == 1
    assert ONE.encode() not in left[0]


def test_a_damaged_entry_counts_as_missing(cache: Cache) -> None:
    """Cut short, one bit turned, or emptied by a failing disk: it is made again."""
    key = key_of("a")
    for damage in (lambda b: b[:-1], lambda b: b[:-1] + bytes([b[-1] ^ 1]), lambda b: b""):
        cache.store(key, b"a thing of some length", [ONE])
        path = cache.folder / key[:2] / key
        path.write_bytes(damage(path.read_bytes()))
        assert cache.get(key) is None
        assert cache.remembered(key, lambda: b"new", [ONE]) == b"new"
        assert cache.get(key) == b"new"


def test_the_folder_is_for_its_owner_alone(tmp_path: Path) -> None:
    """It holds pictures of people; a folder that others can open, or a link, is refused."""
    cache = Cache.at(tmp_path / "made" / "kept")
    cache.store(key_of("a"), b"x", [ONE])
    for path in [cache.folder, *cache.folder.rglob("*")]:
        assert not stat.S_IMODE(path.stat().st_mode) & 0o077, path
    (tmp_path / "open").mkdir(mode=0o755)
    (tmp_path / "link").symlink_to(cache.folder)
    for refused in ("open", "link"):
        with pytest.raises(CacheFolderError):
            Cache.at(tmp_path / refused)


def test_it_lies_in_the_users_cache_folder(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """As the XDG base directory specification asks: an unset, empty or relative value means `~/.cache`."""
    monkeypatch.setenv("HOME", str(tmp_path))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "c"))
    assert default_folder() == tmp_path / "c" / "colour-journey"
    for unset in ("", "relative/c"):
        monkeypatch.setenv("XDG_CACHE_HOME", unset)
        assert default_folder() == tmp_path / ".cache" / "colour-journey"


def test_beyond_the_limit_what_was_used_least_lately_goes(cache: Cache) -> None:
    """Of five, the two used last stay."""
    for age, name in enumerate("abcde"):
        key = key_of(name)
        cache.store(key, bytes(1000), [ONE])
        os.utime(cache.folder / key[:2] / key, ns=(age, age))
    assert cache.get(key_of("a")) is not None
    assert cache.sweep(limit_bytes=2500) == 3
    assert [name for name in "abcde" if cache.get(key_of(name)) is not None] == ["a", "e"]


def test_deleting_it_under_a_build_is_no_error(cache: Cache) -> None:
    """The next thing is stored in a new folder."""
    cache.store(key_of("a"), b"x", [ONE])
    cache.purge_all()
    assert cache.get(key_of("a")) is None
    cache.folder.rmdir()
    cache.store(key_of("a"), b"y", [ONE])
    assert cache.get(key_of("a")) == b"y"


def _hammer(folder: Path, number: int) -> bool:
    cache, right = Cache(folder), True
    for turn in range(300):
        name = f"{turn % 7}"
        content = hashlib.sha256(name.encode()).digest() * 3000
        found = cache.remembered(key_of(name), lambda content=content: content, [ONE])
        right = right and found == content
        if turn % 50 == number:
            cache.purge(ONE)
    return right


def test_two_builds_at_once_never_see_half_an_entry(cache: Cache) -> None:
    """Two processes storing, reading and purging the same seven entries."""
    with multiprocessing.get_context("spawn").Pool(2) as pool:
        assert pool.starmap(_hammer, [(cache.folder, 1), (cache.folder, 2)]) == [True, True]
