"""Draws one shot: layers from the right scene, cards laid in, developed in its light, encoded with its
metadata.

Heads that differ only in colour or light share their strands. Returns the bytes of the file and its
facts.
"""

import io
from functools import lru_cache
from typing import Any

import numpy as np
from PIL import Image, ImageOps

from tests.demo_pictures import metadata
from tests.demo_pictures.cards import (
    GREY_REFLECTANCE,
    Corners,
    chart_linear,
    clip_arm,
    grey_card,
    name_label,
    place,
)
from tests.demo_pictures.exposure import develop
from tests.demo_pictures.fibres import SLIDES, micrograph
from tests.demo_pictures.fields import Array, Rng
from tests.demo_pictures.head import Framing, Head, Layers, Place
from tests.demo_pictures.icc import display_p3_profile
from tests.demo_pictures.lock import LABEL_MM, lock_picture, on_picture
from tests.demo_pictures.mirror import MIRROR_FACE, hang_mirror
from tests.demo_pictures.readings import crop, grey_box, measure, patches_of
from tests.demo_pictures.shots import Shot
from tests.demo_pictures.srgb import lab_of_linear

JPEG_QUALITY = 88
# To undo the sideways pixels a camera stores for these orientations (Exif 2.32, tag 274).
STORED_BY = {1: None, 6: Image.Transpose.ROTATE_90, 8: Image.Transpose.ROTATE_270}
SUMMER_TIME_FROM = "2026-03-29"
LABEL = ((64.0, 1370.0), (330.0, 1358.0), (334.0, 1468.0), (70.0, 1482.0))


@lru_cache(maxsize=1)
def _head(framing: Framing, haircut: tuple[tuple[str, Any], ...], around: Place, strand_mm: float) -> Head:
    return Head(framing, dict(haircut), around, strand_mm)


def _box_of(mask: Array, margin: float = 0.012) -> list[float]:
    ys, xs = np.nonzero(mask)
    H, W = mask.shape
    x0, x1 = xs.min() / W - margin, xs.max() / W + margin
    y0, y1 = ys.min() / H - margin, ys.max() / H + margin
    return [
        round(float(v), 4) for v in (max(x0, 0), max(y0, 0), min(x1, 1) - max(x0, 0), min(y1, 1) - max(y0, 0))
    ]


