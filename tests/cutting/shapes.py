"""Pieces for the tests of the cutting room, and the patterns that they belong to."""

import math
from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from pipeline.cutting.cut import cut_piece
from pipeline.geometry.curves import Arc, Cubic, Line, Path, point_along
from pipeline.geometry.points import Point, Vector
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import EdgeSpec, NotchStyle, PieceSpec
from pipeline.model.pieces import CutPiece, DrawnPiece, Edge, GrainLine, Notch, Polyline

SIZE = "36"
Place = tuple[float, float]


def pattern_of(*specs: PieceSpec, strips: dict | None = None) -> Pattern:
    return Pattern(
        name="test",
        title={"en": "Test"},
        version="1.0.0",
        maker={},
        contact={},
        sizes=(SIZE,),
        base=SIZE,
        bands=(),
        languages=("en",),
        units="metric",
        wearer="adult",
        sleepwear=False,
        licence={},
        pieces={spec.name: spec for spec in specs},
        strips=strips or {},
    )


def spec_of(name: str = "piece", allowance_mm: float | None = 10.0, **rest) -> PieceSpec:
    return PieceSpec(name=name, title={"en": name}, number=1, sizes=(SIZE,), allowance_mm=allowance_mm, **rest)


def drawn_of(edges: dict[str, Path], notches: tuple[Notch, ...] = (), name: str = "piece") -> DrawnPiece:
    return DrawnPiece(
        piece=name,
        size=SIZE,
        file=f"sizes/{SIZE}/{name}.svg",
        edges=tuple(Edge(edge, path) for edge, path in edges.items()),
        notches=notches,
        grain=GrainLine(Point(0, 10), Point(0, 0)),
        anchor=Point(0, 0),
    )


def straight(*places: Place) -> Path:
    return tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(places))


def curve(*places: Place) -> Path:
    return (Cubic(*(Point(*place) for place in places)),)


def arc(centre: Place, radius: float, start_deg: float, sweep_deg: float) -> Path:
    """Part of a circle; a positive sweep is clockwise on the page."""
    u, v = Vector(radius, 0.0), Vector(0.0, radius)
    return (Arc(Point(*centre), u, v, math.radians(start_deg), math.radians(sweep_deg)),)


def polygon(places: Sequence[Place]) -> dict[str, Path]:
    """Edges e0, e1, … between places that are walked clockwise on the page."""
    return {f"e{i}": straight(place, places[(i + 1) % len(places)]) for i, place in enumerate(places)}


def notch(edges: dict[str, Path], edge: str, at_mm: float, style: NotchStyle = "single", name: str = "n") -> Notch:
    return Notch(name, edge, at_mm, point_along(edges[edge], at_mm)[0], style)


def cut(
    edges: dict[str, Path],
    specs: dict[str, EdgeSpec] | None = None,
    allowance_mm: float | None = 10.0,
    notches: tuple[Notch, ...] = (),
) -> tuple[CutPiece | None, tuple[Finding, ...]]:
    spec = spec_of(allowance_mm=allowance_mm, edges=specs or {})
    return cut_piece(pattern_of(spec), drawn_of(edges, notches))


def clean(
    edges: dict[str, Path],
    specs: dict[str, EdgeSpec] | None = None,
    allowance_mm: float | None = 10.0,
    notches: tuple[Notch, ...] = (),
) -> CutPiece:
    """A cut piece of which there is nothing to tell."""
    piece, findings = cut(edges, specs, allowance_mm, notches)
    assert findings == ()
    assert piece is not None
    return piece


def codes(findings: Sequence[Finding]) -> set[str]:
    return {finding.code for finding in findings}


def array(line: Polyline) -> np.ndarray:
    return np.array(line, dtype=float)


def has_point(line: Polyline, x: float, y: float, within_mm: float = 1e-4) -> bool:
    return bool((np.hypot(*(array(line) - (x, y)).T) < within_mm).any())


def turns_back(line: Polyline) -> bool:
    """Whether a closed outline has a hairline crack or spike: a point where it turns back on itself."""
    ring = array(line)
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    lengths = np.hypot(*before.T) * np.hypot(*after.T)
    return bool((np.einsum("ij,ij->i", before, after) < -math.cos(math.radians(0.5)) * lengths).any())
