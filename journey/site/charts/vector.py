"""From the drawing library's SVG to SVG that may stand inside a page.

Decides what is let through: shapes, text, gradients and clips, and of those a fixed list of attributes.
Comments (the library repeats every text in one), document type, metadata, style elements, style attributes
(the page's content policy blocks them), fonts and namespaces stay behind, because the tree is built anew.
Stand-in colours become classes or gradient references; ids are counted anew under the chart's own prefix, so
that two charts can share a page.
"""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import groupby

from journey.site.charts.colour_run import Stop
from journey.site.charts.svg_style import path_data, presentation, rounded, short
from journey.site.charts.tokens import TOKENS, gradient_index

_SVG = "{http://www.w3.org/2000/svg}"
_HREF = "{http://www.w3.org/1999/xlink}href"
_REFERENCE = re.compile(r"url\(#(.+)\)")
_IDLE_ROTATION = re.compile(r"rotate\(-?0(?:\.0+)?[ )]")
_GROUPS = {"g", "defs"}
_DROPPED = {"metadata", "style", "title", "desc", "clipPath"}
_LEAVES = {
    "path": ("d", "transform"),
    "use": ("x", "y", "transform"),
    "text": ("x", "y", "transform"),
}
"""Shapes the charts draw, and what each may carry over beside its paint."""


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
    text_px: int


def page_svg(drawn: bytes, root: Root, gradients: Sequence[Gradient]) -> str:
    """SVG text for a page from the library's bytes. Same bytes in, same text out.

    Raises ValueError when the library drew something no page lets through.
    """
    # The bytes come from our own drawing a moment ago, not from outside.
    source = ET.fromstring(drawn)  # noqa: S314
    page = ET.Element(
        "svg",
        {
            "class": root.classes,
            "viewBox": f"0 0 {root.width_px} {root.height_px}",
            "role": "img",
            "aria-label": root.alt,
            "font-size": str(root.text_px),
            "stroke-linejoin": "round",
        },
    )
    rebuilt = _Rebuilt(source, root)
    leaves = list(_joined(list(rebuilt.leaves(source, ""))))
    definitions = [*_gradient_definitions(gradients, root.prefix), *rebuilt.definitions]
    if definitions:
        ET.SubElement(page, "defs").extend(definitions)
    page.extend(leaves)
    # No text or attribute can hold a bare '>': it would have been written as an entity.
    return ET.tostring(page, encoding="unicode").replace(" />", "/>")


def _gradient_definitions(gradients: Sequence[Gradient], prefix: str) -> Iterator[ET.Element]:
    for index, gradient in enumerate(gradients):
        ends = zip(("x1", "y1", "x2", "y2"), (*gradient.start, *gradient.end), strict=True)
        element = ET.Element(
            "linearGradient", {"id": f"{prefix}-g{index}", "gradientUnits": "userSpaceOnUse"}
        )
        for name, value in ends:
            element.set(name, short(value))
        for offset, colour in gradient.stops:
            ET.SubElement(element, "stop", {"offset": short(offset, 3), "stop-color": colour})
        yield element


