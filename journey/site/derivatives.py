"""Writes every picture of an edition at the sizes and formats a page asks for.

Decides sizes, formats and file names. What a picture shows (crop, covers, bare pixels) was decided in
`journey.edition`; it is asked for here once per size.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PIL import Image

from journey.edition.model import Picture

EDGES_PX: Final = (480, 960)
"""Long edges: a phone's half width at double density, and a projector's board."""


@dataclass(frozen=True, slots=True)
class PictureSize:
    """One written size of a picture: `p01-480.avif` and `p01-480.jpg` of `width` x `height` px."""

    stem: str
    width: int
    height: int


def write_pictures(
    pictures: Iterable[Picture], folder: Path, executor: Executor | None = None
) -> Mapping[str, tuple[PictureSize, ...]]:
    """Write all pictures into `folder` and return, by picture name, what was written, small to large.

    Raises ValueError when two different pictures carry one name.
    """
    by_name: dict[str, Picture] = {}
    for picture in pictures:
        if by_name.setdefault(picture.name, picture).fingerprint != picture.fingerprint:
            raise ValueError(f"two pictures are called {picture.name!r}")
    folder.mkdir(parents=True, exist_ok=True)
    todo = list(by_name.values())
    run = executor.map if executor is not None else map
    return dict(zip(by_name, run(_write_picture, todo, [folder] * len(todo)), strict=True))


def edges_for(picture: Picture) -> tuple[int, ...]:
    """Long edges to write; a picture is never blown up.

    A picture of 700 px gets 480 and 700, one of 300 px just 300.
    """
    longest = max(picture.width, picture.height)
    return tuple(dict.fromkeys(min(edge, longest) for edge in EDGES_PX))


def _write_picture(picture: Picture, folder: Path) -> tuple[PictureSize, ...]:
    sizes = []
    for edge in edges_for(picture):
        pixels = picture.source(edge)
        stem = f"{picture.name}-{edge}"
        (folder / f"{stem}.avif").write_bytes(_encode(pixels, "AVIF", quality=58, speed=8, max_threads=1))
        (folder / f"{stem}.jpg").write_bytes(_encode(pixels, "JPEG", quality=80, optimize=True))
        sizes.append(PictureSize(stem, *pixels.size))
    return tuple(sizes)


def _encode(pixels: Image.Image, form: str, **settings: int | bool) -> bytes:
    buffer = io.BytesIO()
    Image.frombytes("RGB", pixels.size, pixels.convert("RGB").tobytes()).save(buffer, form, **settings)
    return buffer.getvalue()
