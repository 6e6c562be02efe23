"""Folders that somebody made to break the tool, compiled by the real command in a process of its own.

Every row disturbs one small sound client and names words that the refusal must hold. What comes back says how
the command ended: exit code, words, seconds of the processor and memory. `tests/test_bad_folders.py` judges.
"""

from __future__ import annotations

import io
import os
import resource
import struct
import sys
import zlib
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from PIL import Image

LIMIT_BYTES = 1 << 30
BOMB = "&a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{now}: &{now} [{', '.join(['*' + before] * 9)}]\n"
    for before, now in zip("abcdefgh", "bcdefghi", strict=True)
)


@dataclass(frozen=True)
class Row:
    what: str
    disturb: Callable[[Path], None]
    says: str
    """Words of the refusal: file, mostly with its line, and what is wrong."""


@dataclass(frozen=True)
class End:
    code: int
    said: str
    seconds: float
    """Of the processor."""
    peak_bytes: int
    """Memory beyond what the process had that the command was forked from."""


def added(file: str, text: str) -> Callable[[Path], None]:
    """At the end of a file."""

    def disturb(folder: Path) -> None:
        with (folder / file).open("a", encoding="utf-8") as end:
            end.write(text)

    return disturb


def swapped(file: str, old: str, new: str) -> Callable[[Path], None]:
    def disturb(folder: Path) -> None:
        text = (folder / file).read_text(encoding="utf-8")
        assert old in text, (file, old)
        (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")

    return disturb


def raw(file: str, data: bytes) -> Callable[[Path], None]:
    return lambda folder: _write(folder / file, data)


def linked(file: str, target: str) -> Callable[[Path], None]:
    def disturb(folder: Path) -> None:
        (folder / file).unlink()
        (folder / file).symlink_to(target)

    return disturb


def _write(path: Path, data: bytes) -> None:
    path.unlink(missing_ok=True)
    path.write_bytes(data)


def _pipe(folder: Path) -> None:
    (folder / PHOTO).unlink()
    os.mkfifo(folder / PHOTO)


def _hard_link(folder: Path) -> None:
    (folder / PHOTO).rename(folder.parent / "outside.jpg")
    (folder / PHOTO).hardlink_to(folder.parent / "outside.jpg")


def _directory(folder: Path) -> None:
    (folder / PHOTO).unlink()
    (folder / PHOTO).mkdir()


def _twin(folder: Path) -> None:
    (folder / "photos" / "Back-1.JPG").write_bytes((folder / PHOTO).read_bytes())
    swapped(J, "file: back-2.jpg", "file: Back-1.JPG")(folder)


def _latin(folder: Path) -> None:
    """A name in another encoding, in the folder and in the file that names it."""
    (folder / os.fsdecode(b"photos/caf\xe9.jpg")).write_bytes(b"x")
    (folder / J).write_bytes((folder / J).read_bytes().replace(b"file: back-1.jpg", b"file: caf\xe9.jpg"))


def _half(folder: Path) -> None:
    data = (folder / PHOTO).read_bytes()
    _write(folder / PHOTO, data[: len(data) // 2])


def _hole(folder: Path) -> None:
    data = (folder / PHOTO).read_bytes()
    at = int(len(data) * 0.4)
    _write(folder / PHOTO, data[:at] + bytes(4096) + data[at + 4096 :])


def _saved(image: Image.Image, kind: str) -> bytes:
    buffer = io.BytesIO()
    image.save(buffer, kind)
    return buffer.getvalue()


def _chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def _png_of_size(side: int) -> bytes:
    header = _chunk(b"IHDR", struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0))
    pixels = _chunk(b"IDAT", zlib.compress(bytes(1000)))
    return b"\x89PNG\r\n\x1a\n" + header + pixels + _chunk(b"IEND", b"")


def _text_bomb() -> bytes:
    rng = np.random.default_rng(3)
    plain = _saved(Image.fromarray(rng.integers(0, 255, (80, 80, 3), dtype=np.uint8)), "PNG")
    return plain[:33] + _chunk(b"zTXt", b"a\0\0" + zlib.compress(bytes(200 << 20), 9)) + plain[33:]


PHOTO = "photos/back-1.jpg"
FILE = "file: back-1.jpg"
J = "journey.yaml"

ROWS = (
    Row("alias bomb", added(J, f"bomb: {BOMB}"), "names a place for aliases"),
    Row("nesting", added(J, "deep: " + "[" * 100_000), "levels deep"),
    Row("equal keys", added("consent.yaml", "\ngrants: []\n"), "is given twice"),
    Row("ten megabytes", added(J, "x: [" + "a," * 5_000_000 + "]"), "larger than"),
    Row("too many entries", added(J, "x: [" + "a," * 30_000 + "]"), "entries"),
    Row("raw NUL", added(J, "x: a\0b\n"), "U+0000"),
    Row("escaped NUL", added(J, 'x: "a\\0b"\n'), "U+0000"),
    Row("direction override", added(J, "x: a\u202eb\n"), "U+202E"),
    Row("UTF-16", raw(J, "title: x\n".encode("utf-16")), "not UTF-8"),
    Row("two documents", added(J, "---\nx: 1\n"), "second document"),
    Row("200,000 digits", added(J, "x: " + "9" * 200_000 + "\n"), "journey.yaml"),
    Row("object of Python", added(J, "x: !!python/object/apply:os.system ['touch /tmp/owned']\n"), "the tag"),
    Row("merge key", added(J, "<<: {title: y}\n"), "merges another mapping"),
    Row("bare word for a day", swapped(J, "date: 20", "date: off # 20"), "journey.yaml:"),
    Row("text of five megabytes", raw("notes/goal.md", b"a* " * 1_700_000), "notes/goal.md"),
    Row("climbing out", swapped(J, FILE, "file: ../../secret.jpg"), "journey.yaml:"),
    Row("absolute path", swapped(J, FILE, "file: /etc/passwd"), "journey.yaml:"),
    Row("NUL in a file name", swapped(J, FILE, 'file: "a\\0.jpg"'), "U+0000"),
    Row("empty file name", swapped(J, FILE, 'file: ""'), "journey.yaml:"),
    Row("link outside", linked(PHOTO, "/etc/passwd"), "link"),
    Row("link to an endless device", linked(PHOTO, "/dev/zero"), "link"),
    Row("link to itself", linked(PHOTO, "back-1.jpg"), "link"),
    Row("salon's file linked", linked("salon.yaml", "/etc/passwd"), "link"),
    Row("pipe", _pipe, "pipe"),
    Row("hard link", _hard_link, "link"),
    Row("directory for a photo", _directory, "back-1.jpg"),
    Row("names that collide elsewhere", _twin, "computers mix up"),
    Row("name that is not UTF-8", _latin, "not UTF-8"),
    Row("EPS", raw(PHOTO, b"%!PS-Adobe-3.0 EPSF-3.0\n(x) run\n"), "back-1.jpg"),
    Row("SVG", raw(PHOTO, b'<svg xmlns="http://www.w3.org/2000/svg"><script>x()</script></svg>'), "back-1.jpg"),
    Row("TIFF", raw(PHOTO, _saved(Image.new("RGB", (80, 80)), "TIFF")), "back-1.jpg"),
    Row("HEIC", raw(PHOTO, b"\0\0\0\x18ftypheic\0\0\0\0mif1heic" + bytes(60)), "HEIC"),
    Row("9,400 squared", raw(PHOTO, _png_of_size(9_400)), "megapixels"),
    Row("12,000 squared", raw(PHOTO, _png_of_size(12_000)), "megapixels"),
    Row("20,000 squared", raw(PHOTO, _png_of_size(20_000)), "megapixels"),
    Row("text bomb in a PNG", raw(PHOTO, _text_bomb()), "back-1.jpg"),
    Row("half a photo", _half, "damaged"),
    Row("a hole of 4 KB", _hole, "damaged"),
    Row("inks without a profile", raw(PHOTO, _saved(Image.new("CMYK", (80, 80)), "JPEG")), "CMYK"),
    Row("no byte", raw(PHOTO, b""), "back-1.jpg"),
    Row("one pixel", raw(PHOTO, _saved(Image.new("RGB", (1, 1)), "PNG")), "back-1.jpg"),
    Row("a strip", raw(PHOTO, _saved(Image.new("RGB", (65_535, 64)), "PNG")), "back-1.jpg"),
    Row("one bit deep", raw(PHOTO, _saved(Image.new("1", (80, 80)), "PNG")), "back-1.jpg"),
)  # fmt: skip


def compiled(folder: Path, to: Path) -> End:
    """`journey compile FOLDER --to TO` in a child of this process that may take a gigabyte more, and its end.

    A child by fork, as starting Python anew would take most of the time that is measured.
    """
    said, speak = os.pipe()
    taken = _resident_bytes()
    child = os.fork()
    if not child:
        os.close(said)
        _run(folder, to, speak)
    os.close(speak)
    with os.fdopen(said, encoding="utf-8", errors="replace") as words:
        text = words.read()
    _, status, used = os.wait4(child, 0)
    return End(
        os.waitstatus_to_exitcode(status), text, used.ru_utime + used.ru_stime, used.ru_maxrss * 1024 - taken
    )


def _resident_bytes() -> int:
    """Memory of this process, with which a child by fork begins."""
    return int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1]) * os.sysconf("SC_PAGE_SIZE")


def _run(folder: Path, to: Path, speak: int) -> None:
    code = 99
    try:
        taken = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[0]) * os.sysconf("SC_PAGE_SIZE")
        resource.setrlimit(resource.RLIMIT_AS, (taken + LIMIT_BYTES, taken + LIMIT_BYTES))
        with os.fdopen(speak, "w", encoding="utf-8") as words, redirect_stdout(words), redirect_stderr(words):
            code = _command(folder, to)
    finally:
        os._exit(code)


def _command(folder: Path, to: Path) -> int:
    from journey.command import main

    sys.argv = ["journey", "compile", str(folder), "--to", str(to), "--for", "client"]
    try:
        main()
    except SystemExit as end:
        return int(end.code or 0)
    except BaseException:
        import traceback

        traceback.print_exc()
        return 98
    return 0
