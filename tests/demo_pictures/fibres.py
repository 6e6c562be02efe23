"""Single fibres under magnification: cuticle, pigment along the chord, a worn dye film, a bright field.

A slide lists its strands and how wide the field is; the picture's facts give each kind's share of the
strands.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from PIL import Image, ImageDraw
from scipy import ndimage as ndi

from tests.demo_pictures.cards import GREY_REFLECTANCE
from tests.demo_pictures.fields import Array, Rng, f32, font, gf, smooth, vnoise
from tests.demo_pictures.spectra import dyed, linear_srgb
from tests.demo_pictures.srgb import to_hex

WIDTH_PX, HEIGHT_PX = 1600, 1200


@dataclass(frozen=True, slots=True, kw_only=True)
class Fibre:
    """One strand: where it crosses (fraction of the height), angle in degrees, diameter and what colours
    it.
    """

    kind: str
    y0: float
    angle: float
    diameter_um: float
    substrate: tuple[float, float, float]
    dye: tuple[float, float, float] | None = None
    cover: float = 0.85
    bend: float = 0.0
    medulla: float = -0.3
    granules: float = 0.3
    scale_um: float = 9.5
    defocus_px: float = 0.0
    soft: float = 0.30


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide:
    """Strands from the bottom of the pile to the top, and the width of the field."""

    field_width_mm: float
    fibres: tuple[Fibre, ...]
    bar_um: int = 100


def _texture(shape: tuple[int, int], rng: Rng, sy: float, sx: float) -> Array:
    z = rng.normal(size=shape)
    z = ndi.gaussian_filter(z, (sy, sx), mode="wrap")
    return (z / z.std()).astype(f32)


def _sample(t: Array, a: Array, b: Array) -> Array:
    return ndi.map_coordinates(t, [np.mod(a, t.shape[0]), np.mod(b, t.shape[1])], order=1, mode="grid-wrap")


def _lay_fibre(
    img: Array, F: Fibre, fi: int, textures: tuple[Array, ...], pixels: tuple[Array, Array], ppu: float
) -> Array:
    """The picture with one more strand over it: light through it, then light off it."""
    T1, T2, T3, T4, T5 = textures
    xx, yy = pixels
    H, W = xx.shape
    fine = min(ppu / 3.2, 1.0)
    R = F.diameter_um / 2 * ppu
    a = np.radians(F.angle)
    ca, sa = np.cos(a), np.sin(a)
    X = (xx - W / 2) * ca + (yy - H * F.y0) * sa
    Y = -(xx - W / 2) * sa + (yy - H * F.y0) * ca
    bend = F.bend
    Y = Y - bend * R * ((X / W) ** 2 * 4) - 0.10 * R * np.sin(X / W * 4 + fi)
    th = 1 + 0.025 * np.sin(X / (W * 0.21) + fi * 2)
    u = Y / (R * th)
    m = np.abs(u) < 1.25
    uu = u[m]
    s = X[m] / ppu / 1.0
    npx = len(uu)  # s in um
    s = s + fi * 137.3
    ph = np.arcsin(np.clip(uu, -1, 1))
    cs = np.sqrt(np.clip(1 - uu * uu, 0, 1))
    L = ph * R / ppu  # um around the circumference
    # Cuticle: irregular overlapping scales; two phase fields, switched by patches so that edges end and
    # merge.
    sp = F.scale_um

    def scales(L: Array, off: float) -> tuple[Array, Array]:
        w = (
            3.4 * _sample(T1, L * 1.05 + off, s * 0.50)
            + 1.15 * _sample(T2, L * 0.85 + off, s * 0.55)
            + 0.42 * _sample(T2, L * 2.6 + off + 60, s * 1.6)
        )
        f1 = (s + w) / sp
        f2 = f1 + 0.47 + 0.2 * _sample(T1, L * 1.2 + off + 90, s * 0.6)
        sel = _sample(T1, L * 1.1 + off + 200, s * 0.8 + 77) > 0.2
        f = np.where(sel, f2, f1)
        k = np.floor(f)
        return f - k, k

    f, k = scales(L, 0.0)
    vis = np.clip(0.85 + 0.3 * _sample(T5, L * 2, s * 2), 0.15, 1.3)
    edge = np.exp(-((f / 0.085) ** 2)) + 0.8 * np.exp(-(((1 - f) / 0.035) ** 2))
    tilt = f - 0.5
    fb, _ = scales(-L, 250.0)
    edgeb = np.exp(-((fb / 0.16) ** 2))
    # silhouette teeth
    tooth = (f - 0.5) * 0.9 / R * 1.1 * ppu / 3.2
    cov = np.clip((1 + tooth * 0.8 - np.abs(uu)) * R / 1.6 + 0.5, 0, 1)
    # body: melanin/keratin absorption along the chord, cortex streaks, granules, medulla
    streak = _sample(T3, L * 1.4 + 40, s * 2.0)
    gr = _sample(T4, L * 2.2 + 30, s * 1.1 + 11)
    A = -np.log(np.clip(np.array(F.substrate), 0.01, 0.99))
    chord = cs
    path = (
        chord * (1 + 0.10 * streak + 0.10 * F.granules * _sample(T2, L * 2, s * 1.2))
        + F.granules * 0.9 * np.clip(gr - 1.35, 0, 2) * chord
    )
    Tm = np.exp(-A[None] * np.maximum(path, 0)[:, None])
    med = np.exp(
        -(
            (
                np.abs(uu + 0.05 * _sample(T5, 0 * s, s * 3))
                / (0.105 + 0.035 * _sample(T1, 0 * s + 5, s * 2.5))
            )
            ** 4
        )
    ) * smooth(-0.1, 0.5, _sample(T5, 0 * s + 9, s * 2.6) + F.medulla)
    Tm = Tm * (1 - 0.42 * med * (1 + 0.25 * gr))[:, None]
    # lens / refraction profile of a cylinder in mounting medium
    prof = 0.30 + 0.70 * np.clip(1 - np.abs(uu) ** 6, 0, 1) ** 1.3
    prof = prof + 0.10 * np.exp(-((uu / 0.42) ** 2)) - 0.30 * np.exp(-(((np.abs(uu) - 0.97) / 0.055) ** 2))
    # dye film: patchy, thicker at patch rims; front and back surface
    film = np.zeros(npx, f32)
    hmap = np.zeros(npx, f32)
    if F.dye:
        D = -np.log(np.clip(np.array(F.dye), 0.004, 0.99))
        c = F.cover
        thr = np.quantile(T5, 1 - c)

        def h(L: Array, off: float) -> tuple[Array, Array]:
            q = (
                _sample(T5, L * 1.1 + off, s * 0.62 + off)
                + 0.34 * _sample(T1, L * 1.3 + off, s * 1.0)
                + 0.10 * _sample(T2, L * 1.6 + off, s * 1.3)
                + 0.20 * np.sin(k * 2.4 + off)
                + 0.14 * (f - 0.5)
            )  # wear follows the scale edges
            e = q - thr
            soft = F.soft
            fl = 0.62 * smooth(-soft, soft, e) + 0.38 * smooth(-0.07, 0.07, e - 0.12)
            rim = np.exp(-(((e - 0.15) / 0.10) ** 2)) * 0.22
            return fl * (
                0.80
                + 0.07 * _sample(T1, L * 1.2 + off, s * 0.9)
                + 0.05 * _sample(T2, L * 1.5 + off, s * 1.1)
                + rim
                + 0.16 * np.exp(-((f / 0.16) ** 2))
            ), e

        h1, e1 = h(L, 0.0)
        h2, _ = h(-L + 3.1 * R / ppu, 130.0)
        ob = 1 / np.maximum(cs, 0.30)
        film = (h1 * 0.62 + h2 * 0.38) * (0.55 + 0.45 * ob)
        hmap = h1
        Td = np.exp(-D[None] * film[:, None])
        lip = np.exp(-((e1 / 0.05) ** 2)) * smooth(1, 0.7, np.abs(uu))
    else:
        Td = 1.0
        lip = 0.0
    # compose transmitted + reflected
    line = 1 - 0.46 * vis * edge * (0.6 + 0.4 * cs) - 0.07 * edgeb * cs
    shade = prof * line * (1 + 0.22 * tilt * vis)
    und = img[m]
    tr = und * Tm * Td * shade[:, None]
    nl = np.clip(-0.55 * uu + 0.83 * cs, 0, 1)  # ring light, a bit from above
    refl_d = (Tm**0.5 * (Td**1.0) * 0.16 * nl[:, None]) * (1 + 0.25 * (tilt * vis)[:, None])
    sp1 = (
        np.exp(-(((uu + 0.36 + 0.05 * tilt) / 0.085) ** 2))
        * (0.35 + 0.65 * smooth(0.0, 0.8, f + 0.25 * streak))
        * np.clip(0.7 + 0.3 * _sample(T2, L * 2, s * 2), 0.1, 2)
        * vis
    )
    sp2 = 0.35 * np.exp(-(((uu - 0.52 + 0.05 * tilt) / 0.07) ** 2)) * (0.3 + 0.7 * f)
    rf = (
        refl_d + (0.20 * (sp1 + sp2) * (1 + 0.5 * hmap))[:, None] + (0.02 * lip)[:, None]
        if F.dye
        else refl_d + (0.17 * (sp1 + sp2))[:, None]
    )
    col = tr * 0.90 + rf
    layer = np.zeros((H, W, 3), f32)
    layer[m] = col
    al = np.zeros((H, W), f32)
    al[m] = cov
    df = F.defocus_px
    # contact shadow / Becke line
    out_u = (np.abs(u) - 1) * R
    halo = (
        np.where(out_u > 0, np.exp(-((out_u / (5 * fine + df)) ** 2)), 0) * 0.10
        - np.where(out_u > 0, np.exp(-(((out_u - 4 * fine) / (2.5 * fine)) ** 2)), 0) * 0.06
    )
    img = img * (1 - halo)[..., None]
    pm = layer * al[..., None]
    if df:
        pm = gf(pm, df)
        al = gf(al, df)
    img = pm + img * (1 - al[..., None])
    return img


def micrograph(slide: Slide, rng: Rng) -> tuple[Array, dict[str, Any]]:
    """The linear picture (white = 1) of a slide, and its facts."""
    W, H = WIDTH_PX, HEIGHT_PX
    ppu = W / (slide.field_width_mm * 1000)  # pixels per micrometre
    yy, xx = np.mgrid[0:H, 0:W].astype(f32)
    x = xx / W - 0.5
    y = yy / H - 0.5
    bg = (0.74 * (1 - 0.30 * (x * x + y * y)))[..., None] * np.array([1.0, 0.992, 0.972], f32)
    n = vnoise((H // 8 + 1, W // 8 + 1), 40, rng, 2)
    n = ndi.zoom(n, 8, order=1)[:H, :W]
    bg = bg * (1 + 0.008 * n[..., None])
    # out-of-focus dust
    for _ in range(7):
        cx, cy, r = rng.uniform(0, W), rng.uniform(0, H), rng.uniform(9, 34)
        d = np.hypot(xx - cx, yy - cy)
        bg = (
            bg
            * (1 - (0.05 * np.exp(-((d / r) ** 2)) + 0.05 * np.exp(-(((d - r) / (r * 0.18)) ** 2))))[
                ..., None
            ]
        )
    img, ground = bg, bg
    textures = (
        _texture((512, 1024), rng, 10, 16),
        _texture((512, 1024), rng, 3.0, 5),
        _texture((256, 2048), rng, 1.2, 70),
        _texture((512, 1024), rng, 1.3, 2.0),
        _texture((512, 1024), rng, 18, 40),
    )
    for number, fibre in enumerate(slide.fibres):
        img = _lay_fibre(img, fibre, number, textures, (xx, yy), ppu)
    img = _with_card(img, ground, rng)
    return _with_bar(img, slide.bar_um, ppu), _facts(slide)


CARD_EDGE = (0.0, 0.0, 0.12, 0.20)  # x, y, width, height in fractions: the corner of a grey card
GROUND_REFLECTANCE = 0.90  # white paper; the ground is drawn at 0.74
CARD_BOX = (0.012, 0.016, 0.088, 0.148)  # of that corner, where the card is evenly lit and sharp


def _with_card(img: Array, ground: Array, rng: Rng) -> Array:
    """The picture with the corner of a grey card over its own, a little out of focus, in the ground's light."""
    H, W = img.shape[:2]
    mask = np.zeros((H, W), f32)
    mask[: round(CARD_EDGE[3] * H), : round(CARD_EDGE[2] * W)] = 1
    shadow = ndi.gaussian_filter(mask, 14)[..., None]
    cover = ndi.gaussian_filter(mask, 4)[..., None]
    paper = 1 + 0.010 * rng.normal(size=(H, W, 1)).astype(f32)
    card = ground * f32(GREY_REFLECTANCE / GROUND_REFLECTANCE) * paper
    return (img * (1 - 0.35 * shadow) * (1 - cover) + card * cover).astype(f32)


