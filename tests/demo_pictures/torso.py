"""The body under the hair, ray-marched and lit, and the backdrop behind it."""

from typing import Any

import numpy as np
from scipy import ndimage as ndi

from tests.demo_pictures.camera import Cam
from tests.demo_pictures.fields import Array, Rng, dot, f32, gf, grain_tile, pmap, unit, vnoise
from tests.demo_pictures.figure import grad, sdf_cape, sdf_face
from tests.demo_pictures.shading import AMBI, LIGHTS
from tests.demo_pictures.srgb import decode
from tests.demo_pictures.voxels import Vox

SKIN = (188, 158, 138)


def body_layer(
    cam: Cam, G: dict[str, Any], garment: tuple[int, int, int], lowres: int = 460
) -> tuple[Array, Array, Array, Array]:
    """Linear colour, coverage, depth (camera mm) and head mask of the body, as large as the picture."""
    scale = cam.W / lowres
    W, H = lowres, round(cam.H / scale)
    ph = np.array([0.3, 1.7, 4.1])
    yy, xx = np.mgrid[0:H, 0:W].astype(f32)
    o, d = cam.ray((xx + 0.5) * scale, (yy + 0.5) * cam.H / H)
    ow = cam.world(o.astype(f32)).astype(f32)
    dw = (d @ cam.R).reshape(-1, 3).astype(f32)

    def sdc(q: Array) -> Array:
        return sdf_cape(q, ph)

    def f(q: Array) -> Array:
        return np.minimum(sdf_face(q), sdc(q))

    def trace(idx: Array, t: Array, n: int, eps: float) -> tuple[Array, Array]:
        act = np.arange(len(idx))
        md = np.full(len(idx), 1e3, f32)
        for _ in range(n):
            dd = f(ow + dw[idx[act]] * t[act, None])
            t[act] += dd * 0.88
            md[act] = np.minimum(md[act], dd)
            act = act[(dd > eps) & (t[act] < cam.D + 260)]
            if not len(act):
                break
        return t, md

    g = np.zeros((H, W), bool)
    g[::8, ::8] = True
    ci = np.nonzero(g.ravel())[0]
    t, md = trace(ci, np.full(len(ci), cam.D - 260, f32), 24, 1.0)
    near = np.zeros((H, W), bool)
    near.ravel()[ci[md < 14]] = True
    near = ndi.binary_dilation(near, iterations=9)
    ai = np.nonzero(near.ravel())[0]
    ts = np.full((H, W), np.nan, f32)
    ts.ravel()[ci] = np.where(md < 14, t, np.inf)
    tm = ndi.minimum_filter(np.where(np.isnan(ts), np.inf, ts), 17)
    st = tm.ravel()[ai] - 22
    st = np.where(np.isfinite(st), st, cam.D - 260).astype(f32)
    t, md = trace(ai, st, 90, 0.12)
    n = W * H
    hit = np.zeros(n, bool)
    hit[ai[md < 0.5]] = True
    tt_ = np.zeros(n, f32)
    tt_[ai] = t
    hi = np.nonzero(hit)[0]
    qh = ow + dw[hi] * tt_[hi, None]
    vc = cam.view(qh).astype(f32)
    hid = G["voxcam"](vc) if len(vc) else 0
    sh_i = np.nonzero(hid < 4.5)[0]  # shade only what hair does not hide
    q2 = qh[sh_i]
    v2 = vc[sh_i]
    hd = sdf_face(q2)
    cd = sdc(q2)
    head = hd < cd
    nrm = grad(f, q2, 0.8)
    nc = nrm @ cam.R.T
    alb = np.where(head[:, None], decode(SKIN), decode(garment)).astype(f32)
    acc = 0
    vd = unit(np.array([0, 0, cam.D], f32) - v2)
    ao = 1 - np.clip(sum((k * 9 - f(q2 + nrm * k * 9)) / (k * 9) * 0.5**k for k in (1, 2, 3)), 0, 0.9)

    def hairtau(vx: Vox) -> Array:
        tau = np.concatenate(pmap(lambda sl: np.maximum(vx(v2[sl]), 0), len(v2)))
        Qd = (v2 @ vx.Rm.T - vx.lo) / vx.h
        ins = ((Qd[:, :2] > 1) & (Qd[:, :2] < vx.dim[:2] - 2)).all(1) & (Qd[:, 2] > 1)
        return np.where(ins, tau, 0)

    for li, ((L, rgb, kd, ks), (_, _, _, _, vx)) in enumerate(zip(LIGHTS, G["L"], strict=True)):
        L = unit(np.array(L, f32))
        ndl = np.clip(nc @ L, 0, 1)
        Lw = L @ cam.R
        sh = 1.0
        if li in (0, 2):
            sh = np.ones(len(q2), f32)
            for k in range(1, 8):
                tt = 6 * 1.6**k
                sh = np.minimum(sh, 0.5 + 0.5 * np.clip(f(q2 + nrm * 3 + Lw * tt) / (tt * 0.25), -1, 1))
        hv = unit(L + vd)
        sp = np.clip(dot(nc, hv), 0, 1)
        spec = np.where(head, 0.03 * sp**18, 0.028 * sp**20 + 0.03 * sp**6)
        acc = acc + (kd * ndl[:, None] * alb + (spec * ks * 1.2)[:, None]) * (
            sh * np.exp(-hairtau(vx) * 0.75)
        )[:, None] * np.array(rgb, f32)
    aoh = 0
    for _, w, vx in G["amb"]:
        aoh = aoh + w * np.exp(-hairtau(vx) * 0.7)
    acc = acc + AMBI * alb * (ao * aoh)[:, None]
    rgb = np.zeros((n, 3), f32)
    rgb[hi[sh_i]] = acc
    zb = np.full(n, -1e4, f32)
    zb[hi] = vc[:, 2]
    val = np.zeros(n, bool)
    val[hi[sh_i]] = True
    val = val & ndi.binary_erosion(hit.reshape(H, W), iterations=2, border_value=1).ravel()
    hm = np.zeros(n, f32)
    hm[hi[sh_i]] = head
    zf = (cam.H / H, cam.W / W)

    def up(a: Array, o: int = 1) -> Array:
        return ndi.zoom(a.reshape(H, W), zf, order=o, grid_mode=True, mode="nearest")

    idx = ndi.distance_transform_edt(~val.reshape(H, W), return_distances=False, return_indices=True)
    rgb = rgb.reshape(H, W, 3)[idx[0], idx[1]]
    rgb = ndi.gaussian_filter(rgb, (1.2, 1.2, 0))
    rgb = np.stack([up(rgb[..., c], 1) for c in range(3)], -1)
    wv = grain_tile()[..., 0]
    wv = ndi.gaussian_filter(wv, (2.0, 0.5), mode="wrap") + ndi.gaussian_filter(wv.T, (0.5, 2.0), mode="wrap")
    wv = np.tile(wv, (cam.H // 1024 + 1, cam.W // 1024 + 1))[: cam.H, : cam.W]
    rgb = rgb * (1 + 0.09 * wv * (1 - up(hm, 1)))[..., None].astype(f32)
    a = np.clip(
        (up(ndi.gaussian_filter(hit.reshape(H, W).astype(f32), 1.7), 3) - 0.5)
        * 3.2
        * max(scale / 2, 1) ** 0.5
        + 0.5,
        0,
        1,
    )
    z = up(ndi.grey_erosion(zb.reshape(H, W), 3), 0)
    pm = gf(np.concatenate([rgb * a[..., None], a[..., None]], -1).astype(f32), 1.7 * cam.W / 2400.0)
    a = pm[..., 3]
    rgb = pm[..., :3] / np.maximum(a, 1e-3)[..., None]
    return rgb, a, z, up(hm, 1)


def backdrop(W: int, H: int, rng: Rng, wall: tuple[float, float, float]) -> Array:
    """A plain painted wall (linear, H x W x 3)."""
    yy, xx = np.mgrid[0:H, 0:W].astype(f32)
    x = xx / W - 0.5
    y = yy / H - 0.5
    g = (1.10 - 0.95 * ((x + 0.10) ** 2 * 0.9 + (y + 0.12) ** 2 * 0.8)) * (1 - 0.16 * np.clip(y + 0.1, 0, 1))
    n = vnoise((H // 4 + 1, W // 4 + 1), 90, rng, 3)
    n = ndi.zoom(n, 4, order=1)[:H, :W]
    g = g * (1 + 0.006 * n)
    return g[..., None] * np.array(wall, f32)
