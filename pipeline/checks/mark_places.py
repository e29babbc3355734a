"""Marks that lie off their piece: a button or pocket that was not moved when the piece became smaller."""

from collections.abc import Iterator

import numpy as np
import shapely

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.geometry.chains import coordinates
from pipeline.geometry.points import Point
from pipeline.model.pieces import CutPiece

_OFF_MM = 1.0


@CHECKS.register(
    id="mark-inside",
    title="Points, buttonholes and inside lines lie within their piece",
    rationale="A mark in the allowance is sewn over; one beside the piece is on no cloth, and nobody finds its place.",
    remedy="move the mark into the piece, or draw that size's piece large enough for it",
    severity="block",
    source=f"within the seam line, lines the cut line, by {_OFF_MM:g} mm: common practice, the limit from memory",
)
def mark_inside(garment: Garment) -> Iterator[Outcome]:
    """A piece on the fold is opened. A point in an allowance can be meant, as of a fastener in a hem: it warns."""
    for spec, cut in garment.each():
        marks = list(_marks(cut)) if spec.source is None else []
        rings = (coordinates(ring) for ring in (cut.cut_outline, cut.seam_outline))
        cloth, sewn = map(shapely.Polygon, rings) if marks else (None, None)
        for name, places, is_line in marks:
            at = shapely.points(places)
            # what is sewn or level from edge to edge may run on past them, as a stitching line across a hem does
            worst = np.min if is_line and spec.lines.get(name, "place") != "place" else np.max
            off_cut, off_seam = float(worst(shapely.distance(at, cloth))), float(np.max(shapely.distance(at, sewn)))
            if off_cut > _OFF_MM or (off_seam > _OFF_MM and not is_line):
                cut_off = off_cut > _OFF_MM
                yield Outcome(
                    code="outside" if cut_off else "in-allowance",
                    severity=None if cut_off else "warn",
                    size=cut.size,
                    piece=cut.piece,
                    where=name,
                    file=cut.drawn.file,
                    object=name,
                    found=f"{off_cut if cut_off else off_seam:.1f} mm outside the {'cut' if cut_off else 'seam'} line",
                    allowed="inside the cut line" if is_line else "inside the seam line",
                    message=f"{cut.piece}: {name} lies {'beside the piece' if cut_off else 'in the allowance'}",
                )


def _marks(cut: CutPiece) -> Iterator[tuple[str, tuple[Point, ...], bool]]:
    """Every mark by name: its places, and whether it is a line, which may run into an allowance."""
    for point in cut.drawn.points:
        yield point.name or "a point", point.slit or (point.place,), False
    for line in cut.drawn.inside:
        places = (line.path[0].start, *(place for one in line.path for place in (one.at(0.5), one.end)))
        yield line.name or "an inside line", places, True
