"""From the drawing library's SVG to SVG that may stand inside a page.

Decides what is let through: shapes, text and gradients. Leaves out comments (the library repeats every text
in one), document type, metadata, style elements and style attributes (the page's content policy blocks
them), fonts and namespaces. Stand-in colours become classes or gradient references, ids are counted anew
under the chart's own prefix, so that two charts can share a page.
"""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from journey.site.charts.colour_run import Stop
from journey.site.charts.tokens import TOKENS, gradient_index

_SVG = "{http://www.w3.org/2000/svg}"
_HREF = "{http://www.w3.org/1999/xlink}href"
_DROPPED = {"metadata", "style", "title", "desc"}
_SHAPES = {"path", "use", "text", "tspan", "g", "defs", "rect", "clipPath", "circle", "ellipse", "line"}

# What each shape may carry over. Whatever the library writes beside these is left behind.
_KEPT = ("d", "x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "y1", "x2", "y2", "transform")
_KEPT_STYLE = (
    "fill",
    "fill-rule",
    "stroke",
    "stroke-width",
    "stroke-dasharray",
    "stroke-linecap",
    "stroke-linejoin",
    "text-anchor",
    "font-size",
    "font-weight",
)
_DEFAULTS = {
    "stroke-linejoin": "round",
    "stroke-linecap": "butt",
    "font-weight": "400",
    "text-anchor": "start",
    "stroke-width": "1",
    "fill-rule": "nonzero",
}
_NUMBER = re.compile(r"-?\d+\.\d+(?:e-?\d+)?")
_IDLE_ROTATION = re.compile(r"rotate\(-?0(?:\.0+)?[ )]")


@dataclass(frozen=True, slots=True)
class Gradient:
    """A linear gradient between two points in px of the drawing."""

    start: tuple[float, float]
    end: tuple[float, float]
    stops: tuple[Stop, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Root:
    """What the `<svg>` element says of itself."""

    prefix: str
    """Stands before every id: 'ch-fade-phone'."""
    classes: str
    alt: str
    width_px: int
    height_px: int


def page_svg(drawn: bytes, root: Root, gradients: Sequence[Gradient]) -> str:
    """SVG text for a page from the library's bytes. Same bytes in, same text out."""
    # The bytes come from our own drawing a moment ago, not from outside.
    source = ET.fromstring(drawn)  # noqa: S314
    page = ET.Element(
        "svg",
        {
            "class": root.classes,
            "viewBox": f"0 0 {root.width_px} {root.height_px}",
            "role": "img",
            "aria-label": root.alt,
            "stroke-linejoin": _DEFAULTS["stroke-linejoin"],
        },
    )
    if gradients:
        page.append(_gradient_definitions(gradients, root.prefix))
    ids = {old: f"{root.prefix}-{n}" for n, old in enumerate(_referenced_ids(source))}
    cleaner = _Cleaner(ids, root)
    page.extend(_joined(cleaner.children(source)))
    # No text or attribute can hold a bare '>': it would have been written as an entity.
    return ET.tostring(page, encoding="unicode").replace(" />", "/>")


def _gradient_definitions(gradients: Sequence[Gradient], prefix: str) -> ET.Element:
    definitions = ET.Element("defs")
    for index, gradient in enumerate(gradients):
        (x1, y1), (x2, y2) = gradient.start, gradient.end
        element = ET.SubElement(
            definitions,
            "linearGradient",
            {
                "id": f"{prefix}-g{index}",
                "gradientUnits": "userSpaceOnUse",
                "x1": _short(x1),
                "y1": _short(y1),
                "x2": _short(x2),
                "y2": _short(y2),
            },
        )
        for offset, colour in gradient.stops:
            ET.SubElement(element, "stop", {"offset": f"{offset:.4g}", "stop-color": colour})
    return definitions


def _referenced_ids(source: ET.Element) -> dict[str, str]:
    """Every id that something points at, and the first id that is the same shape."""
    pointed_at = {use.get(_HREF, "").removeprefix("#") for use in source.iter(_SVG + "use")}
    by_shape: dict[str, str] = {}
    same: dict[str, str] = {}
    for path in source.iter(_SVG + "path"):
        identifier = path.get("id", "")
        if identifier in pointed_at:
            same[identifier] = by_shape.setdefault(path.get("d", ""), identifier)
    return same


@dataclass(frozen=True, slots=True)
class _Cleaner:
    """Walks the library's tree and rebuilds what may stay."""

    same_shape: dict[str, str]
    root: Root

    def children(self, parent: ET.Element) -> Iterator[ET.Element]:
        for child in parent:
            name = child.tag.removeprefix(_SVG)
            if name in _DROPPED:
                continue
            if name not in _SHAPES:
                raise ValueError(f"a chart drew <{name}>, which no page lets through")
            yield from self._element(child, name)

    def _element(self, source: ET.Element, name: str) -> Iterator[ET.Element]:
        """The cleaned element; a group that says nothing gives way to what it holds."""
        identifier = source.get("id", "")
        if name in self._NOTHING_TO_SEE(source, identifier):
            return
def _style(text: str) -> dict[str, str]:
    """Declarations that are kept, fonts reduced to size and weight (written in one piece or singly)."""
    pairs = (piece.partition(":") for piece in text.split(";"))
    declared = {key.strip(): value.strip() for key, colon, value in pairs if colon}
    if "font" in declared:
        declared |= _font_parts(declared.pop("font"))
    kept = {key: _rounded(declared[key]) for key in _KEPT_STYLE if key in declared}
    if "font-size" in kept:
        kept["font-size"] = kept["font-size"].removesuffix("px")
    return {key: value for key, value in kept.items() if _DEFAULTS.get(key) != value}


def _font_parts(shorthand: str) -> dict[str, str]:
    """Size and weight from `font: 700 13px 'Some Face'`.

    >>> _font_parts("italic 700 13px 'Some Face', serif")
    {'font-size': '13px', 'font-weight': '700'}
    """
    parts: dict[str, str] = {}
    size = re.search(r"(?:^|\s)([\d.]+px)", shorthand)
    if size is None:
        return parts
    parts["font-size"] = size.group(1)
    weight = re.search(r"\b(bold|[1-9]00)\b", shorthand[: size.start(1)])
    if weight:
        parts["font-weight"] = "700" if weight.group(1) == "bold" else weight.group(1)
    return parts


def _rounded(text: str) -> str:
    """Numbers to a hundredth of a px, line breaks and blanks that SVG does not need taken out."""
    text = " ".join(_NUMBER.sub(lambda found: _short(float(found.group())), text).split())
    return re.sub(r"\s*([MLCQZz])\s*", r"\1", text)


def _short(value: float) -> str:
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
