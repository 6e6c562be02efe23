"""Folders with something in them that is let in and must not do what it was made for.

Every row disturbs one small sound client, which is then compiled; `tests/test_bad_folders.py` looks at the site.
Rows on photos are done two at a time: the page shows two photos whole.
"""

# ruff: noqa: E501 - a table reads best with a row a line

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import numpy as np
from PIL import Image

from tests.bad_rows import (
    Disturb,
    J,
    Tamed,
    both,
    grain,
    in_png,
    png_of,
    raw,
    saved,
    swapped,
    written,
)

TITLE = "title: A first rose"
_WORDS = "words: Softer, and still rose."

SCRIPTS = (
    "<script>window.owned=1</script>", "<img src=x onerror='window.owned=1'>", "<svg/onload=window.owned=1>",
    "<iframe srcdoc='<script>owned=1</script>'></iframe>", "</p><style>*{background:url(//tracker.example/s)}</style>",
    "<details open ontoggle=window.owned=1>", "<math><mi xlink:href='javascript:window.owned=1'>x</mi></math>",
    "&lt;script&gt;window.owned=1&lt;/script&gt;", "<!-- --><script>window.owned=1</script>", "<a href=//tracker.example>x</a>",
    "`</code><script>window.owned=1</script>`", "```html\n<script>window.owned=1</script>\n```",
    "<link rel=stylesheet href=//tracker.example/a.css>", "<form action=//tracker.example><button>x</button></form>",
    "<object data=//tracker.example/o></object><embed src=//tracker.example/e>", "<meta http-equiv=refresh content='0;url=//tracker.example'>",
)  # fmt: skip
LINKS = (
    "[a](javascript:window.owned=1)", "[b](JaVaScRiPt&#58;window.owned=1)", "[c](data:text/html,<script>owned=1</script>)",
    "[d](vbscript:owned)", "[e](file:///etc/passwd)", "[f](blob:https://tracker.example/x)", "[g](intent://x#Intent;end)",
    "[h][ref]\n\n[ref]: javascript:window.owned=1", "<javascript:window.owned=1>", "<https://tracker.example/auto>",
    "[i](java\tscript:window.owned=1)", "[j](&#x6A;avascript:window.owned=1)", "[k](//tracker.example/k)", "[l](\\\\tracker.example\\l)",
    "[m](http://tracker.example/m)", "[n](mailto:x@tracker.example)", "[o](tel:+1)", "[p](https://u:p@tracker.example/)",
)  # fmt: skip
PICTURES = (
    "![a](https://tracker.example/p.gif)", "![b](//tracker.example/p.gif)", "![c](../../etc/passwd)", "![d](data:image/png;base64,AAAA)",
    "![e](blob:x)", "![f][ref]\n\n[ref]: https://tracker.example/r.png", "[![g](https://tracker.example/g.png)](javascript:owned=1)",
    "![h](x \"' onerror=window.owned=1 x='\")", "![<img src=x onerror=owned=1>](y)", "![i](file:///etc/passwd)",
)  # fmt: skip
BRACES = "{{ 7*191 }} {% raw %}{{ config.__class__.__mro__ }} ${7*191} #{7*191} <%= 7*191 %> {title} {0} %(title)s %s"
_SLOW = ("[" * 50_000, "*a" * 30_000, ">" * 20_000 + "a", "- " * 30_000, "`" * 60_000, "<" * 60_000, "![" * 30_000)


def _noted(texts: tuple[str, ...]) -> Disturb:
    """As the words of the check-in, which are Markdown, in a note; and as the goal."""
    note = "\n\n".join(texts).encode()
    named = swapped(J, _WORDS, "words: notes/injected.md")
    return both(named, raw("notes/injected.md", note), raw("notes/goal.md", note))


def _in_every_field(text: str) -> Disturb:
    """In each text of one line that a page shows, and in the names of things."""

    def disturb(folder: Path) -> None:
        for old in (
            TITLE,
            "    title: Lightened, then rose",
            "    name: Crown",
            "        name: Rose",
            "        view: back",
            "        light: salon",
            "    title: Refresh the rose",
        ):
            swapped(J, f"{old}\n", f"{old.partition(':')[0]}: '{text}'\n")(folder)
        swapped(J, "        no_face: yes\n", f"        no_face: yes\n        caption: '{text}'\n")(folder)
        swapped("salon.yaml", "name: Rose direct colour", f"name: '{text}'")(folder)

    return disturb


