"""The blocks of a DXF by ASTM D6673 as the objects of a drawing: what layers say in an SVG, here say texts and layers.

What stands on which layer, and where that is known from, is said in `model/d6673.py`.
"""

from collections.abc import Collection, Iterator
from typing import Any

import numpy as np
import shapely

from pipeline.geometry.curves import Cubic, Line, Path, Segment, flattened
from pipeline.geometry.points import Point
from pipeline.masters.drawings.dxf_curves import SAME_MM, through
from pipeline.masters.drawings.dxf_file import read_document, unit_mm
from pipeline.masters.drawings.dxf_names import MarkName, mark_name, name_at, named_notches
from pipeline.masters.drawings.layers import CORNERS, NAMES
from pipeline.masters.svg.fault import SvgFault
from pipeline.masters.svg.path_data import Subpath
from pipeline.masters.svg.reading import Reading
from pipeline.masters.svg.shapes import circle
from pipeline.masters.svg.tree import CUT_FROM, Limits, Node
from pipeline.masters.svg.walk import Shape
from pipeline.masters.svg.words import Words
from pipeline.model import d6673

SMALLEST_MM, LARGEST_MM = 5.0, 10_000.0
"""Sides of a piece's box: what is smaller or larger is drawn in other units than the file says."""
_MARK_MM = 0.5
_LONGEST_NOTCH_MM = 100.0
"""From the boundary to the sew line; a wider allowance has a notch on neither (a judgement)."""
_ROLES = {d6673.GRAIN: "grain", d6673.INSIDE: "inside", d6673.CUTOUT: "inside"}
_DRAWN = ("LINE", "POLYLINE", "LWPOLYLINE", "ARC", "CIRCLE", "ELLIPSE", "SPLINE")


def dxf_objects(
    data: bytes, reading: Reading, limits: Limits, made: Collection[str] = ()
) -> tuple[list[Shape], list[Words]]:
    """Every object of every block as drawings have them, in mm, y down; and texts on a layer `names`. Raises SvgFault.

    Blocks of the pieces that are `made`, as those that are derived or are strips, are left out: they have no masters.
    """
    document = read_document(data)
    unit = unit_mm(document, [entity.dxf.text for entity in document.modelspace().query("TEXT")])
    root = Node("dxf", {}, 1)
    shapes: list[Shape] = []
    words: list[Words] = []
    for block in document.blocks:
        if block.name.startswith("*") or not len(block):
            continue
        if len(block) > limits.elements:
            raise SvgFault("dxf-too-large", f"Block {block.name!r} holds too much.", limits.rest, f"{len(block):,}")
        read = _Block(block, unit, root, reading)
        if read.said.get(d6673.PIECE_NAME) not in made:
            shapes += read.shapes()
            words += read.words
    if not (shapes or reading.findings()):
        raise SvgFault(
            "dxf-no-blocks",
            "It has no block in which a piece is drawn.",
            "Write each piece in each size as a block of its own.",
            f"{len(list(document.modelspace())):,} entities outside blocks",
            "blocks",
        )
    return shapes, words


