"""The invented head of hair behind the example editions: colours by week and centimetre, painted locks.

Nothing here is measured or fitted; the numbers are made up so that a page has something believable to show.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from journey.edition import model as m
from journey.record.model import Audience

GROWTH_CM_PER_WEEK = 0.29
LAST_WEEK, TODAY = 22.0, 14.0
NATURAL, LIGHTENED = (0.10, 0.062, 0.038), (0.74, 0.52, 0.30)
CORAL, ROSE, MAHOGANY, VIOLET = (
    (0.74, 0.12, 0.12),
    (0.70, 0.13, 0.16),
    (0.19, 0.05, 0.055),
    (0.14, 0.035, 0.30),
)

# (week, label, from cm, to cm, colour, share lost a week, cm cut)
SERVICES = (
    (0.0, "Coral rose", 0.0, 99.0, CORAL, 0.10, 0.0),
    (4.0, "Rose gloss", 2.0, 99.0, ROSE, 0.09, 0.0),
    (7.0, "Root melt, 2 cm off", 0.0, 5.0, MAHOGANY, 0.02, 2.0),
    (10.0, "Lightened root, violet, 1.2 cm off", 0.0, 99.0, VIOLET, 0.085, 1.2),
)
PLACES = (("Roots", 0.6), ("Mid-lengths", 10.0), ("Ends", 22.0), ("Nape", 6.0))
WEEKS = (0, 2, 4, 6, 7, 9, 10, 12, 14)
DATES = ("7 March", "21 March", "4 April", "18 April", "25 April", "9 May", "16 May", "30 May", "13 June")
NAMES = {
    0: ("coral rose", "bright coral", "bright coral", "bright coral rose"),
    2: ("soft coral rose", "coral", "pale coral", "coral"),
    4: ("light brown", "bright coral", "bright coral", "bright coral rose"),
    6: ("light brown", "coral", "coral", "coral"),
    7: ("deep coral rose", "coral", "pale coral", "coral"),
    9: ("rosy brown", "coral", "pale peach", "coral"),
    10: ("deep violet", "deep violet", "bright violet", "deep violet"),
    12: ("deep plum", "violet", "mauve", "deep violet"),
    14: ("rosy brown", "mauve", "soft mauve", "soft plum"),
}


def colour_at(week: NDArray[np.float64], cm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Encoded sRGB (..., 3) of the hair `cm` from the scalp in `week`."""
    week, cm = np.broadcast_arrays(np.asarray(week, float), np.asarray(cm, float))
    grown = cm - GROWTH_CM_PER_WEEK * week
    under = np.where((grown > 0.3)[..., None], LIGHTENED, NATURAL)
    linear = np.array(under)
    for at, label, low, high, dye, loss, _cut in SERVICES:
        then = grown + GROWTH_CM_PER_WEEK * at
        touched = (week >= at) & (then >= max(low, 0)) & (then <= high)
        if label.startswith("Lightened"):
            under = np.where(touched[..., None], LIGHTENED, under)
        share = np.exp(-loss * (1 + np.clip(then, 0, 26) / 40) * np.maximum(week - at, 0))[..., None]
        linear = np.where(touched[..., None], under * (1 - share) + np.array(dye) * share, linear)
    return np.where(
        linear <= 0.0031308, 12.92 * linear, 1.055 * np.maximum(linear, 1e-6) ** (1 / 2.4) - 0.055
    )


def hex_at(week: float, cm: float) -> str:
    red, green, blue = (round(255 * float(v)) for v in colour_at(np.array(week), np.array(cm)))
    return f"#{red:02x}{green:02x}{blue:02x}"


def length_cm(week: NDArray[np.float64]) -> NDArray[np.float64]:
    cut = sum(np.where(week >= at, lost, 0.0) for at, *_rest, lost in SERVICES)
    return 24 + GROWTH_CM_PER_WEEK * week - cut


def raster_rgba(silver: bool = False) -> NDArray[np.uint8]:
    weeks = np.arange(0, LAST_WEEK, 1 / 28)
    cms = np.arange(0, 26.2, 0.1)
    rgb = np.round(255 * colour_at(weeks[:, None], cms[None, :]))
    if silver:
        rgb = 128 + (rgb - rgb.mean(-1, keepdims=True)) * 0.05
    alpha = np.where(cms[None, :] <= length_cm(weeks)[:, None], 255, 0)[..., None]
    return np.concatenate([rgb, alpha], -1).astype(np.uint8)


