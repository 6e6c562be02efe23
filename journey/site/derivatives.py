"""Writes every picture of an edition at the sizes and formats a page asks for.

Decides sizes, formats and file names, shares the work among workers, photo by photo, and looks at every file
that should hide something. What a picture shows (crop, covers, bare pixels) was decided in `journey.edition`; it
is asked for here once, at the largest size, and made smaller step by step.
"""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Executor, Future
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PIL import Image

from journey.cache import Cache, key_of
from journey.edition.model import Picture
from journey.edition.photographs import encode_avif, encode_jpeg, prove_covered, reduced
from journey.record.intake import let_go
from journey.record.rectangle import Rectangle

EDGES_PX: Final = (480, 960, 1600)
"""Long edges: a phone's half width at double density, its full width, and a projector's board."""
FALLBACK_PX: Final = 960
"""The one JPEG for the few that can not show AVIF: of the size next to this."""


@dataclass(frozen=True, slots=True)
class PictureSize:
    """One written size of a picture: `p01-480.avif` of `width` x `height` px, and perhaps `p01-480.jpg`."""

    stem: str
    width: int
    height: int
    has_jpeg: bool = False


Made = tuple[tuple[int, int, int, bytes, bytes], ...]
"""Per size, small to large: long edge asked for, width, height, AVIF, JPEG or nothing."""


def write_pictures(
    pictures: Iterable[Picture], folder: Path, *, cache: Cache | None = None, executor: Executor | None = None
) -> Mapping[str, tuple[PictureSize, ...]]:
    """Write all pictures into `folder` and return, by picture name, what was written, small to large.

    Raises ValueError when two different pictures carry one name, CoverNotProvedError when a file shows
    what it should hide, PhotographRefusedError when a photo can not be decoded whole.
    """
    by_name: dict[str, Picture] = {}
    for picture in pictures:
        if by_name.setdefault(picture.name, picture).fingerprint != picture.fingerprint:
            raise ValueError(f"two pictures are called {picture.name!r}")
    folder.mkdir(parents=True, exist_ok=True)
    names: dict[str, list[str]] = {}
    for picture in by_name.values():
        names.setdefault(picture.fingerprint, []).append(picture.name)
    written: dict[str, tuple[PictureSize, ...]] = {}
    for fingerprint, made in made_pictures(by_name.values(), cache=cache, executor=executor):
        for name in names[fingerprint]:
            written[name] = _write_sizes(name, made, folder)
    return {name: written[name] for name in by_name}


def made_pictures(
    pictures: Iterable[Picture], *, cache: Cache | None = None, executor: Executor | None = None
) -> Iterator[tuple[str, Made]]:
    """Each different picture once, by fingerprint, as finished files: kept ones first, then those made now.

    Pictures of one photo are made by one worker from one decode.
    """
    missing: dict[str, dict[str, Picture]] = {}
    for picture in {picture.fingerprint: picture for picture in pictures}.values():
        kept = cache.get(_key(picture)) if cache is not None else None
        if kept is not None:
            yield picture.fingerprint, _unpacked(kept)
        else:
            missing.setdefault(picture.photo or picture.fingerprint, {})[picture.fingerprint] = picture
    groups = [tuple(group.values()) for group in missing.values()]
    run = executor.map if executor is not None else map
    for group, made in zip(groups, run(make_group, groups), strict=True):
        for picture, files in zip(group, made, strict=True):
            if cache is not None:
                cache.store(_key(picture), _packed(files), [picture.photo])
            yield picture.fingerprint, files


