"""The facts of the pictures: truth.json for tests, photos_fragment.yaml for the demo's record."""

from pathlib import Path
from typing import Any

from tests.demo_pictures.scenario import STATES, Stretch

TRUTH_FILE = Path(__file__).with_name("truth.json")


def _stretch(stretch: Stretch) -> dict[str, Any]:
    return {
        "band": stretch.band,
        "part": stretch.part,
        "from_mm": round(stretch.from_mm, 1),
        "to_mm": None if stretch.to_mm is None else round(stretch.to_mm, 1),
        "substrate": stretch.substrate,
        "remaining_share": {bowl: round(q, 4) for bowl, q in stretch.shares},
        "lab": list(stretch.lab),
        "linear": [round(v, 5) for v in stretch.linear],
        "hex": stretch.hex,
    }


def table_of_states() -> list[dict[str, Any]]:
    """Every state of the scenario as plain data."""
    out = []
    for state in STATES:
        entry = {"key": state.key, "date": state.day.isoformat(), "moment": state.moment,
                 "crown_length_mm": round(state.length_mm, 1),
                 "strand": [_stretch(s) for s in state.strand], "nape": _stretch(state.nape)}  # fmt: skip
        if state.residue is not None:
            entry["residue"] = _stretch(state.residue)
        out.append(entry)
    return out


def _numbers(values: list[float]) -> str:
    return " ".join(f"{v:.4f}".rstrip("0").rstrip(".") for v in values)


def _photo(fact: dict[str, Any]) -> list[str]:
    lines = [f"- file: photos/{fact['file']}", f"  date: {fact['date']}", f"  moment: {fact['moment']}",
             f"  view: {fact['view']}", f"  light: {fact['light']}"]  # fmt: skip
    if "neutral" in fact:
        lines += ["  neutral:", f"    rect: {_numbers(fact['neutral']['rect'])}",
                  f"    reflectance: {fact['neutral']['reflectance']}"]  # fmt: skip
    if "chart" in fact:
        lines += ["  chart:", "    corners:"] + [f"      - {_numbers(c)}" for c in fact["chart"]["corners"]]
    if "cover" in fact:
        lines.append("  cover:")
        for cover in fact["cover"]:
            lines += [f"    - what: {cover['what']}", f"      rect: {_numbers(cover['rect'])}"]
    if "field_width_mm" in fact:
        lines.append(f"  field_width_mm: {fact['field_width_mm']}")
    if fact.get("patches"):
        lines.append("  patches:")
        for patch in fact["patches"]:
            lines += [f"    - zone: {patch['zone']}", f"      band: {patch['band']}",
                      f"      rect: {_numbers(patch['rect'])}  # {patch['part']}, "
                      f"{patch['from_scalp_mm']:g} mm from the scalp"]  # fmt: skip
    return lines


def fragment(photos: list[dict[str, Any]]) -> str:
    """A YAML list of the photos with their boxes as `x y w h` text."""
    head = ["# Photos with their boxes: x y width height, fractions of the sides after orientation."]
    return "\n".join(head + [line for fact in photos for line in _photo(fact)]) + "\n"
