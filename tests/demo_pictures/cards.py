"""Things of known reflectance laid into a picture: the grey card and the 24-patch chart, in perspective.

Textures are linear reflectance; the light on them is the caller's. Corners run top left, top right,
bottom right, bottom left of the thing itself, whichever way it lies in the picture.
"""

from collections.abc import Sequence
from functools import cache

import colour
import numpy as np
from PIL import Image, ImageDraw
from scipy import ndimage as ndi

from tests.demo_pictures.fields import Array, Rng, f32, font
from tests.demo_pictures.spectra import WAVELENGTHS_NM, linear_srgb
from tests.demo_pictures.srgb import from_hex

GREY_REFLECTANCE = 0.18
GREY_PATCH = (0.04, 0.06, 0.60, 0.62)  # x0, y0, x1, y1 on the card, fractions
CARD_SHAPE = 0.66  # height over width
CHART_SHAPE = 0.68
CHART_GAP = 0.022  # between patches and around them, in chart widths
CHIPS = ("#a83c34", "#d98a32", "#d8c34a", "#4b8a4a", "#3a5f9e", "#8a4a8c")

Corners = Sequence[tuple[float, float]]


def grey_card(width_px: int = 1080) -> Array:
    """A card of 18 %, 90 % and 4 % grey with six decorative chips (linear, H x W x 3)."""
    height = int(width_px * CARD_SHAPE)
    card = np.full((height, width_px, 3), 0.62, f32)

    def put(box: tuple[float, float, float, float], value: Array | float) -> None:
        x0, y0, x1, y1 = (round(q * s) for q, s in zip(box, (width_px, height) * 2, strict=True))
        card[y0:y1, x0:x1] = value

    put(GREY_PATCH, GREY_REFLECTANCE)
    put((0.63, 0.06, 0.96, 0.33), 0.90)
    put((0.63, 0.35, 0.96, 0.62), 0.04)
    for i, chip in enumerate(CHIPS):
        left = 0.04 + i * 0.1555
        put((left, 0.66, left + 0.1425, 0.86), from_hex(chip))
    text = Image.new("L", (width_px, height), 0)
    pen, face = ImageDraw.Draw(text), font(height * 0.055)
    pen.text((width_px * 0.04, height * 0.89), "GREY 18   WHITE 90   BLACK 4", font=face, fill=255)
    pen.text((width_px * 0.96, height * 0.89), "reflectance %", font=face, fill=190, anchor="ra")
    ink = np.asarray(text, f32)[..., None] / 255
    return card * (1 - ink) + 0.05 * ink


@cache
def chart_linear() -> Array:
    """The 24 patches as linear sRGB under D65 (24 x 3), from ISO 17321-1:2006 reflectances by colour-
    science.
    """
    patches = colour.SDS_COLOURCHECKERS["ISO 17321-1"].values()
    spectra = [np.interp(WAVELENGTHS_NM, sd.wavelengths, sd.values) for sd in patches]
    return np.array([linear_srgb(s) for s in spectra])


def chart_boxes() -> list[tuple[float, float, float, float]]:
    """Where each patch lies on the chart (x0, y0, x1, y1), fractions of its sides, six across and four
    down.
    """
    side = (1 - 7 * CHART_GAP) / 6
    gap_y, side_y = CHART_GAP / CHART_SHAPE, side / CHART_SHAPE
    boxes = []
    for i in range(24):
        x, y = CHART_GAP + (i % 6) * (side + CHART_GAP), gap_y + (i // 6) * (side_y + gap_y)
        boxes.append((x, y, x + side, y + side_y))
    return boxes


def colour_chart(width_px: int = 1200) -> Array:
    """A 24-patch chart on a black mount (linear, H x W x 3)."""
    height = int(width_px * CHART_SHAPE)
    chart = np.full((height, width_px, 3), 0.028, f32)
    for box, value in zip(chart_boxes(), chart_linear(), strict=True):
        x0, y0, x1, y1 = (round(q * s) for q, s in zip(box, (width_px, height) * 2, strict=True))
        chart[y0:y1, x0:x1] = np.clip(value, 0.002, None)
    return chart


def name_label(lines: Sequence[str], width_px: int = 900, shape: float = 0.42) -> Array:
    """A paper label with writing on it (linear, H x W x 3)."""
    height = int(width_px * shape)
    text = Image.new("L", (width_px, height), 0)
    pen = ImageDraw.Draw(text)
    step = height / (len(lines) + 0.6)
    for i, line in enumerate(lines):
        pen.text((width_px * 0.06, step * (0.25 + i)), line, font=font(step * 0.62), fill=255)
    ink = np.asarray(text, f32)[..., None] / 255
    return (0.80 * (1 - ink) + 0.04 * ink) * np.ones(3, f32)


def homography(src: Corners, dst: Corners) -> Array:
    """The 3 x 3 perspective map taking four points to four points."""
    rows: list[list[float]] = []
    for (x, y), (u, v) in zip(src, dst, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y], [0, 0, 0, x, y, 1, -v * x, -v * y]]
    solution = np.linalg.solve(np.array(rows, float), np.array(dst, float).ravel())
    return np.append(solution, 1).reshape(3, 3)


