"""Guide hairs: where they root on the scalp and the path each takes under combing and gravity.

Filling the space between guides, waves and the cut are left to `strands`.
"""

from typing import Any

import numpy as np
from scipy.spatial import cKDTree

from tests.demo_pictures.fields import Array, Rng, dot, f32, smooth, unit
from tests.demo_pictures.figure import grad, sdf_all, sdf_head


def scalp_low(az: Array) -> Array:
    """Height (mm) of the hairline at an azimuth, zero at the back."""
    return np.interp(
        np.abs(az), np.radians([0, 35, 62, 85, 105, 130, 155, 180]), [-80, -74, -48, -22, -22, 28, 58, 62]
    )


def sample_roots(rng: Rng, n: int) -> Array:
    """About `n` root points on the scalp, evenly spread (mm)."""
    tot = int(n * 1.75)
    i = np.arange(tot) + 0.5
    y = 1 - 2 * i / tot
    ph = i * 2.399963
    d = np.stack([np.sqrt(1 - y * y) * np.cos(ph), y, np.sqrt(1 - y * y) * np.sin(ph)], -1)
    d = unit(d + rng.normal(size=d.shape) * 0.018)
    p = (d * [75, 100, 95] + [0, 8, 5]).astype(f32)
    for _ in range(4):
        p = p - grad(sdf_head, p) * sdf_head(p)[:, None]
    az = np.arctan2(p[:, 0], p[:, 2])
    return p[p[:, 1] > scalp_low(az) + rng.normal(size=len(p)) * 2.0]


DEFAULT_HAIR: dict[str, Any] = {
    "seed": 7,
    "n_guides": 3400,
    "n_locks": 170,
    "per": 14,
    "ds": 4.5,
    "K": 104,
    "wave_amp": 10.0,
    "wave_len": 88.0,
    "wave_y": 38.0,
    "comb": 1.0,
    "comb_x": 88.0,
    "comb_z": 30.0,
    "wave_jit": 0.38,
    "hug": 0.03,
    "relief": 2.0,
    "cut": -243.0,
    "cut_curve": 0.0030,
    "layer": 60.0,
    "clump": 0.72,
    "thick": 21.0,
    "part_deg": (-48, 56),
    "part_x": (17, 8),
    "back": 0.22,
    "frizz": 1.0,
    "nape_y": -34.0,
    "nape_extra": 0.0,
    "nape_cut": None,
    "pinned_to": None,  # where hair above the nape is gathered (mm), None when it hangs
    "roots_below": None,  # keep only roots under this height, for a close-up
    "taper": 38.0,
    "density": 1.0,  # of the strands as seen by shadows; a close-up has more of them in less space
    "twist": 1.0,
}


