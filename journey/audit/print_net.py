"""Reads printed words and codes in a finished picture: a name on a cape, a phone number on a mirror, a QR code.

Words are read by RapidOCR, whose models ship inside its wheel; codes by zxing-cpp. It decides what can be read.
Whether it names someone is left to the canaries, what follows to `photo_nets`. Handwriting is not read, nor is
print too small or too blurred for the picture's size.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from journey.audit.nets import NetBrokenError, PinnedModel, package_folder

_WORDS: Final = "rapidocr_onnxruntime"
_CODES: Final = "zxingcpp"
MODELS: Final = (
    PinnedModel(
        _WORDS,
        "models/ch_PP-OCRv4_det_infer.onnx",
        "d2a7720d45a54257208b1e13e36a8479894cb74155a5efe29462512d42f49da9",
    ),
    PinnedModel(
        _WORDS,
        "models/ch_PP-OCRv4_rec_infer.onnx",
        "48fc40f24f6d2a207a2b1091d3437eb3cc3eb6b676dc3ef9c37384005483683b",
    ),
    PinnedModel(
        _WORDS,
        "models/ch_ppocr_mobile_v2.0_cls_infer.onnx",
        "e47acedf663230f8863ff1ab0e64dd2d82b838fceb5957146dab185a89d6215c",
    ),
)

_SMALL_PX: Final = 288
"""The reader blows pictures up to 736 px on the short side; more than twice a small one's size is of no use."""
_SURE_ENOUGH: Final = 0.5
"""The reader's own limit."""

Pixels = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Code:
    """A machine-readable code: what kind, whether it is a square one, and what it says."""

    kind: str
    """'QR Code', 'EAN-13', ..."""
    is_matrix: bool
    """Square codes hold addresses and contacts; bars are on every tube of colour."""
    text: str


def print_net_is_installed() -> bool:
    """Whether the package that reads words is there; nothing is imported."""
    return package_folder(_WORDS) is not None


def code_net_is_installed() -> bool:
    """Whether the package that reads codes is there; nothing is imported."""
    return package_folder(_CODES) is not None


class PrintNet:
    """The loaded reader of words.

    Raises:
        NetBrokenError: a model is missing or another one, or the package can not be loaded.
    """

    def __init__(self) -> None:
        for model in MODELS:
            model.found()
        try:
            from rapidocr_onnxruntime import RapidOCR
        except ImportError as error:
            raise NetBrokenError(f"the reader of printed words can not be loaded: {error}") from None
        # One thread: the runtime's own wait for each other by turning idly, which costs more than it gives.
        self._large: Any = RapidOCR(intra_op_num_threads=1, inter_op_num_threads=1)
        self._small: Any = RapidOCR(
            intra_op_num_threads=1, inter_op_num_threads=1, det_limit_side_len=_SMALL_PX * 2
        )

    def texts(self, pixels: Pixels) -> tuple[str, ...]:
        """Lines of print, as they stand and as a mirror shows them.

        Args:
            pixels: RGB, shape (height, width, 3).
        """
        reader = self._small if max(pixels.shape[:2]) <= _SMALL_PX else self._large
        bgr = np.ascontiguousarray(pixels[:, :, ::-1])
        corners, _ = reader(bgr, use_det=True, use_cls=False, use_rec=False)
        if not corners:
            return ()
        # Where letters are is seen in a mirror too; only the reading has to be done both ways.
        cut = reader.get_crop_img_list(bgr, np.asarray(corners, dtype=np.float32))
        lines: list[str] = []
        for way in (cut, [np.ascontiguousarray(one[:, ::-1]) for one in cut]):
            upright, _, _ = reader.text_cls(way)
            read, _ = reader.text_rec(upright)
            lines += [str(line[0]) for line in read if line[1] >= _SURE_ENOUGH]
        return tuple(dict.fromkeys(lines))


class CodeNet:
    """The loaded reader of codes. Raises NetBrokenError when it can not be loaded."""

    def __init__(self) -> None:
        try:
            import zxingcpp
        except ImportError as error:
            raise NetBrokenError(f"the reader of codes can not be loaded: {error}") from None
        self._zxing: Any = zxingcpp

    def codes(self, pixels: Pixels) -> tuple[Code, ...]:
        """Codes that can be read, also turned, inverted or seen in a mirror.

        Args:
            pixels: RGB, shape (height, width, 3).
        """
        kinds = self._zxing.BarcodeFormat
        found = [
            Code(str(one.format), is_matrix, str(one.text))
            for way in (pixels, pixels[:, ::-1])
            for is_matrix, formats in ((True, kinds.AllMatrix), (False, kinds.AllLinear))
            for one in self._zxing.read_barcodes(np.ascontiguousarray(way[:, :, ::-1]), formats=formats)
        ]
        return tuple(dict.fromkeys(found))