def mapped_box(corners: Corners, box: tuple[float, float, float, float], inset: float = 0.18) -> Array:
    """Pixels (4 x 2) of a box on a placed thing, drawn in by `inset` of its sides."""
    x0, y0, x1, y1 = box
    dx, dy = (x1 - x0) * inset, (y1 - y0) * inset
    H = homography([(0, 0), (1, 0), (1, 1), (0, 1)], corners)
    points = [(x0 + dx, y0 + dy), (x1 - dx, y0 + dy), (x1 - dx, y1 - dy), (x0 + dx, y1 - dy)]
    mapped = np.array([H @ [x, y, 1] for x, y in points])
    return mapped[:, :2] / mapped[:, 2:]


def place(
    img: Array,
    texture: Array,
    corners: Corners,
    light: float,
    rng: Rng,
    *,
    shadow: bool = True,
    corner_px: float = 6.0,
) -> None:
    """Lay a texture into a linear picture, in place, with a soft shadow and slightly uneven light."""
    H, W = img.shape[:2]
    th, tw = texture.shape[:2]
    quad = np.array(corners, float)
    inverse = np.linalg.inv(homography([(0, 0), (1, 0), (1, 1), (0, 1)], corners))
    x0, y0 = np.maximum(np.floor(quad.min(0)) - 60, 0).astype(int)
    x1, y1 = np.minimum(np.ceil(quad.max(0)) + 60, [W, H]).astype(int)
    yy, xx = np.mgrid[y0:y1, x0:x1] + 0.5
    den = inverse[2, 0] * xx + inverse[2, 1] * yy + inverse[2, 2]
    u = (inverse[0, 0] * xx + inverse[0, 1] * yy + inverse[0, 2]) / den
    v = (inverse[1, 0] * xx + inverse[1, 1] * yy + inverse[1, 2]) / den
    wide = float(np.linalg.norm(quad[1] - quad[0]))
    tall = float(np.linalg.norm(quad[3] - quad[0]))
    eu, ev = np.minimum(u, 1 - u) * wide, np.minimum(v, 1 - v) * tall
    du, dv = np.maximum(corner_px - eu, 0), np.maximum(corner_px - ev, 0)
    rounded = np.where((du > 0) & (dv > 0), corner_px - np.hypot(du, dv), 1e3)
    edge = np.minimum(np.minimum(eu, ev), rounded)
    blur = max(0.45 * tw / wide, 0.0)
    soft = ndi.gaussian_filter(texture, (blur, blur, 0)) if blur > 0.5 else texture
    at = [np.clip(v, 0, 1) * th - 0.5, np.clip(u, 0, 1) * tw - 0.5]
    sampled = np.stack([ndi.map_coordinates(soft[..., c], at, order=1, mode="nearest") for c in range(3)], -1)
    uneven = (1.01 - 0.02 * u + 0.012 * (1 - v)) * (1 + 0.006 * rng.normal(size=u.shape))
    rim = 1 - 0.10 * np.exp(-np.maximum(edge, 0) / 1.2)
    region = img[y0:y1, x0:x1]
    if shadow:
        dark = ndi.gaussian_filter(ndi.shift((edge > 0).astype(f32), (5, 4.5), order=1), 5)
        region = region * (1 - 0.5 * dark[..., None])
    cover = ndi.gaussian_filter(np.clip(edge + 0.5, 0, 1), 0.6)[..., None]
    img[y0:y1, x0:x1] = region * (1 - cover) + sampled * light * (uneven * rim)[..., None] * cover


def clip_arm(img: Array, corners: Corners, scale: float, light: float) -> None:
    """A thin dark rod that holds the card from below, in place."""
    H, W = img.shape[:2]
    foot = (np.array(corners[2]) + np.array(corners[3])) / 2
    y0 = int(foot[1] - 24 * scale)
    if y0 >= H:
        return
    x0, x1 = max(int(foot[0] - 40 * scale), 0), min(int(foot[0] + 50 * scale), W)
    yy, xx = np.mgrid[y0:H, x0:x1]
    u = (xx - (foot[0] + 3 * (yy - y0) / 300)) / (13 * scale)
    cover = np.clip((1 - np.abs(u)) * 13 * scale / 1.5 + 0.5, 0, 1)[..., None]
    glint = 0.025 + 0.11 * np.exp(-(((u + 0.4) / 0.22) ** 2)) + 0.02 * np.exp(-(((u - 0.7) / 0.2) ** 2))
    img[y0:H, x0:x1] = img[y0:H, x0:x1] * (1 - cover) + glint[..., None] * light * cover
