"""Light on hair: a diffuse term and three lobes (R, TRT, TT), behind coloured self-shadow.

The lobes follow S. R. Marschner et al., "Light scattering from human hair fibers", SIGGRAPH 2003,
simplified and tuned by eye: the pictures must be believable, they do not measure anything.
"""

from collections.abc import Sequence
from functools import partial
from typing import Any

import numpy as np

from tests.demo_pictures.camera import Cam
from tests.demo_pictures.fields import Array, dot, f32, pmap, unit
from tests.demo_pictures.voxels import Vox

LIGHTS = [
    ((-0.42, 0.72, 0.72), (1, 1, 1), 0.58, 0.30),
    ((-0.12, 0.92, 0.55), (1, 1, 1), 0.26, 0.24),
    ((0.75, 0.28, 0.62), (1, 1, 1), 0.20, 0.13),
    ((0.55, 0.55, -0.65), (1, 1, 1), 0.30, 0.16),
]

AMB = [((-0.5, 0.7, 0.5), 0.34), ((0.6, 0.4, 0.6), 0.30), ((0, -0.1, 1), 0.36)]

AMBI = 0.30


def _gauss(x: Array, b: float) -> Array:
    return np.exp(x * x * f32(-1 / (2 * b * b))) * f32(1 / (b * 2.5066))


def _lobes(Ta: Array, view: Array, tilt: Array, Ld: Array, sl: slice) -> list[Array]:
    """Diffuse, R, TRT and TT terms of one light."""
    t = Ta[sl]
    v = view[sl]
    si = np.clip(t[:, 0] * Ld[0] + t[:, 1] * Ld[1] + t[:, 2] * Ld[2], -1, 1)
    sr = np.clip(dot(t, v), -1, 1)
    ti = np.arcsin(si)
    tr = np.arcsin(sr)
    ci = np.sqrt(1 - si * si)
    cr = np.sqrt(1 - sr * sr)
    lv = v[:, 0] * Ld[0] + v[:, 1] * Ld[1] + v[:, 2] * Ld[2]
    cphi = np.clip((lv - si * sr) / np.maximum(ci * cr, 1e-4), -1, 1)
    phi = np.arccos(cphi)
    th = (ti + tr) * f32(0.5) + tilt[sl]
    td = (tr - ti) * f32(0.5)
    cd2 = np.maximum(np.cos(td), 0.3) ** 2
    # tangent points root->tip: R band shifted to the root, TRT band to the tip
    R = _gauss(th + 0.07, 0.085) * np.sqrt(0.5 * (1 + cphi)) / cd2 * f32(0.085)
    TRT = _gauss(th - 0.10, 0.17) * np.exp(-((phi / 0.95) ** 2)) / cd2 * f32(0.30)
    TT = _gauss(th - 0.03, 0.12) * np.exp(-(((np.pi - phi) / 0.6) ** 2)) / cd2 * f32(0.5)
    dif = ci * (0.45 + 0.55 * (1 + cphi) * 0.5)  # wrapped azimuthal lambert on a cylinder
    return [x.astype(f32) for x in (dif, R, TRT, TT)]


