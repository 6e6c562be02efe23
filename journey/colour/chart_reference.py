"""The 24-patch colour chart: its patches in order, and the colour each has in daylight.

Decides the reference a chart photo is held against. Charts differ: the average charts below and the chart of
ISO 17321-1 lie a mean of 0.8 and at most 2.0 apart in CIEDE2000. Someone who had their own chart measured
hands those values to `calibrate` instead.
"""

from typing import Final

import numpy as np

from journey.colour.spaces import FloatArray

# XYZ (white Y = 1) under D65, 2° observer, from the reflectances of the BabelColor average of 30 charts
# (D. Pascale, "RGB coordinates of the ColorChecker", 2006; data as shipped in colour-science 0.4.7),
# held constant beyond 380-730 nm, plain sum 380-780 nm at 5 nm. Order: left to right, top row first.
_PATCHES: Final = (
    ("dark skin", (0.111465, 0.100761, 0.068051)),
    ("light skin", (0.372028, 0.345900, 0.252566)),
    ("blue sky", (0.176471, 0.188485, 0.344539)),
    ("foliage", (0.105968, 0.133132, 0.069508)),
    ("blue flower", (0.248108, 0.234707, 0.438674)),
    ("bluish green", (0.309591, 0.426386, 0.448788)),
    ("orange", (0.371377, 0.296793, 0.063426)),
    ("purplish blue", (0.135548, 0.118333, 0.386104)),
    ("moderate red", (0.276702, 0.187390, 0.135262)),
    ("purple", (0.083950, 0.063693, 0.139789)),
    ("yellow green", (0.336595, 0.441543, 0.113748)),
    ("orange yellow", (0.452043, 0.420511, 0.077857)),
    ("blue", (0.079717, 0.061346, 0.282535)),
    ("green", (0.146660, 0.234140, 0.098958)),
    ("red", (0.196104, 0.117407, 0.050281)),
    ("yellow", (0.560353, 0.593781, 0.093087)),
    ("magenta", (0.294713, 0.193143, 0.310401)),
    ("cyan", (0.146544, 0.199747, 0.392895)),
    ("white", (0.862191, 0.912354, 0.953424)),
    ("neutral 8", (0.556652, 0.588610, 0.636347)),
    ("neutral 6.5", (0.340295, 0.359567, 0.390900)),
    ("neutral 5", (0.180716, 0.191281, 0.208729)),
    ("neutral 3.5", (0.084496, 0.089478, 0.098730)),
    ("black", (0.030524, 0.032008, 0.035399)),
)

PATCH_NAMES: Final = tuple(name for name, _ in _PATCHES)
CHART_XYZ: Final[FloatArray] = np.array([xyz for _, xyz in _PATCHES])
CHART_XYZ.flags.writeable = False
# The bottom row, light to dark: the patches that carry the tone curve.
NEUTRAL_PATCHES: Final = tuple(range(18, 24))