def paint_lock(top: str, end: str, seed: int, size: tuple[int, int], edge: int) -> Image.Image:
    """A waving lock on the grey card, from the colour at its top to the colour at its end."""
    width, height = size
    noise = np.random.default_rng(seed)
    y, x = np.mgrid[0:height, 0:width].astype(float)
    sway = 7 * np.sin(y / 55 + seed) + 3 * np.sin(y / 23 + 2 * seed)
    strand = ((x + sway) * 0.9).astype(int) % 997
    shade = noise.normal(1, 0.11, 1024)[strand] * (1 + 0.10 * np.sin(y / 41 + strand * 0.07))
    ends = height * (0.86 + 0.05 * noise.normal(size=1024))[strand]
    t = (y / height)[..., None]
    ink = [np.array([int(c[i : i + 2], 16) for i in (1, 3, 5)], float) for c in (top, end)]
    hair = np.clip((ink[0] * (1 - t) + ink[1] * t) * shade[..., None], 0, 255)
    inside = (np.abs(x + sway * 0.6 - width / 2) < width * 0.42) & (y < ends)
    pixels = np.where(inside[..., None], hair, 0x76).astype(np.uint8)
    picture = Image.fromarray(pixels)
    picture.thumbnail((edge, edge))
    return picture


class Sheets:
    """Hands out pictures with neutral names in page order."""

    def __init__(self) -> None:
        self.made = 0

    def lock(self, week: float, place: str, cm: float, size: tuple[int, int] = (320, 320)) -> m.Picture:
        self.made += 1
        draw: Callable[[int], Image.Image] = partial(
            paint_lock, hex_at(week, max(cm - 3, 0)), hex_at(week, cm + 3), self.made, size
        )
        return m.Picture(
            name=f"p{self.made:02d}",
            width=size[0],
            height=size[1],
            alt=f"{place}, photographed on a grey card",
            caption=place,
            source=draw,
            fingerprint=f"{week}-{place}-{size}-{self.made}",
        )


def when(audience: Audience, week: float) -> m.When:
    if audience is Audience.CLASS or week not in WEEKS:
        return m.When(f"week {week:g}", week)
    return m.When(DATES[WEEKS.index(int(week))], week)


def chip(audience: Audience, week: int, index: int) -> m.Chip:
    place, cm = PLACES[index]
    client = audience is Audience.CLIENT
    return m.Chip(
        place=place,
        hex=hex_at(week, cm),
        name=NAMES[week][index],
        numbers=None if client else f"{60 - 2 * index}, {44 - week}, {24 - 3 * index} ± 2",
        trace=f"r{week:02d}{index}" if audience is Audience.ARCHIVE else None,
        zone="nape" if index == 3 else "crown",
        band=place.lower(),
        weak="No grey card in this photo: trend only." if week == 6 and index == 2 else None,
        out_of_screen=week == 10 and index == 2,
    )


def strand(audience: Audience, silver: bool = False) -> m.StrandRaster:
    marks = [m.Mark(when=when(audience, at), label=label) for at, label, *_ in SERVICES]
    marks.append(m.Mark(when=when(audience, TODAY), label="Today", is_service=False))
    follow = tuple((float(w), 6 + GROWTH_CM_PER_WEEK * w) for w in range(15))
    return m.StrandRaster(
        key="crown",
        zone="Crown",
        rgba=raster_rgba(silver),
        first_week=0.0,
        rows_per_week=28,
        forecast_from=TODAY,
        last_week=LAST_WEEK,
        longest_cm=26.1,
        marks=tuple(marks),
        follow=follow if audience is Audience.CLASS else (),
        alt=(
            "The hair from root to tip over fourteen weeks: coral, refreshed, darker at the "
            "root, then violet."
        ),
        title="New growth opens from the scalp; two trims take 3.2 cm off the tips",
        table=None if audience is Audience.CLIENT else strand_table(audience),
    )


def strand_table(audience: Audience) -> m.Table:
    rows = tuple(
        (
            m.Cell(text=when(audience, w).text),
            m.Cell(text=f"{float(length_cm(np.array(w))):.1f}", number=True),
            m.Cell(text=f"{GROWTH_CM_PER_WEEK * w:.1f}", number=True),
        )
        for w in WEEKS
    )
    return m.Table(
        key="strand-crown",
        title="Length and new growth, crown",
        columns=("When", "Length, cm", "Grown, cm"),
        rows=rows,
    )
