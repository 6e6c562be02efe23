"""A lock of hair laid straight on a grey board beside a ruler, its scalp end under a clip at 0 cm.

With the grey card, and where asked the 24-patch chart, in the same picture and light. Board coordinates
are millimetres from the middle of the picture, x right and y up.
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
from PIL import Image, ImageDraw
from scipy import ndimage as ndi
from scipy.spatial import cKDTree

from tests.demo_pictures.camera import Cam
from tests.demo_pictures.cards import Corners, colour_chart, grey_card, name_label, place
from tests.demo_pictures.colouring import colour_strands
from tests.demo_pictures.fields import Array, Rng, f32, font, grain_tile, pmap, smooth, unit, vnoise
from tests.demo_pictures.head import Layers
from tests.demo_pictures.raster import resolve, visibility
from tests.demo_pictures.scenario import State
from tests.demo_pictures.shading import AMBI, shade_color, shade_geometry
from tests.demo_pictures.voxels import Vox

WIDTH_PX, HEIGHT_PX, PX_PER_MM = 1600, 1000, 5.4
ZERO_MM = -134.0  # where the ruler's 0 and the scalp end lie
LOCK_Y_MM = -19.0
UNDER_CLIP_MM = 9.0
RULER_LENGTH_MM = 282.0
HAIR_GAIN = 0.85

LIGHTS = [
    ((-0.16, 0.60, 0.74), (1, 1, 1), 0.50, 0.62),
    ((0.10, 0.80, 0.55), (1, 1, 1), 0.32, 0.40),
    ((0.6, -0.25, 0.75), (1, 1, 1), 0.22, 0.14),
]
AMBIENT = [((-0.5, 0.5, 0.7), 0.34), ((0.6, 0.1, 0.8), 0.33), ((0, -0.5, 0.85), 0.33)]
BOARD_LIGHT = sum(kd * float(unit(np.array(d, float))[2]) for d, _, kd, _ in LIGHTS) + AMBI

# Corners on the board in mm, a little askew as things lie.
CARD_MM = [(-138.0, 86.0), (-76.0, 87.2), (-75.5, 46.0), (-138.4, 45.2)]
CHART_MM = [(26.0, 84.5), (136.0, 87.0), (137.5, 11.0), (25.0, 10.2)]
LABEL_MM = [(-52.0, 80.0), (-22.0, 79.2), (-22.3, 66.6), (-52.4, 67.4)]
RULER_MM = [(ZERO_MM - 5, -41.0), (ZERO_MM - 5 + RULER_LENGTH_MM, -41.0),
            (ZERO_MM - 5 + RULER_LENGTH_MM, -65.0), (ZERO_MM - 5, -65.0)]  # fmt: skip


@dataclass(frozen=True, slots=True)
class LockPicture:
    """What the lock picture shows, and the pixel corners of the card and the chart (None where there is
    none).
    """

    layers: Layers
    card: Corners
    chart: Corners | None


def on_picture(points_mm: Corners) -> list[tuple[float, float]]:
    """Board millimetres to pixels."""
    return [(WIDTH_PX / 2 + x * PX_PER_MM, HEIGHT_PX / 2 - y * PX_PER_MM) for x, y in points_mm]


def _centre_line(s: Array, n: Array) -> Array:
    x = ZERO_MM - UNDER_CLIP_MM + s
    y = LOCK_Y_MM + 2.2 * np.sin(n * 5.0 + 0.15) * smooth(0.1, 0.5, n)
    z = 2.4 + 3.0 * np.maximum(np.sin(np.pi * np.clip(n * 1.08, 0, 1)), 0) ** 0.8
    return np.stack([x, y, z + 1.1 * np.sin(n * 14.5 + 0.6) * smooth(0.05, 0.4, n) * (1 - 0.3 * n)], -1)


def lock_strands(length_mm: float, seed: int = 3, N: int = 7000, width: float = 23.0) -> dict[str, Any]:
    """Strands of a lock `length_mm` long from the scalp, in the form `strands` gives them."""
    rng = np.random.default_rng(seed)
    K = 150
    ds = (length_mm * 1.02 + UNDER_CLIP_MM) / (K - 1)
    s = (np.arange(K) * ds).astype(f32)
    n = s / s[-1]
    C = _centre_line(s, n)
    T = unit(np.gradient(C, axis=0))
    B = unit(np.cross(np.array([0, 0, 1.0]), T))
    Nn = np.cross(T, B)
    half = width / 2 * np.interp(n, [0, 0.03, 0.09, 0.35, 0.8, 1], [0.40, 0.42, 0.74, 1.05, 0.92, 0.62])
    thick = np.interp(n, [0, 0.03, 0.12, 0.5, 1], [2.4, 2.3, 2.6, 2.3, 1.0])
    M = 90
    r, a = np.sqrt(rng.random(M)), rng.uniform(0, 6.283, M)
    cu, cv = r * np.cos(a), r * np.sin(a)
    ru, ra = np.sqrt(rng.random(N)), rng.uniform(0, 6.283, N)
    u0, v0 = ru * np.cos(ra), ru * np.sin(ra)
    g = cKDTree(np.c_[cu, cv]).query(np.c_[u0, v0] + rng.normal(size=(N, 2)) * 0.05)[1]
    pin = (0.10 + 0.48 * smooth(0.15, 0.8, n))[None]
    phase, wl, am = rng.uniform(0, 6.28, M), rng.uniform(0.28, 0.5, M), rng.uniform(0.02, 0.10, M)
    bend = np.sin(n[None] / wl[:, None] * 6.283 + phase[:, None]) * smooth(0.1, 0.6, n)[None]
    um = (cu[:, None] + 1.6 * am[:, None] * bend) * (
        1 + (rng.normal(size=M) * 0.22)[:, None] * smooth(0.6, 1, n)
    )
    vm = cv[:, None] + 0.35 * np.sin(n[None] * 9 + phase[:, None] * 1.7) * smooth(0.1, 0.5, n)[None]
    u = u0[:, None] + (um[g] - u0[:, None]) * pin
    v = v0[:, None] + (vm[g] - v0[:, None]) * pin
    loose, fly = rng.random(N) < 0.10, rng.random(N) < 0.012
    k, p = 6.283 / rng.uniform(18, 90, (3, N)), rng.uniform(0, 6.283, (3, N))
    amp = (np.where(loose, 0.045, 0.016) * np.where(fly, 3.5, 1.0))[:, None] * smooth(0.02, 0.5, n)[None]
    wave = [np.sin(k[i][:, None] * s + p[i][:, None]) for i in range(3)]
    u, v = u + amp * (wave[0] + 0.8 * wave[1]), v + amp * 1.5 * wave[2]
    P = C[None] + B[None] * (u * half)[..., None] + Nn[None] * (v * thick)[..., None]
    P[..., 2] = np.maximum(P[..., 2], 0.15 + 0.5 * rng.random(N)[:, None] * (P[..., 2] < 0.6))
    shorter = np.abs(rng.normal(size=N)) * 0.03 + (rng.random(M) ** 1.5 * 0.06)[g] + rng.gamma(1.0, 0.02, N)
    kc = (K - 1) * np.clip(1.0 - shorter, 0.3, 1)
    kc = np.where(fly, kc * rng.uniform(0.6, 1, N), kc)
    return {
        "P": P.astype(f32),
        "g": g,
        "lock": g,
        "s": s,
        "kc": kc.astype(f32),
        "nape": np.zeros(N, bool),
        "fly": fly,
        "loose": loose,
        "M": M,
        "N": N,
        "o": {"ds": f32(ds), "scalp_mm": UNDER_CLIP_MM},
        "taper": 16.0,
        "C": C,
        "half": half,
        "vsub": 3,
        "roots": np.full((N, 3), 40.0, f32),
        "wid": (np.where(fly, 0.7, 1.0) * np.exp(rng.normal(size=N) * 0.15)).astype(f32),
    }


def ruler() -> Array:
    """A paper ruler in centimetres (linear, H x W x 3), its 0 five millimetres from the left edge."""
    ppm = 8.0
    W, H = int(RULER_LENGTH_MM * ppm), int(24 * ppm)
    image = Image.new("L", (W, H), 0)
    pen = ImageDraw.Draw(image)
    for mm in range(int(RULER_LENGTH_MM) - 8):
        x = (5 + mm) * ppm
        tall = (7.6 if mm % 10 == 0 else 5.4 if mm % 5 == 0 else 3.4) * ppm
        wide = (0.34 if mm % 10 == 0 else 0.22) * ppm
        pen.rectangle([x - wide / 2, 0, x + wide / 2, tall], fill=255)
        if mm % 10 == 0:
            pen.text((x, 9.0 * ppm), str(mm // 10), font=font(5.2 * ppm), fill=255, anchor="mt")
    pen.text((W - 3 * ppm, H - 2 * ppm), "cm", font=font(3.6 * ppm), fill=210, anchor="rs")
    ink = np.asarray(image, f32)[..., None] / 255
    return (0.78 * (1 - ink) + 0.05 * ink) * np.array([1.0, 0.998, 0.985], f32)


def _board(rng: Rng) -> Array:
    H, W = HEIGHT_PX, WIDTH_PX
    grain = ndi.zoom(vnoise((H // 2 + 1, W // 2 + 1), 4, rng, 3, 0.8), 2, order=1)[:H, :W]
    tile = grain_tile()[..., 0]
    fibre = ndi.gaussian_filter(tile, (0.5, 2), mode="wrap") + ndi.gaussian_filter(
        tile.T, (2, 0.5), mode="wrap"
    )
    fibre = np.tile(fibre, (H // 1024 + 1, W // 1024 + 1))[:H, :W]
    x, y = np.meshgrid((np.arange(W) - W / 2) / PX_PER_MM, (H / 2 - np.arange(H)) / PX_PER_MM)
    fall = 1.01 - 0.0000022 * (x + 40) ** 2 - 0.000005 * (y - 10) ** 2
    return ((0.30 * (1 + 0.01 * grain + 0.02 * fibre)) * fall)[..., None] * np.array([0.995, 1, 1.006], f32)


def _shadow_on_board(cam: Cam, G: dict[str, Any]) -> Array:
    """How much light reaches the board past the hair (H x W), 1 in the open."""
    step = 4
    x = (np.arange(0, WIDTH_PX, step) - WIDTH_PX / 2) / PX_PER_MM
    y = (HEIGHT_PX / 2 - np.arange(0, HEIGHT_PX, step)) / PX_PER_MM
    lx, ly = np.meshgrid(x, y)
    b = cam.view(np.stack([lx, ly, np.full_like(lx, -0.2)], -1).reshape(-1, 3).astype(f32))

    def depth(vx: Vox) -> Array:
        t = np.concatenate(pmap(lambda sl: np.maximum(vx(b[sl]), 0), len(b)))
        Q = (b @ vx.Rm.T - vx.lo) / vx.h
        inside = ((Q[:, :2] > 1) & (Q[:, :2] < vx.dim[:2] - 2)).all(1) & (Q[:, 2] > 0)
        return np.where(inside, t, 0)

    direct = sum(
        kd * float(unit(np.array(d, float))[2]) * np.exp(-1.6 * depth(lamp[4]))
        for (d, _, kd, _), lamp in zip(LIGHTS, G["L"], strict=True)
    )
    around = AMBI * sum(w * np.exp(-1.3 * depth(vx)) for _, w, vx in G["amb"])
    lit = ndi.gaussian_filter(((direct + around) / BOARD_LIGHT).reshape(lx.shape), 1.4)
    zoom = (HEIGHT_PX / lit.shape[0], WIDTH_PX / lit.shape[1])
    return ndi.zoom(lit, zoom, order=1, grid_mode=True, mode="nearest")


def _clip(scene: Array, S: dict[str, Any]) -> None:
    """A dark hair clip over the scalp end, in place; its right edge lies at the ruler's 0."""
    H, W = scene.shape[:2]
    yy, xx = np.mgrid[0:H, 0:W].astype(f32)
    x = (xx - W / 2) / PX_PER_MM - (ZERO_MM - 6.0)
    y = -(yy - H / 2) / PX_PER_MM - LOCK_Y_MM
    half_w, half_h = 6.0, float(S["half"][4]) * 1.35 + 3.0
    dx, dy = np.abs(x) - half_w + 2, np.abs(y) - half_h + 2
    edge = 2 - np.hypot(np.maximum(dx, 0), np.maximum(dy, 0)) - np.minimum(np.maximum(dx, dy), 0)
    cover = np.clip(edge * PX_PER_MM + 0.5, 0, 1)[..., None]
    ridge = 0.045 + 0.05 * np.exp(-(((x + 2.2) / 1.0) ** 2)) + 0.02 * np.exp(-(((edge - 0.6) / 0.4) ** 2))
    shade = np.exp(-np.maximum(-edge, 0) / 1.4) * 0.35 * (edge < 0)
    scene *= 1 - shade[..., None]
    scene[:] = scene * (1 - cover) + ridge[..., None] * np.array([0.95, 1.0, 1.1], f32) * cover


