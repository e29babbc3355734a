"""How many of a notion `pattern.toml` says: a number, one a size, or the marks on pieces."""

from itertools import combinations

from msgspec import UNSET

from pipeline.masters.toml.document import NotionTable
from pipeline.masters.toml.faults import KeyPath, shown
from pipeline.masters.toml.leaves import Leaves
from pipeline.model.mark_sums import MarkSum, is_called
from pipeline.model.questions import share_a_view


def typed_count(leaves: Leaves, path: KeyPath, table: NotionTable) -> dict[str, int] | None:
    """The count by size where numbers say it; None where nothing or marks do."""
    if table.count is UNSET or isinstance(table.count, str):
        return None
    return leaves.counts((*path, "count"), table.count, leaves.sizes)


def counted_marks(leaves: Leaves, path: KeyPath, table: NotionTable) -> MarkSum | None:
    """The marks that are counted; None where nothing or numbers say how many."""
    if not isinstance(table.count, str):
        return None
    below = (*path, "count")
    total = leaves.marks(below, table.count)
    if total is not None and leaves.faults.whole(path):
        _check_views(leaves, below, table, total)
        _check_once(leaves, below, total)
    return total


def _check_views(leaves: Leaves, path: KeyPath, table: NotionTable, total: MarkSum) -> None:
    """Tell of pieces that no view of the notion has: their marks would never be counted."""
    own = () if table.views is UNSET else table.views
    for piece in dict.fromkeys(piece for piece, _ in total.named if piece in leaves.document.pieces):
        views = leaves.document.pieces[piece].views
        theirs = () if views is UNSET else views
        if leaves.faults.whole(("pieces", piece, "views")) and not share_a_view(own, theirs):
            message = f"counts marks of {shown(piece)}, which is in no view of this notion."
            remedy = f"Take {piece} out of the count, or give the notion its view."
            leaves.faults.tell(
                path, "piece-of-no-view", message, remedy, found=", ".join(theirs), allowed=", ".join(own)
            )


def _check_once(leaves: Leaves, path: KeyPath, total: MarkSum) -> None:
    """Tell of marks that two terms count: a name stands for the numbered ones too."""
    for (piece, one), (other_piece, other) in combinations(total.named, 2):
        if piece == other_piece and (is_called(one, other) or is_called(other, one)):
            message = f"counts marks of {shown(piece)} twice: {shown(one)} and {shown(other)}."
            remedy = f'Take one of the two out: "{piece}.button" stands for button-1 and on, too.'
            remedy = remedy if one != other else f'Take one of the two out, or write "2 x {piece}.{one}".'
            found = f"{piece}.{one}, {piece}.{other}"
            leaves.faults.tell(path, "counted-twice", message, remedy, found=found, allowed="each mark once")