class PicturesAhead:
    """Pictures begun before the site that shows them is written, so that workers have something to do."""

    def __init__(self, cache: Cache, executor: Executor | None) -> None:
        self._cache, self._executor = cache, executor
        self._begun: set[str] = set()
        self._waiting: list[tuple[tuple[Picture, ...], Future[tuple[Made, ...]]]] = []

    def begin(self, pictures: Iterable[Picture]) -> None:
        """Hand out what is neither kept nor begun; without workers it is made when its site is written."""
        if self._executor is None:
            return
        groups: dict[str, list[Picture]] = {}
        for picture in pictures:
            if picture.fingerprint not in self._begun and not self._cache.has(_key(picture)):
                groups.setdefault(picture.photo, []).append(picture)
            self._begun.add(picture.fingerprint)
        for group in groups.values():
            self._waiting.append((tuple(group), self._executor.submit(make_group, group)))

    @property
    def is_idle(self) -> bool:
        """Whether nothing that was begun is still to be kept."""
        return not self._waiting

    def finish(self, progress: Callable[[str], None] = lambda _: None) -> None:
        """Keep everything that was begun. Raises as `write_pictures`."""
        for number, (group, future) in enumerate(self._waiting, 1):
            for picture, made in zip(group, future.result(), strict=True):
                self._cache.store(_key(picture), _packed(made), [picture.photo])
            progress(f"made the pictures of photo {number} of {len(self._waiting)}")
        self._waiting.clear()


def edges_for(picture: Picture) -> tuple[int, ...]:
    """Long edges to write; a picture is never blown up.

    A picture of 700 px gets 480 and 700, one of 300 px just 300.
    """
    longest = max(picture.width, picture.height)
    return tuple(dict.fromkeys(min(edge, longest) for edge in EDGES_PX))


def fallback_edge(edges: Sequence[int]) -> int:
    """Which of the long edges also gets a JPEG: the largest that is not above `FALLBACK_PX`, or the smallest."""
    return max((edge for edge in edges if edge <= FALLBACK_PX), default=edges[0])


def make_group(pictures: Sequence[Picture]) -> tuple[Made, ...]:
    """The files of some pictures of one photo. May be run by another thread or process."""
    try:
        return tuple(_made(picture) for picture in pictures)
    finally:
        let_go()


def _made(picture: Picture) -> Made:
    covers = [Rectangle(*box) for box in picture.covered]
    edges = edges_for(picture)
    files: list[tuple[int, int, int, bytes, bytes]] = []
    pixels = picture.source(edges[-1])
    for edge in reversed(edges):
        pixels = reduced(pixels, covers, edge) if files else pixels
        avif = encode_avif(pixels)
        jpeg = encode_jpeg(pixels) if edge == fallback_edge(edges) else b""
        for data in (avif, jpeg):
            if covers and data:
                with Image.open(io.BytesIO(data)) as written:
                    prove_covered(written, covers)
        files.append((edge, *pixels.size, avif, jpeg))
    return tuple(reversed(files))


def _write_sizes(name: str, made: Made, folder: Path) -> tuple[PictureSize, ...]:
    sizes = []
    for edge, width, height, avif, jpeg in made:
        stem = f"{name}-{edge}"
        (folder / f"{stem}.avif").write_bytes(avif)
        if jpeg:
            (folder / f"{stem}.jpg").write_bytes(jpeg)
        sizes.append(PictureSize(stem, width, height, has_jpeg=bool(jpeg)))
    return tuple(sizes)


def _key(picture: Picture) -> str:
    return key_of("picture", picture.fingerprint, f"{picture.width}x{picture.height}", str(picture.covered))


def _packed(made: Made) -> bytes:
    """A line of numbers, then the files one after the other."""
    numbers = [(edge, width, height, len(avif), len(jpeg)) for edge, width, height, avif, jpeg in made]
    line = ";".join(",".join(map(str, size)) for size in numbers)
    return line.encode() + b"\n" + b"".join(avif + jpeg for *_, avif, jpeg in made)


def _unpacked(packed: bytes) -> Made:
    line, _, rest = packed.partition(b"\n")
    made, at = [], 0
    for size in line.decode().split(";"):
        edge, width, height, avif, jpeg = map(int, size.split(","))
        made.append((edge, width, height, rest[at : at + avif], rest[at + avif : at + avif + jpeg]))
        at += avif + jpeg
    return tuple(made)
