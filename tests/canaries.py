"""110 places and forms in which somebody's identity can sit in a finished site, each planted once.

Every entry says what it is and makes one small site around it. `typed` holds the text when the form is one
that a person can type into a note: then the text filter must remove it before it ever gets here.
"""

# ruff: noqa: E501 - a table with one canary a line

from __future__ import annotations

import base64
import io
import os
import unicodedata
import urllib.parse
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, PngImagePlugin

from journey.identifiers import Identifier, IdentifierKind
from journey.site.publish import FIXED_TIME, settle
from tests.persona import IDENTIFIERS
from tests.record.profiles import SRGB_CURVE, SRGB_XY, matrix_profile

Kind = IdentifierKind
LINK_TOKEN = "kJ8vQ2xTz4Lm0Rw7Yb3Hcd"
EVERYTHING = (*IDENTIFIERS, Identifier(Kind.NUMBER, LINK_TOKEN))

NAME = "Ana Lucía Ruiz-Fernández"
BOTH = "Ana Ruiz"
MAIL = "ana.ruiz91@correo.example"

POLICY = "default-src 'none'; img-src 'self'; style-src 'self'; base-uri 'none'; form-action 'none'"


@dataclass(frozen=True)
class Canary:
    number: int
    what: str
    plant: Callable[[Path], None]
    kinds: tuple[str, ...]
    """What the audit may call it."""
    typed: str | None = None


def page(body: str = "", *, head: str = "", title: str = "Fourteen weeks") -> str:
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">\n<title>{title}</title>\n'
        f'{head}<link rel="stylesheet" href="style.css">\n</head>\n<body>\n<h1>Coral rose to violet</h1>\n'
        f"<p>Week 3: 30 g of violet at 1:2 on a level 8 base, 35 min.</p>\n{body}\n{LED_TO}</body>\n</html>\n"
    )


LED_TO = '<p><a href="readings.csv">1</a> <a href="calendar.ics">2</a> <img src="chart.svg" alt="roots"></p>\n'


def clean_site(folder: Path) -> None:
    """A site with nothing to find: page, styles, pictures, table, drawing, calendar."""
    (folder / "pictures").mkdir()
    write(folder, "index.html", page('<img src="pictures/p01.jpg" alt="Violet mid-lengths in week 3">'))
    write(folder, "style.css", "body{color:#333}\n.roots{background:url(pictures/p01.jpg)}\n")
    write(folder, "readings.csv", "week,zone,L,a,b\n0,crown,60.1,44.2,24.0\n3,nape,52.3,30.8,-12.9\n")
    write(
        folder,
        "chart.svg",
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><path d="M3 9L24 0"/></svg>',
    )
    write(folder, "calendar.ics", calendar("SUMMARY:Time to refresh", "UID:refresh@colour-journey.invalid"))
    (folder / "pictures" / "p01.jpg").write_bytes(picture("JPEG"))


def calendar(*lines: str) -> str:
    wrapped = ("BEGIN:VCALENDAR", "VERSION:2.0", "BEGIN:VEVENT", *lines, "END:VEVENT", "END:VCALENDAR")
    return "\r\n".join(wrapped) + "\r\n"


def write(folder: Path, name: str, text: str) -> None:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(text.encode())


def picture(form: str, **how: Any) -> bytes:
    rows = np.linspace(0, 255, 64 * 64 * 3).reshape(64, 64, 3).astype(np.uint8)
    buffer = io.BytesIO()
    Image.fromarray(rows).save(buffer, form, **how)
    return buffer.getvalue()


# ---------------------------------------------------------------- the ways to plant


def in_page(html: str) -> Callable[[Path], None]:
    return lambda folder: write(folder, "index.html", page(html))


def in_head(html: str, **how: str) -> Callable[[Path], None]:
    return lambda folder: write(folder, "index.html", page("", head=html, **how))


def in_file(name: str, text: str) -> Callable[[Path], None]:
    return lambda folder: write(folder, name, text)


def as_picture(name: str, form: str, *, tail: bytes = b"", **how: Any) -> Callable[[Path], None]:
    def plant(folder: Path) -> None:
        (folder / name).write_bytes(picture(form, **how) + tail)

    return plant


def typed(text: str) -> tuple[Callable[[Path], None], str]:
    """A form that can be typed: it stands on the page as it was typed."""
    return in_page(f"<p>Today {text} was here.</p>"), f"Today {text} was here."


def exif(tag: int) -> Image.Exif:
    found = Image.Exif()
    found[tag] = NAME.encode("ascii", "replace").decode()
    return found