def lock_picture(state: State, *, seed: int, label: str, with_chart: bool) -> LockPicture:
    """The lock in a state's colours, `state.length_mm` long."""
    rng = np.random.default_rng(seed)
    cam = Cam(WIDTH_PX, HEIGHT_PX, 0, 0, PX_PER_MM, (0, 0, 0), D=900.0)
    S = lock_strands(state.length_mm, seed)
    G = shade_geometry(S, cam, LIGHTS, AMBIENT, tau_cull=7.0, vox=(0.6, 0.8, 1.1), wmm=0.030)
    albedo, weights, from_scalp = colour_strands(S, G, state, seed=seed, lock_spread=0.05)
    gloss = np.exp(rng.normal(size=S["N"]) * 0.3).astype(f32)[G["ai"] // G["K"]]
    light = shade_color(
        G, albedo, np.full(3, AMBI, f32), gain=HAIR_GAIN, spec_gain=0.8, spec_var=gloss, mult=0.66
    )
    fragments = visibility(S, G, cam, width_px=0.6, tau_cull=7.0)
    hair, cover, _ = resolve(fragments, light, cam)
    scene = _board(rng)
    place(scene, ruler(), on_picture(RULER_MM), 1.0, rng, corner_px=2)
    place(scene, name_label([label], shape=0.42), on_picture(LABEL_MM), 1.0, rng, corner_px=3)
    card, chart = on_picture(CARD_MM), on_picture(CHART_MM)
    place(scene, grey_card(), card, 1.0, rng)
    if with_chart:
        place(scene, colour_chart(), chart, 1.0, rng)
    scene = scene * _shadow_on_board(cam, G)[..., None]
    scene = (hair / BOARD_LIGHT + scene * (1 - np.clip(cover, 0, 1))[..., None]).astype(f32)
    _clip(scene, S)
    marks = np.concatenate([albedo, weights, from_scalp[:, None]], 1).astype(f32)
    seen, seen_cover, _ = resolve(fragments, marks, cam)
    seen = seen / np.maximum(seen_cover, 1e-4)[..., None]
    seen_cover[:, : int(on_picture([(ZERO_MM + 1.0, 0.0)])[0][0])] = 0  # the clip lies over this
    none = np.zeros_like(seen_cover)
    layers = Layers(scene, seen[..., :3], seen[..., 3:-1], seen[..., -1], none, seen_cover, none)
    return LockPicture(layers, card, chart if with_chart else None)
