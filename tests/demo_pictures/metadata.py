"""Everything a careless photograph carries: EXIF with place and thumbnail, XMP, IPTC, a comment, bytes after
the end.

All of it is invented. It is planted so that whoever publishes the pictures can be checked to leave all of
it behind. Structures after Exif 2.32 (CIPA DC-008), IPTC-IIM 4.2 and the JPEG segments of ITU-T T.81.
"""

import struct
from dataclasses import dataclass

CLIENT = "Maribel Quintanar Osorio"
NICKNAME = "Mari"
STYLIST = "Ilse Varga"
SALON = "Tintero Alto"
STREET = "Calle del Olmo 14"
TOWN = "Valdeperal"
TELEPHONE = "+34 600 123 987"
MAIL = "maribel.quintanar@correo.example"

ASCII, SHORT, LONG, RATIONAL, UNDEFINED, BYTE = 2, 3, 4, 5, 7, 1
Entry = tuple[int, int, bytes, int]  # tag, type, packed little-endian value, count


@dataclass(frozen=True, slots=True, kw_only=True)
class Camera:
    """An invented camera, the person whose it is, and where it stood (degrees north and east)."""

    make: str
    model: str
    serial: str
    owner: str
    artist: str
    latitude: float
    longitude: float


SALON_PHONE = Camera(make="Ondular", model="Ondular Vela 5", serial="OV5-SALON-77120364", owner=STYLIST,
                     artist=f"{STYLIST}, {SALON}", latitude=38.91427, longitude=-15.20358)  # fmt: skip
CLIENT_PHONE = Camera(make="Brizna", model="Brizna Nube 12", serial="BN12-MQO-40018855", owner=CLIENT,
                      artist=CLIENT, latitude=38.92114, longitude=-15.19877)  # fmt: skip
MICROSCOPE = Camera(make="Lentejo", model="Lentejo LM-200", serial="LM200-5530911", owner=SALON,
                    artist=STYLIST, latitude=38.91427, longitude=-15.20358)  # fmt: skip


def _ascii(tag: int, text: str) -> Entry:
    raw = text.encode() + b"\0"
    return tag, ASCII, raw, len(raw)


def _short(tag: int, value: int) -> Entry:
    return tag, SHORT, struct.pack("<H", value), 1


def _long(tag: int, value: int) -> Entry:
    return tag, LONG, struct.pack("<I", value), 1


def _rational(tag: int, *values: tuple[int, int]) -> Entry:
    return tag, RATIONAL, b"".join(struct.pack("<II", *v) for v in values), len(values)


def _undefined(tag: int, raw: bytes) -> Entry:
    return tag, UNDEFINED, raw, len(raw)


def _wide_text(tag: int, text: str) -> Entry:
    raw = text.encode("utf-16-le") + b"\0\0"
    return tag, BYTE, raw, len(raw)


def _degrees(value: float) -> tuple[tuple[int, int], ...]:
    value = abs(value)
    minutes = (value - int(value)) * 60
    return (int(value), 1), (int(minutes), 1), (round((minutes - int(minutes)) * 60 * 100), 100)


def _directory(entries: list[Entry], offset: int, following: int = 0) -> bytes:
    """One image file directory at `offset` from the TIFF header, its long values right behind it."""
    entries = sorted(entries)
    table = struct.pack("<H", len(entries))
    values, at = b"", offset + 2 + 12 * len(entries) + 4
    for tag, kind, raw, count in entries:
        if len(raw) <= 4:
            slot = raw.ljust(4, b"\0")
        else:
            slot = struct.pack("<I", at + len(values))
            values += raw + b"\0" * (len(raw) % 2)
        table += struct.pack("<HHI", tag, kind, count) + slot
    return table + struct.pack("<I", following) + values