class _Block:
    def __init__(self, block: Any, unit: float, root: Node, reading: Reading) -> None:
        self.unit, self.reading, self.name = unit, reading, str(block.name)
        self.by_layer: dict[str, list[Any]] = {}
        self.said: dict[str, str] = {}
        self.marks: list[MarkName] = []
        named: list[Any] = []
        for entity in block:
            kind = entity.dxftype()
            if kind == "TEXT" and str(entity.dxf.layer).lower() == NAMES:
                named.append(entity)
            elif kind == "TEXT" and (mark := mark_name(str(entity.dxf.text), self._place(entity.dxf.insert))):
                self.marks.append(mark)
            elif kind == "TEXT":
                key, _, value = str(entity.dxf.text).partition(":")
                self.said.setdefault(key.strip().upper(), value.strip())
            elif kind in (*_DRAWN, "POINT"):
                self.by_layer.setdefault(str(entity.dxf.layer), []).append(entity)
        names = [self.said.get(d6673.PIECE_NAME) or self.name, self.said.get(d6673.SIZE, "")]
        self.within: tuple[Node, ...] = (root,)
        for name in filter(None, names):
            self.within += (self._node("block", {"data-name": name}),)
        self.words = [self._word(entity) for entity in named]

    def shapes(self) -> list[Shape]:
        """Everything of it that masters have; nothing where it is told that it cannot be read."""
        sewn = d6673.SEW if self.by_layer.get(d6673.SEW) else d6673.BOUNDARY
        seams = self._paths(sewn)
        if not seams or not self._sound(seams):
            return []
        if sewn == d6673.BOUNDARY:
            self.reading.tell(
                "dxf-boundary",
                f"Block {self.name!r} has no sew line (layer {d6673.SEW}): its boundary is taken for the seam line.",
                f"Nothing, where it has no allowance; else write the sew line on layer {d6673.SEW}.",
                node=self.within[-1],
                severity="info",
            )
        found = [self._shape("seam", sewn, Subpath(path[0].start, path, _closed(path))) for path in seams]
        corners = [place for place in self._points(d6673.TURN) if _is_node(seams, place)]
        found += [self._dot(CORNERS, d6673.TURN, place) for place in corners]
        found += [
            self._dot("notches", d6673.NOTCH, place, name)
            for place, name in named_notches(self.marks, self._on_seam_once(seams))
        ]
        for place in self._points(d6673.DRILL):
            found.append(self._dot("points", d6673.DRILL, place, name_at(self.marks, d6673.MARK_POINT, place)))
        for layer, role in _ROLES.items():
            for path in self._paths(layer):
                found.append(self._line(role, layer, path))
        return found

    def _line(self, role: str, layer: str, path: Path) -> Shape:
        """A line within the piece; one whose middle is named as a point is a buttonhole's slit."""
        stroke = Subpath(path[0].start, path, _closed(path))
        slit = len(path) == 1 and name_at(self.marks, d6673.MARK_POINT, path[0].at(0.5))
        if slit:
            return self._shape("points", layer, stroke, slit)
        return self._shape(role, layer, stroke, name_at(self.marks, d6673.MARK_LINE, path[0].start))

    def _sound(self, seams: list[Path]) -> bool:
        """Whether its size is that of a piece (told)."""
        places = [place for path in seams for place in (path[0].start, *(segment.end for segment in path))]
        xs, ys = [place.x for place in places], [place.y for place in places]
        side = max(max(xs) - min(xs), max(ys) - min(ys))
        if SMALLEST_MM <= side <= LARGEST_MM:
            return True
        self.reading.tell(
            "dxf-scale",
            f"Block {self.name!r} is {side:,.2f} mm large by the units of the file, which no piece is.",
            "Write the file again in the units that it names.",
            node=self.within[-1],
            found=f"{side:,.2f} mm",
            allowed=f"{SMALLEST_MM:g} to {LARGEST_MM:,.0f} mm",
        )
        return False

    def _place(self, place: Any) -> Point:
        return Point(float(place[0]) * self.unit, -float(place[1]) * self.unit)

    def _points(self, layer: str) -> list[Point]:
        there = self.by_layer.get(layer, [])
        return [self._place(entity.dxf.location) for entity in there if entity.dxftype() == "POINT"]

    def _paths(self, layer: str) -> list[Path]:
        """The lines of a layer, chains led through their curve points."""
        curved = {_key(place) for place in self._points(d6673.CURVE)}
        paths = []
        for entity in self.by_layer.get(layer, []):
            path = self._chain(entity, curved) if _is_chain(entity) else self._curve(entity)
            if path:
                paths.append(path)
        return paths

    def _chain(self, entity: Any, curved: set[tuple[int, int]]) -> Path:
        places = [self._place(place) for place in _vertices(entity)]
        return through(places, [_key(place) in curved for place in places], bool(entity.is_closed))

    def _curve(self, entity: Any) -> Path:
        from ezdxf.path import make_path

        if entity.dxftype() == "POINT":
            return ()
        drawn = make_path(entity)
        at, segments = self._place(drawn.start), list[Segment]()
        for command in drawn.commands():
            end = self._place(command.end)
            if len(command) == 1:
                segment: Segment = Line(at, end)
            elif len(command) == 2:
                control = self._place(command.ctrl)
                segment = Cubic(at, _toward(at, control), _toward(end, control), end)
            else:
                segment = Cubic(at, self._place(command.ctrl1), self._place(command.ctrl2), end)
            if at.distance(end) > 1e-6:
                segments.append(segment)
            at = end
        return tuple(segments)

    def _on_seam_once(self, seams: list[Path]) -> list[Point]:
        """The place of each notch: one at a corner is cut into both allowances, and is one."""
        found: list[Point] = []
        for place in self._notches(seams):
            if all(place.distance(other) > _MARK_MM for other in found):
                found.append(place)
        return found

    def _notches(self, seams: list[Path]) -> Iterator[Point]:
        """Each notch on the seam line, to which its angle leads from the boundary; without one the nearest place."""
        lines = shapely.multilinestrings([shapely.linestrings(np.array(flattened(path, 0.01))) for path in seams])
        for layer in d6673.NOTCHES:
            for entity in self.by_layer.get(layer, []):
                if entity.dxftype() != "POINT":
                    continue
                place = self._place(entity.dxf.location)
                angle = np.radians(float(entity.dxf.get("angle", 0.0)))
                yield _on_seam(lines, place, float(np.cos(angle)), float(-np.sin(angle)))

    def _word(self, entity: Any) -> Words:
        """A text that names the edge beside it; the standard has no layer for that, so its layer is called names."""
        node = self._node("text", {CUT_FROM: f"text on layer {NAMES} of block {self.name}"})
        within = (*self.within, self._node("layer", {"data-name": NAMES}))
        return Words(node, str(entity.dxf.text).strip(), self._place(entity.dxf.insert), within)

    def _dot(self, role: str, layer: str, place: Point, name: str | None = None) -> Shape:
        return self._shape(role, layer, circle(place, _MARK_MM), name)

    def _shape(self, role: str, layer: str, stroke: Subpath, name: str | None = None) -> Shape:
        said = {CUT_FROM: f"line on layer {layer} of block {self.name}"} | ({"data-name": name} if name else {})
        node = self._node("circle" if role in (CORNERS, "notches", "points") else "path", said)
        return Shape(node, node.tag, name, (stroke,), (*self.within, self._node("layer", {"data-name": role})))

    def _node(self, tag: str, attributes: dict[str, str]) -> Node:
        return Node(tag, {CUT_FROM: f"block {self.name}", **attributes}, 1)


