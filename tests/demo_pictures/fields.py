"""Small array tools every module of the renderer leans on: vectors, smooth steps, noise, threads.

Lengths are millimetres, y points up and z towards the viewer of a head seen from behind.
All randomness comes from generators the caller seeds, so the same call gives the same array.
"""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from functools import cache
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import ImageFont
from scipy import ndimage as ndi

Array = NDArray[Any]
Rng = np.random.Generator
f32 = np.float32


NT = 2


def smooth(a: float, b: float, x: Any) -> Any:
    """Cubic step from 0 at `a` to 1 at `b` (either way round)."""
    t = np.clip((x - a) / (b - a), 0, 1)
    return t * t * (3 - 2 * t)


def dot(a: Array, b: Array) -> Array:
    """Dot product over the last axis, three long."""
    return a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1] + a[..., 2] * b[..., 2]


def unit(v: Array) -> Array:
    """Vectors over the last axis scaled to length one."""
    if v.shape[-1] != 3:
        return v / np.sqrt((v * v).sum(-1, keepdims=True))
    return v * (1 / np.maximum(np.sqrt(dot(v, v)), 1e-9))[..., None]


class SinNoise:
    """Cheap smooth noise: a sum of random plane waves, about N(0, 1)."""

    def __init__(self, rng: Rng, wl: float, n: int = 14, dim: int = 3) -> None:
        d = rng.normal(size=(dim, n))
        d /= np.linalg.norm(d, axis=0)
        self.k = (d * (2 * np.pi / wl) * rng.uniform(0.6, 1.6, n)).astype(f32)
        self.ph = rng.uniform(0, 6.283, n).astype(f32)
        self.n = n

    def __call__(self, p: Array) -> Array:
        return np.sin(p @ self.k + self.ph).sum(-1) * f32(np.sqrt(2.0 / self.n))


def vnoise(shape: tuple[int, int], cell: float, rng: Rng, octaves: int = 3, pers: float = 0.5) -> Array:
    """Value noise of unit variance, its largest features `cell` pixels across."""
    out: Any = 0
    a = 1.0
    tot = 0.0
    for o in range(octaves):
        c = max(cell / 2**o, 1.5)
        g = rng.normal(size=(int(shape[0] / c) + 4, int(shape[1] / c) + 4)).astype(f32)
        z = ndi.zoom(g, c, order=3 if c > 3 else 1)[int(c) : int(c) + shape[0], int(c) : int(c) + shape[1]]
        out = out + a * z
        tot += a * a
        a *= pers
    return out / np.sqrt(tot)


@cache
def grain_tile() -> Array:
    """A tile of film-like grain (1024 x 1024 x 3)."""
    r = np.random.default_rng(77)
    z = r.normal(size=(1024, 1024, 1)) * 0.8 + r.normal(size=(1024, 1024, 3)) * 0.45
    return (ndi.gaussian_filter(z, (0.6, 0.6, 0), mode="wrap") * 1.7).astype(f32)


def gf(a: Array, sg: float) -> Array:
    """Gaussian blur, channels in parallel."""
    if a.ndim == 2:
        return ndi.gaussian_filter(a, sg, truncate=3)
    o = np.empty_like(a)

    def w(c: int) -> None:
        o[..., c] = ndi.gaussian_filter(np.ascontiguousarray(a[..., c]), sg, truncate=3)

    with ThreadPoolExecutor(NT) as ex:
        list(ex.map(w, range(a.shape[-1])))
    return o


def pmap(fn: Callable[[slice], Any], n: int, chunk: int = 200000) -> list[Any]:
    """`fn` over slices of `n` items, in order, on a few threads."""
    sl = [slice(i, min(i + chunk, n)) for i in range(0, n, chunk)]
    with ThreadPoolExecutor(NT) as ex:
        return list(ex.map(fn, sl))


def font(sz: float) -> Any:
    """The drawing library's own typeface at a pixel size."""
    return ImageFont.load_default(int(sz))
