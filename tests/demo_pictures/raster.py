"""Strands to pixels: exact front-to-back compositing, its weights kept so that a new colour is cheap."""

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import numpy as np

from tests.demo_pictures.camera import Cam
from tests.demo_pictures.fields import NT, Array, f32


def visibility(
    S: dict[str, Any],
    G: dict[str, Any],
    cam: Cam,
    width_px: float = 1.1,
    op: float = 0.85,
    zbody: Array | None = None,
    tau_cull: float = 4.0,
    bands: int = 14,
) -> list[tuple[Array, ...]]:
    """Weights of every fragment that survives, in bands of rows: (pixel, weight, vertex, position, depth)."""
    K = G["K"]
    sub = G["sub"]
    V = G["V"]
    N = len(V) // K
    sc = cam.screen(V).astype(f32)
    W, H = cam.W, cam.H
    k = np.arange(K - 1)
    idx = np.arange(N)[:, None] * K + k[None]
    ok = (k[None] * sub < S["kc"][:, None]) & (np.minimum(G["tcam"][idx], G["tcam"][idx + 1]) < tau_cull)
    a = idx[ok].astype(np.int32)
    fl = np.clip((S["kc"][:, None] - k[None] * sub) / sub, 0, 1)[ok].astype(f32)
    rem = ((S["kc"][:, None] - k[None] * sub) * S["o"]["ds"])[ok].astype(f32)
    tp_ = f32(1.0 / S.get("taper", 38.0))
    dsv = f32(S["o"]["ds"] * sub)
    w0_ = np.clip(rem * tp_, 0.10, 1)
    w1_ = np.clip((rem - dsv) * tp_, 0.10, 1)  # linear taper inside the segment (no steps)
    wbase = np.repeat(S["wid"][:, None], K - 1, 1)[ok].astype(f32) if "wid" in S else np.ones_like(w0_)
    wid = np.stack([w0_ * wbase, w1_ * wbase], 1)
    p0 = sc[a]
    p1 = sc[a + 1]
    p1 = p0 + (p1 - p0) * fl[:, None]
    inn = (
        (np.maximum(p0[:, 0], p1[:, 0]) > 1)
        & (np.minimum(p0[:, 0], p1[:, 0]) < W - 3)
        & (np.maximum(p0[:, 1], p1[:, 1]) > 1)
        & (np.minimum(p0[:, 1], p1[:, 1]) < H - 3)
    )
    a, p0, p1, fl, wid = a[inn], p0[inn], p1[inn], fl[inn], wid[inn]
    zmin, zmax = p0[:, 2].min() - 5, p0[:, 2].max() + 5
    ymid = (p0[:, 1] + p1[:, 1]) * 0.5
    cnt = np.abs(p1 - p0)[:, :2].max(1)
    # equal-work bands on rows
    o = np.argsort(ymid)
    cs = np.cumsum(cnt[o])
    cuts = [
        0,
        *(
            int(np.clip(ymid[o][np.searchsorted(cs, cs[-1] * (i + 1) / bands)], 0, H)) if i < bands - 1 else H
            for i in range(bands)
        ),
    ]
    ylo = np.minimum(p0[:, 1], p1[:, 1])
    yhi = np.maximum(p0[:, 1], p1[:, 1])

    def band(b: int) -> tuple[Array, ...]:
        y0, y1 = cuts[b], cuts[b + 1]
        m = np.nonzero((yhi >= y0 - 1) & (ylo <= y1 + 1))[0]
        A, q0, q1, F, Wd = a[m], p0[m], p1[m], fl[m], wid[m]
        d = q1 - q0
        ymaj = np.abs(d[:, 1]) >= np.abs(d[:, 0])
        m0 = np.where(ymaj, q0[:, 1], q0[:, 0])
        m1 = np.where(ymaj, q1[:, 1], q1[:, 0])
        dm = m1 - m0
        lo = np.minimum(m0, m1)
        hi = np.maximum(m0, m1)
        i0 = np.ceil(lo - 0.5).astype(np.int32)
        n = np.maximum(np.ceil(hi - 0.5).astype(np.int32) - i0, 0)
        tot = int(n.sum())
        sid = np.repeat(np.arange(len(m), dtype=np.int32), n)
        off = np.arange(tot, dtype=np.int32) - np.repeat((np.cumsum(n) - n).astype(np.int32), n)
        major = i0[sid] + off  # integer major pixel
        t = np.clip((major + f32(0.5) - m0[sid]) / np.where(np.abs(dm) < 1e-4, 1e-4, dm)[sid], 0, 1).astype(
            f32
        )
        mn0 = np.where(ymaj, q0[:, 0], q0[:, 1])
        dmn = np.where(ymaj, d[:, 0], d[:, 1])
        mi = mn0[sid] + dmn[sid] * t - f32(0.5)
        fi = np.floor(mi)
        fr = (mi - fi).astype(f32)
        fi = fi.astype(np.int32)
        z = q0[:, 2][sid] + d[:, 2][sid] * t
        ym = ymaj[sid]
        tf_ = t * F[sid]
        al = (Wd[:, 0][sid] * (1 - tf_) + Wd[:, 1][sid] * tf_) * f32(width_px)
        # coverage cross-section gets longer for tilted lines: constant along minor axis => multiply by 1/cos
        sl = np.sqrt(1 + (dmn / np.where(np.abs(dm) < 1e-4, 1e-4, dm)) ** 2).astype(f32)
        al = al * np.minimum(sl, 1.4142)[sid]
        keys = []
        zq = ((zmax - z) / (zmax - zmin) * 65535).astype(np.uint64)
        al2 = []
        ids = np.arange(tot, dtype=np.uint64)
        for tap in (0, 1):
            px = np.where(ym, fi + tap, major)
            py = np.where(ym, major, fi + tap)
            g = (px >= 0) & (px < W) & (py >= y0) & (py < y1)
            wgt = al * (fr if tap else 1 - fr)
            g &= wgt > 0.02
            if zbody is not None:
                pc = np.clip(px, 0, W - 1)
                pr = np.clip(py, 0, H - 1)
                g &= z > zbody[pr, pc] - 1.0
            j = np.nonzero(g)[0]
            pix = ((py[j] - y0) * W + px[j]).astype(np.uint64)
            keys.append((pix << np.uint64(42)) | (zq[j] << np.uint64(26)) | (ids[j]))
            al2.append((j, wgt[j]))
        # alpha lookup needs tap: fold tap into low bit
        key = np.concatenate(keys)
        A0 = np.zeros(tot, f32)
        A1 = np.zeros(tot, f32)
        # disambiguate taps by comparing pixel parity later: store alphas in two arrays, tap bit = bit 25
        n0 = len(keys[0])
        key[n0:] |= np.uint64(1 << 25)
        A0[al2[0][0]] = al2[0][1]
        A1[al2[1][0]] = al2[1][1]
        key.sort()
        fid = (key & np.uint64((1 << 25) - 1)).astype(np.int32)
        tp = (key >> np.uint64(25)) & np.uint64(1)
        pix = (key >> np.uint64(42)).astype(np.int32)
        alp = np.minimum(np.where(tp == 0, A0[fid], A1[fid]) * op, 0.97)
        lg = np.log1p(-alp)
        c = np.cumsum(lg, dtype=np.float64)
        new = np.empty(len(pix), bool)
        new[0] = True
        new[1:] = pix[1:] != pix[:-1]
        st = np.nonzero(new)[0]
        base = c[st] - lg[st]
        seg = np.cumsum(new) - 1
        Tm = np.exp(c - lg - base[seg]).astype(f32)
        w = alp * Tm
        keep = w > 0.004
        fid = fid[keep]
        return (
            pix[keep] + y0 * W,
            w[keep],
            G["cidx"][A[sid[fid]]],
            (t[fid] * F[sid[fid]]).astype(f32),
            z[fid].astype(f32),
        )

    with ThreadPoolExecutor(NT) as ex:
        res = list(ex.map(band, range(bands)))
    return res