def exif(camera: Camera, taken: str, offset: str, orientation: int, caption: str, thumbnail: bytes) -> bytes:
    """The payload of an EXIF segment; `taken` as `2026:03:07 16:20:11`, `offset` as `+01:00`."""
    detail = [
        _rational(33434, (1, 60)), _rational(33437, (17, 10)), _short(34855, 160),
        _undefined(36864, b"0232"), _ascii(36867, taken), _ascii(36868, taken), _ascii(36880, offset),
        _ascii(36881, offset), _undefined(37500, b"LMKN\0" + f"owner={CLIENT};tel={TELEPHONE}".encode()),
        _undefined(37510, b"ASCII\0\0\0" + f"{NICKNAME}, {TELEPHONE}, {MAIL}".encode()),
        _short(40961, 1), _ascii(42016, f"MQO{taken[:10].replace(':', '')}"), _ascii(42032, camera.owner),
        _ascii(42033, camera.serial), _ascii(42036, f"{camera.model} wide"),
        _ascii(42037, camera.serial + "-L"),
    ]  # fmt: skip
    place = [
        (0, BYTE, bytes([2, 3, 0, 0]), 4), _ascii(1, "N" if camera.latitude >= 0 else "S"),
        _rational(2, *_degrees(camera.latitude)), _ascii(3, "E" if camera.longitude >= 0 else "W"),
        _rational(4, *_degrees(camera.longitude)), _rational(6, (7125, 10)), _ascii(29, taken[:10]),
        _undefined(27, b"ASCII\0\0\0" + f"{STREET}, {TOWN}".encode()),
    ]  # fmt: skip

    def main(detail_at: int, place_at: int) -> list[Entry]:
        return [
            _ascii(270, caption), _ascii(271, camera.make), _ascii(272, camera.model),
            _short(274, orientation),
            _rational(282, (72, 1)), _rational(283, (72, 1)), _short(296, 2),
            _ascii(305, f"{camera.model} 8.1"),
            _ascii(306, taken), _ascii(315, camera.artist), _ascii(33432, f"(c) {STYLIST}, {SALON}, {TOWN}"),
            _long(34665, detail_at), _long(34853, place_at), _wide_text(40092, f"{CLIENT} ({NICKNAME})"),
            _wide_text(40093, camera.artist), _wide_text(40094, f"{CLIENT}; {TOWN}"),
        ]  # fmt: skip

    detail_at = 8 + len(_directory(main(0, 0), 8))
    place_at = detail_at + len(_directory(detail, detail_at))
    thumb_at = place_at + len(_directory(place, place_at))
    small = [_short(259, 6), _rational(282, (72, 1)), _rational(283, (72, 1)), _short(296, 2)]
    pixels_at = thumb_at + len(_directory([*small, _long(513, 0), _long(514, 0)], thumb_at))
    small += [_long(513, pixels_at), _long(514, len(thumbnail))]
    tiff = b"II*\0" + struct.pack("<I", 8)
    tiff += _directory(main(detail_at, place_at), 8, following=thumb_at)
    tiff += _directory(detail, detail_at) + _directory(place, place_at) + _directory(small, thumb_at)
    return b"Exif\0\0" + tiff + thumbnail


def xmp(caption: str, taken: str) -> bytes:
    """The payload of an XMP segment."""
    packet = f"""<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:photoshop="http://ns.adobe.com/photoshop/1.0/" xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:Iptc4xmpExt="http://iptc.org/std/Iptc4xmpExt/2008-02-29/"
 photoshop:City="{TOWN}" xmp:CreateDate="{taken[:10].replace(":", "-")}T{taken[11:]}">
<dc:creator><rdf:Seq><rdf:li>{STYLIST}</rdf:li></rdf:Seq></dc:creator>
<dc:description><rdf:Alt><rdf:li xml:lang="x-default">{caption}</rdf:li></rdf:Alt></dc:description>
<Iptc4xmpExt:PersonInImage><rdf:Bag><rdf:li>{CLIENT}</rdf:li></rdf:Bag></Iptc4xmpExt:PersonInImage>
</rdf:Description></rdf:RDF></x:xmpmeta>
<?xpacket end="w"?>"""
    return b"http://ns.adobe.com/xap/1.0/\0" + packet.encode()


def iptc(caption: str) -> bytes:
    """The payload of an APP13 segment holding IPTC records."""
    fields = [(1, 90, b"\x1b%G"), (2, 25, CLIENT.encode()), (2, 80, STYLIST.encode()), (2, 90, TOWN.encode()),
              (2, 92, f"{SALON}, {STREET}".encode()), (2, 116, SALON.encode()),
              (2, 118, TELEPHONE.encode()), (2, 120, caption.encode())]  # fmt: skip
    records = b"".join(struct.pack(">BBBH", 0x1C, r, d, len(raw)) + raw for r, d, raw in fields)
    block = b"8BIM\x04\x04\0\0" + struct.pack(">I", len(records)) + records + b"\0" * (len(records) % 2)
    return b"Photoshop 3.0\0" + block


def _segment(marker: int, payload: bytes) -> bytes:
    return struct.pack(">BBH", 0xFF, marker, len(payload) + 2) + payload


def planted(
    jpeg: bytes, *, camera: Camera, taken: str, offset: str, orientation: int, caption: str,
    thumbnail: bytes, trailer: bytes = b"",
) -> bytes:  # fmt: skip
    """A JPEG file with all of it added behind its first marker."""
    if jpeg[:2] != b"\xff\xd8":
        raise ValueError("not a JPEG file: it does not begin with FF D8")
    added = _segment(0xE1, exif(camera, taken, offset, orientation, caption, thumbnail))
    added += _segment(0xE1, xmp(caption, taken)) + _segment(0xED, iptc(caption))
    added += _segment(0xFE, f"{CLIENT}, {STREET}, {TOWN}".encode())
    return jpeg[:2] + added + jpeg[2:] + trailer
