"""Pictures at the sizes a page asks for."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from dataclasses import replace
from multiprocessing import get_context
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from PIL import Image, ImageDraw

from journey.cache import Cache
from journey.edition.model import Picture
from journey.edition.photographs import COVER_COLOUR, CoverNotProvedError
from journey.edition.pictures import Pictures
from journey.record.intake import PhotoFolder
from journey.record.rectangle import Rectangle
from journey.site.derivatives import edges_for, fallback_edge, write_pictures


def picture(name: str = "p01", colour: str = "#c06070", size: tuple[int, int] = (700, 500)) -> Picture:
    def draw(edge: int) -> Image.Image:
        image = Image.new("RGB", size, colour)
        image.info["comment"] = b"a secret"
        image.thumbnail((edge, edge))
        return image

    return Picture(
        name=name,
        width=size[0],
        height=size[1],
        alt="",
        caption="",
        source=draw,
        fingerprint=f"{colour}{size}",
    )


def bytes_in(folder: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in sorted(folder.iterdir())}


def test_two_sizes_in_two_formats_never_blown_up(tmp_path: Path) -> None:
    """A picture of 700 px is written at 480 and 700 px as AVIF, once as JPEG, with its true measures returned."""
    sizes = write_pictures([picture()], tmp_path)["p01"]
    assert sorted(bytes_in(tmp_path)) == ["p01-480.avif", "p01-700.avif", "p01-700.jpg"]
    for size in sizes:
        for extension in ("avif", "jpg") if size.has_jpeg else ("avif",):
            with Image.open(tmp_path / f"{size.stem}.{extension}") as written:
                assert written.size == (size.width, size.height)
    assert edges_for(picture(size=(300, 200))) == (300,)
    assert edges_for(picture(size=(3000, 4000))) == (480, 960, 1600)
    assert [fallback_edge(edges) for edges in ((480, 960, 1600), (480, 700), (300,))] == [960, 700, 300]


def test_nothing_but_pixels_is_written(tmp_path: Path) -> None:
    """What hangs on an image object, such as a comment, does not reach a file."""
    write_pictures([picture()], tmp_path)
    assert not any(b"secret" in data for data in bytes_in(tmp_path).values())


def test_workers_change_no_byte(tmp_path: Path) -> None:
    """None, two threads or two processes, the files are the same."""
    pictures = [picture(f"p0{n}", f"#c0607{n}") for n in range(4)]
    write_pictures(pictures, tmp_path / "one")
    with ThreadPoolExecutor(2) as executor:
        write_pictures(pictures, tmp_path / "two", executor=executor)
    assert bytes_in(tmp_path / "one") == bytes_in(tmp_path / "two")


def test_pictures_of_a_folder_are_the_same_by_threads_or_processes(tmp_path: Path) -> None:
    """Two photos turned on their side, one with a cover, three pictures of each, asked for at once."""
    paint = np.random.default_rng(3).integers(0, 256, (30, 40, 3), dtype=np.uint8)
    exif = Image.Exif()
    exif[274] = 6
    for name in ("a.jpg", "b.jpg"):
        Image.fromarray(paint).resize((2400, 1800)).save(tmp_path / name, quality=88, exif=exif)
        paint = 255 - paint
    parts = (Rectangle(0, 0, 1, 1), Rectangle(0.2, 0.2, 0.3, 0.3), Rectangle(0.5, 0.1, 0.4, 0.5))
    wanted = []
    for file, covers in (("a.jpg", (Rectangle(0.4, 0.4, 0.1, 0.1),)), ("b.jpg", ())):
        maker = Pictures(PhotoFolder(tmp_path))
        photo = SimpleNamespace(key=file, file=file, covers=covers)
        wanted += [
            replace(maker._picture(photo, part, "", ""), name=f"{file[0]}{number}")  # type: ignore[arg-type]
            for number, part in enumerate(parts)
        ]
    write_pictures(wanted, tmp_path / "none")
    with ThreadPoolExecutor(2) as threads:
        write_pictures(wanted, tmp_path / "threads", executor=threads)
    with ProcessPoolExecutor(2, get_context("spawn")) as processes:
        write_pictures(wanted, tmp_path / "processes", executor=processes)
    write_pictures(wanted[:1], tmp_path / "alone")
    first = bytes_in(tmp_path / "none")
    assert len(first) == sum(len(edges_for(picture)) + 1 for picture in wanted)
    assert bytes_in(tmp_path / "threads") == bytes_in(tmp_path / "processes") == first
    assert bytes_in(tmp_path / "alone").items() <= first.items()


def test_a_kept_picture_is_not_drawn_again(tmp_path: Path) -> None:
    """With the same fingerprint the kept files are taken, byte for byte; a new one is drawn."""
    drawn: list[int] = []

    def counting(source: Callable[[int], Image.Image]) -> Callable[[int], Image.Image]:
        def draw(edge: int) -> Image.Image:
            drawn.append(edge)
            return source(edge)

        return draw

    first = replace(picture(), source=counting(picture().source))
    kept = Cache.at(tmp_path / "kept")
    write_pictures([first], tmp_path / "a", cache=kept)
    assert drawn == [700]
    write_pictures([first], tmp_path / "b", cache=kept)
    assert drawn == [700]
    assert bytes_in(tmp_path / "a") == bytes_in(tmp_path / "b")
    write_pictures([replace(first, fingerprint="changed")], tmp_path / "c", cache=kept)
    assert drawn == [700, 700]
    assert kept.purge(first.photo) == 2


def test_one_name_cannot_stand_for_two_pictures(tmp_path: Path) -> None:
    """The same picture twice is written once; another one under its name is refused."""
    assert len(write_pictures([picture(), picture()], tmp_path)) == 1
    with pytest.raises(ValueError, match="p01"):
        write_pictures([picture(), picture(colour="#000000")], tmp_path)


def test_a_cover_that_does_not_hide_stops_the_writing(tmp_path: Path) -> None:
    """A box said to be covered is looked at in the finished file; hair in it is an error."""
    box = (0.4, 0.4, 0.2, 0.2)
    with pytest.raises(CoverNotProvedError):
        write_pictures([replace(picture(), covered=(box,))], tmp_path / "bare")

    def covered(edge: int) -> Image.Image:
        image = picture().source(edge)
        w, h = image.size
        ImageDraw.Draw(image).rectangle((0.3 * w, 0.3 * h, 0.7 * w, 0.7 * h), fill=COVER_COLOUR)
        return image

    write_pictures([replace(picture(), source=covered, covered=(box,))], tmp_path / "covered")