def _with_bar(img: Array, bar_um: int, ppu: float) -> Array:
    """The picture with a scale bar in its corner."""
    image = Image.new("L", (WIDTH_PX, HEIGHT_PX), 0)
    pen = ImageDraw.Draw(image)
    right, foot = WIDTH_PX - 70, HEIGHT_PX - 66
    pen.rectangle([right - bar_um * ppu, foot, right, foot + 9], fill=255)
    pen.text(
        (right - bar_um * ppu / 2, foot - 10), f"{bar_um / 1000:g} mm", font=font(34), fill=255, anchor="ms"
    )
    ink = np.asarray(image, f32)[..., None] / 255
    return (img * (1 - ink) + 0.02 * ink).astype(f32)


def _facts(slide: Slide) -> dict[str, Any]:
    """Field width, and per kind of strand its count, share and the colour light has after passing it once."""
    kinds: dict[str, list[Fibre]] = {}
    for fibre in slide.fibres:
        kinds.setdefault(fibre.kind, []).append(fibre)
    strands = [
        {
            "kind": kind,
            "count": len(members),
            "share": round(len(members) / len(slide.fibres), 4),
            "albedo_hex": to_hex(np.array(members[0].dye or members[0].substrate)),
        }
        for kind, members in kinds.items()
    ]
    neutral = {"rect": list(CARD_BOX), "reflectance": GREY_REFLECTANCE}
    return {"field_width_mm": slide.field_width_mm, "strands": strands, "neutral": neutral}


