"""How the sides of cloths look, so that they are told apart in black and white: tone says the side, hatching the cloth.

The right side is grey, the wrong side white (common practice in drawings of sewing). The first cloth of a pattern has
no hatching, others have lines at 45° (ISO 128-3: hatching in thin continuous lines at 45°), interfacing has dots
(common practice).
"""

import math
from collections.abc import Iterator
from typing import Literal, NamedTuple

import numpy as np
import shapely

from pipeline.drawing import scene
from pipeline.drawing.scene import Run, Shape
from pipeline.drawing.styles import WHITE, Colour
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.model.questions import is_cut_of, owner_of

Hatching = Literal["none", "rising", "dots", "falling", "net"]
RIGHT_TONE = "#dcdcdc"
HATCH_COLOUR = "#707070"
_HATCH_MM, _STEP_MM = 0.13, 1.9
_DOT_MM, _DOT_STEP_MM = 0.5, 1.8
_AMONG: tuple[Hatching, ...] = ("rising", "falling", "net")
_ANGLES_DEG: dict[Hatching, tuple[float, ...]] = {"rising": (-45.0,), "falling": (45.0,), "net": (-45.0, 45.0)}


class Surface(NamedTuple):
    """One side of a cloth."""

    hatching: Hatching
    right: bool

    @property
    def tone(self) -> Colour:
        return RIGHT_TONE if self.right else WHITE

    @property
    def other(self) -> "Surface":
        """The side that shows where the cloth is turned over."""
        return Surface(self.hatching, not self.right)


def hatchings(pattern: Pattern) -> dict[str, Hatching]:
    """The hatching of each material: none for the first; dots where nothing that is cut of it is sewn or folded, as of
    an interfacing; lines for the others, in their order."""
    found: dict[str, Hatching] = {}
    others = iter(_AMONG * len(pattern.materials))
    for position, name in enumerate(pattern.materials):
        found[name] = "none" if not position else "dots" if _lies_flat(pattern, name) else next(others)
    return found


def _lies_flat(pattern: Pattern, material: str) -> bool:
    sewn = {step.piece for seam in pattern.seams.values() for step in (*seam.a, *seam.b)}
    pieces = {name for name, piece in pattern.pieces.items() if is_cut_of(piece.cut, material)}
    makes = {strip.make for strip in pattern.strips.values() if is_cut_of(strip.cut, material)}
    return not pieces & sewn and makes <= {"flat"}


def surface_of(pattern: Pattern, name: str, right: bool = True) -> Surface:
    """A side of the first cloth that a piece or strip is cut of."""
    owner = owner_of(pattern, name)
    material = owner.cut[0].material if owner.cut else next(iter(pattern.materials))
    return Surface(hatchings(pattern)[material], right)


def filled(area: shapely.Geometry, surface: Surface) -> Iterator[Shape]:
    """An area in the look of a side of a cloth, without its outline."""
    for part in polygons(area):
        yield scene.path(rings(part), None, surface.tone)
        if surface.hatching == "dots":
            yield from _dots(part)
        for angle_deg in _ANGLES_DEG.get(surface.hatching, ()):
            yield scene.strokes(_lines(part, angle_deg), HATCH_COLOUR, _HATCH_MM)


def polygons(area: shapely.Geometry) -> list[shapely.Polygon]:
    """The polygons of whatever shape, slivers left out."""
    parts = shapely.get_parts(area)
    return [part for part in parts if part.geom_type == "Polygon" and part.area > 0.01]


def rings(polygon: shapely.Polygon) -> list[Run]:
    """The outline of a polygon and of its holes."""
    return [
        Run(tuple(Point(x, y) for x, y in ring.coords[:-1]), closed=True)
        for ring in (polygon.exterior, *polygon.interiors)
    ]


def stretches(lines: shapely.Geometry) -> list[tuple[Point, ...]]:
    """The lines of whatever shape, as points."""
    return [
        tuple(Point(x, y) for x, y in part.coords)
        for part in shapely.get_parts(shapely.line_merge(lines) if lines.geom_type == "MultiLineString" else lines)
        if part.geom_type in ("LineString", "LinearRing") and part.length > 1e-3
    ]


def _lines(polygon: shapely.Polygon, angle_deg: float) -> list[tuple[Point, ...]]:
    """Parallel strokes that keep to one grid over the whole figure, so that hatching runs on from area to area."""
    along = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    across = -along[1], along[0]
    corners = shapely.get_coordinates(polygon)
    off, reach = corners @ np.array(across), corners @ np.array(along)
    steps = np.arange(math.floor(off.min() / _STEP_MM), math.ceil(off.max() / _STEP_MM) + 1) * _STEP_MM
    ends = (reach.min() - 1, reach.max() + 1)
    strokes = [[(across[0] * d + along[0] * t, across[1] * d + along[1] * t) for t in ends] for d in steps]
    return stretches(shapely.MultiLineString(strokes).intersection(polygon))


def _dots(polygon: shapely.Polygon) -> Iterator[Shape]:
    left, top, right, bottom = polygon.buffer(-_DOT_MM).bounds if not polygon.buffer(-_DOT_MM).is_empty else (0,) * 4
    rows = np.arange(math.floor(top / _DOT_STEP_MM), math.ceil(bottom / _DOT_STEP_MM) + 1)
    places = [
        ((column + (row % 2) / 2) * _DOT_STEP_MM, row * _DOT_STEP_MM)
        for row in rows
        for column in np.arange(math.floor(left / _DOT_STEP_MM), math.ceil(right / _DOT_STEP_MM) + 1)
    ]
    inner = polygon.buffer(-_DOT_MM)
    shapely.prepare(inner)
    half = _DOT_MM / 2
    runs = [
        Run((Point(x - half, y), Point(x, y - half), Point(x + half, y), Point(x, y + half)), closed=True)
        for (x, y), within in zip(places, shapely.covers(inner, shapely.points(places)), strict=True)
        if within
    ]
    if runs:
        yield scene.path(runs, None, HATCH_COLOUR)
