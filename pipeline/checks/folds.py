"""Pieces on the fold: what meets the fold does so square, or the opened piece has a peak or a dent there."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import corner_deg, neighbour
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome

SQUARE_DEG = 1.5


@CHECKS.register(
    id="fold-square",
    title="The seam line meets a fold at a right angle",
    rationale="Opened, an edge that is not square to the fold makes a point: right for a V-neck, wrong for a hem.",
    remedy="make the edge square to the fold for its first few millimetres, or waive this for a point that is meant",
    severity="warn",
    source=f"90 degrees, within {SQUARE_DEG:g}, half of what two joined corners may miss: common practice, from memory",
)
def fold_square(garment: Garment) -> Iterator[Outcome]:
    """The corners at both ends of every fold edge."""
    for _, cut in garment.each():
        for fold in cut.edges:
            for at_end in (False, True) if fold.fold and len(cut.edges) > 1 else ():
                found = corner_deg(cut, fold.name, at_end)
                beside = neighbour(cut, fold.name, at_end).name
                if abs(found - 90) > SQUARE_DEG:
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
