"""What is packed inside a text: base64 in both alphabets, base32, hexadecimal, and compressed data in them.

It decides what counts as packed and how far it is unpacked; how the result is read is left to `views`.
RFC 4648 (base16, base32, base64), RFC 1950 (zlib), RFC 1952 (gzip).
"""

from __future__ import annotations

import base64
import binascii
import re
import zlib
from collections.abc import Iterator
from typing import Final

_BASE64: Final = re.compile(r"(?<![A-Za-z0-9+/_-])[A-Za-z0-9+/_-]{8,}={0,2}(?![A-Za-z0-9+/_=-])")
_LINE: Final = "[A-Za-z0-9+/_-]"
_BASE64_LINES: Final = re.compile(
    rf"(?<!{_LINE})(?:{_LINE}{{4,100}}\r?\n[ \t]?){{2,}}{_LINE}{{1,100}}={{0,2}}(?![A-Za-z0-9+/_=-])"
)
_BASE32: Final = re.compile(r"(?<![A-Za-z0-9])(?:[A-Z2-7]{10,}|[a-z2-7]{10,})={0,6}(?![A-Za-z0-9=])")
_HEX: Final = re.compile(r"(?<![A-Za-z0-9])(?:[0-9A-Fa-f]{2}[ :,]?){5,}(?![A-Za-z0-9])")
_MOST_BYTES: Final = 1 << 20
"""Of what compressed data unpacks to."""


def unpacked(text: str) -> Iterator[tuple[str, str]]:
    """Name of the packing and what it holds, where that can be read as text."""
    for name, pattern, decode in (
        ("base64", _BASE64, from_base64),
        ("base64 by lines", _BASE64_LINES, from_base64),
        ("base32", _BASE32, _from_base32),
        ("hexadecimal", _HEX, _from_hex),
    ):
        # Code says the same word a thousand times.
        found = [decode(one) for one in dict.fromkeys(one[0] for one in pattern.finditer(text))]
        joined = "\n".join(dict.fromkeys(one for one in found if one))
        if joined:
            yield name, joined


def from_base64(packed: str) -> str | None:
    """The text in either alphabet of base64, padded or not; None when it holds none."""
    standard = re.sub(r"\s", "", packed).rstrip("=").replace("-", "+").replace("_", "/")
    if len(standard) % 4 == 1:
        return None
    try:
        return _readable(base64.b64decode(standard + "=" * (-len(standard) % 4)))
    except (binascii.Error, ValueError):
        return None


def _from_base32(packed: str) -> str | None:
    letters = packed.upper().rstrip("=")
    try:
        return _readable(base64.b32decode(letters + "=" * (-len(letters) % 8)))
    except (binascii.Error, ValueError):
        return None


def _from_hex(packed: str) -> str | None:
    digits = re.sub(r"[ :,]", "", packed)
    return _readable(bytes.fromhex(digits)) if len(digits) % 2 == 0 else None


def _readable(data: bytes) -> str | None:
    """The bytes as text, if that is what they are, or what they unpack to."""
    if data[:2] == b"\x1f\x8b" or (data[:1] == b"\x78" and data[1:2] in (b"\x01", b"\x5e", b"\x9c", b"\xda")):
        data = _inflated(data) or data
    for encoding in _encodings(data):
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        odd = sum(character < " " and character not in "\t\r\n" for character in text)
        if text and odd * 20 < len(text):
            return text
    return None


def _encodings(data: bytes) -> tuple[str, ...]:
    if b"\0" not in data:
        return ("utf-8",)
    return ("utf-8", "utf-16-be", "utf-16-le") if data[:1] == b"\0" else ("utf-8", "utf-16-le", "utf-16-be")


def _inflated(data: bytes) -> bytes | None:
    try:
        return zlib.decompressobj(zlib.MAX_WBITS | 32).decompress(data, _MOST_BYTES)
    except zlib.error:
        return None