def _colour(substrate: str, **shares: float) -> tuple[float, float, float]:
    """Linear colour of a fibre; bowls by name with underscores for spaces."""
    r, g, b = linear_srgb(dyed(substrate, {k.replace("_", " "): q for k, q in shares.items()}))
    return float(r), float(g), float(b)


PALE = _colour("lightened 9, paler ends")
NATURAL = _colour("natural 5")
FRESH = _colour("lightened 9, paler ends", violet=1.0)
FADED = _colour("lightened 9, paler ends", violet=0.47)
HELD = _colour("lightened 9, paler ends", violet=0.8)
"""A strand that has kept more than most: with pale ones beside it, it makes the mauve of the head."""


def _dyed(y0: float, angle: float, dye: tuple[float, float, float], kind: str, **more: Any) -> Fibre:
    # The film carries the dye alone, so that what shines through film and fibre is the dyed colour.
    film = tuple(min(d / s, 0.99) for d, s in zip(dye, PALE, strict=True))
    return Fibre(kind=kind, y0=y0, angle=angle, substrate=PALE, dye=film, **more)  # type: ignore[arg-type]


def _pale(y0: float, angle: float, diameter_um: float = 72.0, **more: Any) -> Fibre:
    return Fibre(kind="pale", y0=y0, angle=angle, diameter_um=diameter_um, substrate=PALE, **more)