@dataclass(slots=True)
class _Rebuilt:
    """The library's tree as a flat run of shapes, and the definitions these turned out to need."""

    source: ET.Element
    root: Root
    definitions: list[ET.Element] = field(default_factory=list)
    _by_shape: dict[str, str] = field(default_factory=dict)

    def leaves(self, parent: ET.Element, part: str) -> Iterator[ET.Element]:
        """Every shape under `parent` in drawing order; `part` is the class of the group around it."""
        for child in parent:
            name = child.tag.removeprefix(_SVG)
            identifier = child.get("id", "")
            if name in _GROUPS:
                yield from self.leaves(child, identifier if identifier.startswith("ch-") else part)
            elif name in _LEAVES:
                if name != "path" or parent.tag != _SVG + "defs":
                    yield self._leaf(child, name, part, parent.get("clip-path"))
            elif name not in _DROPPED:
                raise ValueError(f"a chart drew <{name}>, which no page lets through")

    def _leaf(self, source: ET.Element, name: str, part: str, group_clip: str | None) -> ET.Element:
        classes = [part] if part else []
        attributes: dict[str, str] = {}
        if name == "use":
            attributes["href"] = "#" + self._shape(source.get(_HREF, "").removeprefix("#"))
        for key in _LEAVES[name]:
            value = source.get(key)
            if value is not None and not (key == "transform" and _IDLE_ROTATION.match(value)):
                attributes[key] = path_data(value) if key == "d" else rounded(value)
        for key, value in presentation(source.get("style", "")).items():
            self._paint(attributes, classes, key, value)
        clip = source.get("clip-path", group_clip)
        if clip is not None:
            attributes["clip-path"] = f"url(#{self._clip(clip)})"
        if classes:
            attributes = {"class": " ".join(classes), **attributes}
        leaf = ET.Element(name, attributes)
        leaf.text = source.text if name == "text" else None
        return leaf

    def _paint(self, attributes: dict[str, str], classes: list[str], key: str, value: str) -> None:
        index = gradient_index(value)
        if value in TOKENS:
            classes.append(f"ch-{key}-{TOKENS[value]}")
        elif index is not None:
            attributes[key] = f"url(#{self.root.prefix}-g{index})"
        elif not (key == "font-size" and value == str(self.root.text_px)):
            attributes[key] = value

    def _shape(self, identifier: str) -> str:
        """Our id of a shape that is used again, defined once whatever it is painted with."""
        drawn = next(p for p in self.source.iter(_SVG + "path") if p.get("id") == identifier)
        return self._defined("path", {"d": path_data(drawn.get("d", ""), 2)})

    def _clip(self, reference: str) -> str:
        found = _REFERENCE.match(reference)
        clips = self.source.iter(_SVG + "clipPath")
        box = next(clip[0] for clip in clips if found and clip.get("id") == found.group(1))
        size = {key: rounded(box.get(key, "0")) for key in ("x", "y", "width", "height")}
        return self._defined("rect", size)

    def _defined(self, name: str, attributes: dict[str, str]) -> str:
        key = f"{name} {attributes}"
        if key not in self._by_shape:
            self._by_shape[key] = f"{self.root.prefix}-s{len(self._by_shape)}"
            shape = ET.Element(name, attributes)
            if name == "rect":
                holder = ET.Element("clipPath", {"id": self._by_shape[key]})
                holder.append(shape)
                self.definitions.append(holder)
            else:
                shape.set("id", self._by_shape[key])
                self.definitions.append(shape)
        return self._by_shape[key]


def _joined(leaves: Sequence[ET.Element]) -> Iterator[ET.Element]:
    """Neighbours that look alike said once: lines in one path, uses and texts in one group."""
    for (name, shared), run in groupby(leaves, key=_looks):
        alike = list(run)
        if len(alike) == 1:
            yield alike[0]
        elif name == "path":
            yield ET.Element("path", {**dict(shared), "d": "".join(leaf.get("d", "") for leaf in alike)})
        else:
            group = ET.Element("g", dict(shared))
            for leaf in alike:
                own = {key: leaf.attrib[key] for key in ("href", *_LEAVES[name]) if key in leaf.attrib}
                ET.SubElement(group, name, own).text = leaf.text
            yield group


def _looks(leaf: ET.Element) -> tuple[str, tuple[tuple[str, str], ...]]:
    """All of a shape but where it is. Filled paths stay apart: joined they could cut holes in each other."""
    own = {"href", *_LEAVES[leaf.tag]}
    if leaf.tag == "path" and leaf.get("fill") != "none":
        own -= {"d"}
    return leaf.tag, tuple((key, value) for key, value in leaf.attrib.items() if key not in own)
