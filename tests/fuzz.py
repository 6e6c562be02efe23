"""Disturbs folders and photos at random and reads them: `python -m tests.fuzz [SECONDS] [SEED]`.

Whatever is read must end as a record or photo, or as a refusal of ours. The first that ends otherwise is kept as a
file, named, and ends the run with exit code 1. The same seed disturbs in the same way.
"""

from __future__ import annotations

import io
import random
import sys
import tempfile
import time
import traceback
from pathlib import Path

import numpy as np
from PIL import Image

from journey.errors import JourneyError
from journey.record.photograph_intake import photograph_from
from journey.record.reader import read_record
from tests.record.folders import SOUND, sound_folder

FILES = ("salon.yaml", "identity.yaml", "consent.yaml", "journey.yaml")
SCRAPS = (b"\0", b"\xff", b"\xe2\x80\xae", b": ", b"- ", b"&a ", b"*a", b"!!x ",
           b"|\n", b"'", b'"', b"[", b"{", b"\t", b"\n", b"9" * 40, b"-1")  # fmt: skip


def disturbed(data: bytes, chance: random.Random) -> bytes:
    """One to five bytes flipped, or stretches lost, doubled, moved or filled with scraps."""
    out = bytearray(data)
    for _ in range(chance.randint(1, 5)):
        at = chance.randrange(len(out) + 1)
        to = min(len(out), at + chance.choice((1, 1, 2, 8, 60, 900)))
        match chance.randrange(5):
            case 0 if at < len(out):
                out[at] ^= 1 << chance.randrange(8)
            case 1:
                del out[at:to]
            case 2:
                out[at:at] = out[at:to]
            case 3:
                out[at:at] = chance.choice(SCRAPS)
            case _:
                out[at:to] = bytes(to - at)
    return bytes(out)


def photos() -> dict[str, bytes]:
    """A small photo in each format that is let in."""
    rng = np.random.default_rng(7)
    coarse = Image.fromarray(rng.integers(20, 230, (9, 12, 3), dtype=np.uint8))
    made = {}
    for kind in ("JPEG", "PNG", "WEBP", "AVIF"):
        buffer = io.BytesIO()
        coarse.resize((96, 72), Image.Resampling.BICUBIC).save(buffer, kind)
        made[f"p.{kind.lower()}"] = buffer.getvalue()
    return made


def read_photo(data: bytes, name: str) -> None:
    photograph_from(data, name).srgb_image(at_least=64)


def run(seconds: float, seed: int = 0) -> tuple[int, int, Path | None]:
    """How many were read, how many of them refused, and the input that ended otherwise, if one did."""
    chance, read, refused = random.Random(seed), 0, 0
    sources, until = photos(), time.monotonic() + seconds
    with tempfile.TemporaryDirectory() as place:
        folder = sound_folder(Path(place))
        while time.monotonic() < until:
            name = chance.choice((*FILES, *sources))
            data = disturbed(sources.get(name) or (SOUND / name).read_bytes(), chance)
            read += 1
            try:
                if name in sources:
                    read_photo(data, name)
                else:
                    (folder / name).write_bytes(data)
                    read_record(folder)
            except JourneyError:
                refused += 1
            except Exception:
                traceback.print_exc()
                kept = Path(tempfile.gettempdir()) / f"fuzz-{seed}-{read}-{name}"
                kept.write_bytes(data)
                return read, refused, kept
            finally:
                if name not in sources:
                    (folder / name).write_bytes((SOUND / name).read_bytes())
    return read, refused, None


if __name__ == "__main__":
    given = [float(argument) for argument in sys.argv[1:]]
    count, no, odd = run(given[0] if given else 60, int(given[1]) if len(given) > 1 else 0)
    print(f"{count} read, {no} refused, " + (f"one ended otherwise: {odd}" if odd else "none ended otherwise"))
    sys.exit(odd is not None)
