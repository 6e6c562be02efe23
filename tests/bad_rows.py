"""How a sound folder is disturbed, and what has to come of it: what rows of hostile input are made of."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image

Disturb = Callable[[Path], None]

PHOTO = "photos/back-1.jpg"
FILE = "file: back-1.jpg"
J = "journey.yaml"


@dataclass(frozen=True)
class Row:
    """A folder that has to be refused."""

    what: str
    disturb: Disturb
    says: str
    """Words of the refusal: what is wrong, mostly with the file."""
    kind: str = ""
    """The kind of hostile input, of `KINDS` in `tests/bad_folders.py`."""
    whole_file: bool = False
    """No line can be named: the file is not text, too large, or not there."""


@dataclass(frozen=True)
class Tamed:
    """A folder that is compiled, and of which something must not come out, or has to come out right."""

    what: str
    disturb: Disturb
    kind: str
    gone: tuple[bytes, ...] = ()
    """In no byte of the site, whatever its case."""
    stays: tuple[str, ...] = ()
    """Words a reader sees on the page."""
    looks: Callable[[Image.Image], bool] | None = None
    """True for one of the published pictures at least."""


def added(file: str, text: str) -> Disturb:
    """At the end of a file."""

    def disturb(folder: Path) -> None:
        with (folder / file).open("a", encoding="utf-8", errors="surrogatepass") as end:
            end.write(text)

    return disturb


def swapped(file: str, old: str, new: str) -> Disturb:
    def disturb(folder: Path) -> None:
        text = (folder / file).read_text(encoding="utf-8")
        assert old in text, (file, old)
        (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")

    return disturb


def raw(file: str, data: bytes) -> Disturb:
    return lambda folder: written(folder / file, data)


def both(*steps: Disturb) -> Disturb:
    """One after the other."""

    def disturb(folder: Path) -> None:
        for step in steps:
            step(folder)

    return disturb


def changed(file: str, change: Callable[[bytes], bytes]) -> Disturb:
    return lambda folder: written(folder / file, change((folder / file).read_bytes()))


def linked(file: str, target: str) -> Disturb:
    def disturb(folder: Path) -> None:
        (folder / file).unlink()
        (folder / file).symlink_to(target)

    return disturb


def written(path: Path, data: bytes) -> None:
    """A file of its own, whatever stood there."""
    path.unlink(missing_ok=True)
    path.write_bytes(data)


def saved(image: Image.Image, kind: str, **how: Any) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, kind, **how)
    return buffer.getvalue()


def grain(
    width: int = 400, height: int = 300, seed: int = 3, about: tuple[int, int, int] = (196, 120, 132)
) -> Image.Image:
    """A photo of nothing: one colour with some grain."""
    rng = np.random.default_rng(seed)
    pixels = np.array(about) + rng.normal(0, 5, (height, width, 3))
    return Image.fromarray(np.clip(np.rint(pixels), 0, 255).astype(np.uint8))


def png_chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def png_of(width: int, height: int, rows: bytes, *, depth: int = 8, colour: int = 2) -> bytes:
    """A PNG built by hand: its header may promise anything."""
    header = png_chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, 0))
    pixels = png_chunk(b"IDAT", zlib.compress(rows))
    return b"\x89PNG\r\n\x1a\n" + header + pixels + png_chunk(b"IEND", b"")


def in_png(image: Image.Image, name: bytes, content: bytes) -> bytes:
    """A PNG with one more chunk behind its header."""
    plain = saved(image, "PNG")
    return plain[:33] + png_chunk(name, content) + plain[33:]


def in_jpeg(data: bytes, marker: int, content: bytes) -> bytes:
    """A JPEG with one more segment behind its first marker."""
    return data[:2] + bytes((0xFF, marker)) + struct.pack(">H", len(content) + 2) + content + data[2:]
