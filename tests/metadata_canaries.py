"""Photos in four formats with a canary in every place where metadata, or leftovers of a picture, can ride along.

Each canary is a word of its own, so that a find says where it came from. Structures: Exif 2.32 (CIPA DC-008),
IPTC-IIM 4.2, ITU-T T.81 and its JFIF, W3C PNG third edition, RFC 9649 (WebP), ISO/IEC 14496-12 (AVIF).
"""

# ruff: noqa: E501 - tables of places read best as they are

from __future__ import annotations

import struct
import zlib
from collections.abc import Callable
from datetime import date
from itertools import count
from pathlib import Path

import numpy as np
from click.testing import CliRunner
from PIL import Image, ImageCms

from journey.command import cli
from tests.bad_rows import grain, in_jpeg, png_chunk, saved
from tests.signing import sign_class
from tests.small_client import small_client

COVER = (0.53, 0.25, 0.10, 0.25)
"""Left, top, width, height of what is covered, in fractions of the upright photo."""
SECRET = (255, 0, 255)
"""The colour of what lies under each cover, and of what lies where no pixel is seen."""
_EXIF_TEXTS = {
    "document name": 0x010D, "description": 0x010E, "make": 0x010F, "model": 0x0110, "page name": 0x011D,
    "software": 0x0131, "time": 0x0132, "artist": 0x013B, "host computer": 0x013C, "copyright": 0x8298,
}  # fmt: skip
_EXIF_DETAILS = {
    "spectral sensitivity": 0x8824, "time taken": 0x9003, "zone of time": 0x9010, "part of a second": 0x9290,
    "sound file": 0xA004, "picture's own number": 0xA420, "owner": 0xA430, "body's number": 0xA431,
    "lens": 0xA434, "lens' number": 0xA435,
}  # fmt: skip
_EXIF_BYTES = {"maker's note": 0x927C, "remark": 0x9286, "scene": 0xA40B}
_EXIF_WIDE = {"XP title": 0x9C9B, "XP remark": 0x9C9C, "XP author": 0x9C9D, "XP words": 0x9C9E, "XP subject": 0x9C9F}
_GPS_TEXTS = {"satellites": 8, "datum": 18, "how it was found": 27, "area": 28, "day": 29}
_IPTC = {
    "title": 5, "words": 25, "instructions": 40, "by": 80, "town": 90, "place": 92, "headline": 105, "credit": 110,
    "source": 115, "contact": 118, "caption": 120,
}  # fmt: skip
_XMP = ("dc:creator", "dc:description", "photoshop:City", "xmpMM:DocumentID", "Iptc4xmpExt:PersonInImage", "GCamera:MotionPhoto")


class Planted:
    """Gives out canaries and remembers where each was put."""

    def __init__(self) -> None:
        self.places: dict[str, str] = {}
        self._next = count(101)

    def __call__(self, place: str) -> str:
        word = f"QZXJ{next(self._next)}KWVBYH"
        self.places[word] = place
        return word

    def bytes(self, place: str) -> bytes:
        return self(place).encode()


def _pixels(seed: int) -> Image.Image:
    """A photo with something secret in it, where the cover will be; 640 x 480 upright."""
    photo = grain(640, 480, seed)
    left, top, width, height = COVER
    box = (round(left * 640), round(top * 480), round((left + width) * 640), round((top + height) * 480))
    photo.paste(SECRET, box)
    return photo


