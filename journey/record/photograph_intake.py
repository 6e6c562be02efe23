"""Taking in a photo: the one place where a picture someone made meets a decoder.

It decides what is let in (four formats, 50 megapixels, whole and undamaged), how the photo stands upright,
and in which colour space its numbers are. It hands out pixels in two ways: as linear light for measuring,
and as 8-bit sRGB for showing. What the colours mean is left to the study, what may be shown to the edition.

Every pixel passes a strict decode, so a damaged photo can be neither measured nor shown. WebP and AVIF carry
no checksum: damage that still decodes cannot be told from a picture there, and in a progressive JPEG damage
that happens to be valid code cannot either.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path, PurePosixPath
from typing import Final, NoReturn, TypeVar

import numpy as np
from numpy.typing import NDArray
from PIL import Image, UnidentifiedImageError

from journey.record import strict_decode
from journey.record.embedded_profile import (
    FloatArray,
    MatrixProfile,
    NamedPrimaries,
    named_profile,
    read_profile,
)
from journey.record.picture_formats import (
    ACCEPTED,
    SUFFIXES,
    PictureFormat,
    coding_points,
    is_heif,
    picture_format,
    png_chunk,
    words_for,
)
from journey.record.picture_parts import has_too_many_parts
from journey.record.rectangle import Rectangle
from journey.record.safe_files import FileRefusedError, read_inside

T = TypeVar("T")

LIMIT_BYTES: Final = 64 << 20
LIMIT_PIXELS: Final = 50_000_000
SHORTEST_SIDE: Final = 64
LARGEST_ASPECT: Final = 10
MODES: Final = frozenset({"RGB", "RGBA", "L", "LA", "P", "PA", "I;16", "I;16B", "CMYK"})
"""Pillow's names for the kinds of pixels we take."""
_GREY_MODES: Final = frozenset({"L", "LA", "I;16", "I;16B"})

_SAVE_AGAIN: Final = "open it in a picture programme and save it again as JPEG, or take it out"

_ORIENTATION_TAG: Final = 274
_EXIF_FOLDER_TAG: Final = 0x8769
_COLOUR_SPACE_TAG: Final = 0xA001
_UNCALIBRATED: Final = 0xFFFF
_TURNS: Final[dict[int, Image.Transpose | None]] = {
    1: None,
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}
"""What each Exif orientation asks for (Exif 2.32, tag 274)."""
_SIDEWAYS: Final = tuple(_TURNS[orientation] for orientation in (5, 6, 7, 8))

_HDR_CURVES: Final = (16, 18)
"""Transfer curves of ITU-T H.273 for high dynamic range: PQ and hybrid log-gamma."""
_NAMED_POINTS: Final[dict[int, NamedPrimaries]] = {1: "srgb", 2: "srgb", 12: "display-p3"}
"""Primaries of H.273: BT.709 (those of sRGB), not said, and P3 with white D65."""


class PhotographRefusedError(FileRefusedError):
    """A photo that can not be taken in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LinearPixels:
    """Part of a photo as light."""

    values: FloatArray
    """(rows, columns, 3), linear RGB in `primaries`; outside 0..1 where the photo's profile holds more."""
    primaries: NamedPrimaries
    clipped: NDArray[np.bool_]
    """(rows, columns): some channel at the end of its range (code <= 1 or >= 254), its true value unknown."""


