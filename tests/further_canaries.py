"""Further forms in which the invented client may stand in a text or a finished site, beyond the 110.

Filter and audit were mended with this list in view: of its 152 forms the audit knew 94 before that. Each is judged by
both: the filter replaces what can be typed, the audit refuses what stands in the finished bytes. What neither sees is named in `MISSED`, each with
its reason; a form that moves from one side to the other fails a test until this table says so.
"""

# ruff: noqa: E501 - a table with one form a line

from __future__ import annotations

import base64
import codecs
import gzip
import json
import zlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from tests import typed_canaries
from tests.canaries import BOTH, MAIL, NAME, SVG, calendar, in_file, in_head, in_page, page, write

FAMILY = "Fernández"
PLAIN_FAMILY = "Fernandez"


@dataclass(frozen=True)
class Form:
    name: str
    plant: Callable[[Path], None]
    typed: str | None = None
    """The text a person could type; None where the form stands in files only."""


def mapped(text: str, source: str, target: str) -> str:
    return text.translate(str.maketrans(source, target))


def between(text: str, mark: str) -> str:
    return mark.join(text)


def utf7(text: str) -> str:
    return text.encode("utf-7").decode("ascii")


def whole_utf7(text: str) -> str:
    packed = base64.b64encode(text.encode("utf-16-be")).decode().rstrip("=")
    return f"+{packed}-"


def wrapped(text: str, width: int, end: str = "\n") -> str:
    return end.join(text[at : at + width] for at in range(0, len(text), width))


def b64(data: bytes) -> str:
    return base64.b64encode(data).decode()


def upside_down(text: str) -> str:
    return mapped(text.lower(), "abcdefghijklmnopqrstuvwxyz", "ɐqɔpǝɟƃɥᴉɾʞlɯuodbɹsʇnʌʍxʎz")[::-1]


def tags(text: str) -> str:
    return "".join(chr(0xE0000 + ord(c)) for c in text)


def morse(text: str) -> str:
    codes = ".- -... -.-. -.. . ..-. --. .... .. .--- -.- .-.. -- -. --- .--. --.- .-. ... - ..- ...- .-- -..- -.-- --..".split()  # noqa: SIM905
    return " ".join(codes[ord(c) - ord("a")] for c in text.lower())


def braille(text: str) -> str:
    return mapped(text.lower(), "abcdefghijklmnopqrstuvwxyz", "⠁⠃⠉⠙⠑⠋⠛⠓⠊⠚⠅⠇⠍⠝⠕⠏⠟⠗⠎⠞⠥⠧⠺⠭⠽⠵")


def spelt(text: str) -> str:
    words = "Alfa Bravo Charlie Delta Echo Foxtrot Golf Hotel India Juliett Kilo Lima Mike November Oscar Papa Quebec Romeo Sierra Tango Uniform Victor Whiskey Xray Yankee Zulu".split()  # noqa: SIM905
    return " ".join(words[ord(c) - ord("a")] for c in text.lower())


SMALL_CAPITALS = "ᴀʙᴄᴅᴇꜰɢʜɪᴊᴋʟᴍɴᴏᴘǫʀꜱᴛᴜᴠᴡxʏᴢ"
LETTERS = "abcdefghijklmnopqrstuvwxyz"
PHONE = "07700900123"

