"""Pieces on the fold: what meets the fold does so square, or the opened piece has a peak or a dent there."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import corner_deg, neighbour
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_ends import ANGLE_LIMIT_DEG
from pipeline.checks.seam_way import walked_seams
from pipeline.checks.sewn_points import POINT_DEG, filling, on_mirror
from pipeline.checks.side_ends import SideEnd, seam_end

SQUARE_DEG = 1.5
_SLIP_DEG = 8.0
"""An edge that is off by less was meant to be square, whatever it is sewn to; from memory."""


@CHECKS.register(
    id="fold-square",
    title="The seam line meets a fold at a right angle",
    rationale="Opened, an edge that is not square to the fold makes a point: right for a V-neck, wrong for a hem.",
    remedy="make the edge square to the fold at its end; draw a point that is meant in its partner too, or waive it",
    severity="warn",
    source=f"90 degrees, within {SQUARE_DEG:g}, half of what two joined corners may miss: common practice, from memory",
)
def fold_square(garment: Garment) -> Iterator[Outcome]:
    """The corners at both ends of every fold edge, but for points that the piece sewn there has as well."""
    meant = _points_meant(garment)
    for _, cut in garment.each():
        for fold in cut.edges:
            for at_end in (False, True) if fold.fold and len(cut.edges) > 1 else ():
                found = corner_deg(cut, fold.name, at_end)
                beside = neighbour(cut, fold.name, at_end).name
                if abs(found - 90) > SQUARE_DEG and (cut.piece, cut.size, fold.name, at_end) not in meant:
                    yield Outcome(
                        code="not-square",
                        size=cut.size,
                        piece=cut.piece,
                        where=beside,
                        file=cut.drawn.file,
                        object=beside,
                        found=f"{found:.1f} degrees",
                        allowed=f"90 ± {SQUARE_DEG:g} degrees",
                        message=f"{cut.piece}.{beside} meets the fold {fold.name} at {found:.1f} degrees",
                    )


def _points_meant(garment: Garment) -> set[tuple[str, str, str, bool]]:
    """Piece, size, fold and end of every corner at a fold that the other piece of its seam agrees with."""
    found = set()
    for seam, way, size in walked_seams(garment):
        for at_end in (False, True) if seam.kind == "sewn" else ():
            one, two = seam_end(garment, seam, way, size, at_end)
            for end, other in ((one, two), (two, one)):
                if end.beside.fold and _is_meant(garment, end, other):
                    found.add((end.cut.piece, size, end.beside.name, not end.last))
    return found


def _is_meant(garment: Garment, end: SideEnd, other: SideEnd) -> bool:
    """Whether the corner at a fold is a point that the other piece lets in (a gusset, a yoke) or lies on (a facing)."""
    if abs(end.deg - 90) <= _SLIP_DEG or not on_mirror(garment, other):
        return False
    filled = filling(garment, end, other)
    let_in = filled is not None and filled.by == "itself" and 2 * end.deg <= POINT_DEG
    runs_on, lies_on = abs(end.deg + other.deg - 180), abs(end.deg - other.deg)
    return let_in or min(runs_on, lies_on) <= ANGLE_LIMIT_DEG
