"""How many faces the face net finds among hair, and how often it sees one where none is.

What could not be measured here: real photos from a salon. No package ships backs of heads, faces under foil or
towels, or a fair share of skin tones; the small faces are grey, frontal and of the press, the hair is drawn.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from pathlib import Path
from typing import Final

import skimage
from PIL import Image, ImageEnhance, ImageFilter

from journey.audit.face_net import Face, FaceNet
from tests.accuracy.table import Table
from tests.faces import (
    ASTRONAUT_FACE,
    as_pixels,
    astronaut,
    backgrounds,
    pasted_at,
    patches_without_a_face,
    small_faces,
)

_SIDES_PX: Final = (25, 40, 64, 128)
"""The faces fill about 0.7 of their frames: 17 px and up."""
_TURNS: Final = (0, 20, 90, 160, 180, 250, 270, 340)
_TEXTURES: Final = (
    "grass",
    "gravel",
    "brick",
    "coins",
    "text",
    "page",
    "moon",
    "coffee",
    "chelsea",
    "hubble_deep_field",
)


def tables() -> list[Table]:
    """Found faces and false alarms."""
    net = FaceNet()
    return [recall_table(net), portrait_table(net), alarm_table(net)]


def recall_table(net: FaceNet) -> Table:
    """100 faces, each at four sizes, turned, on the demo's photos."""
    grounds = backgrounds(640)
    rows = []
    for side in _SIDES_PX:
        found = [
            _is_found(
                net, *pasted_at(face, grounds[number % len(grounds)], side, _TURNS[number % len(_TURNS)], number)
            )
            for number, face in enumerate(small_faces())
        ]
        rows.append((side, len(found), sum(found), sum(found) / len(found)))
    total = sum(int(row[1]) for row in rows), sum(int(row[2]) for row in rows)
    rows.append(("all", *total, total[1] / total[0]))
    return Table(
        "Faces of 25 px blown up on drawn hair",
        ("frame px", "tried", "found", "share"),
        tuple(rows),
        __doc__ or "",
    )


def portrait_table(net: FaceNet) -> Table:
    """One portrait, small, turned, dark, blurred, half covered."""
    rows = []
    for name, pictures in _portraits():
        found = [any(_overlaps(face, box) for face in net.faces(as_pixels(picture))) for picture, box in pictures]
        rows.append((name, len(found), sum(found), sum(found) / len(found)))
    return Table("One portrait in many ways", ("how", "tried", "found", "share"), tuple(rows))


def alarm_table(net: FaceNet) -> Table:
    """Drawn hair, close and far, textures, and patches that hold no face."""
    rows = []
    for name, pictures in _negatives():
        alarms = [bool(net.faces(as_pixels(picture))) for picture in pictures]
        rows.append((name, len(alarms), sum(alarms), sum(alarms) / len(alarms)))
    hair = [row for row in rows if "hair" in row[0]]
    tried, alarmed = sum(int(row[1]) for row in hair), sum(int(row[2]) for row in hair)
    rows.append(("all hair", tried, alarmed, alarmed / tried))
    return Table("False alarms", ("pictures", "tried", "alarms", "share"), tuple(rows))


def _portraits() -> Iterator[tuple[str, list[tuple[Image.Image, tuple[float, float, float, float]]]]]:
    whole = astronaut()
    left, top, width, height = ASTRONAUT_FACE
    yield (
        "small, face of 16 to 128 px",
        [
            (whole.resize((round(px / width), round(px / width))), ASTRONAUT_FACE)
            for px in (16, 20, 24, 32, 48, 64, 96, 128)
        ],
    )
    yield "turned by quarters", [(whole.rotate(90 * turn), _turned(ASTRONAUT_FACE, turn)) for turn in range(4)]
    yield (
        "dark, bright, grey",
        [
            (ImageEnhance.Brightness(whole).enhance(0.3), ASTRONAUT_FACE),
            (ImageEnhance.Brightness(whole).enhance(1.8), ASTRONAUT_FACE),
            (whole.convert("L").convert("RGB"), ASTRONAUT_FACE),
        ],
    )
    yield (
        "blurred by 2 to 6 px",
        [(whole.filter(ImageFilter.GaussianBlur(px)), ASTRONAUT_FACE) for px in (2, 3, 4, 5, 6)],
    )
    halves = []
    for box in (
        (left, top, width / 2, height),
        (left, top, width, height / 2),
        (left, top + height / 2, width, height / 2),
    ):
        half = whole.copy()
        x, y, w, h = (round(512 * side) for side in box)
        half.paste((119, 119, 119), (x, y, x + w, y + h))
        halves.append((half, ASTRONAUT_FACE))
    yield "half covered", halves
    frame = tuple(
        round(512 * side) for side in (left - 0.05, top - 0.05, left + width + 0.05, top + height + 0.05)
    )
    yield "filling the frame", [(whole.crop(frame).resize((900, 1000)), (0.1, 0.1, 0.8, 0.8))]


def _negatives() -> Iterator[tuple[str, list[Image.Image]]]:
    grounds = backgrounds(640)
    yield "drawn hair, whole photos", list(grounds)
    yield "drawn hair, turned photos", [ground.rotate(90, expand=True) for ground in grounds]
    yield "drawn hair, upside down", [ground.rotate(180) for ground in grounds]
    yield (
        "drawn hair, mirrored and cut",
        [
            ground.transpose(Image.Transpose.FLIP_LEFT_RIGHT).crop((0, 0, ground.width, ground.height * 2 // 3))
            for ground in grounds
        ],
    )
    yield (
        "drawn hair, quarters",
        [
            ground.crop((x, y, x + ground.width // 2, y + ground.height // 2))
            for ground, (right, low) in product(grounds, product((0, 1), (0, 1)))
            for x, y in ((right * ground.width // 2, low * ground.height // 2),)
        ],
    )
    yield "patches of 25 px, blown up", [patch.resize((256, 256)) for patch in patches_without_a_face()]
    yield "textures and things", [_shipped(name) for name in _TEXTURES]


def _shipped(name: str) -> Image.Image:
    found = next((Path(skimage.__file__).parent / "data").glob(f"{name}.*"))
    with Image.open(found) as picture:
        return picture.convert("RGB")


def _is_found(net: FaceNet, picture: Image.Image, box: tuple[float, float, float, float]) -> bool:
    return any(_overlaps(face, box) for face in net.faces(as_pixels(picture)))


def _overlaps(face: Face, box: tuple[float, float, float, float]) -> bool:
    """Whether the middle of the box lies in the face's box."""
    x, y = box[0] + box[2] / 2, box[1] + box[3] / 2
    return face.left <= x <= face.left + face.width and face.top <= y <= face.top + face.height


def _turned(box: tuple[float, float, float, float], turns: int) -> tuple[float, float, float, float]:
    """The box in a square picture turned against the clock by quarters."""
    left, top, width, height = box
    for _ in range(turns):
        left, top, width, height = top, 1 - left - width, height, width
    return left, top, width, height
