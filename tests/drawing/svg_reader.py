"""Reads drawings back as shapes: texts as boxes, strokes as lines, without the code that drew them."""

import math
import re
import xml.etree.ElementTree as ElementTree
from collections.abc import Iterable, Iterator
from typing import NamedTuple

import shapely

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.fonts import text_width_mm

CAP, BELOW = 0.714, 0.0
"""What digits and capitals cover above and below the baseline, as shares of the text size."""


class SeenText(NamedTuple):
    """A line of text; `start` is its baseline's left end, `box` what its capitals and digits cover."""

    content: str
    sizes: tuple[str, ...]
    start: tuple[float, float]
    width_mm: float
    box: shapely.Polygon
    turned_deg: float
    size_mm: float
    bold: bool
    fill: str
    anchor: str


class SeenFill(NamedTuple):
    """A filled area, or all that a circle encloses."""

    sizes: tuple[str, ...]
    shape: shapely.Polygon


class SeenLine(NamedTuple):
    sizes: tuple[str, ...]
    shape: shapely.LineString
    width_mm: float
    dash: str
    stroke: str


def texts(drawings: Iterable[Drawing]) -> list[SeenText]:
    """Every line of text."""
    found = []
    for drawing in drawings:
        for node in _nodes(drawing, "text"):
            size, bold = float(node.get("font-size", "")), node.get("font-weight") == "bold"
            x, y = float(node.get("x", "")), float(node.get("y", ""))
            content = node.text or ""
            width = text_width_mm(content, size, bold)
            anchor = node.get("text-anchor", "start")
            turn = re.match(r"rotate\((\S+)", node.get("transform", "rotate(0 "))
            assert turn is not None
            degrees = float(turn[1])
            angle, back = math.radians(degrees), {"start": 0.0, "middle": width / 2, "end": width}[anchor]
            start = x - back * math.cos(angle), y - back * math.sin(angle)
            box = text_box(start, width, degrees, CAP * size, BELOW * size)
            fill = node.get("fill", "")
            found.append(SeenText(content, drawing.sizes, start, width, box, degrees, size, bold, fill, anchor))
    return found


def text_box(
    start: tuple[float, float], width_mm: float, turned_deg: float, above_mm: float, below_mm: float
) -> shapely.Polygon:
    """The box about a baseline, given by its left end."""
    angle = math.radians(turned_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    corners = ((0.0, -above_mm), (width_mm, -above_mm), (width_mm, below_mm), (0.0, below_mm))
    x, y = start
    return shapely.Polygon([(x + u * cos - v * sin, y + u * sin + v * cos) for u, v in corners])


def lines(drawings: Iterable[Drawing]) -> list[SeenLine]:
    """Every stroked run of every path."""
    found = []
    for drawing in drawings:
        for node in _nodes(drawing, "path"):
            if node.get("stroke") is None:
                continue
            for run in re.findall(r"M([^MZ]*)(Z?)", node.get("d", "")):
                places = [tuple(float(part) for part in place.split(",")) for place in run[0].split()]
                shape = shapely.LineString(places + places[:1] if run[1] else places)
                width = float(node.get("stroke-width", ""))
                found.append(
                    SeenLine(drawing.sizes, shape, width, node.get("stroke-dasharray", ""), node.get("stroke", ""))
                )
    return found


def fills(drawings: Iterable[Drawing]) -> list[SeenFill]:
    """Every filled path, and every circle."""
    found = []
    for drawing in drawings:
        for node in _nodes(drawing, "path"):
            if node.get("fill") != "none":
                places = [place.split(",") for place in node.get("d", "").strip("MZ").split()]
                found.append(SeenFill(drawing.sizes, shapely.Polygon([(float(x), float(y)) for x, y in places])))
        for node in _nodes(drawing, "circle"):
            x, y, radius, width = (float(node.get(key, "")) for key in ("cx", "cy", "r", "stroke-width"))
            found.append(SeenFill(drawing.sizes, shapely.Point(x, y).buffer(radius + width / 2)))
    return found


def _nodes(drawing: Drawing, tag: str) -> Iterator[ElementTree.Element]:
    return ElementTree.fromstring(drawing.svg).iter(f"{{http://www.w3.org/2000/svg}}{tag}")
