"""Looks at the finished photos of an edition: faces outside covers, names in print, codes that can be read.

    picture files ─different_pictures─▶ one of each ─see─▶ Sighting ─exposed─▶ what must not leave

It decides which files show the same picture (one look is enough for all its sizes), when a face counts as
covered, and what is told. Finding faces, print and codes is left to `face_net` and `print_net`, reading names to
`canaries`.

A net that was never installed is named by `missing_nets`, for the outcome to say so. A net that sees nothing
certifies nothing: faces under mosaics are missed by nets and still recognised by people. So a cover counts only
where it was declared and where the finished pixels have its colour.
"""

from __future__ import annotations

import functools
import io
import json
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import asdict, dataclass
from threading import Lock
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from journey.audit.face_net import Face, FaceNet, face_net_is_installed
from journey.audit.nets import NetBrokenError
from journey.audit.print_net import Code, CodeNet, PrintNet, code_net_is_installed, print_net_is_installed
from journey.cache import Remembered

COVER_COLOUR: Final = (119, 119, 119)
"""The one colour covers are filled with; held equal to the edition's by a test."""
_COVER_TOLERANCE: Final = 12
"""Of 255, for what an encoder does."""
MOST_OF_A_FACE: Final = 0.8
"""So much of a face's box must be filled; half a face is a face."""
_BEYOND: Final = 0.25
_BEYOND_PX: Final = 20
"""Covers are filled a little beyond what was declared: by this share of their sides, and by these pixels."""
_GRID: Final = 24
_SAME_PICTURE: Final = 12
"""Of 255: sizes and formats of one picture differ by no more in any cell of the grid; measured 4 to 7."""
_HOW_TO: Final = "pip install 'colour-journey[{}]' adds it"

Cover = tuple[float, float, float, float]
"""Left, top, width, height, in fractions of the picture's sides."""
Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Sighting:
    """All that was seen in one picture, before anything is judged."""

    faces: tuple[Face, ...] = ()
    lines: tuple[str, ...] = ()
    """Printed lines, as read, also in the mirror."""
    codes: tuple[Code, ...] = ()

    def as_bytes(self) -> bytes:
        """To be kept in a private place: it may hold what the print says."""
        return json.dumps(asdict(self), ensure_ascii=False, sort_keys=True).encode()

    @classmethod
    def from_bytes(cls, data: bytes) -> Sighting:
        """What `as_bytes` gave. Raises ValueError, KeyError or TypeError for anything else."""
        said = json.loads(data)
        return cls(
            tuple(Face(**face) for face in said["faces"]),
            tuple(map(str, said["lines"])),
            tuple(Code(**code) for code in said["codes"]),
        )


@dataclass(frozen=True, slots=True)
class Exposed:
    """One thing in a photo that must not leave as it is."""

    kind: str
    """'face' or 'code'."""
    what: str
    """In words, with the way out."""


class PhotoNets:
    """The nets that are installed, loaded once.

    Raises:
        NetBrokenError: one of them is installed and can not be run as it was tried.
    """

    def __init__(self) -> None:
        self._one_at_a_time = Lock()
        self._faces = FaceNet() if face_net_is_installed() else None
        self._print = PrintNet() if print_net_is_installed() else None
        self._codes = CodeNet() if code_net_is_installed() else None

    def see(self, data: bytes) -> Sighting:
        """Everything the nets see in a picture file. The same bytes and nets give the same sighting.

        Raises NetBrokenError when one of them fails, for want of memory perhaps: then nothing was looked at.
        """
        pixels = _decoded(data)
        with self._one_at_a_time:
            try:
                return self._seen(pixels)
            except Exception as error:  # each net raises whatever its runtime likes
                raise NetBrokenError(f"a net failed over a photo ({type(error).__name__})") from error

    def _seen(self, pixels: Pixels) -> Sighting:
        # Side by side: each net alone leaves a core idle.
        with ThreadPoolExecutor(max_workers=1) as beside:
            lines = beside.submit(self._print.texts, pixels) if self._print is not None else None
            faces = self._faces.faces(pixels) if self._faces is not None else ()
            codes = self._codes.codes(pixels) if self._codes is not None else ()
            return Sighting(faces, lines.result() if lines is not None else (), codes)