def shade_geometry(
    S: dict[str, Any],
    cam: Cam,
    lights: Sequence[Any],
    amb_dirs: Sequence[Any],
    sub: int = 1,
    tau_cull: float = 4.0,
    vox: tuple[float, float, float] = (1.8, 2.2, 3.4),
    wmm: float | None = None,
) -> dict[str, Any]:
    """What light does at each vertex before colour: lights are (direction, rgb, diffuse, specular)."""
    P = S["P"][:, ::sub]
    N, K = P.shape[:2]
    rng = np.random.default_rng(5)
    V = cam.view(P.reshape(-1, 3)).astype(f32)
    T = np.gradient(V.reshape(N, K, 3), axis=1)
    T = unit(T).reshape(-1, 3).astype(f32)
    kk = np.arange(K)[None] * sub
    alive = (kk <= S["kc"][:, None] + sub).ravel()
    ds = S["o"]["ds"] * sub
    dia = wmm or 0.115 * 40000.0 / N * S.get("dens", 1.0)  # voxel weight per vertex = projected area (mm2)
    wt = (alive * ds * dia).astype(np.float64)
    A = alive
    A3 = np.zeros((N, K), bool)
    A3[:, ::2] = True
    A3[1::2] = ~A3[1::2]
    A3 = A3.ravel() & alive & (rng.random(N * K) < 0.6)
    Va = V[A3]
    wa = wt[A3] / 0.3
    if S.get("vsub"):  # vertices wider apart than a voxel: deposit sub-points as well
        m = S["vsub"]
        kk2 = alive & ((np.arange(N * K) % K) < K - 1)
        i0 = np.nonzero(kk2)[0]
        Va = np.concatenate([V[i0] + (V[i0 + 1] - V[i0]) * f32((q + rng.random()) / m) for q in range(m)])
        wa = np.tile(wt[i0] / m, m)
    out: dict[str, Any] = {"V": V, "T": T, "K": K, "sub": sub, "L": []}
    vx = Vox(Va, wa, (0, 0, 1), vox[1], vox[1] * 1.36)
    Ve = np.ascontiguousarray(V.reshape(N, K, 3)[:, ::2]).reshape(-1, 3)
    tc = np.concatenate(pmap(lambda sl: vx(Ve[sl]), len(Ve))).reshape(N, -1)
    tcam = np.repeat(tc, 2, 1)[:, :K].astype(f32).ravel()
    tcam[~A] = 99
    vis = (tcam < tau_cull).reshape(N, K)
    v2 = vis.copy()
    v2[:, 1:] |= vis[:, :-1]
    v2[:, :-1] |= vis[:, 1:]
    A = v2.ravel() & alive
    out["tcam"] = tcam
    out["voxcam"] = vx
    out["alive"] = A
    out["ai"] = np.nonzero(A)[0]
    out["cidx"] = (np.cumsum(A) - 1).astype(np.int32)
    Vd, wd = Va, wa
    Va = V[A]
    Ta = T[A]
    tilt = np.repeat(rng.normal(size=N).astype(f32) * f32(0.035), K)[A]
    view = unit(np.array([0, 0, cam.D], f32) - Va).astype(f32)
    A2 = A.reshape(N, K)
    E = A2[:, ::2].copy()
    E[:, 1:] |= A2[:, 1:-1:2][:, : E.shape[1] - 1]
    od = A2[:, 1::2]
    E[:, : od.shape[1]] |= od
    Ve2 = V.reshape(N, K, 3)[:, ::2][E]

    def taus(vx: Vox, bias: float) -> Array:
        t = np.concatenate(pmap(lambda sl: np.maximum(vx(Ve2[sl], bias=bias), 0), len(Ve2), 100000)).astype(
            f32
        )
        e = np.zeros(E.shape, f32)
        e[E] = t
        f = np.empty((N, K), f32)
        f[:, ::2] = e
        nx = np.concatenate([e[:, 1:], e[:, -1:]], 1)
        f[:, 1::2] = (0.5 * (e + nx))[:, : K // 2]
        return f.ravel()[A]

    for Ld, rgb, kd, ks in lights:
        Ld = unit(np.asarray(Ld, f32))
        vx = Vox(Vd, wd, Ld, vox[0], vox[0] * 1.55)
        tau = taus(vx, vox[0] * 0.67)

        rs = pmap(partial(_lobes, Ta, view, tilt, Ld), len(Va), 60000)
        rs = [tau] + [np.concatenate([r[i] for r in rs]) for i in range(4)]
        out["L"].append((np.asarray(rgb, f32), kd, ks, rs, vx))
    am = []
    for Ld, w in amb_dirs:
        vx = Vox(Vd, wd, Ld, vox[2], vox[2] * 1.12, 1.0)
        am.append((taus(vx, vox[2] * 0.45), f32(w), vx))
    out["amb"] = am
    return out


def shade_color(
    G: dict[str, Any],
    alb: Array,
    amb_rgb: Array,
    *,
    gain: float = 1.0,
    spec_gain: float = 1.0,
    mult: float = 0.72,
    spec_var: Array | None = None,
) -> Array:
    """Radiance (n, 3) of visible vertices from their linear albedo."""
    sigma = 1.0
    a = alb
    sva = spec_var

    def f(sl: slice) -> Array:
        al = a[sl]
        # Scattering from strand to strand: shadows in light hair are lighter and more saturated.
        ext = sigma * (1 - mult * np.sqrt(np.clip(al, 0, 1)))
        acc: Any = 0
        al85 = al ** f32(0.85)
        al5 = np.sqrt(al)
        for rgb, kd, ks, rs, _ in G["L"]:
            tau, dif, R, TRT, TT = [r[sl] for r in rs]
            sh = np.exp(-tau[:, None] * ext)
            shs = np.exp(-tau * f32(sigma * 1.05)) * f32(ks * spec_gain)
            if sva is not None:
                shs = shs * sva[sl]
            c = (
                ((kd * 1.12 * dif)[:, None] * al + (kd * 0.5 * TT)[:, None] * al5) * sh
                + (R * shs * f32(0.9))[:, None]
                + (TRT * shs * f32(1.7))[:, None] * al85
            )
            acc = acc + c * rgb
        ao: Any = 0
        for tau, w, _ in G["amb"]:
            ao = ao + w * np.exp(-tau[sl][:, None] * ext * f32(0.8))
        return (gain * (acc + ao * al * amb_rgb)).astype(f32)

    return np.concatenate(pmap(f, len(a), 60000))
