"""Ways of making the same pictures of some photos: AVIF at three long edges and one JPEG.

    python -m tests.benchmark.images WAY FOLDER OUT

Each way is a whole process. `ours` is what a site is written with, by one worker or two threads or processes;
`plain` is the loop one would write first with Pillow, from one decode at full size, with Pillow's own settings;
`plain-same` the same with our settings of the encoder; `reopen` opens the file for every output; `vips` is libvips
by pyvips; `floor` only decodes at half scale and encodes pixels that lie ready.
"""

from __future__ import annotations

import io
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import numpy as np
from PIL import Image, ImageCms, ImageOps

EDGES = (480, 960, 1600)
JPEG_EDGE = 960
OURS = {"quality": 58, "speed": 9, "max_threads": 1}
WHOLE_JPEG = {"quality": 80, "progressive": True, "optimize": True}


def photos_of(folder: Path) -> list[Path]:
    return sorted(folder.glob("*.jpg"))


def ours(folder: Path, out: Path, workers: str) -> None:
    from journey.edition.model import Picture
    from journey.edition.pictures import PhotoPart
    from journey.record.intake import PhotoFolder
    from journey.record.rectangle import Rectangle
    from journey.site.derivatives import write_pictures

    shelf = PhotoFolder(folder)
    pictures = []
    for number, path in enumerate(photos_of(folder)):
        facts = shelf.facts(path.name)
        scale = min(1.0, 1600 / max(facts.width, facts.height))
        pictures.append(
            Picture(
                name=f"p{number}",
                width=round(facts.width * scale),
                height=round(facts.height * scale),
                alt="",
                caption="",
                source=PhotoPart(shelf, path.name, (), Rectangle(0, 0, 1, 1)),
                photo=facts.sha256,
                fingerprint=facts.sha256,
            )
        )
    if workers == "1":
        write_pictures(pictures, out)
    elif workers == "threads":
        with ThreadPoolExecutor(2) as threads:
            write_pictures(pictures, out, executor=threads)
    else:
        with ProcessPoolExecutor(2, get_context("fork")) as processes:
            write_pictures(pictures, out, executor=processes)


def plain(folder: Path, out: Path, avif: dict[str, Any]) -> None:
    for path in photos_of(folder):
        with Image.open(path) as opened:
            image = _in_srgb(opened)
        for edge in EDGES:
            small = image.copy()
            small.thumbnail((edge, edge), Image.Resampling.LANCZOS)
            small.save(out / f"{path.stem}-{edge}.avif", **avif)
            if edge == JPEG_EDGE:
                small.save(out / f"{path.stem}-{edge}.jpg", **WHOLE_JPEG)


def reopen(folder: Path, out: Path) -> None:
    for path in photos_of(folder):
        for edge, kind in (*((edge, "avif") for edge in EDGES), (JPEG_EDGE, "jpg")):
            with Image.open(path) as opened:
                small = _in_srgb(opened)
            small = small.resize(_fitted(small.size, edge), Image.Resampling.LANCZOS)
            small.save(out / f"{path.stem}-{edge}.{kind}", **(WHOLE_JPEG if kind == "jpg" else {}))


def vips(folder: Path, out: Path) -> None:
    import pyvips  # type: ignore[import-not-found]

    for path in photos_of(folder):
        for edge in EDGES:
            small = pyvips.Image.thumbnail(str(path), edge, height=edge, size="down", output_profile="srgb")
            small.write_to_file(str(out / f"{path.stem}-{edge}.avif"), Q=58, effort=0, strip=True)
            if edge == JPEG_EDGE:
                small.write_to_file(str(out / f"{path.stem}-{edge}.jpg"), Q=80, interlace=True, strip=True)


def prepare_floor(folder: Path, out: Path) -> None:
    for path in photos_of(folder):
        with Image.open(path) as opened:
            image = _in_srgb(opened)
        for edge in EDGES:
            np.save(out / f"{path.stem}-{edge}.npy", np.asarray(image.resize(_fitted(image.size, edge))))


def floor(folder: Path, out: Path) -> None:
    import simplejpeg  # type: ignore[import-untyped]

    for path in photos_of(folder):
        simplejpeg.decode_jpeg(path.read_bytes(), colorspace="RGB", min_height=1500, min_width=1500)
        for edge in EDGES:
            small = Image.fromarray(np.load(out / f"{path.stem}-{edge}.npy"))
            small.save(out / f"{path.stem}-{edge}.avif", **OURS)
            if edge == JPEG_EDGE:
                small.save(out / f"{path.stem}-{edge}.jpg", **WHOLE_JPEG)


def draw_photos(sources: Iterator[Path], folder: Path) -> None:
    """Photos as a phone takes them, 12 megapixels, lying on their side, in Display P3."""
    from tests.record.profiles import DISPLAY_P3_XY, SRGB_CURVE, matrix_profile

    exif = Image.Exif()
    exif[274] = 6
    profile = matrix_profile(DISPLAY_P3_XY, SRGB_CURVE)
    rng = np.random.default_rng(1)
    for path in sources:
        with Image.open(path) as opened:
            # Side by side, not blown up: every pixel of the large photo is as sharp as those of the small one.
            tile = np.asarray(ImageOps.fit(opened.convert("RGB"), (1000, 1500)))
        large = np.tile(tile, (2, 4, 1)).astype(np.int16)
        noisy = large + rng.integers(-5, 6, (3000, 4000, 1), dtype=np.int16)
        photo = Image.fromarray(np.clip(noisy, 0, 255).astype(np.uint8))
        photo.save(folder / path.name, quality=92, exif=exif, icc_profile=profile)


def _in_srgb(image: Image.Image) -> Image.Image:
    turned = ImageOps.exif_transpose(image)
    icc = image.info.get("icc_profile")
    if not icc:
        return turned.convert("RGB")
    source = ImageCms.ImageCmsProfile(io.BytesIO(icc))
    converted = ImageCms.profileToProfile(turned, source, ImageCms.createProfile("sRGB"), outputMode="RGB")
    assert converted is not None
    converted.info.clear()
    return converted


def _fitted(size: tuple[int, int], edge: int) -> tuple[int, int]:
    scale = min(1.0, edge / max(size))
    return round(size[0] * scale), round(size[1] * scale)


WAYS: dict[str, Callable[[Path, Path], None]] = {
    "ours": lambda folder, out: ours(folder, out, "1"),
    "ours-threads": lambda folder, out: ours(folder, out, "threads"),
    "ours-processes": lambda folder, out: ours(folder, out, "processes"),
    "plain": lambda folder, out: plain(folder, out, {}),
    "plain-same": lambda folder, out: plain(folder, out, OURS),
    "reopen": reopen,
    "vips": vips,
    "floor": floor,
    "prepare-floor": prepare_floor,
}

if __name__ == "__main__":
    WAYS[sys.argv[1]](Path(sys.argv[2]), Path(sys.argv[3]))