def photoshop_block() -> bytes:
    record = b"\x1c\x02\x78" + len(NAME.encode()).to_bytes(2) + NAME.encode()
    block = b"8BIM\x04\x04\0\0" + len(record).to_bytes(4) + record + bytes(len(record) % 2)
    content = b"Photoshop 3.0\0" + block
    return b"\xff\xed" + (len(content) + 2).to_bytes(2) + content


def with_text_chunk() -> PngImagePlugin.PngInfo:
    info = PngImagePlugin.PngInfo()
    info.add_text("Author", NAME)
    return info


def in_an_old_time(folder: Path) -> None:
    os.utime(folder / "index.html", (FIXED_TIME + 1, FIXED_TIME + 1))


def bold(text: str) -> str:
    shift = {**{c: 0x1D400 - ord("A") for c in "ABCDEFGHIJKLMNOPQRSTUVWXYZ"}}
    shift |= {c: 0x1D41A - ord("a") for c in "abcdefghijklmnopqrstuvwxyz"}
    return "".join(chr(ord(c) + shift[c]) if c in shift else c for c in text)


def fullwidth(text: str) -> str:
    return "".join(chr(ord(c) + 0xFEE0) if "!" <= c <= "~" else c for c in text)


def percent(text: str) -> str:
    return "".join(f"%{byte:02X}" for byte in text.encode())


def css_escaped(text: str) -> str:
    return "".join(f"\\{ord(character):x} " for character in text)


def base64_of(text: str) -> str:
    return base64.b64encode(text.encode()).decode()


SVG = '<svg xmlns="http://www.w3.org/2000/svg">{}</svg>'
CLIENT, ANYBODY = ("client",), ("nobody's in particular",)
HER = ("client", "nickname", "relative")
MADE = ("construction", "file", "metadata", "client", "relative")

