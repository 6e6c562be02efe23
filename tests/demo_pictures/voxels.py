"""Optical depth of hair towards a light, from a density grid aligned with that light."""

from collections.abc import Sequence
from typing import Any

import numpy as np
from scipy import ndimage as ndi

from tests.demo_pictures.fields import Array, f32, unit


class Vox:
    """Density on a grid whose third axis grows away from a light at direction `L` (camera frame)."""

    def __init__(
        self, V: Array, wt: Array, L: Sequence[float], h: float = 2.0, hz: float = 3.0, blur: float = 0.7
    ) -> None:
        towards = unit(np.asarray(L, f32))
        up = np.array([0, 1, 0], f32) if abs(towards[1]) < 0.9 else np.array([1, 0, 0], f32)
        X = unit(np.cross(up, towards))
        Y = np.cross(towards, X)
        self.Rm = np.stack([X, Y, -towards], 0).astype(f32)  # 3rd axis grows away from light
        Q = V @ self.Rm.T
        self.lo = Q.min(0) - 4
        self.h = np.array([h, h, hz], f32)
        self.dim = np.ceil((Q.max(0) + 4 - self.lo) / self.h).astype(int) + 1
        i = ((Q - self.lo) / self.h).astype(np.int32)
        f = (i[:, 0] * self.dim[1] + i[:, 1]) * self.dim[2] + i[:, 2]
        g = np.bincount(f, wt, minlength=int(np.prod(self.dim))).reshape(self.dim).astype(f32) / f32(
            h * h * hz
        )
        if blur:
            g = ndi.gaussian_filter(g, (blur, blur, 0.5), truncate=2.5)
        c = np.cumsum(g, 2, dtype=f32) * hz
        self.tau = c - g * hz * 0.5

    def __call__(self, V: Array, bias: float = 0.0) -> Array:
        """Optical depth between points (camera mm) and the light, the nearest `bias` mm left out."""
        Q = (V @ self.Rm.T - self.lo) / self.h - 0.5
        Q[:, 2] -= bias / self.h[2]
        Q = np.clip(Q, 0, self.dim - 1.001)
        i = Q.astype(np.int32)
        f = Q - i
        D1, D2 = int(self.dim[1]), int(self.dim[2])
        t = self.tau.ravel()
        b = (i[:, 0] * D1 + i[:, 1]) * D2 + i[:, 2]
        r: Any = 0
        for dx in (0, 1):
            wx = f[:, 0] if dx else 1 - f[:, 0]
            for dy in (0, 1):
                wxy = wx * (f[:, 1] if dy else 1 - f[:, 1])
                bb = b + dx * D1 * D2 + dy * D2
                r = r + wxy * ((1 - f[:, 2]) * t[bb] + f[:, 2] * t[bb + 1])
        return r
