"""Files that are not what their names say: ways out of the folder, things that are no file, names that collide."""



from __future__ import annotations

import os
import socket
from pathlib import Path

from tests.bad_rows import FILE, PHOTO, Disturb, J, Row, linked, swapped, written


def _pipe(folder: Path) -> None:
    (folder / PHOTO).unlink()
    os.mkfifo(folder / PHOTO)


def _pipe_for_yaml(folder: Path) -> None:
    (folder / "salon.yaml").unlink()
    os.mkfifo(folder / "salon.yaml")


def _socket(folder: Path) -> None:
    (folder / PHOTO).unlink()
    here = Path.cwd()
    os.chdir(folder / "photos")  # the name of a socket may not be long
    try:
        with socket.socket(socket.AF_UNIX) as made:
            made.bind("back-1.jpg")
    finally:
        os.chdir(here)


def _hard_link(folder: Path) -> None:
    (folder / PHOTO).rename(folder.parent / "outside.jpg")
    (folder / PHOTO).hardlink_to(folder.parent / "outside.jpg")


def _hard_linked_note(folder: Path) -> None:
    (folder.parent / "outside.md").hardlink_to(folder / "notes" / "goal.md")


def _directory(folder: Path) -> None:
    (folder / PHOTO).unlink()
    (folder / PHOTO).mkdir()


def _linked_folder(name: str) -> Disturb:
    def disturb(folder: Path) -> None:
        (folder / name).rename(folder.parent / "elsewhere")
        (folder / name).symlink_to(folder.parent / "elsewhere")

    return disturb


def _file_for_folder(folder: Path) -> None:
    (folder / "photos").rename(folder.parent / "elsewhere")
    (folder / "photos").write_bytes(b"x")


def _twin(folder: Path) -> None:
    (folder / "photos" / "Back-1.JPG").write_bytes((folder / PHOTO).read_bytes())
    swapped(J, "file: back-2.jpg", "file: Back-1.JPG")(folder)


def _unnamed_twin(folder: Path) -> None:
    (folder / "photos" / "BACK-1.jpg").write_bytes(b"x")


def _accents(folder: Path) -> None:
    data = (folder / PHOTO).read_bytes()
    for name in ("caf\u00e9.jpg", "cafe\u0301.jpg"):
        (folder / "photos" / name).write_bytes(data)
    swapped(J, FILE, "file: caf\u00e9.jpg")(folder)
    swapped(J, "file: back-2.jpg", "file: cafe\u0301.jpg")(folder)


def _latin(folder: Path) -> None:
    """A name in another encoding, in the folder and in the file that names it."""
    (folder / os.fsdecode(b"photos/caf\xe9.jpg")).write_bytes(b"x")
    (folder / J).write_bytes((folder / J).read_bytes().replace(b"file: back-1.jpg", b"file: caf\xe9.jpg"))


def _beside(name: str) -> Disturb:
    """A file in photos/ that no line names."""
    return lambda folder: written(folder / "photos" / name, b"x")


def _unnamed_latin(folder: Path) -> None:
    (folder / os.fsdecode(b"photos/caf\xe9.jpg")).write_bytes(b"x")


FILE_ROWS = (
    Row("climbing out", swapped(J, FILE, "file: ../../secret.jpg"), "names a folder too", "ways out"),
    Row("absolute path", swapped(J, FILE, "file: /etc/passwd"), "names a folder too", "ways out"),
    Row("climbing by backslash", swapped(J, FILE, "file: ..\\..\\secret.jpg"), "names a folder too", "ways out"),
    Row("climbing by two dots", swapped(J, FILE, "file: .."), "leads out", "ways out"),
    Row("climbing by percent", swapped(J, FILE, "file: '%2e%2e%2fsecret.jpg'"), "no such file", "ways out"),
    Row("address for a file", swapped(J, FILE, "file: https://tracker.example/p.jpg"), "names a folder too",
        "ways out"),
    Row("link outside", linked(PHOTO, "/etc/passwd"), "link", "links"),
    Row("link to an endless device", linked(PHOTO, "/dev/zero"), "link", "links"),
    Row("link to a terminal", linked(PHOTO, "/dev/tty"), "link", "links"),
    Row("link to itself", linked(PHOTO, "back-1.jpg"), "link", "links"),
    Row("link inside the folder", linked(PHOTO, "back-2.jpg"), "link", "links"),
    Row("link to nothing", linked(PHOTO, "nowhere.jpg"), "link", "links"),
    Row("link to memory of this process", linked(PHOTO, "/proc/self/mem"), "link", "links"),
    Row("salon's file linked", linked("salon.yaml", "/etc/passwd"), "link", "links", True),
    Row("note linked", linked("notes/goal.md", "/etc/passwd"), "link", "links"),
    Row("folder of photos linked", _linked_folder("photos"), "link", "links"),
    Row("folder of notes linked", _linked_folder("notes"), "link", "links"),
    Row("pipe", _pipe, "pipe", "pipes"),
    Row("pipe for the salon's file", _pipe_for_yaml, "pipe", "pipes", True),
    Row("socket", _socket, "not a plain file", "pipes"),
    Row("hard link", _hard_link, "hard link", "hard links"),
    Row("hard link of a note", _hard_linked_note, "hard link", "hard links"),
    Row("directory for a photo", _directory, "it is a folder", "folders and empty names"),
    Row("file for the folder of photos", _file_for_folder, "not a plain file", "folders and empty names"),
    Row("dot for a file name", swapped(J, FILE, "file: ."), "leads out", "folders and empty names"),
    Row("empty file name", swapped(J, FILE, 'file: ""'), "nothing is written", "folders and empty names"),
    Row("photo that is not there", lambda folder: (folder / PHOTO).unlink(), "no such file",
        "folders and empty names"),
    Row("NUL in a file name", swapped(J, FILE, 'file: "a\\0.jpg"'), "U+0000", "NUL in a name"),
    Row("name that is not UTF-8", _latin, "not UTF-8", "names that are not UTF-8"),
    Row("name that is not UTF-8, unused", _unnamed_latin, "not UTF-8", "names that are not UTF-8"),
    Row("names that collide elsewhere", _twin, "computers mix up", "names that collide"),
    Row("names that collide, one unused", _unnamed_twin, "other systems", "names that collide"),
    Row("names that collide by an accent", _accents, "computers mix up", "names that collide"),
    Row("line break in a name", _beside("a\nb.jpg"), "control character", "odd names"),
    Row("direction override in a name", _beside("a\u202egpj.exe"), "direction mark", "odd names"),
    Row("escape sequence in a name", swapped(J, FILE, 'file: "\\e[2J.jpg"'), "U+001B", "odd names"),
    Row("256 bytes of a name", swapped(J, FILE, "file: " + "\u00e9" * 126 + ".jpg.."), "too long", "odd names"),
)  # fmt: skip
