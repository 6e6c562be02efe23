"""Work shared out and kept: the same results in the same order, whoever does it."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from contextlib import nullcontext
from multiprocessing import get_context
from pathlib import Path

import pytest

from journey.cache import Cache, key_of
from journey.record.safe_files import TooLargeError
from journey.workshop import Kept, Workshop

SOURCE = hashlib.sha256(b"a photo").hexdigest()
done: list[int] = []


def squared(number: int) -> tuple[int, None]:
    done.append(number)
    return number * number, None


def refusing(number: int) -> int:
    if number == 2:
        raise TooLargeError("photo.jpg", "larger than agreed", "save a smaller copy")
    return number


def kept(number: int) -> Kept:
    return Kept(key_of("square", str(number)), (SOURCE,))


@pytest.fixture(params=["none", "threads", "processes"])
def executor(request: pytest.FixtureRequest) -> Iterator[Executor | None]:
    made = {
        "none": lambda: nullcontext(None),
        "threads": lambda: ThreadPoolExecutor(2),
        "processes": lambda: ProcessPoolExecutor(2, get_context("spawn")),
    }
    with made[request.param]() as one:
        yield one


def test_results_come_in_the_order_of_the_items(executor: Executor | None) -> None:
    """Done here, by threads or by processes."""
    found = list(Workshop(executor=executor).each(squared, range(9), kept))
    assert found == [(number * number, None) for number in range(9)]


def test_a_refusal_arrives_as_it_was_raised(executor: Executor | None) -> None:
    """Also out of another process: which file, what is wrong, what to do."""
    with pytest.raises(TooLargeError) as refused:
        list(Workshop(executor=executor).each(refusing, range(4), kept))
    assert (refused.value.name, refused.value.remedy) == ("photo.jpg", "save a smaller copy")


def test_what_is_kept_is_not_done_again(tmp_path: Path) -> None:
    """Only new items are worked on; a purged source makes them new."""
    cache = Cache.at(tmp_path / "kept")
    shop = Workshop(cache)
    done.clear()
    assert list(shop.each(squared, [1, 2, 3], kept)) == [(1, None), (4, None), (9, None)]
    assert list(shop.each(squared, [3, 4, 1], kept)) == [(9, None), (16, None), (1, None)]
    assert shop.once(squared, 4, kept(4)) == (16, None)
    assert done == [1, 2, 3, 4]
    assert cache.purge(SOURCE) == 4
    shop.once(squared, 4, kept(4))
    assert done == [1, 2, 3, 4, 4]


def test_a_text_that_was_said_is_put_back_in_and_never_kept(tmp_path: Path) -> None:
    """Only where it stands is written; with another text the key is another, and a longer text is no such text."""
    shop = Workshop(Cache.at(tmp_path / "kept"))

    def told(text: str) -> tuple[str, str]:
        done.append(len(text))
        return text, f"{text}!"[-1:]

    done.clear()
    for text in ("ask Deborah first", "ask Lina first", "ask Deborah first"):
        assert shop.once(told, text, Kept("told", (SOURCE,), ("first", text))) == (text, "!")
    assert done == [17, 14]
    kept = b"".join(path.read_bytes() for path in (tmp_path / "kept").rglob("*") if path.is_file())
    assert kept
    assert b"Deborah" not in kept