def _exif(plant: Planted, kind: str, orientation: int = 1) -> bytes:
    """Main, detail and place lists, and a small picture with a comment of its own behind them."""
    exif = Image.Exif()
    exif[0x0112] = orientation
    for name, tag in _EXIF_TEXTS.items():
        exif[tag] = plant(f"{kind}, Exif {name}")
    for name, tag in _EXIF_WIDE.items():
        exif[tag] = plant(f"{kind}, Exif {name}").encode("utf-16-le") + b"\0\0"
    detail = exif.get_ifd(0x8769)
    for name, tag in _EXIF_DETAILS.items():
        detail[tag] = plant(f"{kind}, Exif {name}")
    for name, tag in _EXIF_BYTES.items():
        detail[tag] = b"ASCII\0\0\0" + plant.bytes(f"{kind}, Exif {name}")
    place = exif.get_ifd(0x8825)
    place[1], place[2], place[3], place[4] = "N", (38.0, 54.0, 51.37), "W", (15.0, 12.0, 12.9)
    for name, tag in _GPS_TEXTS.items():
        place[tag] = plant(f"{kind}, place {name}")
    if kind == "AVIF":
        return exif.tobytes()  # its writer takes no more than the lists
    small = saved(_pixels(9).resize((96, 72)), "JPEG", comment=plant.bytes(f"{kind}, comment of the small picture"))
    behind = exif.get_ifd(1)
    behind[0x0103], behind[0x0201], behind[0x0202] = 6, 0, len(small)
    return exif.tobytes() + small


def _xmp(plant: Planted, kind: str) -> bytes:
    lines = "".join(f"<{name}>{plant(f'{kind}, XMP {name}')}</{name}>" for name in _XMP)
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?><x:xmpmeta xmlns:x="adobe:ns:meta/">'
        '<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><rdf:Description rdf:about=""'
        ' xmlns:dc="http://purl.org/dc/elements/1.1/" xmlns:photoshop="http://ns.adobe.com/photoshop/1.0/"'
        ' xmlns:xmpMM="http://ns.adobe.com/xap/1.0/mm/" xmlns:GCamera="http://ns.google.com/photos/1.0/camera/"'
        f' xmlns:Iptc4xmpExt="http://iptc.org/std/Iptc4xmpExt/2008-02-29/">{lines}</rdf:Description></rdf:RDF>'
        '</x:xmpmeta><?xpacket end="w"?>'
    ).encode()


def _profile(plant: Planted, kind: str) -> bytes:
    """An sRGB profile that says something of its own."""
    plain = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    said, word = "sRGB built-in".encode("utf-16-be"), plant(f"{kind}, profile's description")
    assert said in plain
    return plain.replace(said, word.encode("utf-16-be"))


def _iptc(plant: Planted) -> bytes:
    fields = b"".join(
        struct.pack(">BBBH", 0x1C, 2, number, 13) + plant.bytes(f"JPEG, IPTC {name}")
        for name, number in _IPTC.items()
    )
    block = b"8BIM\x04\x04\0\0" + struct.pack(">I", len(fields)) + fields + b"\0" * (len(fields) % 2)
    path = plant.bytes("JPEG, layers' names")
    return b"Photoshop 3.0\0" + block + b"8BIM\x03\xee\0\0" + struct.pack(">I", len(path)) + path + b"\0" * (len(path) % 2)


def jpeg(plant: Planted) -> bytes:
    """Lying on its side, with everything phones and programmes write, a second picture and a film behind it."""
    lying = _pixels(1).transpose(Image.Transpose.ROTATE_90)
    data = saved(lying, "JPEG", quality=92, exif=_exif(plant, "JPEG", 6), icc_profile=_profile(plant, "JPEG"))
    second = saved(_pixels(7), "JPEG", comment=plant.bytes("JPEG, comment of a second picture"))
    extended = b"http://ns.adobe.com/xmp/extension/\0" + b"A" * 32 + struct.pack(">II", 12, 0)
    for marker, content in (
        (0xE1, b"http://ns.adobe.com/xap/1.0/\0" + _xmp(plant, "JPEG")),
        (0xE1, extended + plant.bytes("JPEG, extended XMP")),
        (0xED, _iptc(plant)),
        (0xE2, b"MPF\0" + b"II*\0" + bytes(30) + plant.bytes("JPEG, list of pictures")),
        (0xE2, b"FPXR\0" + plant.bytes("JPEG, FlashPix")),
        (0xE0, b"JFXX\0\x10" + plant.bytes("JPEG, header's extension")),
        (0xEC, b"Ducky\0" + plant.bytes("JPEG, Ducky")),
        (0xEB, b"HDR_RI" + plant.bytes("JPEG, gain map")),
        (0xFE, plant.bytes("JPEG, comment")),
        *((0xE0 + n, plant.bytes(f"JPEG, segment APP{n}")) for n in (3, 4, 5, 6, 7, 8, 9, 10, 15)),
    ):
        data = in_jpeg(data, marker, content)
    film = b"\0\0\0\x18ftypmp42" + plant.bytes("JPEG, film behind")
    return data + second + film + plant.bytes("JPEG, last bytes")