@dataclass(slots=True, kw_only=True, eq=False)
class Photograph:
    """A photo that has been let in. Rectangles are in fractions of its sides after turning upright."""

    name: str
    sha256: str
    format: PictureFormat
    width: int
    """Pixels after turning upright."""
    height: int
    notes: tuple[str, ...]
    """What was odd and how it was taken, in words."""
    icc_profile: bytes | None
    """The profile the photo carries, when it is one that can be read."""
    _data: bytes
    _mode: str
    _turn: Image.Transpose | None
    _profile: MatrixProfile | None
    """None: made of tables, so the pixels are brought to sRGB while decoding."""
    _kept: tuple[int, Image.Image] | None = None
    """The last decode and the size it was asked for; 0 for all of it."""

    def __repr__(self) -> str:
        return f"Photograph({self.sha256[:12]}, {self.format}, {self.width}x{self.height})"

    def encoded_pixels(self, region: Rectangle | None = None) -> NDArray[np.uint8]:
        """The photo's own 8-bit numbers, upright: uint8 (rows, columns, 3).

        Photos in CMYK or with a profile made of tables come as sRGB.

        Raises:
            PhotographRefusedError: it can not be decoded whole.
        """
        image = self.decoded()
        return np.asarray(image.crop(pixel_box(region, *image.size)) if region else image)

    def linear_pixels(self, region: Rectangle | None = None) -> LinearPixels:
        """The photo, or a rectangle of it, as linear light. Raises PhotographRefusedError."""
        codes = self.encoded_pixels(region)
        values, primaries = (self._profile or named_profile("srgb")).linear(codes)
        clipped = np.any((codes <= 1) | (codes >= 254), axis=-1)
        return LinearPixels(values=values, primaries=primaries, clipped=clipped)

    def srgb_image(self, *, at_least: int | None = None) -> Image.Image:
        """The photo for showing: RGB, 8 bits, upright, in sRGB, carrying no profile and nothing else.

        Args:
            at_least: a smaller decode will do, if its long edge has at least so many pixels.

        Raises:
            PhotographRefusedError: it can not be decoded whole.
        """
        return self.to_srgb(self.decoded(at_least=at_least))

    def decoded(self, *, at_least: int | None = None) -> Image.Image:
        """The pixels as the photo codes them: RGB, 8 bits, upright, bare of metadata. Not to be drawn on.

        What was asked for last is kept until `let_go`, so that many patches cost one decode. A larger one at
        hand does not serve for a smaller: pixels depend on what is asked for, never on what was asked before.
        """
        asked = at_least or 0
        if self._kept is None or self._kept[0] != asked:
            self._kept = None
            self._kept = (asked, _refusing(self.name, lambda: self._decode(asked)))
        return self._kept[1]

    def to_srgb(self, image: Image.Image) -> Image.Image:
        """Bring to sRGB an image made from `decoded` by cropping, resizing or drawing."""
        profile, icc = self._profile, self.icc_profile
        if profile is None or profile.is_srgb:
            return image.copy()
        if icc is None:
            return strict_decode.to_srgb_by_matrix(image, profile)
        return _refusing(self.name, lambda: strict_decode.to_srgb_by_littlecms(image, icc))

    def let_go(self) -> None:
        """Forget the decoded pixels; they are made again when asked for."""
        self._kept = None

    def prove_whole(self) -> None:
        """Decode all of it, keeping nothing. Raises PhotographRefusedError when it is cut or damaged."""
        _refusing(self.name, lambda: strict_decode.prove_whole(self._data, self.format))

    def _decode(self, at_least: int) -> Image.Image:
        image = strict_decode.decode_rgb(self._data, self.format, self._mode, at_least=at_least)
        if self._profile is None and self.icc_profile is not None:
            image = strict_decode.to_srgb_by_littlecms(image, self.icc_profile)
        return image if self._turn is None else image.transpose(self._turn)


def take_in(folder: Path, name: str, *, prove_whole: bool = True) -> Photograph:
    """Let in one photo of a folder.

    Args:
        folder: the folder the person named.
        name: a path below it, written with `/`.
        prove_whole: decode once to be sure that nothing is cut or damaged. A caller that has proved the same
            bytes before (by `sha256`) may leave it out; later decodes are strict all the same.

    Raises:
        FileRefusedError: the file can not be opened safely.
        PhotographRefusedError: it is not a photo we take, or it is too large, too small, cut or damaged.
    """
    photograph = photograph_from(read_inside(folder, name, limit_bytes=LIMIT_BYTES), name)
    if prove_whole:
        photograph.prove_whole()
    return photograph


def photograph_from(data: bytes, name: str) -> Photograph:
    """As `take_in` for bytes already read; looks at the header only."""
    kind = picture_format(data)
    if kind is None:
        _refuse_kind(data, name)
    return _refusing(name, lambda: _read_header(data, name, kind))


def pixel_box(region: Rectangle, width: int, height: int) -> tuple[int, int, int, int]:
    """Left, top, right, bottom in whole pixels: those whose centres lie inside, at least one.

    >>> pixel_box(Rectangle(0.25, 0.5, 0.5, 0.25), 100, 40)
    (25, 20, 75, 30)
    """
    left, top = min(round(region.left * width), width - 1), min(round(region.top * height), height - 1)
    right, bottom = round(region.right * width), round(region.bottom * height)
    return left, top, min(max(right, left + 1), width), min(max(bottom, top + 1), height)


def _read_header(data: bytes, name: str, kind: PictureFormat) -> Photograph:
    notes = _name_notes(name, kind)
    if has_too_many_parts(data, kind):
        raise PhotographRefusedError(name, "it is made of more parts than any camera writes", _SAVE_AGAIN)
    with strict_decode.opened(data, kind) as (image, grumbles):
        _refuse_size(name, *image.size)
        _refuse_mode(name, image.mode)
        if getattr(image, "n_frames", 1) > 1:
            notes.append("it holds more than one picture; the first is taken")
        exif = _exif(image, data, kind)
        turn = _turn(exif, notes)
        unread = bool(image.info.get("exif")) and not len(exif)
        icc = _usable_icc(name, image, notes)
        mode, size = image.mode, image.size
    if grumbles or unread:
        notes.append("its Exif or header is broken; what could be read was used")
    profile = _profile(data, name, kind, icc)
    if icc is None and _says_uncalibrated(exif):
        notes.append("the camera used a colour space of its own and named none; read as sRGB")
    width, height = size[::-1] if turn in _SIDEWAYS else size
    return Photograph(
        name=name,
        sha256=hashlib.sha256(data).hexdigest(),
        format=kind,
        width=width,
        height=height,
        notes=tuple(notes),
        icc_profile=icc,
        _data=data,
        _mode=mode,
        _turn=turn,
        _profile=profile,
    )


