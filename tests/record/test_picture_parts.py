"""Files of a million empty parts are told apart from what cameras and programmes write, at once."""

from __future__ import annotations

import time

import pytest
from PIL import Image

from journey.record.picture_parts import MOST_CHUNKS, MOST_SCANS, MOST_SEGMENTS, has_too_many_parts
from tests.bad_rows import grain, in_jpeg, png_chunk, saved


@pytest.mark.parametrize(
    ("kind", "how"),
    [
        ("JPEG", {}),
        ("JPEG", {"progressive": True, "restart_marker_blocks": 1}),
        ("JPEG", {"icc_profile": bytes(2_000_000), "exif": b"Exif\0\0" + bytes(60_000)}),
        ("JPEG", {"comment": b"\xff\xda" * 900}),
        ("PNG", {"compress_level": 0}),
        ("WEBP", {}),
        ("AVIF", {}),
    ],
)
def test_what_is_written_every_day_is_let_in(kind: str, how: dict[str, object]) -> None:
    """Progressive, with a restart at every block, with a large profile and Exif, unpacked."""
    data = saved(grain(1200, 900), kind, **how)
    assert not has_too_many_parts(data, kind)  # type: ignore[arg-type]
    assert not has_too_many_parts(data + b"\xff\xda" * 5000, kind), "behind its end"  # type: ignore[arg-type]


def test_the_limits_stand_where_they_say() -> None:
    """One more than the limit is too many: scans and segments of a JPEG, chunks of a PNG."""
    jpeg = saved(grain(80, 80), "JPEG", progressive=True)
    scan = jpeg[jpeg.rindex(b"\xff\xda") : -2]
    scans = jpeg.count(b"\xff\xda")
    for more, is_many in ((MOST_SCANS - scans, False), (MOST_SCANS - scans + 1, True)):
        assert has_too_many_parts(jpeg[:-2] + scan * more + jpeg[-2:], "JPEG") is is_many
    empty = jpeg
    for _ in range(3):
        empty = in_jpeg(empty, 0xE9, b"")
    assert not has_too_many_parts(empty, "JPEG")
    assert has_too_many_parts(jpeg[:20] + b"\xff\xe9\0\2" * MOST_SEGMENTS + jpeg[20:], "JPEG")
    png = saved(Image.new("RGB", (80, 80)), "PNG")
    for more, is_many in ((MOST_CHUNKS - 3, False), (MOST_CHUNKS - 2, True)):
        assert has_too_many_parts(png[:33] + png_chunk(b"abCd", b"") * more + png[33:], "PNG") is is_many


def test_counting_is_quick_whatever_stands_there() -> None:
    """Sixty megabytes of filling, of nothing, of one long scan."""
    begun = time.perf_counter()
    head = saved(grain(80, 80), "JPEG")[:20]
    assert has_too_many_parts(head + b"\xff" * (60 << 20), "JPEG")
    assert has_too_many_parts(head + bytes(60 << 20), "JPEG")
    assert not has_too_many_parts(head + b"\xff\xda\0\2" + bytes(60 << 20), "JPEG")
    assert not has_too_many_parts(head + b"\xff\xda\0\2" + b"\xff\0" * (20 << 20), "JPEG")
    assert time.perf_counter() - begun < 2
