"""Where to measure on the demo's photos: `python -m tests.record.demo_photos` renews it in journey.yaml.

The drawing of the photos writes down where it put what (tests/demo_pictures/truth.json); the demo's record
names the same rectangles. Everything else about a photo (key, caption, who is on it) stays as it is written.
"""

from __future__ import annotations

import json
import re
from typing import Any

from tests.record.folders import DEMO

TRUTH = DEMO.parent / "tests" / "demo_pictures" / "truth.json"
JOURNEY = DEMO / "journey.yaml"
DRAWN = ("patches", "neutral", "chart", "covers")
UNTOUCHED = "2026-02-28"
NEW_GROWTH = "from 0 cm to 0.8 cm"
"""'roots' is what was coloured there; what has grown since is a stretch of its own."""


def renewed(text: str, facts: list[dict[str, Any]]) -> str:
    """The text of journey.yaml with the rectangles of `facts`, photo by photo."""
    by_file = {fact["file"]: fact for fact in facts}
    lines = text.split("\n")
    starts = [
        at for at, line in enumerate(lines) if re.match(r" {6}- key: ", line) and "file:" in lines[at + 1]
    ]
    for at in reversed(starts):
        end = next(n for n in range(at + 1, len(lines)) if not lines[n].startswith(" " * 8))
        file = lines[at + 1].split("file: ")[1]
        lines[at:end] = _photo(lines[at:end], by_file[file])
    return "\n".join(lines)


def _photo(block: list[str], fact: dict[str, Any]) -> list[str]:
    """One photo's lines; what was drawn stands after what describes the photo."""
    kept: list[str] = []
    inside = False
    for line in block:
        key = re.match(r" {8}(\w+):", line)
        inside = key[1] in DRAWN if key else inside
        if not inside:
            kept.append(line)
    after = next(n for n, line in enumerate(kept) if re.match(r" {8}(magnified|ruler|no_face):", line))
    has_ruler = any(line.startswith(" " * 8 + "ruler:") for line in block)
    return [*kept[:after], *_drawn(fact, has_ruler), *kept[after:]]


def _drawn(fact: dict[str, Any], has_ruler: bool) -> list[str]:
    lines: list[str] = []
    patches = [patch for patch in fact.get("patches", ()) if has_ruler or not _is_new_growth(fact, patch)]
    if patches:
        lines.append("patches:")
    for patch in patches:
        band = NEW_GROWTH if _is_new_growth(fact, patch) else patch["band"]
        lines += [f"  - zone: {patch['zone']}", f"    band: {band}", f"    rect: {_numbers(patch['rect'])}"]
    if "neutral" in fact:
        neutral = fact["neutral"]
        lines += ["neutral:", f"  rect: {_numbers(neutral['rect'])}"]
        lines.append(f"  reflectance: {100 * neutral['reflectance']:g} %")
    if "chart" in fact:
        corners = [f"    - {_numbers(corner)}" for corner in fact["chart"]["corners"]]
        lines += ["chart:", "  corners:", *corners]
    if fact.get("cover"):
        lines.append("covers:")
    lines += [f"  - {_numbers(cover['rect'])}  # {cover['what']}" for cover in fact.get("cover", ())]
    return [" " * 8 + line for line in lines]


def _is_new_growth(fact: dict[str, Any], patch: dict[str, Any]) -> bool:
    return bool(patch["part"] == "new growth" and fact["date"] != UNTOUCHED)


def _numbers(values: list[float]) -> str:
    return " ".join(f"{value:.4f}".rstrip("0").rstrip(".") for value in values)


def drawn_photos() -> list[dict[str, Any]]:
    """What the drawing wrote down, photo by photo."""
    photos: list[dict[str, Any]] = json.loads(TRUTH.read_text(encoding="utf-8"))["photos"]
    return photos


if __name__ == "__main__":
    JOURNEY.write_text(renewed(JOURNEY.read_text(encoding="utf-8"), drawn_photos()), encoding="utf-8")