def _many() -> tuple[Fibre, ...]:
    """Eleven violet strands and four pale ones, lying side by side with gaps between."""
    rng = np.random.default_rng(613)
    order = "vvpvvpvvvpvvvvp"
    fibres = []
    for i, letter in enumerate(order):
        y0 = (i + 0.5) / len(order) + float(rng.normal() * 0.006)
        where = {"y0": y0, "angle": float(rng.normal() * 1.3), "bend": float(rng.normal() * 0.3),
                 "diameter_um": float(70 + rng.normal() * 5), "medulla": -0.5}  # fmt: skip
        if letter == "p":
            fibres.append(_pale(**where))
        else:
            fibres.append(_dyed(dye=HELD, kind="violet", cover=0.97, **where))
    return tuple(fibres)


SLIDES = {
    "violet fresh and pale": Slide(field_width_mm=0.9, fibres=(
        _pale(0.48, -58, 66, defocus_px=4, bend=0.3),
        _dyed(0.20, 5, FRESH, "violet", diameter_um=78, cover=0.94, bend=0.25),
        _pale(0.52, -7, 70, bend=-0.3, medulla=-0.6, scale_um=8.5),
        _dyed(0.80, 3, FRESH, "violet", diameter_um=84, cover=0.90, bend=0.2, medulla=0.1),
    )),
    "faded violet, pale and natural": Slide(field_width_mm=0.9, fibres=(
        _dyed(0.36, 14, FADED, "violet", diameter_um=74, cover=0.78, bend=0.2, defocus_px=1.5),
        _pale(0.66, -9, 80, bend=-0.35, medulla=-0.2),
        Fibre(kind="natural", y0=0.55, angle=47, diameter_um=68, substrate=NATURAL, granules=0.9, medulla=0.3,
              bend=0.25),
    )),
    "many strands": Slide(field_width_mm=2.4, fibres=_many(), bar_um=500),
    "one worn strand": Slide(field_width_mm=0.45, fibres=(
        _pale(0.5, -66, 70, defocus_px=9, bend=0.2),
        _dyed(0.52, 6, FADED, "violet", diameter_um=82, cover=0.58, bend=0.25, medulla=-0.1),
    )),
    "one strand after care": Slide(field_width_mm=0.45, fibres=(
        _pale(0.5, 64, 70, defocus_px=9, bend=-0.2),
        _dyed(0.47, -5, FADED, "violet", diameter_um=80, cover=0.62, bend=-0.2, medulla=-0.1, soft=0.75),
    )),
    "slipped out of the field": Slide(field_width_mm=0.45, fibres=(
        _pale(1.115, -4, 66, defocus_px=6),
    )),
}  # fmt: skip
