"""Strands between the guides: locks, waves, stray hairs and the line of the cut.

Gives geometry only; light is left to `shading` and pixels to `raster`.
"""

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np
from scipy import ndimage as ndi
from scipy.spatial import cKDTree

from tests.demo_pictures.fields import NT, SinNoise, dot, f32, smooth, unit
from tests.demo_pictures.figure import grad, sdf_all
from tests.demo_pictures.guides import DEFAULT_HAIR, march, sample_roots


def strands(o: dict[str, Any] | None = None) -> dict[str, Any]:
    """All strands of a head: vertices `P` (N, K, 3) in mm, where each is cut `kc`, and what it belongs to."""
    o = {**DEFAULT_HAIR, **(o or {})}
    rng = np.random.default_rng(o["seed"])
    K, ds = o["K"], f32(o["ds"])
    roots = sample_roots(rng, o["n_guides"])
    if o["roots_below"] is not None:
        roots = roots[(roots[:, 1] < o["roots_below"]) & (roots[:, 2] > -25)]
    M = len(roots)
    # relief: coarse patches of the scalp carry hair at slightly different heights
    pre = cKDTree(roots[rng.choice(M, 260, replace=False)]).query(roots)[1]
    off = rng.normal(size=260)[pre] * o["relief"]
    P, NN, dtar, dist, flow = march(rng, roots, o, off)
    s = (np.arange(K) * ds).astype(f32)
    # locks (big clumps): k-means-like pick by random seeds in (root, layer) space
    feat = np.c_[roots, dtar[:, None] * 1.2, flow * 60.0]
    li = rng.choice(M, o["n_locks"], replace=False)
    lock = cKDTree(feat[li]).query(feat)[1]
    ctr = P[li][lock]
    c = (o["clump"] * smooth(25, 190, s))[None, :, None].astype(f32)
    cj = (rng.uniform(0.6, 1.25, M).astype(f32) * 1)[:, None, None]
    P = P + (ctr - P) * np.clip(c * cj, 0, 0.92)
    NN = unit(
        ndi.gaussian_filter1d(NN, 4.0, axis=1, mode="nearest")
    )  # smooth frames: no kinks where the body surface creases
    # frames
    Tn = unit(np.gradient(P, axis=1))
    Nf = unit(NN - dot(NN, Tn)[..., None] * Tn)
    B = np.cross(Tn, Nf)
    # waves (coherent per lock, smooth across the head)
    ns = SinNoise(rng, 150, 10)
    nl = rng.normal(size=o["n_locks"])
    ph0 = (ns(roots[li]) * 1.3 + nl * o["wave_jit"])[lock] + rng.normal(size=M) * 0.16
    wl = o["wave_len"] * (1 + 0.13 * rng.normal(size=o["n_locks"]))[lock]
    amp = o["wave_amp"] * np.exp(0.25 * rng.normal(size=o["n_locks"]))[lock]
    sgn = np.where(rng.random(o["n_locks"]) < 0.5, -1, 1)[lock]
    ys = o["wave_y"] + 10 * rng.normal(size=o["n_locks"])[lock]
    k0 = P[..., 1] < ys[:, None]
    k0 = np.where(k0.any(1), k0.argmax(1), K) * ds
    ss = np.maximum(s[None] - np.maximum(k0, 42)[:, None], 0)
    ph = ph0[:, None] + 2 * np.pi * ss / wl[:, None] * (1 + ss / 1500.0)
    env = (smooth(0, 150, ss) * amp[:, None]).astype(f32)
    P = (
        P
        + B * (env * np.sin(ph))[..., None].astype(f32)
        + Nf * ((env * 0.62) * (np.cos(ph) * sgn[:, None] + 0.55))[..., None].astype(f32)
    )
    # keep out of body
    for _ in range(2):
        d = sdf_all(P.reshape(-1, 3)).reshape(M, K)
        bad = d < 1.5
        if bad.any():
            idx = np.nonzero(bad)
            q = P[idx]
            P[idx] = q + grad(sdf_all, q) * (1.5 - d[idx])[:, None]
    P = ndi.gaussian_filter1d(P, 1.0, axis=1, mode="nearest")
    Tn = unit(np.gradient(P, axis=1))
    Nf = NN - dot(NN, Tn)[..., None] * Tn
    Nf = unit(ndi.gaussian_filter1d(Nf, 2.0, axis=1, mode="nearest"))
    B = unit(np.cross(Tn, Nf))
    # ---------------- children
    per = o["per"]
    N = M * per
    gi = np.repeat(np.arange(M), per)
    r = np.sqrt(rng.random(N))
    a = rng.uniform(0, 6.2832, N)
    tw = (rng.normal(size=N) * 0.006 + rng.normal(size=M)[gi] * 0.007) * o["twist"]
    kind = rng.random(N)
    loose = kind < 0.10
    fly = kind > 0.986
    spread = np.where(loose, 1.9, 1.0) * np.where(fly, 1.6, 1.0)
    # ribbon radius profile
    rb = np.interp(s, [0, 30, 120, 260, 400], [4.0, 3.4, 2.9, 2.1, 1.5]).astype(f32)
    rn = np.interp(s, [0, 30, 120, 260, 400], [0.5, 1.1, 1.5, 1.3, 1.0]).astype(f32)
    out = np.empty((N, K, 3), f32)
    k3 = (2 * np.pi / rng.uniform(55, 210, (3, N))).astype(f32)
    p3 = rng.uniform(0, 6.28, (3, N)).astype(f32)
    ampw = (
        o["frizz"] * np.where(loose, 2.3, 0.75) * np.where(fly, 3.2, 1.0) * np.exp(0.4 * rng.normal(size=N))
    ).astype(f32)
    lift = np.where(fly, rng.gamma(2, 4.0, N), np.where(loose, rng.gamma(2, 0.6, N), 0)).astype(f32)
    grow = (0.25 + 1.0 * smooth(0, 220, s)).astype(f32)
    slide = rng.uniform(-0.62, 0.55, N).astype(
        f32
    )  # roots scattered along the flow too, else the parting looks like a comb

    def work(sl):
        g = gi[sl]
        th = a[sl][:, None] + tw[sl][:, None] * s[None]
        rr = (r * spread)[sl][:, None]
        w1 = np.sin(k3[0][sl][:, None] * s + p3[0][sl][:, None]) + 0.7 * np.sin(
            k3[1][sl][:, None] * s + p3[1][sl][:, None]
        )
        w2 = np.sin(k3[2][sl][:, None] * s + p3[2][sl][:, None]) + 0.7 * np.cos(
            k3[1][sl][:, None] * s + p3[0][sl][:, None]
        )
        am = ampw[sl][:, None] * grow
        u = (rr * np.cos(th)) * rb + w1 * am
        v = (rr * np.sin(th)) * rn + w2 * am * 0.7 + lift[sl][:, None] * smooth(8, 120, s)
        Pg = P[g]
        D = np.empty_like(Pg)
        D[:, :-1] = Pg[:, 1:] - Pg[:, :-1]
        D[:, -1] = D[:, -2]
        out[sl] = (
            Pg
            + D * slide[sl][:, None, None]
            + B[g] * u[..., None].astype(f32)
            + Nf[g] * v[..., None].astype(f32)
        )

    ch = [slice(i, min(i + 4000, N)) for i in range(0, N, 4000)]
    with ThreadPoolExecutor(NT) as ex:
        list(ex.map(work, ch))
    # ---------------- cut
    nape = roots[:, 1] < o["nape_y"] + 3 * rng.normal(size=M)
    if o["pinned_to"] is not None:
        nape = roots[:, 1] <= o["nape_y"]
    x = out[..., 0]
    y = out[..., 1]
    yc = o["cut"] + o["cut_curve"] * x * x
    hj = np.abs(rng.normal(size=N)) * 6 + rng.normal(size=M)[gi] * 5 + rng.gamma(1.2, 1, N) * 4
    lay = o["layer"] * (1 - np.clip(dist / 165.0, 0, 1)) * (0.4 + 0.6 * rng.random(M))
    hj = hj + np.where(nape, -o["nape_extra"], lay)[gi]
    cutl = yc + hj[:, None]
    if o["nape_cut"] is not None:
        cutl = np.where(nape[gi][:, None], -1e3, cutl)
    if o["pinned_to"] is not None:
        cutl = np.full_like(cutl, -1e3)
    below = y < cutl
    kc = np.where(below.any(1), below.argmax(1), K).astype(f32)
    if o["nape_cut"] is not None:
        kc = np.where(nape[gi], np.minimum(kc, o["nape_cut"] / ds * rng.uniform(0.8, 1.1, N)), kc)
    kc = np.where(fly, kc * rng.uniform(0.45, 1.02, N), kc)
    kc = np.minimum(kc * (1 + 0.0 * r), K - 1)
    return {
        "P": out,
        "g": gi,
        "lock": lock[gi],
        "s": s,
        "kc": kc.astype(f32),
        "nape": nape[gi],
        "fly": fly,
        "loose": loose,
        "M": M,
        "taper": o["taper"],
        "dens": o["density"],
        "N": N,
        "o": o,
        "roots": roots[gi],
        "dist": dist[gi],
    }