_TYPED: tuple[tuple[int, str, str, tuple[str, ...]], ...] = (
    (1, "full name", NAME, CLIENT),
    (2, "in capitals", NAME.upper(), CLIENT),
    (3, "small, without accents", "ana lucia ruiz-fernandez", CLIENT),
    (4, "decomposed accents", unicodedata.normalize("NFD", "Fernández"), CLIENT),
    (5, "possessive, curly", "Ana’s cousin", CLIENT),
    (6, "possessive, straight", "Ruiz-Fernández's cousin", CLIENT),
    (7, "initials and a family name", "A. L. Ruiz", HER),
    (8, "family name first", "Ruiz-Fernández, Ana", CLIENT),
    (9, "split by tags", "A<b>n</b>a Fer<b>nández</b>", CLIENT),
    (10, "split by a break opportunity", "Fer<wbr>nández", CLIENT),
    (11, "zero-width spaces between letters", "\u200b".join("Fernández"), CLIENT),
    (12, "soft hyphens", "\u00ad".join("Fernández"), CLIENT),
    (13, "soft hyphens by reference", "Fer&shy;nán&shy;dez", CLIENT),
    (14, "no-break and figure spaces", "Ana\u00a0Lucía\u2007Ruiz", CLIENT),
    (15, "decimal references", "".join(f"&#{ord(c)};" for c in BOTH), CLIENT),
    (16, "hexadecimal references", "".join(f"&#x{ord(c):x};" for c in BOTH), CLIENT),
    (17, "Cyrillic look-alikes", "Аnа Fеrnаndеz", CLIENT),
    (18, "fullwidth letters", fullwidth("Ana Ruiz"), CLIENT),
    (19, "mathematical bold", bold("Ana Ruiz"), CLIENT),
    (20, "letters set apart", "F e r n á n d e z", CLIENT),
    (21, "backwards, two parts", BOTH[::-1], CLIENT),
    (22, "backwards, one part", "zednánreF", CLIENT),
    (23, "digits for letters", "4na Ru1z", CLIENT),
    (24, "misspelt", "Anna Ruis", HER),
    (25, "in Cyrillic by sound", "Анна Руис", HER),
    (35, "percent signs", percent(BOTH), CLIENT),
    (36, "percent signs twice", percent(BOTH).replace("%", "%25"), CLIENT),
    (41, "hashtag", "#anaruizfernandez", CLIENT),
    (42, "run together with capitals", "AnaLuciaRuizFernandez", CLIENT),
    (43, "snake case", "ana_lucia_ruiz", CLIENT),
    (44, "nickname", "Anita", ("nickname",)),
    (48, "host name", "anaruiz.example", CLIENT),
    (49, "e-mail", MAIL, ("email",)),
    (50, "e-mail with a tag and capitals", "Ana.Ruiz91+Hair@Correo.Example", ("email",)),
    (51, "e-mail with [at] and [dot]", "ana.ruiz91 [at] correo [dot] example", ("email",)),
    (52, "e-mail with %40", "ana.ruiz91%40correo.example", ("email",)),
    (53, "e-mail with a fullwidth sign", "ana.ruiz91＠correo.example", ("email",)),
    (54, "handle", "@ana_ruiz91", ("handle", "email")),
    (55, "profile address", "https://pictures.example/anita.tonos/", ("url", "nickname")),
    (56, "handle without separators", "anaruiz91", ("handle", "email")),
    (57, "phone, spaced", "+44 7700 900 123", ("phone",)),
    (58, "phone, national", "07700 900123", ("phone",)),
    (59, "phone, 00", "00447700900123", ("phone",)),
    (60, "phone, brackets and dots", "(07700) 900.123", ("phone",)),
    (61, "phone, fullwidth digits", "０７７００ ９００１２３", ("phone",)),
    (62, "phone, Arabic-Indic digits", "٠٧٧٠٠٩٠٠١٢٣", ("phone",)),
    (63, "phone, digits split by tags", "077<b>00</b> 900<i>123</i>", ("phone",)),
    (67, "birthday, ISO", "1991-03-14", ("birthday",)),
    (68, "birthday, day first", "14/03/1991", ("birthday",)),
    (69, "birthday, month first, short year", "3/14/91", ("birthday",)),
    (70, "birthday, dots", "14.3.1991", ("birthday",)),
    (71, "birthday, English", "March 14th, 1991", ("birthday",)),
    (72, "birthday, Spanish", "14 de marzo de 1991", ("birthday",)),
    (74, "birthday, Roman month", "14.III.1991", ("birthday",)),
    (75, "birthday, Japanese", "1991年3月14日", ("birthday",)),
    (76, "day and month alone", "14 March", ("birthday",)),
    (77, "ISO week", "1991-W11", ("birthday",)),
    (78, "day of the year", "1991-073", ("birthday",)),
    (79, "spelt out", "the fourteenth of March", ("birthday",)),
    (80, "address", "Calle Mayor 14", ("place",)),
    (81, "address, abbreviated", "C/ Mayor nº14", ("place",)),
    (82, "coordinates", "40.41678, -3.70379", ANYBODY),
    (83, "workplace", "Quimera", ("workplace",)),
    (84, "relative", "Benedikt", ("relative",)),
    (85, "number plate", "4821-KZT", ("plate",)),
    (86, "account, card and identity numbers", "ES91 2100 0418 4502 0005 1332", ANYBODY),
    (87, "somebody else's e-mail and phone", "solo@otra.example +34 912 345 678", ANYBODY),
    (88, "age of 90 or more", "a 92-year-old", ANYBODY),
    (101, "another client", "Solvei Brandt", ("other client",)),
    (102, "stylist", "Philippa", ("stylist",)),
    (103, "salon", "Marisma", ("salon",)),
    (104, "link to a picture of hers", "pictures.example/anita.tonos/p/7", ("url", "nickname")),
)  # fmt: skip

