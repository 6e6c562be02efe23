"""One head in one haircut from one side: built once, then developed in any colour and any light.

Takes haircut and framing from the caller, true colour from `colouring`; returns linear pictures and,
beside them, what each pixel truly shows.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
from scipy import ndimage as ndi

from tests.demo_pictures.camera import Cam
from tests.demo_pictures.colouring import colour_strands
from tests.demo_pictures.fields import Array, f32, gf, smooth, unit
from tests.demo_pictures.raster import resolve, visibility
from tests.demo_pictures.scenario import State
from tests.demo_pictures.shading import AMB, AMBI, LIGHTS, shade_color, shade_geometry
from tests.demo_pictures.strands import strands
from tests.demo_pictures.torso import backdrop, body_layer

# Chosen so that well-lit mid-lengths read close to their true colour against the grey card.
HAIR_GAIN = 1.12
SIDES_AZIMUTH = 1.05  # radians from the middle of the back
CARD_NORMAL = unit(np.array([0.02, 0.10, 1.0]))
CARD_LIGHT = sum(kd * max(0.0, float(unit(np.array(d)) @ CARD_NORMAL)) for d, _, kd, _ in LIGHTS) + AMBI


@dataclass(frozen=True, slots=True, kw_only=True)
class Framing:
    """Where the camera stands: angles in radians, `px_per_mm` at the middle of the head."""

    width_px: int = 1280
    height_px: int = 1600
    yaw: float = 0.0
    pitch: float = 0.16
    roll: float = 0.0
    px_per_mm: float = 2.99
    centre_mm: tuple[float, float, float] = (0.0, -98.0, 0.0)

    def camera(self) -> Cam:
        """The camera of this framing."""
        return Cam(self.width_px, self.height_px, self.yaw, self.pitch, self.px_per_mm, self.centre_mm,
                   roll=self.roll)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """What is around the hair: a garment (8-bit sRGB) and a wall (linear reflectance)."""

    garment: tuple[int, int, int]
    wall: tuple[float, float, float]


SALON_CHAIR = Place(garment=(46, 46, 49), wall=(0.397, 0.40, 0.405))
AT_HOME = Place(garment=(104, 112, 126), wall=(0.50, 0.47, 0.42))


@dataclass(frozen=True, slots=True)
class Layers:
    """A linear picture (white = 1) and, per pixel, what it shows: all arrays are H x W or H x W x
    channels.
    """

    scene: Array
    albedo: Array
    stretches: Array  # weight of each stretch of the state, the nape last
    from_scalp_mm: Array
    sides: Array  # share of hair that grows on the sides of the head
    coverage: Array
    skin: Array  # bare head: face, neck, parting


class Head:
    """Strands, light and visibility of one haircut in one framing."""

    def __init__(
        self,
        framing: Framing,
        haircut: dict[str, Any] | None = None,
        place: Place = SALON_CHAIR,
        strand_mm: float = 0.2,
    ) -> None:
        self.framing, self.place, self.strand_mm = framing, place, strand_mm
        self.scale = framing.px_per_mm / 5.6
        self.cam = framing.camera()
        self.S = strands(haircut)
        rng = np.random.default_rng(3)
        N = self.S["N"]
        self.S["wid"] = (np.where(self.S["fly"], 0.55, 1.0) * np.exp(rng.normal(size=N) * 0.18)).astype(f32)
        self.G = shade_geometry(self.S, self.cam, LIGHTS, AMB)
        gloss = np.exp(rng.normal(size=N) * 0.35).astype(f32)[self.G["ai"] // self.G["K"]]
        from_scalp = (self.G["ai"] % self.G["K"]) * self.S["o"]["ds"]
        self.gloss = gloss * (0.42 + 0.58 * smooth(12, 60, from_scalp)).astype(f32)  # duller at the scalp

    @cached_property
    def body(self) -> tuple[Array, ...]:
        """Colour, coverage, depth and head mask of the body."""
        return body_layer(self.cam, self.G, self.place.garment)

    @cached_property
    def fragments(self) -> list[tuple[Array, ...]]:
        """Weights of the hair in each pixel."""
        _, cover, depth, _ = self.body
        width = max(self.strand_mm * self.framing.px_per_mm, 0.6)
        return visibility(self.S, self.G, self.cam, width_px=width, zbody=np.where(cover > 0.5, depth, -1e4))

    @cached_property
    def _sides(self) -> Array:
        roots = self.S["roots"]
        at_side = np.abs(np.arctan2(roots[:, 0], roots[:, 2])) > SIDES_AZIMUTH
        return at_side[self.G["ai"] // self.G["K"]].astype(f32)

    def _behind_hair(self, hair_cover: Array, seed: int) -> Array:
        """Backdrop and body, the scalp darkened under hair."""
        colour, cover, _, head = self.body
        wall = backdrop(self.cam.W, self.cam.H, np.random.default_rng(seed), self.place.wall) * CARD_LIGHT
        under = np.clip(1.6 * ndi.gaussian_filter(hair_cover, 10 * self.scale) - 0.3, 0, 1)
        dark = (np.clip(head, 0, 1) * under)[..., None]
        body = colour * (1 - 0.38 * dark)
        return wall * (1 - cover[..., None]) + body * cover[..., None]

    def _over(self, hair: Array, cover: Array, depth: Array, base: Array) -> Array:
        """Hair over what is behind it, the far side a little out of focus."""
        far = gf((smooth(45, -70, depth) * (cover > 0.002)).astype(f32), 3 * self.scale)[..., None]
        both = np.concatenate([hair, cover[..., None]], -1)
        both = both * (1 - far) + gf(both, 2.6 * self.scale) * far
        return both[..., :3] + base * (1 - np.clip(both[..., 3:], 0, 1))

    def layers(self, state: State, *, seed: int = 2) -> Layers:
        """The head in a state's colours under the reference light."""
        albedo, weights, from_scalp = colour_strands(self.S, self.G, state)
        light = shade_color(
            self.G, albedo, np.full(3, AMBI, f32), gain=HAIR_GAIN, spec_var=self.gloss, mult=0.64
        )
        hair, cover, depth = resolve(self.fragments, light, self.cam)
        scene = self._over(hair, cover, depth, self._behind_hair(cover, seed)) / CARD_LIGHT
        marks = np.concatenate([albedo, weights, from_scalp[:, None], self._sides[:, None]], 1).astype(f32)
        seen, seen_cover, _ = resolve(self.fragments, marks, self.cam)
        seen = seen / np.maximum(seen_cover, 1e-4)[..., None]
        skin = np.clip(self.body[3], 0, 1) * self.body[1] * (1 - np.clip(cover, 0, 1))
        return Layers(scene.astype(f32), seen[..., :3], seen[..., 3:-2], seen[..., -2], seen[..., -1],
                      seen_cover, skin)  # fmt: skip