def png(plant: Planted) -> bytes:
    """See-through in places, with every chunk for words, a private one, and bytes behind pixels and end."""
    seen = _pixels(2).convert("RGBA")
    see_through = Image.new("RGBA", (640, 60), (*SECRET, 0))
    seen.paste(see_through, (0, 420))
    plain = saved(seen, "PNG", icc_profile=_profile(plant, "PNG"), exif=_exif(plant, "PNG"))
    words = b"".join(
        png_chunk(name, content)
        for name, content in (
            *((b"tEXt", key + b"\0" + plant.bytes(f"PNG, tEXt {key.decode()}"))
              for key in (b"Author", b"Title", b"Comment", b"Source", b"Creation Time")),
            (b"zTXt", b"Comment\0\0" + zlib.compress(plant.bytes("PNG, zTXt"))),
            (b"zTXt", b"Raw profile type iptc\0\0" + zlib.compress(plant.bytes("PNG, packed IPTC"))),
            (b"iTXt", b"Author\0\0\0es\0\0" + plant.bytes("PNG, iTXt")),
            (b"iTXt", b"Author\0\1\0es\0\0" + zlib.compress(plant.bytes("PNG, packed iTXt"))),
            (b"iTXt", b"XML:com.adobe.xmp\0\0\0\0\0" + _xmp(plant, "PNG")),
            (b"sPLT", plant.bytes("PNG, name of a palette") + b"\0\x08"),
            (b"prVt", plant.bytes("PNG, private chunk")),
            (b"caBX", plant.bytes("PNG, provenance")),
            (b"tIME", struct.pack(">HBBBBB", 2026, 3, 7, 16, 20, 11)),
        )
    )  # fmt: skip
    end = plain.rindex(b"IEND") - 4
    late = png_chunk(b"tEXt", b"Late\0" + plant.bytes("PNG, tEXt behind the pixels"))
    return plain[:33] + words + plain[33:end] + late + plain[end:] + plant.bytes("PNG, behind the end")


def webp(plant: Planted) -> bytes:
    """With Exif, XMP, a profile, chunks of its own and bytes behind the end."""
    data = saved(
        _pixels(3), "WEBP", quality=92, exif=_exif(plant, "WebP"), xmp=_xmp(plant, "WebP"),
        icc_profile=_profile(plant, "WebP"),
    )  # fmt: skip
    own = b"note" + struct.pack("<I", 14) + plant.bytes("WebP, chunk of its own") + b" "
    body = data[8:] + own
    return b"RIFF" + struct.pack("<I", len(body)) + body + plant.bytes("WebP, behind the end")


def avif(plant: Planted) -> bytes:
    """With Exif, XMP, a profile and boxes of its own behind the others."""
    data = saved(
        _pixels(4), "AVIF", quality=92, exif=_exif(plant, "AVIF"), xmp=_xmp(plant, "AVIF"),
        icc_profile=_profile(plant, "AVIF"),
    )  # fmt: skip
    for name in (b"free", b"uuid", b"skip"):
        content = bytes(16) + plant.bytes(f"AVIF, box {name.decode()}")
        data += struct.pack(">I", len(content) + 8) + name + content
    return data