_TYPED: tuple[tuple[str, str], ...] = (
    # letters that look alike
    ("Greek look-alikes", "Αnα Fεrnαndεz"),
    ("Lisu capitals", "ꓮꓠꓮ ꓣꓴꓲꓜ"),
    ("Cherokee capitals", "Ꭺna Ꭱuiz"),
    ("Armenian and Coptic look-alikes", "Feրnаndez ⲁnⲁ Rսiz"),
    ("small capitals", mapped(PLAIN_FAMILY.lower(), LETTERS, SMALL_CAPITALS)),
    ("superscript letters", "ᶠᵉʳⁿᵃⁿᵈᵉᶻ"),
    ("Fraktur letters", "𝔉𝔢𝔯𝔫𝔞𝔫𝔡𝔢𝔷"),
    ("double-struck letters", "𝔸𝕟𝕒 ℝ𝕦𝕚𝕫"),
    ("circled letters", "ⒻⒺⓇⓃⒶⓃⒹⒺⓏ"),
    ("letters in brackets", "⒡⒠⒭⒩⒜⒩⒟⒠⒵"),
    ("negative squared letters", "🅰🅽🅰 🆁🆄🅸🆉"),
    ("flag letters", "🇷🇺🇮🇿"),
    ("upside down", upside_down(PLAIN_FAMILY)),
    ("invisible tag characters", tags(BOTH)),
    ("Braille", braille(PLAIN_FAMILY)),
    ("Morse", morse(PLAIN_FAMILY)),
    ("spelling alphabet", spelt(PLAIN_FAMILY)),
    ("ROT13", codecs.encode(PLAIN_FAMILY, "rot13")),
    # marks inside
    ("zero-width joiners", between(FAMILY, "\u200d")),
    ("word joiners", between(FAMILY, "\u2060")),
    ("byte-order marks", between(FAMILY, "\ufeff")),
    ("invisible operators", between(FAMILY, "\u2063")),
    ("variation selectors", between(FAMILY, "\ufe0f")),
    ("supplementary variation selectors", between(FAMILY, "\U000e0100")),
    ("Hangul fillers", between(FAMILY, "\u3164")),
    ("combining strokes", "".join(c + "\u0336" for c in FAMILY)),
    ("enclosing circles", "".join(c + "\u20dd" for c in FAMILY)),
    ("stacks of marks", "".join(c + "\u0301\u0323\u0330" for c in PLAIN_FAMILY)),
    ("right-to-left override", "\u202e" + FAMILY[::-1] + "\u202c"),
    ("dots between", between(FAMILY, ".")),
    ("middle dots between", between(FAMILY, "·")),
    ("slashes between", between(FAMILY, "/")),
    ("Braille blanks between", between(FAMILY, "\u2800")),
    ("one letter a line", between(FAMILY, "\n")),
    ("syllables by hyphens", "Fer-nán-dez"),
    ("syllables by spaces", "Fer nán dez"),
    ("broken at a line's end", "Fernán-\ndez"),
    ("capitals and small letters mixed", "fErNáNdEz"),
    ("letters doubled", "Fernnandezz"),
    ("two letters swapped", "Fenrandez"),
    ("a nickname backwards", "atinA"),
    ("initials without dots", "ALRF"),
    ("a bare initial and a number for a name", "A. Ruiz91"),
    ("an emphasised letter", "Fern**á**ndez and _Ru_iz"),
    # escapes that can be typed
    ("references without semicolons", "".join(f"&#{ord(c)}" for c in PLAIN_FAMILY) + " "),
    ("references to references", "".join(f"&amp;#{ord(c)};" for c in FAMILY)),
    ("references with leading zeros", "".join(f"&#x0000{ord(c):x};" for c in FAMILY)),
    ("named references", "Fern&aacute;ndez"),
    ("JavaScript braces", "".join(f"\\u{{{ord(c):x}}}" for c in FAMILY)),
    ("octal escapes", "".join(f"\\{ord(c):03o}" for c in PLAIN_FAMILY)),
    ("percent u", "".join(f"%u{ord(c):04X}" for c in FAMILY)),
    ("plus signs of a query", "?q=Ana+Ruiz&n=1"),
    ("surrogate escapes", json.dumps("𝐑𝐮𝐢𝐳 𝐀𝐧𝐚")),
    ("UTF-7", whole_utf7(FAMILY)),
    ("wrong decoding", FAMILY.encode().decode("latin-1")),
    ("punycode", "xn--" + FAMILY.lower().encode("punycode").decode() + ".example"),
    ("mail word", "=?utf-8?Q?Fern=C3=A1ndez?="),
    ("quoted-printable", "Fern=C3=A1ndez"),
    ("base64", b64(NAME.encode())),
    ("base32", base64.b32encode(NAME.encode()).decode()),
    ("base85", base64.b85encode(NAME.encode()).decode()),
    ("hexadecimal with 0x", ", ".join(f"0x{b:02x}" for b in FAMILY.encode())),
    ("binary digits", " ".join(f"{b:08b}" for b in PLAIN_FAMILY.encode())),
    ("decimal codes", " ".join(str(ord(c)) for c in PLAIN_FAMILY)),
    ("multi-sign leet", "|=3|2|\\|4|\\||)32"),
    ("euro signs for e", "F€rnánd€z"),
    # e-mail, phone, plate
    ("mail, at and dot in words", "ana.ruiz91 at correo dot example"),
    ("mail, capitals AT and DOT", "ana.ruiz91 AT correo DOT example"),
    ("mail in Spanish words", "ana punto ruiz91 arroba correo punto example"),
    ("mail, round brackets", "ana(dot)ruiz91(at)correo(dot)example"),
    ("mail, named references", "ana&period;ruiz91&commat;correo&period;example"),
    ("mail, spaces around signs", "ana . ruiz91 @ correo . example"),
    ("mail, a word to take out", "ana.ruiz91@NOSPAM.correo.example"),
    ("mail backwards", MAIL[::-1]),
    ("phone in words", "zero seven seven zero zero nine zero zero one two three"),
    ("phone in words, double", "oh double seven double oh nine double oh one two three"),
    ("phone in Spanish words", "cero siete siete cero cero nueve cero cero uno dos tres"),
    ("phone, keycaps", "".join(c + "\ufe0f\u20e3" for c in PHONE)),
    ("phone, superscripts", mapped(PHONE, "0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")),
    ("phone, letters for digits", "O77OO 9OOl23"),
    ("phone, pairs", "07 70 09 00 12 3"),
    ("phone, +44 (0)", "+44 (0)7700-900.123"),
    ("phone, ideographic digits", mapped(PHONE, "0123456789", "〇一二三四五六七八九")),
    ("phone, slashes and lines", "07700/\n900123"),
    ("phone backwards", PHONE[::-1]),
    ("phone in two halves", "07700 and then 900123"),
    ("plate, letters first", "KZT 4821"),
    ("plate, spaced out", "4 8 2 1  K Z T"),
    ("file name, without its suffix", "IMG_7731_ana"),
    ("file name, another suffix", "img-7731-ana.jpeg"),
    # days
    ("day, Roman throughout", "XIV.III.MCMXCI"),
    ("day, run together", "14mar1991"),
    ("day, military", "14MAR91"),
    ("day, ISO week run together", "1991W114"),
    ("day, week first", "week 11 of 1991"),
    ("day, day of the year in words", "day 73 of 1991"),
    ("day, seconds since 1970", "668908800"),
    ("day, milliseconds since 1970", "668908800000"),
    ("day, compact time stamp", "19910314T000000Z"),
    ("day, Spanish words", "catorce de marzo de mil novecientos noventa y uno"),
    ("day, ordinal with th", "the 14th of the third month, 1991"),
    ("day, ideographic numerals", "一九九一年三月十四日"),
    ("day, Arabic-Indic digits", "١٤/٠٣/١٩٩١"),
    ("day, Russian", "14 марта 1991"),
    ("day, spreadsheet serial", "33311"),
    ("day, told by another", "two weeks after the end of February 1991"),
)  # fmt: skip