def _is_chain(entity: Any) -> bool:
    """Whether it is vertices joined by straight lines, and so may be meant as a curve through them."""
    if entity.dxftype() == "POLYLINE":
        return bool(entity.is_2d_polyline) and not entity.has_arc
    return entity.dxftype() == "LWPOLYLINE" and not entity.has_arc


def _vertices(entity: Any) -> list[Any]:
    if entity.dxftype() == "POLYLINE":
        return [vertex.dxf.location for vertex in entity.vertices]
    return list(entity.get_points("xy"))


def _toward(place: Point, control: Point) -> Point:
    return Point(place.x + (control.x - place.x) * 2 / 3, place.y + (control.y - place.y) * 2 / 3)


def _closed(path: Path) -> bool:
    return path[0].start.distance(path[-1].end) <= SAME_MM


def _key(place: Point) -> tuple[int, int]:
    """Points of one key lie within 0.01 mm, as far as rounding does not part them: a file writes both alike."""
    return round(place.x / SAME_MM), round(place.y / SAME_MM)


def _is_node(seams: list[Path], place: Point) -> bool:
    return any(place.distance(segment.start) <= SAME_MM for path in seams for segment in path)


def _on_seam(lines: Any, place: Point, dx: float, dy: float) -> Point:
    here = shapely.points(*place)
    ray = shapely.linestrings([place, (place.x + dx * _LONGEST_NOTCH_MM, place.y + dy * _LONGEST_NOTCH_MM)])
    if shapely.distance(here, lines) > SAME_MM and (met := shapely.intersection(ray, lines)):
        places = shapely.get_coordinates(met)
        if len(places):
            return Point(*min(places.tolist(), key=lambda at: place.distance(Point(*at))))
    return Point(*shapely.get_coordinates(shapely.shortest_line(here, lines))[1].tolist())
