"""Reads a chart's SVG back: shapes by their class, paths as points, px as the values they stand for."""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass

Point = tuple[float, float]


@dataclass(frozen=True)
class Shape:
    tag: str
    attributes: dict[str, str]
    text: str

    @property
    def path(self) -> str:
        return self.attributes["d"]

    @property
    def at(self) -> Point:
        return float(self.attributes["x"]), float(self.attributes["y"])


def shapes(svg: str) -> list[Shape]:
    """Every shape outside the definitions, with what its group says of it."""
    return list(_shapes(ET.fromstring(svg), {}))


def _shapes(parent: ET.Element, said: dict[str, str]) -> Iterator[Shape]:
    for child in parent:
        if child.tag == "g":
            yield from _shapes(child, dict(child.attrib))
        elif child.tag != "defs":
            yield Shape(child.tag, {**said, **child.attrib}, child.text or "")


def parts(svg: str, part: str) -> list[Shape]:
    """Shapes of class `ch-{part}`."""
    return [s for s in shapes(svg) if f"ch-{part}" in s.attributes.get("class", "").split()]


def words(svg: str) -> list[str]:
    return [s.text for s in shapes(svg) if s.tag == "text"]


def lines(path: str) -> list[list[Point]]:
    """The figures of a path made of straight lines, each as its corners."""
    found: list[list[Point]] = []
    for command, numbers in re.findall(r"([MLHVz])([^MLHVz]*)", path):
        to = [float(n) for n in numbers.split()]
        if command == "M":
            found.append([(to[0], to[1])])
        elif command == "L":
            found[-1].append((to[0], to[1]))
        elif command == "H":
            found[-1].append((to[0], found[-1][-1][1]))
        elif command == "V":
            found[-1].append((found[-1][-1][0], to[0]))
    return found


def all_lines(svg: str, part: str) -> list[list[Point]]:
    return [line for shape in parts(svg, part) for line in lines(shape.path)]


@dataclass(frozen=True)
class Scale:
    """From px back to values, by the card's edges and what they stand for."""

    left: float
    top: float
    right: float
    bottom: float
    x: Point
    y: Point

    def value(self, at: Point) -> Point:
        share_x = (at[0] - self.left) / (self.right - self.left)
        share_y = (self.bottom - at[1]) / (self.bottom - self.top)
        return (
            self.x[0] + share_x * (self.x[1] - self.x[0]),
            self.y[0] + share_y * (self.y[1] - self.y[0]),
        )


def card_scale(svg: str, x: Point, y: Point, card: int = 0) -> Scale:
    """Scale of the n-th card in the drawing."""
    ((corners,),) = [lines(parts(svg, "fill-card")[card].path)]
    xs, ys = [c[0] for c in corners], [c[1] for c in corners]
    return Scale(min(xs), min(ys), max(xs), max(ys), x, y)


def stops(svg: str, paint: str) -> list[tuple[float, str]]:
    """(offset, colour) of the gradient a paint value refers to."""
    identifier = paint.removeprefix("url(#").removesuffix(")")
    gradient = ET.fromstring(svg).find(f".//linearGradient[@id='{identifier}']")
    assert gradient is not None
    return [(float(s.attrib["offset"]), s.attrib["stop-color"]) for s in gradient]