def _slow(folder: Path) -> None:
    """Three texts that parsers have been slow at, each as long as a note may be."""
    for old, name, text in zip(
        ("goal: notes/goal.md", "words: We lightened", _WORDS), ("goal", "first", "weeks"), _SLOW, strict=False
    ):
        written(folder / "notes" / f"{name}.md", text[: 64 * 1024 - 1].encode())
        line = next(one for one in (folder / J).read_text(encoding="utf-8").split("\n") if old in one)
        swapped(J, line, f"{line.partition(':')[0]}: notes/{name}.md")(folder)


def photo(number: int, make: Callable[[], bytes]) -> Disturb:
    """In place of a photo; nothing is measured on it, so that charts need not be drawn anew."""

    def disturb(folder: Path) -> None:
        text = (folder / J).read_text(encoding="utf-8")
        marks = text.index("        patches:", text.index(f"- key: photo-{number}\n"))
        after = text.index("        no_face:", marks)
        (folder / J).write_text(text[:marks] + text[after:], encoding="utf-8")
        written(folder / "photos" / f"back-{number}.jpg", make())

    return disturb


def _near(about: tuple[int, int, int]) -> Callable[[Image.Image], bool]:
    """Whether the middle of a picture is of that colour, as far as encoding goes."""

    def looks(picture: Image.Image) -> bool:
        pixels = np.asarray(picture.convert("RGB")).astype(float)
        height, width = pixels.shape[:2]
        middle = pixels[height // 4 : height // 2, width // 4 : width // 2].mean(axis=(0, 1))
        return bool(np.abs(middle - about).max() < 6)

    return looks


def _oriented(orientation: int) -> bytes:
    exif = Image.Exif()
    exif[274] = orientation
    exif[0x010E] = "ANA-IN-EXIF"
    return saved(grain(about=(60, 150, 90)), "JPEG", exif=exif)


def _halves() -> bytes:
    """Left half blue and seen, right half red and under full transparency."""
    pixels = np.zeros((300, 400, 4), dtype=np.uint8)
    pixels[:, :200] = (40, 60, 180, 255)
    pixels[:, 200:] = (200, 0, 0, 0)
    return saved(Image.fromarray(pixels), "PNG")


def _no_red(picture: Image.Image) -> bool:
    pixels = np.asarray(picture.convert("RGB")).astype(int)
    blue = np.abs(pixels[:, : pixels.shape[1] // 3] - (40, 60, 180)).max() < 20
    return bool(blue and (pixels[:, -pixels.shape[1] // 3 :] > 235).all())


def _palette() -> bytes:
    """Two colours in use, and names in the entries of its table that nothing uses."""
    picture = Image.fromarray(np.full((300, 400), 1, dtype=np.uint8), "P")
    table = [0, 0, 0, 180, 160, 40, *b"ANA-IN-PALETTE!".ljust(750, b"A")]
    picture.putpalette(table)
    return saved(picture, "PNG")


def _animation(kind: str, about: tuple[int, int, int]) -> Callable[[], bytes]:
    frames = [grain(seed=9, about=(250, 0, 0))]
    return lambda: saved(grain(about=about), kind, save_all=True, append_images=frames)


def _deep_grey() -> bytes:
    return saved(Image.fromarray(np.full((300, 400), 127 * 257, dtype=np.uint16)), "PNG")


def _deep_colour() -> bytes:
    row = b"\0" + b"".join((value * 257).to_bytes(2) for value in (90, 40, 200)) * 400
    return png_of(400, 300, row * 300, depth=16)


def _grey() -> bytes:
    return saved(grain(about=(120, 90, 60)).convert("L"), "JPEG")


def _exif_loop() -> bytes:
    """An Exif whose list of tags names itself as the next."""
    loop = b"Exif\0\0MM\0*\0\0\0\x08\0\x01\x87\x69\0\x04\0\0\0\x01\0\0\0\x08\0\0\0\x08"
    return saved(grain(about=(70, 70, 160)), "JPEG", exif=loop)


def _exif_that_lies() -> bytes:
    """An Exif whose sizes point far behind its end."""
    tags = b"\x01\x12\0\x02\x7f\xff\xff\xff\x7f\xff\xff\xf0" * 500
    return saved(grain(about=(160, 70, 160)), "JPEG", exif=b"Exif\0\0MM\0*\0\0\0\x08\xff\xff" + tags)


def _large_profile() -> bytes:
    """A profile of two megabytes over 33 segments that is none."""
    return saved(grain(about=(70, 160, 160)), "JPEG", icc_profile=b"ANA-IN-PROFILE" * 150_000)


def _polyglot() -> bytes:
    tail = b"<html><script>window.owned=1</script>ANA-IN-TAIL</html>"
    data = saved(grain(about=(150, 100, 60)), "JPEG", comment=b"*/=1;ANA-IN-COMMENT/*<script>owned=1</script>")
    return data + tail


def _motion() -> bytes:
    """A phone's photo with a film behind it."""
    return saved(grain(about=(100, 150, 60)), "JPEG") + b"\0\0\0\x18ftypmp42ANA-IN-FILM" + bytes(50_000)


def _archive_behind() -> bytes:
    """A PNG with an archive behind its end."""
    return saved(grain(about=(60, 100, 150)), "PNG") + b"PK\x03\x04ANA-IN-ARCHIVE" + bytes(500)


def _odd_names(folder: Path) -> None:
    """Names a person may well give; none comes out."""
    data = [(folder / "photos" / f"back-{number}.jpg").read_bytes() for number in (1, 2, 3)]
    names = ('"><script>owned=1<script>.jpg', "#?%20ana-fingida.jpg", "-rf")
    for number, (name, content) in enumerate(zip(names, data, strict=True), 1):
        written(folder / "photos" / name.replace("/", ""), content)
        (folder / "photos" / f"back-{number}.jpg").unlink()
        swapped(J, f"file: back-{number}.jpg", f"file: '{name}'")(folder)


def _long_name(folder: Path) -> None:
    name = "\u00e9" * 125 + ".jpg"
    (folder / "photos" / "back-1.jpg").rename(folder / "photos" / name)
    swapped(J, "file: back-1.jpg", f"file: {name}")(folder)


def _things_beside(folder: Path) -> None:
    """A pipe, an endless device and a link out, where no line names them: nobody opens them."""
    os.mkfifo(folder / "photos" / "pipe.jpg")
    (folder / "photos" / "zero.jpg").symlink_to("/dev/zero")
    (folder / "notes" / "out.md").symlink_to("/etc/passwd")
    (folder / "photos" / "unnamed.jpg").write_bytes(b"ANA-UNNAMED")


TAMED = (
    Tamed("markup", _noted(SCRIPTS), "markup in Markdown", stays=("<script>window.owned=1</script>",)),
    Tamed("links", _noted(LINKS), "links in Markdown", gone=(b"href=\"javascript", b"href=\"data:")),
    Tamed("pictures", _noted(PICTURES), "pictures in Markdown", gone=(b'src="http', b'src="//')),
    Tamed("slow Markdown", _slow, "Markdown that is slow"),
    Tamed("braces and quotes in every field", _in_every_field("\" onfocus=owned=1 x=\" <b>&amp;" + BRACES),
          "braces and quotes in fields", gone=(b"1337",), stays=("{{ 7*191 }}", "<b>")),
    Tamed("end of a script in every field", _in_every_field("</script></style></title><script>window.owned=1</script>]]>"),
          "braces and quotes in fields", gone=(b"<script>window.owned",)),
    Tamed("no, octal and sixties as titles", both(swapped(J, TITLE, "title: 0612345677"),
          swapped(J, "    title: Lightened, then rose", "    title: no"), swapped(J, _WORDS, "words: 12:34")),
          "words for other types", stays=("0612345677", "12:34")),
    Tamed("odd names", _odd_names, "odd names", gone=(b"ana-fingida", b"owned=1", b"%20ana")),
    Tamed("a name of 255 bytes", _long_name, "odd names", gone=("\u00e9".encode() * 20,)),
    Tamed("things beside the photos", _things_beside, "links", gone=(b"ana-unnamed", b"unnamed.jpg", b"root:x:")),
    Tamed("PNG under the name of a JPEG", photo(1, lambda: saved(grain(about=(90, 60, 120)), "PNG")),
          "another format under the name of a JPEG", looks=_near((90, 60, 120))),
    Tamed("WebP under the name of a JPEG", photo(2, lambda: saved(grain(about=(20, 90, 120)), "WEBP", quality=90)),
          "another format under the name of a JPEG", looks=_near((20, 90, 120))),
    Tamed("AVIF under the name of a JPEG", photo(1, lambda: saved(grain(about=(120, 140, 20)), "AVIF", quality=90)),
          "another format under the name of a JPEG", looks=_near((120, 140, 20))),
    Tamed("16 bits of grey", photo(2, _deep_grey), "16 bits", looks=_near((127, 127, 127))),
    Tamed("16 bits of colour", photo(1, _deep_colour), "16 bits", looks=_near((90, 40, 200))),
    Tamed("grey", photo(2, _grey), "16 bits", looks=_near((95, 95, 95))),
    Tamed("lying on its side", photo(1, lambda: _oriented(6)), "Exif orientation", gone=(b"ana-in-exif",),
          looks=lambda picture: picture.height > picture.width),
    Tamed("an orientation that does not exist", photo(2, lambda: _oriented(99)), "Exif orientation",
          gone=(b"ana-in-exif",), looks=_near((60, 150, 90))),
    Tamed("Exif that names itself", photo(1, _exif_loop), "Exif orientation", looks=_near((70, 70, 160))),
    Tamed("Exif that points behind its end", photo(2, _exif_that_lies), "Exif orientation", looks=_near((160, 70, 160))),
    Tamed("a profile of two megabytes that is none", photo(1, _large_profile), "Exif orientation",
          gone=(b"ana-in-profile",), looks=_near((70, 160, 160))),
    Tamed("PNG that moves", photo(2, _animation("PNG", (30, 30, 90))), "more pictures in one", looks=_near((30, 30, 90))),
    Tamed("WebP that moves", photo(1, _animation("WEBP", (90, 90, 30))), "more pictures in one", looks=_near((90, 90, 30))),
    Tamed("AVIF that moves", photo(2, _animation("AVIF", (30, 90, 30))), "more pictures in one", looks=_near((30, 90, 30))),
    Tamed("a pair of pictures", photo(1, _animation("MPO", (90, 30, 30))), "more pictures in one", looks=_near((90, 30, 30))),
    Tamed("JPEG that is a page too", photo(2, _polyglot), "a page or film behind a photo",
          gone=(b"ana-in-", b"owned=1"), looks=_near((150, 100, 60))),
    Tamed("film behind a JPEG", photo(1, _motion), "a page or film behind a photo", gone=(b"ana-in-", b"ftypmp42"),
          looks=_near((100, 150, 60))),
    Tamed("archive behind a PNG", photo(2, _archive_behind), "a page or film behind a photo", gone=(b"ana-in-", b"PK\x03\x04"),
          looks=_near((60, 100, 150))),
    Tamed("what lies under transparency", photo(1, _halves), "odd sizes and kinds of pixels", looks=_no_red),
    Tamed("names in an unused palette", photo(2, _palette), "odd sizes and kinds of pixels", gone=(b"ana-in-palette",),
          looks=_near((180, 160, 40))),
    Tamed("text in a PNG", photo(1, lambda: in_png(grain(about=(140, 140, 200)), b"tEXt", b"Author\0ANA-IN-TEXT")),
          "a page or film behind a photo", gone=(b"ana-in-text",), looks=_near((140, 140, 200))),
)  # fmt: skip


def batches() -> list[tuple[Tamed, ...]]:
    """Rows that can be done in one folder: those on different photos together, the others alone."""
    on_photos = [row for row in TAMED if row.looks is not None]
    return [(row,) for row in TAMED if row.looks is None] + [
        tuple(on_photos[at : at + 2]) for at in range(0, len(on_photos), 2)
    ]
