"""Linings that are sewn to the raw edge of a hem, and gaps to turn a seam through, of `pattern.toml`."""

from msgspec import UNSET

from pipeline.masters.toml.document import SeamTable
from pipeline.masters.toml.faults import KeyPath, item
from pipeline.masters.toml.leaves import Leaves
from pipeline.model.pattern import SideEdge

_LEAST_GAP_MM = 20.0
"""Nothing larger than a cord can be turned through less (estimated)."""
_Side = tuple[SideEdge, ...]


def check_bagged(leaves: Leaves, path: KeyPath, table: SeamTable, a: _Side, b: _Side) -> None:
    """Tell of a bagged seam whose side b is no hem: it has no raw edge to sew to."""
    if table.kind != "bagged" or not leaves.faults.whole(path):
        return
    for position, step in enumerate(b):
        if not _is_hem(leaves, step):
            swapped = all(_is_hem(leaves, other) for other in a)
            message = f"is {step.piece}.{step.edge}, which is no hem: side b is what is turned up, side a its lining."
            remedy = f"Say hem = true, and its depth, of pieces.{step.piece}.edges.{step.edge}."
            remedy = "Let a and b change places." if swapped else remedy
            found, allowed = f"{step.piece}.{step.edge}", "an edge with hem = true"
            leaves.faults.tell(
                (*path, "b", item(position)), "bagged-no-hem", message, remedy, found=found, allowed=allowed
            )


def _is_hem(leaves: Leaves, step: SideEdge) -> bool:
    """Whether an edge says that it is a hem. Of a piece that is not declared, derived or at fault nothing is known."""
    piece = leaves.document.pieces.get(step.piece)
    if piece is None or piece.outline_of is not UNSET or not leaves.faults.whole(("pieces", step.piece)):
        return True
    return step.edge in piece.edges and piece.edges[step.edge].hem


def convert_gap(leaves: Leaves, path: KeyPath, table: SeamTable) -> float | None:
    """The gap that is left in a seam to turn it through; None where none is said."""
    if table.turn_through is UNSET:
        return None
    below = (*path, "turn_through")
    if table.kind == "lining" and leaves.faults.whole(path):
        message = 'is said beside kind = "lining", which is sewn nowhere.'
        remedy = "Say it of the seam that is closed last."
        leaves.faults.tell(
            below, "gap-unsewn", message, remedy, found=table.turn_through, allowed="a seam that is sewn"
        )
    return leaves.length(below, table.turn_through, _LEAST_GAP_MM)
