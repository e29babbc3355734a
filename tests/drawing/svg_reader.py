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
    content: str
    sizes: tuple[str, ...]
    box: shapely.Polygon
    turned_deg: float
    size_mm: float
    bold: bool
    fill: str
    anchor: str


class SeenLine(NamedTuple):
    sizes: tuple[str, ...]
    shape: shapely.LineString
    width_mm: float
    dash: str
    stroke: str


def texts(drawings: Iterable[Drawing]) -> list[SeenText]:
    """Every text with the box of its capitals and digits."""
    found = []
    for drawing in drawings:
        for node in _nodes(drawing, "text"):
            size, bold = float(node.get("font-size", "")), node.get("font-weight") == "bold"
            x, y = float(node.get("x", "")), float(node.get("y", ""))
            content = node.text or ""
            width = text_width_mm(content, size, bold)
            anchor = node.get("text-anchor", "start")
            left = {"start": 0.0, "middle": -width / 2, "end": -width}[anchor]
            turn = re.match(r"rotate\((\S+)", node.get("transform", "rotate(0 "))
            assert turn is not None
            degrees = float(turn[1])
            angle = math.radians(degrees)
            cos, sin = math.cos(angle), math.sin(angle)
            corners = ((left, -CAP * size), (left + width, -CAP * size), (left + width, BELOW), (left, BELOW))
            box = shapely.Polygon([(x + u * cos - v * sin, y + u * sin + v * cos) for u, v in corners])
            found.append(SeenText(content, drawing.sizes, box, degrees, size, bold, node.get("fill", ""), anchor))
    return found


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


def _nodes(drawing: Drawing, tag: str) -> Iterator[ElementTree.Element]:
    return ElementTree.fromstring(drawing.svg).iter(f"{{http://www.w3.org/2000/svg}}{tag}")