def missing_nets() -> tuple[str, ...]:
    """What nobody but a person looks for here, and how to have it looked for."""
    nets = (
        (face_net_is_installed(), "faces", "faces"),
        (print_net_is_installed(), "printed words", "print"),
        (code_net_is_installed(), "QR codes", "print"),
    )
    return tuple(
        f"no net looked for {what}; {_HOW_TO.format(extra)}" for is_there, what, extra in nets if not is_there
    )


@functools.cache
def installed_nets() -> PhotoNets:
    """The nets of this process. Raises NetBrokenError."""
    return PhotoNets()


def different_pictures(files: Mapping[str, bytes], remembered: Remembered | None = None) -> tuple[str, ...]:
    """One file of each picture, the largest; a file that shows something else than its fellows is one too.

    Args:
        files: picture files by path; files called alike up to the last '-' ('p01-480.avif') should be one picture.
        remembered: keeps how each file looks from afar.
    """
    chosen: dict[str, list[tuple[str, NDArray[np.int16]]]] = {}
    sizes = {path: Image.open(io.BytesIO(data)).size for path, data in files.items()}
    for path in sorted(files, key=lambda path: (-sizes[path][0] * sizes[path][1], path)):
        grid = _grid_of(files[path], remembered)
        fellows = chosen.setdefault(picture_name(path), [])
        if not any(int(np.abs(grid - other).max()) <= _SAME_PICTURE for _, other in fellows):
            fellows.append((path, grid))
    return tuple(sorted(path for fellows in chosen.values() for path, _ in fellows))


def picture_name(path: str) -> str:
    """The name that all sizes of a picture share.

    >>> picture_name("pictures/p01-480.avif")
    'p01'
    """
    return path.rpartition("/")[2].rpartition(".")[0].rpartition("-")[0]


def exposed(data: bytes, sighting: Sighting, covers: Sequence[Cover]) -> Iterator[Exposed]:
    """What of a sighting must not leave: faces that no cover hides, codes that can be read.

    Args:
        data: the finished picture file.
        sighting: what `see` saw in it.
        covers: what was declared to be hidden in this picture.
    """
    if sighting.faces:
        filled = _filled(_decoded(data), covers)
        for face in sighting.faces:
            if _share_filled(face, filled) < MOST_OF_A_FACE:
                at = " ".join(f"{side:.2f}" for side in (face.left, face.top, face.width, face.height))
                yield Exposed("face", f"no cover hides what looks like one at {at}; cover it or crop the photo")
    for code in sighting.codes:
        if code.is_matrix:
            yield Exposed("code", f"a {code.kind} that can be read; cover it or crop the photo")


def _decoded(data: bytes) -> Pixels:
    with Image.open(io.BytesIO(data)) as picture:
        return np.asarray(picture.convert("RGB"))


def _grid_of(data: bytes, remembered: Remembered | None) -> NDArray[np.int16]:
    codes = _on_a_grid(data) if remembered is None else remembered("grid", (data,), lambda: _on_a_grid(data))
    return np.frombuffer(codes, dtype=np.uint8).astype(np.int16)


def _on_a_grid(data: bytes) -> bytes:
    with Image.open(io.BytesIO(data)) as picture:
        return picture.convert("RGB").resize((_GRID, _GRID), Image.Resampling.BOX).tobytes()


def _filled(pixels: Pixels, covers: Sequence[Cover]) -> NDArray[np.bool_]:
    """Where (height, width) a declared cover was and its colour is."""
    height, width = pixels.shape[:2]
    declared = np.zeros((height, width), dtype=bool)
    for left, top, wide, tall in covers:
        aside, above = wide * width * _BEYOND + _BEYOND_PX, tall * height * _BEYOND + _BEYOND_PX
        declared[
            max(0, round(top * height - above)) : max(0, round((top + tall) * height + above)),
            max(0, round(left * width - aside)) : max(0, round((left + wide) * width + aside)),
        ] = True
    solid = np.abs(pixels.astype(np.int16) - COVER_COLOUR).max(axis=2) <= _COVER_TOLERANCE
    filled: NDArray[np.bool_] = declared & solid
    return filled


def _share_filled(face: Face, filled: NDArray[np.bool_]) -> float:
    height, width = filled.shape
    box = filled[
        int(face.top * height) : int((face.top + face.height) * height) + 1,
        int(face.left * width) : int((face.left + face.width) * width) + 1,
    ]
    return float(box.mean()) if box.size else 0.0