_GLYPHS = "".join(f'<tspan x="{i}">{c}</tspan>' for i, c in enumerate(FAMILY))
_PLANTED: tuple[tuple[str, Callable[[Path], None]], ...] = (
    ("CSS, six-digit escapes", in_file("style.css", 'p::after{content:"' + "".join(f"\\{ord(c):06x}" for c in FAMILY) + '"}')),
    ("CSS, two strings", in_file("style.css", 'p::after{content:"Fern" "ández"}')),
    ("CSS, comment inside", in_file("style.css", ".fern/**/andez{color:red} p{--ana-ruiz:1}")),
    ("CSS, custom property", in_file("style.css", "p{--fernandez:1px}")),
    ("script, strings added", in_page("<script>x='Fern'+'ández'</script>")),
    ("script, character codes", in_page(f"<script>String.fromCharCode({','.join(str(ord(c)) for c in FAMILY)})</script>")),
    ("JSON in JSON", in_file("data.json", json.dumps({"a": json.dumps({"n": FAMILY})}))),
    ("JSON, a list of letters", in_file("data.json", json.dumps(list(FAMILY)))),
    ("JSON, a list of codes", in_file("data.json", json.dumps([ord(c) for c in FAMILY]))),
    ("JSON, a key", in_file("data.json", '{"fern\\u00e1ndez": 1}')),
    ("CSV, two columns", in_file("readings.csv", "week,a,b\n0,Ana,Ruiz\n")),
    ("CSV, a sum of texts", in_file("readings.csv", 'week,a\n0,"=""Fern""&""ández"""\n')),
    ("SVG, glyph by glyph", in_page(SVG.format(f"<text>{_GLYPHS}</text>"))),
    ("SVG, desc", in_file("chart.svg", SVG.format(f"<desc>{FAMILY}</desc>"))),
    ("SVG, CDATA", in_file("chart.svg", SVG.format(f"<text><![CDATA[{FAMILY}]]></text>"))),
    ("SVG, text on separate lines", in_page(SVG.format("<text>Fern</text><text>ández</text>"))),
    ("SVG, id", in_file("chart.svg", SVG.format('<g id="ana-ruiz"/>'))),
    ("calendar, alarm", in_file("calendar.ics", calendar("BEGIN:VALARM", f"DESCRIPTION:{FAMILY}", "END:VALARM"))),
    ("calendar, folded after every letter", in_file("calendar.ics", calendar("SUMMARY:" + wrapped(FAMILY, 1, "\r\n ")))),
    ("calendar, base64 attachment", in_file("calendar.ics", calendar("ATTACH;ENCODING=BASE64;VALUE=BINARY:" + wrapped(b64(NAME.encode()), 10, "\r\n ")))),
    ("calendar, quoted-printable", in_file("calendar.ics", calendar("SUMMARY;ENCODING=QUOTED-PRINTABLE:Fern=C3=A1n=\r\ndez"))),
    ("attributes of one element", in_page('<p data-a="Fern" data-b="ández">x</p>')),
    ("one letter an element", in_page("".join(f"<i>{c}</i>\n" for c in FAMILY))),
    ("two paragraphs", in_page("<p>Fern</p><p>ández</p>")),
    ("template", in_page(f"<template><p>{FAMILY}</p></template>")),
    ("hidden element", in_page(f"<p hidden>{FAMILY}</p>")),
    ("class name", in_page('<p class="is-ana-ruiz">x</p>')),
    ("aria label", in_page(f'<p aria-label="{FAMILY}">x</p>')),
    ("keywords", in_head(f'<meta name="keywords" content="violet,{FAMILY}">\n')),
    ("name of an attribute", in_page("<p data-fernandez>x</p>")),
    ("name of an element", in_page("<x-fernandez>x</x-fernandez>")),
    ("fragment of a link", in_page('<a href="#ana-ruiz">x</a>')),
    ("comment cut by another", in_page("<!-- Fern --><!-- ández -->")),
    ("base64 by lines", in_page(f"<pre>{wrapped(b64(NAME.encode()), 7)}</pre>")),
    ("base64 of another alphabet, by lines", in_page("<pre>" + wrapped(base64.urlsafe_b64encode((NAME + "??>>").encode()).decode().rstrip("="), 9) + "</pre>")),
    ("base64 of gzip", in_page(f'<p data-x="{b64(gzip.compress(NAME.encode(), mtime=0))}">x</p>')),
    ("base64 of deflate", in_page(f'<p data-x="{b64(zlib.compress(NAME.encode()))}">x</p>')),
    ("base64 three times", in_page(f'<p data-x="{b64(b64(b64(NAME.encode()).encode()).encode())}">x</p>')),
    ("gzip in a data address", in_page(f'<p data-x="data:application/gzip;base64,{b64(gzip.compress(SVG.format(f"<title>{NAME}</title>").encode(), mtime=0))}">x</p>')),
    ("base64 of UTF-16, big end first", in_page(f'<p data-x="{b64(NAME.encode("utf-16-be"))}">x</p>')),
    ("hexadecimal of base64", in_page(f'<p data-x="{b64(NAME.encode()).encode().hex()}">x</p>')),
    ("UTF-16 file", lambda folder: (folder / "readings.csv").write_bytes(NAME.encode("utf-16"))),
    ("Latin-1 file", lambda folder: (folder / "readings.csv").write_bytes(f"a,{FAMILY}\n".encode("latin-1"))),
    ("file name in hexadecimal", in_file(BOTH.encode().hex() + ".csv", "a\n1\n")),
    ("file name in base32", in_file(base64.b32encode(BOTH.encode()).decode().lower().rstrip("=") + ".csv", "a\n1\n")),
    ("name of a folder, nickname", in_file("anita/readings.csv", "a\n1\n")),
)  # fmt: skip


def _typed_on_a_page(text: str) -> Callable[[Path], None]:
    return lambda folder: write(folder, "index.html", page(f"<p>Today {text} was here.</p>"))


FURTHER = (
    *(
        Form(name, _typed_on_a_page(text), f"Today {text} was here.")
        for name, text in (*_TYPED, *typed_canaries.TYPED)
    ),
    *(Form(name, plant) for name, plant in _PLANTED),
)

MISSED: dict[str, str] = {
    "base85": "of its alphabet every row of signs is one; unpacking all of them finds chance",
    "multi-sign leet": "letters drawn with several signs have no fixed table",
    "phone in two halves": "words between make two short numbers, and short numbers are everywhere",
    "plate, letters first": "another plate by the rules of plates",
    "day, ideographic numerals": "tens are written by place there; digit by digit is read, ten is not",
    "day, spreadsheet serial": "five digits alone may be anything",
    "day, told by another": "has to be understood, not found",
    **typed_canaries.MISSED,
}
"""Seen neither by the filter nor by the audit, with the reason it stays so. A person reads every text."""
