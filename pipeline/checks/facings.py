"""Facings under buttonholes: one that ends beneath a buttonhole leaves its end in a single layer of cloth."""

from collections.abc import Iterator
from typing import NamedTuple

import shapely

from pipeline.checks.button_marks import ButtonMark, button_marks
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.geometry.chains import coordinates
from pipeline.geometry.curves import flattened, path_length_mm, point_along
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import CutEdge, CutPiece

_NEAR_MM = 30.0
_PAST_MM = 0.5
_FAR_MM = 1000.0
_ALIKE_MM = 3.0
_NAMED = "facing"


class _Hole(NamedTuple):
    """A buttonhole beside an edge: how far into the piece it reaches, and how far along the edge that is."""

    name: str
    deep_mm: float
    along_mm: float


@CHECKS.register(
    id="button-facings",
    title="A facing reaches past the buttonholes that are worked through it",
    rationale="A buttonhole of which one end lies beside its facing is worked in one layer there, and tears out.",
    remedy="widen the facing, or move the buttonholes nearer to the edge",
    severity="warn",
    source=f"buttonholes that begin within {_NEAR_MM:g} mm of the edge, whole on its facing: common practice",
)
def button_facings(garment: Garment) -> Iterator[Outcome]:
    """Buttonholes of an edge onto which a facing is grown, or to which one is sewn: a piece that is called facing, or
    of a seam that says so, from an edge of the same name. The one that reaches farthest past it is told."""
    for size in garment.pattern.sizes:
        for piece in dict.fromkeys(mark.piece for mark in button_marks(garment, size)):
            marks = [mark for mark in button_marks(garment, size) if mark.piece == piece and mark.slit]
            cut = garment.cuts[piece][size]
            for edge in (edge for edge in cut.edges if _is_faced(garment, cut, edge)):
                holes = list(_holes(cut, edge, marks))
                past = [
                    (hole.deep_mm - wide, hole, by) for hole in holes for wide, by in _wide(garment, cut, edge, hole)
                ]
                if past and max(past)[0] > _PAST_MM:
                    yield _told(cut, edge, *max(past))


def _holes(cut: CutPiece, edge: CutEdge, marks: list[ButtonMark]) -> Iterator[_Hole]:
    line = shapely.LineString(coordinates(flattened(cut.drawn.edge(edge.name).path)))
    for mark in marks:
        ends = shapely.points(mark.slit or ())
        deep_mm = shapely.distance(ends, line)
        if deep_mm.min() <= _NEAR_MM:
            deepest = int(deep_mm.argmax())
            along_mm = float(shapely.line_locate_point(line, ends[deepest]))
            yield _Hole(mark.name, float(deep_mm[deepest]), along_mm)


def _wide(garment: Garment, cut: CutPiece, edge: CutEdge, hole: _Hole) -> Iterator[tuple[float, str]]:
    """How wide facings lie beside the edge where a buttonhole is, and what each is."""
    length_mm = path_length_mm(cut.drawn.edge(edge.name).path)
    share = hole.along_mm / length_mm
    grown = edge.grown_at(share)
    if grown is not None:
        yield grown.width_mm + grown.wider_mm(share), "what is folded back there"
    for seam in garment.pattern.seams.values() if grown is None else ():
        for step in _facings(seam, cut.piece, edge.name):
            facing = garment.cut(step.piece, cut.size)
            path = facing.drawn.edge(step.edge).path if facing is not None else ()
            if facing is not None and abs(path_length_mm(path) - length_mm) <= _ALIKE_MM:
                yield _width_mm(facing, step.edge, hole.along_mm, length_mm), step.piece


def _is_faced(garment: Garment, cut: CutPiece, edge: CutEdge) -> bool:
    seams = garment.pattern.seams.values()
    return bool(edge.grown_on) or any(True for seam in seams for _ in _facings(seam, cut.piece, edge.name))


def _facings(seam: Seam, piece: str, edge: str) -> Iterator[SideEdge]:
    """The edges of facings that a seam sews to a whole edge: of its name, as both have their other edges in order."""
    for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)):
        if any((step.piece, step.edge, step.part) == (piece, edge, None) for step in mine):
            yield from (
                step
                for step in theirs
                if step.edge == edge and step.part is None and (seam.facing or _NAMED in step.piece.split("-"))
            )


def _width_mm(facing: CutPiece, edge: str, along_mm: float, length_mm: float) -> float:
    """How far a facing reaches in from a place of its edge, square to it; the wider, counted from either end."""
    path, cloth = facing.drawn.edge(edge).path, shapely.Polygon(coordinates(facing.seam_drawn))
    wide = []
    for at_mm in (along_mm, length_mm - along_mm):
        place, run = point_along(path, at_mm)
        inward = (-run.dy, run.dx)  # outlines run clockwise on the page, whose y points down
        ends = [(place.x + inward[0] * mm, place.y + inward[1] * mm) for mm in (_PAST_MM, _FAR_MM)]
        ray = shapely.LineString(ends).intersection(cloth.boundary)
        wide.append(shapely.Point(place).distance(ray) if not ray.is_empty else _FAR_MM)
    return max(wide)


def _told(cut: CutPiece, edge: CutEdge, past_mm: float, hole: _Hole, facing: str) -> Outcome:
    return Outcome(
        code="past-facing",
        size=cut.size,
        piece=cut.piece,
        where=edge.name,
        file=cut.drawn.file,
        object=hole.name,
        found=f"{hole.deep_mm:.1f} mm from the edge {edge.name}",
        allowed=f"up to {hole.deep_mm - past_mm:.1f} mm, as wide as {facing} is",
        message=f"{hole.name} of {cut.piece} reaches {past_mm:.1f} mm past {facing}",
    )