def resolve(res: list[tuple[Array, ...]], attrs: Array, cam: Cam) -> tuple[Array, Array, Array]:
    """Vertex attributes (n, C) as a premultiplied picture (H, W, C), its coverage and mean depth (H, W)."""
    n = cam.W * cam.H
    C = attrs.shape[1]
    img = np.zeros((n, C), f32)
    al = np.zeros(n, f32)
    zz = np.zeros(n, f32)

    def one(r: tuple[Array, ...]) -> None:
        pix, w, a, t, z = r
        new = np.empty(len(pix), bool)
        new[0] = True
        new[1:] = pix[1:] != pix[:-1]
        st = np.nonzero(new)[0]
        pp = pix[st]
        al[pp] = np.add.reduceat(w, st)
        zz[pp] = np.add.reduceat(w * z, st)
        x = attrs[a]
        x += (attrs[a + 1] - x) * t[:, None]
        x *= w[:, None]
        img[pp] = np.add.reduceat(x, st, axis=0)

    with ThreadPoolExecutor(NT) as ex:
        list(ex.map(one, res))
    return (
        img.reshape(cam.H, cam.W, C),
        al.reshape(cam.H, cam.W),
        (zz / np.maximum(al, 1e-4)).reshape(cam.H, cam.W),
    )
