"""Writes every picture of an edition at the sizes and formats a page asks for.

Decides sizes, formats and file names, keeps finished files for the next time, and looks at every file that
should hide something. What a picture shows (crop, covers, bare pixels) was decided in `journey.edition`; it
is asked for here once per size.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterable, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from PIL import Image
from PIL import __version__ as pillow_version

from journey.edition.model import Picture
from journey.edition.photographs import encode_avif, encode_jpeg, prove_covered
from journey.record.rectangle import Rectangle

EDGES_PX: Final = (480, 960)
"""Long edges: a phone's half width at double density, and a projector's board."""
_ENCODERS: Final = {"avif": encode_avif, "jpg": encode_jpeg}
_GENERATION: Final = "1"
"""Raised when sizes or encoders change, so that kept files of an earlier kind are not taken."""


@dataclass(frozen=True, slots=True)
class PictureSize:
    """One written size of a picture: `p01-480.avif` and `p01-480.jpg` of `width` x `height` px."""

    stem: str
    width: int
    height: int


def write_pictures(
    pictures: Iterable[Picture], folder: Path, executor: Executor | None = None, kept: Path | None = None
) -> Mapping[str, tuple[PictureSize, ...]]:
    """Write all pictures into `folder` and return, by picture name, what was written, small to large.

    Files in the private folder `kept` are taken again while a picture's fingerprint stays the same.
    Raises ValueError when two different pictures carry one name, CoverNotProvedError when a file shows
    what it should hide.
    """
    by_name: dict[str, Picture] = {}
    for picture in pictures:
        if by_name.setdefault(picture.name, picture).fingerprint != picture.fingerprint:
            raise ValueError(f"two pictures are called {picture.name!r}")
    folder.mkdir(parents=True, exist_ok=True)
    if kept is not None:
        kept.mkdir(parents=True, exist_ok=True)
    todo = list(by_name.values())
    run = executor.map if executor is not None else map
    return dict(
        zip(by_name, run(_write_picture, todo, [folder] * len(todo), [kept] * len(todo)), strict=True)
    )


def edges_for(picture: Picture) -> tuple[int, ...]:
    """Long edges to write; a picture is never blown up.

    A picture of 700 px gets 480 and 700, one of 300 px just 300.
    """
    longest = max(picture.width, picture.height)
    return tuple(dict.fromkeys(min(edge, longest) for edge in EDGES_PX))


def _write_picture(picture: Picture, folder: Path, kept: Path | None) -> tuple[PictureSize, ...]:
    sizes = []
    for edge in edges_for(picture):
        stem = f"{picture.name}-{edge}"
        files = _kept_files(picture, edge, kept) or _made_files(picture, edge, kept)
        for extension, data in files.items():
            (folder / f"{stem}.{extension}").write_bytes(data)
        with Image.open(io.BytesIO(files["jpg"])) as written:
            sizes.append(PictureSize(stem, *written.size))
    return tuple(sizes)


def _made_files(picture: Picture, edge: int, kept: Path | None) -> dict[str, bytes]:
    pixels = picture.source(edge)
    files = {extension: encode(pixels) for extension, encode in _ENCODERS.items()}
    covers = [Rectangle(*box) for box in picture.covered]
    for extension, data in files.items():
        if covers:
            with Image.open(io.BytesIO(data)) as written:
                prove_covered(written, covers)
        if kept is not None:
            _kept_path(picture, edge, extension, kept).write_bytes(data)
    return files


def _kept_files(picture: Picture, edge: int, kept: Path | None) -> dict[str, bytes]:
    """Files made earlier from the same picture; empty unless all formats are there."""
    if kept is None:
        return {}
    paths = {extension: _kept_path(picture, edge, extension, kept) for extension in _ENCODERS}
    if not all(path.is_file() for path in paths.values()):
        return {}
    return {extension: path.read_bytes() for extension, path in paths.items()}


def _kept_path(picture: Picture, edge: int, extension: str, kept: Path) -> Path:
    said = f"{_GENERATION}|{pillow_version}|{picture.fingerprint}|{edge}"
    return kept / f"{hashlib.sha256(said.encode()).hexdigest()}.{extension}"
