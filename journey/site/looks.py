"""What a picture looks like from afar, so that a written file is known for the one that was looked at.

It decides how coarse the look is and how far two may differ. The hash of a sign-off says which photo, part and
covers were meant; the look says that the file came out that way: not turned, not in other colours, not with a
cover missing. It is coarse enough for encoders and for the last bit of arithmetic, which differ between
computers, and too coarse to show anything: 8 x 8 areas.
"""

from __future__ import annotations

import io
from collections.abc import Iterable
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from journey.cache import NOT_KEPT, Shelf
from journey.edition.model import Edition
from journey.edition.photographs import COVER_COLOUR
from journey.edition.sign_off import signed_by_hash
from journey.record.sign_offs import SignOff

SIDE: Final = 8
FURTHEST: Final = 8
"""Of 255, in any area and channel. Measured on the demo's 75 pictures, between the largest AVIF and every other
file of the same picture: at most 3. A cover taken away from a face moves an area by 30 and more."""


def look_of(image: Image.Image) -> str:
    """The mean sRGB of 8 x 8 areas, as 384 hexadecimal digits."""
    small = image.convert("RGB").resize((SIDE, SIDE), Image.Resampling.BOX)
    return small.tobytes().hex()


def look_of_file(data: bytes, shelf: Shelf = NOT_KEPT) -> str:
    """The look of an encoded picture."""

    def look() -> bytes:
        with Image.open(io.BytesIO(data)) as image:
            return look_of(image).encode()

    return shelf.remembered("look", (data,), look).decode()


def distance(signed: str, written: str) -> int:
    """The largest difference of any area and channel, of 255.

    A written area that is nearer to the colour of covers is no difference: covers have a rim of some pixels,
    which is a larger share of a small picture, and what hides more shows nothing new.
    """
    ours, theirs = _values(signed), _values(written)
    covers = np.tile(np.array(COVER_COLOUR, dtype=np.int16), SIDE * SIDE)
    between = np.clip(theirs, np.minimum(ours, covers), np.maximum(ours, covers))
    return int(np.abs(theirs - between).max())


def unlike_signed(
    edition: Edition, sign_offs: Iterable[SignOff], pictures: Path, shelf: Shelf = NOT_KEPT
) -> tuple[str, ...]:
    """One sentence for each written picture that does not look like the one somebody vouched for.

    The `shelf` keeps what each file looked like.
    """
    signed = signed_by_hash(edition.audience, sign_offs)
    reasons = []
    for one in edition.leaving:
        if one.picture is None:
            continue
        look = signed[one.sha256].look
        for file in sorted(pictures.glob(f"{one.picture.name}-*")):
            if not look or distance(look, look_of_file(file.read_bytes(), shelf)) > FURTHEST:
                reasons.append(
                    f"{file.name} does not look like the photo that was signed ({one.name}); it was made in "
                    "another way than then: look again and sign again"
                )
                break
    return tuple(reasons)


def _values(look: str) -> NDArray[np.int16]:
    return np.frombuffer(bytes.fromhex(look), dtype=np.uint8).astype(np.int16)