def march(rng: Rng, root: Array, o: dict[str, Any], lockoff: Array | None = None) -> tuple[Array, ...]:
    """Paths, body normals, heights over the body, distance from the parting and first direction of each
    guide.
    """
    n = len(root)
    N0 = grad(sdf_head, root)
    # parting: a polyline lying on the scalp, from the front hairline over the top to the crown
    aa = np.radians(np.linspace(o["part_deg"][0], o["part_deg"][1], 80))
    u = np.linspace(0, 1, 80)
    px = o["part_x"][0] * (1 - u) + o["part_x"][1] * u + 1.6 * np.sin(u * 17) * u * (1 - u) * 2
    pl = np.stack([px, 8 + 100 * np.cos(aa) * np.sqrt(1 - (px / 75) ** 2), 5 + 95 * np.sin(aa)], -1)
    kt = cKDTree(pl)
    dist, ni = kt.query(root)
    near = pl[ni].astype(f32)
    h = np.where(ni >= 79, 0.0, 1.0)
    dv = root - near
    flow = unit(dv - dot(dv, N0)[:, None] * N0)
    sd = np.zeros_like(N0)
    sd[:, 0] = np.where(dv[:, 0] < 0, -1, 1)
    sd = unit(sd - dot(sd, N0)[:, None] * N0)
    ws = np.exp(-((dist / 2.6) ** 2))[:, None]
    flow = unit(flow * (1 - ws) + sd * ws)  # roots right on the line: sideways, never along it
    bk = np.array([0, -0.2, 1.0], f32) - 0 * N0
    bk = unit(bk - dot(bk, N0)[:, None] * N0)  # sides are also combed a little to the back
    flow = unit(
        flow
        + bk * ((o["back"] * smooth(8, 60, dist) + 0.8 * smooth(10, -60, root[:, 2])) * (h > 0.5))[:, None]
    )
    # slight swirl where the parting ends
    ang = 0.5 * np.exp(-dist / 30.0) * (h < 0.02)
    flow = flow * np.cos(ang)[:, None] + np.cross(N0, flow) * np.sin(ang)[:, None]
    cw = np.exp(-((dist / 6.0) ** 2))[:, None] * (h < 0.02)[:, None]
    dn = np.array([0.15, -1, 0.1], f32) - 0 * N0
    dn = unit(dn - dot(dn, N0)[:, None] * N0)
    flow = unit(flow * (1 - 0.8 * cw) + dn * 0.8 * cw)
    up = np.zeros(n, bool)
    if o["pinned_to"] is not None:
        up = root[:, 1] > o["nape_y"]
        lift = np.asarray(o["pinned_to"], f32) - root
        flow[up] = unit(lift - dot(lift, N0)[:, None] * N0)[up]
    dist = dist.astype(f32)
    rank = np.clip(dist / 165.0, 0, 1)
    dtar = (3.0 + o["thick"] * (1 - rank) ** 0.9) + rng.normal(size=n) * 2.2
    if lockoff is not None:
        dtar = dtar + lockoff
    dtar = np.maximum(dtar, 2.0).astype(f32)
    t = unit(N0 * 0.34 + flow * 0.95 + rng.normal(size=(n, 3)) * 0.05).astype(f32)
    K, ds = o["K"], o["ds"]
    P = np.empty((n, K, 3), f32)
    NN = np.empty((n, K, 3), f32)
    p = root.astype(f32) - N0 * 1.0
    G = np.array([0, -1, 0], f32)
    for k in range(K):
        P[:, k] = p
        s = k * ds
        d = sdf_all(p)
        g = grad(sdf_all, p)
        NN[:, k] = g
        dt = (1.5 + dtar * (1 - np.exp(-s / 62.0))) * (1 - 0.22 * smooth(0.55, 0.95, g[:, 1]))
        err = dt - d
        tg = dot(t, g)
        pj = np.where(tg < 0, smooth(-3, 1, err), smooth(-5, 5, -err) * smooth(-30, 30, p[:, 1]))
        tt = unit(t - (tg * pj)[:, None] * g)
        push = np.where(
            err > 0,
            np.clip(err / 6.0, 0, 1.2),
            np.clip(err / 90.0, -o["hug"], 0) * smooth(60, -60, p[:, 1])
            - 0.10 * (p[:, 1] > -20) * (err < -1),
        )
        wg = 0.03 + 0.62 * smooth(50, 165, s)
        lw = smooth(-10, -120, p[:, 1]) * o["comb"]
        cx = -np.sign(p[:, 0]) * np.clip((np.abs(p[:, 0]) - o["comb_x"]) / 50.0, 0, 1) * lw * 0.55
        cz = np.clip((o["comb_z"] - p[:, 2]) / 60.0, 0, 1) * lw * 0.6 + 0.55 * o["comb"] * smooth(
            -5, -50, p[:, 2]
        ) * smooth(105, 60, p[:, 1])
        cmb = np.stack([cx, 0 * cx, cz], -1).astype(f32)
        if up.any():
            wg = np.where(up, 0.0, wg)[:, None]
            cmb[up] = 0.5 * unit(np.asarray(o["pinned_to"], f32) - p)[up]
        des = tt * 1.0 + wg * G + push[:, None] * g + cmb
        t = unit(0.62 * t + 0.38 * unit(des))
        p = p + t * ds
    return P, NN, dtar, dist, flow