def _face_cover(layers: Layers, framing: Framing) -> list[float] | None:
    """Where the bare face shows: skin on the side the head looks to, above the neck."""
    if framing.yaw < 0.8:
        return None
    rows = np.arange(layers.skin.shape[0])
    neck = framing.height_px / 2 + (framing.centre_mm[1] + 112) * -framing.px_per_mm * -1
    face = (layers.skin > 0.5) & (rows[:, None] < neck)
    face[:, framing.width_px * 55 // 100 :] = False
    return _box_of(face) if face.sum() > 400 else None


def _head_scene(shot: Shot, rng: Rng) -> tuple[Array, Layers, dict[str, Any]]:
    close = shot.kind == "nape"
    haircut = tuple(sorted(shot.haircut().items()))
    layers = _head(shot.framing, haircut, shot.place, 0.11 if close else 0.2).layers(shot.of)
    scene, facts = layers.scene.copy(), {}
    covers = []
    if shot.mirror:
        hang_mirror(scene, layers, rng)
        place(scene, name_label(["Maribel Quintanar", "28/02  11:00"]), LABEL, 1.0, rng, corner_px=3)
        covers = [{"what": "face in the mirror", "rect": MIRROR_FACE},
                  {"what": "name on a label", "rect": _label_box(LABEL, scene.shape)}]  # fmt: skip
    face = _face_cover(layers, shot.framing)
    if face is not None:
        covers.append({"what": "face", "rect": face})
    if covers:
        facts["cover"] = covers
    if shot.card is not None:
        clip_arm(scene, shot.card, 0.53, 1.0)
        place(scene, grey_card(), shot.card, 1.0, rng)
        facts["neutral"] = {"rect": list(grey_box(shot.card, scene.shape)), "reflectance": GREY_REFLECTANCE}
    return scene, layers, facts


def _label_box(corners: Corners, shape: tuple[int, ...]) -> list[float]:
    H, W = shape[:2]
    x, y = np.array(corners).T
    box = ((x.min() - 8) / W, (y.min() - 8) / H, (np.ptp(x) + 16) / W, (np.ptp(y) + 16) / H)
    return [round(float(v), 4) for v in box]


def _lock_scene(shot: Shot) -> tuple[Array, Layers, dict[str, Any]]:
    picture = lock_picture(
        shot.of, seed=3 + shot.of.day.toordinal() % 17, label=shot.label, with_chart=shot.chart
    )
    shape = picture.layers.scene.shape
    facts: dict[str, Any] = {
        "neutral": {"rect": list(grey_box(picture.card, shape)), "reflectance": GREY_REFLECTANCE},
        "cover": [{"what": "day on a label", "rect": _label_box(on_picture(LABEL_MM), shape)}],
    }
    if picture.chart is not None:
        corners = [[round(x / shape[1], 4), round(y / shape[0], 4)] for x, y in picture.chart]
        labs = [[round(float(v), 2) for v in lab_of_linear(c)] for c in chart_linear()]
        facts["chart"] = {"corners": corners, "reference": "ISO 17321-1:2006, D65", "lab": labs}
    return picture.layers.scene, picture.layers, facts


def taken_at(shot: Shot) -> tuple[str, str]:
    """EXIF date and time, and the offset from universal time then in force (summer time from 29 March)."""
    day = shot.of.day.isoformat()
    return f"{day.replace('-', ':')} {shot.time}", "+02:00" if day >= SUMMER_TIME_FROM else "+01:00"


def encode_photo(pixels: Array, shot: Shot) -> bytes:
    """The JPEG file of upright pixels: stored as the camera was held, with thumbnail and all its metadata."""
    image = Image.fromarray(pixels)
    turn = STORED_BY[shot.orientation]
    stored = image if turn is None else image.transpose(turn)
    small = stored.copy()
    small.thumbnail((200, 200))
    thumbnail, body = io.BytesIO(), io.BytesIO()
    small.save(thumbnail, "JPEG", quality=70)
    profile = {"icc_profile": display_p3_profile()} if shot.display_p3 else {}
    stored.save(body, "JPEG", quality=JPEG_QUALITY, subsampling=2, optimize=True, **profile)
    camera = metadata.CLIENT_PHONE if shot.by_client else metadata.SALON_PHONE
    if shot.kind == "fibres":
        camera = metadata.MICROSCOPE
    taken, offset = taken_at(shot)
    return metadata.planted(
        body.getvalue(), camera=camera, taken=taken, offset=offset, orientation=shot.orientation,
        caption=f"{metadata.CLIENT}, {shot.view}, {shot.of.day}", thumbnail=thumbnail.getvalue(),
        trailer=shot.trailer,
    )  # fmt: skip


def decode_photo(data: bytes) -> Array:
    """Upright 8-bit pixels of a file, no profile applied."""
    return np.asarray(ImageOps.exif_transpose(Image.open(io.BytesIO(data))).convert("RGB"))


def _patch_facts(shot: Shot, layers: Layers, pixels: Array, facts: dict[str, Any]) -> list[dict[str, Any]]:
    out = []
    neutral = tuple(facts["neutral"]["rect"])
    for zone, band, stretch, box in patches_of(
        shot.of, layers, zones=shot.kind == "head", places=shot.view in ("back", "nape")
    ):
        shown = crop(layers.albedo, box).reshape(-1, 3).mean(axis=0)
        out.append({
            "zone": zone, "band": band, "part": stretch.part, "rect": list(box),
            "from_scalp_mm": round(float(np.median(crop(layers.from_scalp_mm, box))), 1),
            "true_lab": list(stretch.lab),
            "shown_lab": [round(float(v), 2) for v in lab_of_linear(shown)],
            **measure(pixels, box, neutral, shot.display_p3),  # type: ignore[arg-type]
        })  # fmt: skip
    return out


def draw(shot: Shot) -> tuple[bytes, dict[str, Any]]:
    """The file and the facts of one shot."""
    rng = np.random.default_rng([shot.of.day.toordinal(), sum(shot.file.encode())])
    facts: dict[str, Any] = {
        "file": shot.file, "date": shot.of.day.isoformat(), "moment": shot.of.moment, "view": shot.view,
        "state": shot.state, "light": shot.light.name, "orientation": shot.orientation,
        "profile": "Display P3" if shot.display_p3 else "none (sRGB)",
    }  # fmt: skip
    if shot.kind == "fibres":
        slide = SLIDES[shot.slide]
        scene, more = micrograph(slide, rng)
        data = encode_photo(develop(scene, rng, shot.light, vignette=0.06, sharpen=0.5), shot)
        return data, {**facts, **more}
    scene, layers, more = _lock_scene(shot) if shot.kind == "lock" else _head_scene(shot, rng)
    data = encode_photo(develop(scene, rng, shot.light, display_p3=shot.display_p3), shot)
    facts.update(more)
    facts["patches"] = _patch_facts(shot, layers, decode_photo(data), facts)
    return data, facts
