"""A perspective camera: world millimetres to pixels and back to rays."""

from collections.abc import Sequence

import numpy as np

from tests.demo_pictures.fields import Array, f32, unit


class Cam:
    """A camera turned by yaw, pitch and roll (radians), `ppm` pixels per mm at its centre, `D` mm away."""

    def __init__(
        self,
        W: int,
        H: int,
        yaw: float = 0.0,
        pitch: float = 0.0,
        ppm: float = 5.7,
        center: Sequence[float] = (0, -80, 0),
        D: float = 1900.0,
        roll: float = 0.0,
    ) -> None:
        cy, sy = np.cos(yaw), np.sin(yaw)
        cp, sp = np.cos(pitch), np.sin(pitch)
        cr, sr = np.cos(roll), np.sin(roll)
        Ry = np.array([[cy, 0, sy], [0, 1, 0], [-sy, 0, cy]])
        Rx = np.array([[1, 0, 0], [0, cp, -sp], [0, sp, cp]])
        Rz = np.array([[cr, -sr, 0], [sr, cr, 0], [0, 0, 1]])
        self.R = (Rz @ Rx @ Ry).astype(f32)
        self.c = np.array(center, f32)
        self.W, self.H, self.ppm, self.D = W, H, ppm, f32(D)

    def view(self, p: Array) -> Array:
        """World mm to camera mm: x right, y up, z towards the viewer."""
        return (p - self.c) @ self.R.T

    def screen(self, v: Array) -> Array:
        """Camera mm to pixels, depth kept."""
        k = self.ppm * self.D / (self.D - v[..., 2])
        return np.stack([self.W / 2 + v[..., 0] * k, self.H / 2 - v[..., 1] * k, v[..., 2]], -1)

    def ray(self, px: Array, py: Array) -> tuple[Array, Array]:
        """Origin and unit directions, camera frame, of rays through pixels."""
        d = np.stack(
            [(px - self.W / 2) / self.ppm, -(py - self.H / 2) / self.ppm, np.full_like(px, -self.D)], -1
        )
        return np.array([0, 0, self.D], f32), unit(d).astype(f32)

    def world(self, v: Array) -> Array:
        """Camera mm to world mm."""
        return v @ self.R + self.c
