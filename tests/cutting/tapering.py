"""Edges whose allowance tapers, curves to try them on, and pieces made of others, for tests."""

import msgspec
import numpy as np
import shapely

from pipeline.cutting.cut import cut_piece
from pipeline.geometry.curves import Path, flattened
from pipeline.model.piece_specs import EdgeSpec, PieceSpec
from pipeline.model.pieces import CutPiece, Notch
from tests.cutting.shapes import (
    array,
    curve,
    drawn_of,
    pattern_of,
    polygon,
    spec_of,
    straight,
)

BOX = polygon([(0, 0), (200, 0), (200, 300), (0, 300)])
"""e0 runs along the top, e1 down the right side, e2 back along the bottom, e3 up the left side."""


CURVES = {
    "outward": curve((200, 0), (260, 100), (250, 200), (200, 300)),
    "inward": curve((200, 0), (150, 100), (160, 200), (200, 300)),
    "s": curve((200, 0), (280, 90), (130, 210), (200, 300)),
    "seat": (*straight((200, 0), (190, 180)), *curve((190, 180), (187, 240), (200, 290), (260, 300))),
}


def taper(start_mm: float, end_mm: float, **rest) -> EdgeSpec:
    return EdgeSpec(allowance_mm=start_mm, allowance_end_mm=end_mm, **rest)


def off_mm(piece, name: str, path, start_mm: float, end_mm: float, ends_mm: float) -> np.ndarray:
    """How far each point of a cut line, but those beside the ends, lies from the width where its foot is."""
    fine = array(flattened(path, 0.0001))
    seam = shapely.LineString(fine)
    (line,) = piece.edge(name).cut_line
    places = shapely.points(shapely.get_coordinates(shapely.segmentize(shapely.LineString(line), 1.0)))
    feet = shapely.line_locate_point(seam, places)
    inner = (feet > ends_mm) & (feet < seam.length - ends_mm)
    widths = start_mm + (end_mm - start_mm) * feet / seam.length
    return np.abs(shapely.distance(seam, places) - widths)[inner]


def derived_of(source: PieceSpec, edges: dict[str, Path], notches: tuple[Notch, ...] = (), **how) -> CutPiece:
    """A piece made of another one, of which there is nothing to tell."""
    fusing = msgspec.structs.replace(spec_of("fusing", None), source="piece", **how)
    made, findings = cut_piece(pattern_of(source, fusing), drawn_of(edges, notches, name="fusing"))
    assert made is not None
    assert findings == ()
    return made