CARRIERS: dict[str, Callable[[Planted], bytes]] = {"jpg": jpeg, "png": png, "webp": webp, "avif": avif}


TODAY = date(2026, 11, 25)
GRANT = """  - edition: class
    given_on: 2026-03-07
    method: signed
    asked_by: lena
    wording: client-page
    expires_on: 2046-03-07
    photos: [photo-1, photo-2, photo-3, photo-4]
    has_seen: yes
    told_copies_cannot_be_recalled: yes
    told_limits_of_anonymity: yes
    health: no
"""


def planted_sites(at: Path) -> Planted:
    """A folder whose four photos carry the canaries, signed, and its sites for class and client in `at/sites`."""
    plant = Planted()
    folder = small_client(at / "client")
    journey_file, consent = folder / "journey.yaml", folder / "consent.yaml"
    text = journey_file.read_text(encoding="utf-8")
    start, end = text.index("      - key: photo-3"), text.index("    chair_time: 3 h")
    # The page of the client shows two photos a day: two are from home.
    third = text[start:end].replace("moment: after", "moment: home\n        photographer: client")
    fourth = third.replace("photo-3", "photo-4").replace("back-3.jpg", "back-4.jpg")
    text = text[:start] + text[end:].replace(
        "    washes_since_last: 6\n", f"    washes_since_last: 6\n    photos:\n{third}{fourth}"
    )
    assert "photo-4" in text
    for number in (2, 4):
        here = text.index("zone: crown", text.index(f"- key: photo-{number}"))
        text = text[:here] + "zone: nape" + text[here + len("zone: crown") :]
    for number, (suffix, make) in enumerate(CARRIERS.items(), 1):
        (folder / "photos" / f"back-{number}.jpg").unlink(missing_ok=True)
        (folder / "photos" / f"back-{number}.{suffix}").write_bytes(make(plant))
        text = text.replace(f"file: back-{number}.jpg", f"file: back-{number}.{suffix}")
    cover = " ".join(str(number) for number in COVER)
    text = text.replace("        no_face: yes\n", f"        no_face: yes\n        covers:\n          - {cover}\n")
    journey_file.write_text(text, encoding="utf-8")
    granted = consent.read_text(encoding="utf-8").replace("photo-3]", "photo-3, photo-4]") + GRANT
    consent.write_text(granted, encoding="utf-8")
    _, code = sign_class(folder, by="lena", today=TODAY)
    consent.write_text(granted + f"    seen_sheet: {code}\n", encoding="utf-8")
    asked = ["--for", "class", "--for", "client", "--to", str(at / "sites"), "--today", TODAY.isoformat()]
    done = CliRunner().invoke(cli, ["compile", str(folder), *asked, "--workers", "1"])
    assert done.exit_code == 0, done.output
    return plant


def left_in(data: bytes, plant: Planted) -> list[str]:
    """The places whose canaries can still be read in a file."""
    hay = hidden_in(data)
    return [place for word, place in plant.places.items() if any(way in h for h in hay for way in written_ways(word))]


def hidden_in(data: bytes) -> list[bytes]:
    """The bytes, and whatever a stream of zlib that begins anywhere in them unpacks to."""
    found = [data]
    for start in range(len(data) - 2):
        if data[start] == 0x78 and data[start + 1] in (0x01, 0x5E, 0x9C, 0xDA):
            try:
                found.append(zlib.decompressobj().decompress(data[start:], 1 << 20))
            except zlib.error:
                continue
    return found


def written_ways(word: str) -> list[bytes]:
    """A canary as it may stand in bytes."""
    plain = word.encode()
    return [plain, plain[::-1], plain.hex().encode(), word.encode("utf-16-le"), word.encode("utf-16-be")]


def is_secret(picture: Image.Image) -> bool:
    """Whether any pixel is near the secret colour."""
    far = np.abs(np.asarray(picture.convert("RGB")).astype(int) - SECRET).max(axis=-1)
    return bool((far < 90).any())
