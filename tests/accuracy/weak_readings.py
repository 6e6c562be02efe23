"""What blur, a small patch and cut-off colour add to the error of a reading, on simulated strands."""

from collections import defaultdict
from typing import Final

import numpy as np
from scipy import ndimage

from journey.colour.calibrate import uncalibrated
from journey.colour.difference import delta_e_2000
from journey.colour.fade_path import TRACKING_K_L
from journey.colour.spaces import FloatArray
from journey.colour.swatch import NotReadableError, Swatch, read_swatch
from tests.accuracy.region_statistic import albedos
from tests.accuracy.table import Table
from tests.simulators.strands import Light, StrandPicture, decoded, photographed, render_strands

BLUR_PX: Final = 3.0
SMALL_SIDES: Final = (12, 20, 35)
GAINS: Final = (1.5, 2.0, 2.5, 3.0, 3.5)
CUT_OFF_BINS: Final = ((0.05, 0.15), (0.15, 0.30), (0.30, 0.50))
_MEAN_LIGHT: Final = 0.18


def added_errors(*, seed: int, repeats: int) -> dict[str, FloatArray]:
    """CIEDE2000 (k_L 1.5) from a sound reading of the same strands, by what is wrong with the photo."""
    rng = np.random.default_rng(seed)
    found: dict[str, list[float]] = defaultdict(list)
    for albedo in albedos():
        for _ in range(repeats):
            light = Light(gloss=float(rng.uniform(0.2, 0.5)))
            linear = render_strands(rng, [albedo], [1.0], height=200, width=260, light=light).linear
            linear = linear * (_MEAN_LIGHT / linear.mean())
            sound = _read(rng, linear)
            assert sound is not None
            blurred = ndimage.gaussian_filter(linear, (BLUR_PX, BLUR_PX, 0))
            _add(found["blurred"], _read(rng, blurred), sound)
            for side in SMALL_SIDES:
                top, left = rng.integers(0, 200 - side), rng.integers(0, 260 - side)
                _add(found[f"{side} x {side}"], _read(rng, linear[top : top + side, left : left + side]), sound)
            for gain in GAINS:
                unclipped = read_swatch((gain * linear).reshape(-1, 3), np.zeros(200 * 260, bool), uncalibrated())
                bright = _read(rng, gain * linear)
                for low, high in CUT_OFF_BINS:
                    if bright is not None and low < bright.clipped_share <= high:
                        _add(found[f"{100 * low:.0f} to {100 * high:.0f} % cut off"], bright, unclipped)
    return {name: np.array(values) for name, values in found.items()}


def _read(rng: np.random.Generator, linear: FloatArray) -> Swatch | None:
    codes = photographed(rng, StrandPicture(linear=linear, labels=np.zeros(linear.shape[:2], dtype=int)))
    try:
        return read_swatch(*decoded(codes), uncalibrated())
    except NotReadableError:
        return None


def _add(found: list[float], weak: Swatch | None, sound: Swatch) -> None:
    if weak is not None:
        found.append(float(delta_e_2000(weak.body_lab, sound.body_lab, k_L=TRACKING_K_L)))


def tables() -> list[Table]:
    rows = [
        (name, len(errors), float(errors.mean()), float(np.quantile(errors, 0.95)))
        for name, errors in sorted(added_errors(seed=41, repeats=8).items())
    ]
    note = "To be held against WEAKNESS_ADDS and, for cut-off colour, CUT_OFF_ADDS times its share."
    columns = ("", "patches", "mean", "p95")
    return [Table("What makes a reading weak, and what it adds", columns, tuple(rows), note)]
