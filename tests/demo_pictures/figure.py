"""The client's body as a signed distance field: head, neck, shoulders and the salon cape.

Distances are millimetres, negative inside.  What grows on it is left to `guides`.
"""

from collections.abc import Callable
from typing import Any

import numpy as np

from tests.demo_pictures.fields import Array, dot, f32, smooth, unit


def sd_ell(p: Array, c: Any, r: Any) -> Array:
    """An ellipsoid (a close bound, not exact)."""
    q = p - np.asarray(c, f32)
    r = np.asarray(r, f32)
    a = q / r
    b = a / r
    k0 = np.sqrt(dot(a, a))
    k1 = np.sqrt(dot(b, b))
    return k0 * (k0 - 1) / np.maximum(k1, 1e-6)


def sd_cap(p: Array, a: Any, b: Any, ra: float, rb: float) -> Array:
    """A tapered capsule."""
    a = np.asarray(a, f32)
    b = np.asarray(b, f32)
    ab = b - a
    h = np.clip(((p - a) @ ab) / f32(ab @ ab), 0, 1)
    q = p - a - h[..., None] * ab
    return np.sqrt(dot(q, q)) - (ra + (rb - ra) * h)


def smin(a: Array, b: Array, k: float) -> Array:
    """Union with the seam rounded over `k` mm."""
    h = np.clip(0.5 + 0.5 * (b - a) / k, 0, 1)
    return b * (1 - h) + a * h - k * h * (1 - h)


def sdf_head(p: Array) -> Array:
    """Head and neck."""
    d = sd_ell(p, (0, 8, 5), (75, 100, 95))
    d = smin(d, sd_ell(p, (0, -48, -38), (57, 66, 56)), 30)
    d = smin(d, sd_cap(p, (0, -50, 2), (0, -220, 24), 50, 56), 22)
    return d


def sdf_body(p: Array) -> Array:
    """Shoulders and trunk."""
    d = sd_cap(p, (-20, -244, 20), (-168, -284, 6), 46, 50)
    d = smin(d, sd_cap(p, (20, -244, 20), (168, -284, 6), 46, 50), 30)
    d = smin(d, sd_ell(p, (0, -430, 5), (205, 215, 100)), 50)
    d = smin(d, sd_cap(p, (0, -195, 20), (0, -255, 24), 56, 70), 40)
    return d


def sdf_all(p: Array) -> Array:
    """Everything hair can rest on."""
    return smin(sdf_head(p), sdf_body(p), 24)


_T = np.array([[1, -1, -1], [-1, -1, 1], [-1, 1, -1], [1, 1, 1]], f32)


def grad(f: Callable[[Array], Array], p: Array, e: float = 1.0) -> Array:
    """Unit outward normal of a field, by four samples `e` mm away."""
    g: Any = 0
    for t in _T:
        g = g + t * f(p + t * e)[..., None]
    return unit(g)


def sdf_face(p: Array) -> Array:
    """The head with a nose, lips, chin and brow; hair does not rest on these."""
    d = smin(sdf_head(p), sd_cap(p, (0, -8, -86), (0, -40, -103), 5, 9), 12)
    d = smin(d, sd_ell(p, (0, -66, -88), (21, 8, 9)), 9)
    d = smin(d, sd_ell(p, (0, -95, -78), (22, 15, 16)), 16)
    d = smin(d, sd_ell(p, (0, 12, -82), (46, 9, 9)), 16)
    for side in (-1, 1):
        d = -smin(-d, sd_ell(p, (30 * side, -8, -96), (17, 10, 13)), 10)
    return d


def sdf_cape(p: Array, rng_ph: Array) -> Array:
    """The cape, its folds placed by three phases."""
    d = smin(sdf_body(p), sd_ell(p, (0, -560, 0), (300, 310, 150)), 70)
    dx = p[..., 0]
    dz = p[..., 2] - 20
    r = np.sqrt(dx * dx + dz * dz) + 1e-3
    a = np.arctan2(dx, dz)
    g = smooth(60, 190, r) * smooth(-205, -260, p[..., 1])
    fold = (
        5.0 * np.sin(9 * a + rng_ph[0] + 0.012 * p[..., 1])
        + 3.6 * np.sin(15 * a + rng_ph[1] - 0.02 * p[..., 1] + 0.8 * np.sin(0.013 * p[..., 1]))
        + 1.2 * np.sin(27 * a + rng_ph[2] + 0.03 * dx)
    )
    fold = fold + 1.6 * np.sin(0.045 * p[..., 1] + 2.3 * np.sin(a * 3 + rng_ph[1]))
    return d - 6 - fold * g