def _name_notes(name: str, kind: PictureFormat) -> list[str]:
    if PurePosixPath(name).suffix.lower() in SUFFIXES[kind]:
        return []
    return [f"its name says otherwise, but it is a {kind}"]


def _exif(image: Image.Image, data: bytes, kind: PictureFormat) -> Image.Exif:
    if kind != "PNG":
        return image.getexif()
    # A PNG's own getexif decodes the whole picture in search of it.
    exif = Image.Exif()
    chunk = png_chunk(data, b"eXIf")
    if chunk:
        exif.load(b"Exif\0\0" + chunk)
    return exif


def _turn(exif: Image.Exif, notes: list[str]) -> Image.Transpose | None:
    orientation = exif.get(_ORIENTATION_TAG, 1)
    if orientation not in _TURNS:
        notes.append("its Exif names an orientation that does not exist; taken as upright")
        return None
    return _TURNS[orientation]


def _says_uncalibrated(exif: Image.Exif) -> bool:
    try:
        return exif.get_ifd(_EXIF_FOLDER_TAG).get(_COLOUR_SPACE_TAG) == _UNCALIBRATED
    except Exception:  # broken Exif raises whatever it likes; then it says nothing
        return False


def _usable_icc(name: str, image: Image.Image, notes: list[str]) -> bytes | None:
    """The embedded profile if it fits the pixels. Grey needs none; CMYK means nothing without one."""
    icc: bytes | None = image.info.get("icc_profile") or None
    wanted = "CMYK" if image.mode == "CMYK" else "RGB"
    fits = icc is not None and strict_decode.littlecms_space(icc) == wanted
    if image.mode == "CMYK" and not fits:
        raise PhotographRefusedError(name, "its colours are in CMYK and no profile says which", _SAVE_AGAIN)
    if image.mode in _GREY_MODES:
        notes.append("it is grey: no colour can be read from it")
        return None
    if icc is not None and not fits:
        notes.append("its colour profile can not be read; taken for sRGB")
    return icc if fits else None


def _profile(data: bytes, name: str, kind: PictureFormat, icc: bytes | None) -> MatrixProfile | None:
    points = coding_points(data, kind)
    if points and points[1] in _HDR_CURVES:
        raise PhotographRefusedError(
            name, "it is a high-dynamic-range picture", "export it once more without HDR, as JPEG"
        )
    if icc is not None:
        return read_profile(icc)
    primaries = _NAMED_POINTS.get(points[0] if points else 1)
    if primaries is None:
        raise PhotographRefusedError(name, "it names colour primaries that screens do not use", _SAVE_AGAIN)
    return named_profile(primaries)


def _refuse_kind(data: bytes, name: str) -> NoReturn:
    if is_heif(data):
        raise PhotographRefusedError(
            name,
            "it is a HEIC photo, which phones write to save space",
            "set the phone's camera to save JPEG, or export a copy as JPEG, and put that here",
        )
    raise PhotographRefusedError(
        name, f"it is {words_for(data)}", f"save it as {', '.join(ACCEPTED[:-1])} or {ACCEPTED[-1]}"
    )


def _refuse_size(name: str, width: int, height: int) -> None:
    if width * height > LIMIT_PIXELS:
        raise _too_many_pixels(name)
    if min(width, height) < SHORTEST_SIDE:
        raise PhotographRefusedError(
            name, f"it is only {width}x{height} pixels", f"use one with at least {SHORTEST_SIDE} each way"
        )
    if max(width, height) > LARGEST_ASPECT * min(width, height):
        raise PhotographRefusedError(name, f"it is a strip of {width}x{height} pixels", "use a whole photo")


def _refuse_mode(name: str, mode: str) -> None:
    if mode not in MODES:
        words = "it is black and white without greys" if mode == "1" else f"its pixels are of kind {mode}"
        raise PhotographRefusedError(name, words, _SAVE_AGAIN)


def _too_many_pixels(name: str) -> PhotographRefusedError:
    return PhotographRefusedError(
        name, f"it has more than {LIMIT_PIXELS // 1_000_000} megapixels", "save a smaller copy of it here"
    )


def _refusing(name: str, work: Callable[[], T]) -> T:
    """Whatever a decoder throws at hostile bytes becomes a refusal of that photo, in one line."""
    try:
        return work()
    except FileRefusedError:
        raise
    except Image.DecompressionBombError:
        raise _too_many_pixels(name) from None
    except UnidentifiedImageError:
        # Its own words hold an address in memory.
        raise PhotographRefusedError(name, "it is damaged where it begins", _SAVE_AGAIN) from None
    except Exception as error:
        # One line and short: some decoders quote a part of the file.
        words = " ".join(ascii(str(error))[1:-1].split())[:80] or type(error).__name__
        raise PhotographRefusedError(
            name, f"it is cut short, damaged or not decodable ({words})", _SAVE_AGAIN
        ) from error
