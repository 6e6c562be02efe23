"""A mirror on the wall with a drawn face in it: something a published picture has to cover."""

import numpy as np
from PIL import Image, ImageDraw, ImageFilter

from tests.demo_pictures.cards import place
from tests.demo_pictures.fields import Array, Rng, f32
from tests.demo_pictures.head import Layers
from tests.demo_pictures.srgb import decode

CORNERS = ((70.0, 110.0), (520.0, 130.0), (514.0, 700.0), (76.0, 716.0))
# The whole head in the glass, x, y, width, height in fractions of a 1280 x 1600 picture.
MIRROR_FACE = [0.0977, 0.1156, 0.2656, 0.3094]


def _reflection(size: tuple[int, int] = (900, 1180)) -> Array:
    """A drawn face with brown hair in a mirror frame (linear, H x W x 3)."""
    w, h = size
    image = Image.new("RGB", size, (176, 178, 180))
    pen = ImageDraw.Draw(image)
    cx, top = w * 0.5, h * 0.2
    hair, skin, shade, lip = (74, 58, 44), (204, 172, 150), (180, 146, 124), (168, 104, 98)

    def oval(x: float, y: float, rx: float, ry: float, colour: tuple[int, int, int]) -> None:
        pen.ellipse([x - rx, y - ry, x + rx, y + ry], fill=colour)

    oval(cx, top + 260, 245, 300, hair)
    pen.rectangle([cx - 240, top + 260, cx + 240, h * 0.86], fill=hair)
    pen.rectangle([cx - 70, top + 400, cx + 70, h * 0.9], fill=shade)
    pen.rounded_rectangle([cx - 400, h * 0.84, cx + 400, h * 1.2], 160, fill=(46, 46, 49))
    oval(cx, top + 270, 165, 225, skin)
    oval(cx - 60, top + 90, 150, 95, hair)
    oval(cx + 90, top + 95, 110, 90, hair)
    for side in (-1, 1):
        oval(cx + side * 68, top + 240, 34, 15, (236, 230, 224))
        oval(cx + side * 68, top + 240, 14, 15, (66, 48, 36))
        pen.arc(
            [cx + side * 68 - 44, top + 190, cx + side * 68 + 44, top + 240], 200, 340, fill=hair, width=10
        )
        oval(cx + side * 95, top + 330, 34, 24, (210, 164, 146))
    pen.line([(cx - 6, top + 250), (cx - 22, top + 330), (cx + 14, top + 336)], fill=shade, width=9)
    oval(cx, top + 398, 56, 16, lip)
    pen.line([(cx - 54, top + 398), (cx + 54, top + 398)], fill=(130, 76, 72), width=5)
    image = image.filter(ImageFilter.GaussianBlur(6))
    ImageDraw.Draw(image).rectangle([0, 0, w - 1, h - 1], outline=(58, 50, 44), width=34)
    return decode(np.asarray(image)).astype(f32) * 0.9


def hang_mirror(scene: Array, layers: Layers, rng: Rng) -> None:
    """Put the mirror into the wall behind the head, in place."""
    before = scene.copy()
    place(scene, _reflection(), CORNERS, 1.0, rng, corner_px=4)
    hair = np.clip(layers.coverage, 0, 1)[..., None]
    scene[:] = scene * (1 - hair) + before * hair