_PLANTED: tuple[tuple[int, str, Callable[[Path], None], tuple[str, ...]], ...] = (
    (26, "photo's file name", as_picture("pictures/ana-ruiz-front.jpg", "JPEG"), CLIENT),
    (27, "alternative text", in_page(f'<img src="pictures/p01.jpg" alt="{NAME}">'), CLIENT),
    (28, "title and data attributes", in_page('<p title="Ruiz" data-who="Fernández">x</p>'), CLIENT),
    (29, "comment", in_page(f"<!-- {NAME} -->"), CLIENT),
    (30, "description", in_head(f'<meta name="description" content="{NAME}">\n'), CLIENT),
    (31, "title of the page", in_head("", title=BOTH), CLIENT),
    (32, "style escapes", in_file("style.css", f'p::after{{content:"{css_escaped(BOTH)}"}}'), CLIENT),
    (33, "text spans of a drawing", in_page(SVG.format("<text><tspan>Fer</tspan><tspan>nández</tspan></text>")), CLIENT),
    (34, "comment of a drawing", in_file("chart.svg", SVG.format(f"<!-- {NAME} --><path d='M0 0'/>")), CLIENT),
    (37, "base64", in_page(f'<p data-x="{base64_of(NAME)}">x</p>'), CLIENT),
    (38, "drawing in a data address", in_page(f'<img alt="" src="data:image/svg+xml;base64,{base64_of(SVG.format(f"<title>{NAME}</title>"))}">'), CLIENT),
    (39, "drawing in a data address, percent signs", in_page(f'<img alt="" src="data:image/svg+xml,{urllib.parse.quote(SVG.format(f"<desc>{NAME}</desc>"))}">'), CLIENT),
    (40, "hexadecimal", in_page(f'<p data-x="{NAME.encode().hex()}">x</p>'), CLIENT),
    (45, "folded calendar line", in_file("calendar.ics", calendar("SUMMARY:Colour with Fern\r\n \u00e1ndez")), CLIENT),
    (46, "attendee of a calendar", in_file("calendar.ics", calendar(f'ATTENDEE;CN="{NAME}":invalid:x')), CLIENT),
    (47, "escapes of a calendar", in_file("calendar.ics", calendar("DESCRIPTION:with\\nRuiz\\,Ana\\nagain")), CLIENT),
    (64, "chat link", in_page('<a href="https://chat.example/447700900123">chat</a>'), ("phone",)),
    (65, "telephone link", in_page('<a href="tel:+447700900123">call</a>'), ("phone", *MADE)),
    (66, "phone in a data file", in_file("data.json", '{"t": ["\\u0030770\\u0030", "07700\\u00a0900123"]}'), ("phone",)),
    (73, "birthday in a file name", as_picture("pictures/p-19910314.jpg", "JPEG"), ("birthday",)),
    (89, "Exif", as_picture("pictures/p02.jpg", "JPEG", exif=exif(0x013B)), ("metadata", "client")),
    (90, "XMP", as_picture("pictures/p02.jpg", "JPEG", xmp=NAME.encode()), ("metadata", "client")),
    (91, "IPTC", as_picture("pictures/p02.jpg", "JPEG", extra=photoshop_block()), ("metadata", "client")),
    (92, "JPEG comment", as_picture("pictures/p02.jpg", "JPEG", comment=NAME.encode()), ("metadata", "client")),
    (93, "colour profile", as_picture("pictures/p02.png", "PNG", icc_profile=matrix_profile(SRGB_XY, SRGB_CURVE)), ("metadata",)),
    (94, "PNG text", as_picture("pictures/p02.png", "PNG", pnginfo=with_text_chunk()), ("metadata", "client")),
    (95, "boxes of WebP and AVIF", as_picture("pictures/p02.avif", "AVIF", exif=exif(0x013B)), ("metadata", "client")),
    (96, "bytes after the end", as_picture("pictures/p02.webp", "WEBP", tail=b"mp4 of the whole room"), ("metadata",)),
    (105, "calendar's own key", in_file("calendar.ics", calendar("UID:ana-ruiz-7@colour-journey.invalid")), CLIENT),
    (106, "index for searching", in_file("search.json", '[{"t": "Fern\\u00e1ndez"}]'), CLIENT),
    (107, "time of a file", in_an_old_time, ("file",)),
    (108, "name of a folder", as_picture("pictures/p02.jpg", "JPEG"), ()),
    (109, "mark of the maker and its path", in_head('<meta name="generator" content="x /home/philippa/sites">\n'), ("construction", "stylist")),
    (110, "token of her own link", in_page(f'<a href="../{LINK_TOKEN}/index.html">x</a>'), ("number", "construction")),
)  # fmt: skip


def _name_of_a_folder(folder: Path) -> None:
    (folder / "ana_ruiz").mkdir()
    (folder / "ana_ruiz" / "p02.jpg").write_bytes(picture("JPEG"))


def _all() -> tuple[Canary, ...]:
    found = []
    for number, what, text, kinds in _TYPED:
        plant, as_typed = typed(text)
        found.append(Canary(number, what, plant, kinds, as_typed))
    for number, what, plant, kinds in _PLANTED:
        if number == 108:
            plant, kinds = _name_of_a_folder, CLIENT
        found.append(Canary(number, what, plant, kinds))
    return tuple(sorted(found, key=lambda canary: canary.number))


CANARIES = _all()
OUT_OF_REACH = {
    97: "a name printed on something in the photo",
    98: "a code in the photo",
    99: "a screen seen in the photo",
    100: "a name seen in a mirror in the photo",
}
"""These are in the pixels. A person looks at each photo; no text is read from pictures here."""


def make_site(folder: Path, canary: Canary) -> None:
    clean_site(folder)
    if canary.plant is in_an_old_time:
        settle(folder)
        in_an_old_time(folder)
        return
    canary.plant(folder)
    settle(folder)
