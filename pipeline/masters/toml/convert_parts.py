"""What a derived piece takes of its source, where that is a part of it."""

import msgspec
from msgspec import UNSET

from pipeline.masters.toml.convert_edges import convert_edge
from pipeline.masters.toml.document import PieceTable
from pipeline.masters.toml.document_edges import EdgeTable
from pipeline.masters.toml.faults import KeyPath, did_you_mean, shown
from pipeline.masters.toml.leaves import Leaves
from pipeline.model.piece_specs import EdgeSpec, PiecePart


def part_of(leaves: Leaves, path: KeyPath, table: PieceTable) -> PiecePart | None:
    """The lines at which it ends; None where the whole source is taken, or it is not said which part."""
    tell, whole = leaves.faults.tell, leaves.faults.whole
    if table.upto is not UNSET and table.between is not UNSET:
        message, remedy = "stands beside upto; only one of them can be.", "Keep upto or between."
        tell((*path, "between"), "upto-and-between", message, remedy, found="both", allowed="one of them")
    if table.upto is not UNSET and whole((*path, "upto")):
        upto = table.upto
        if upto.keep == upto.line:
            message = f"is {shown(upto.keep)}, the line itself: both sides have that edge."
            remedy = "Name an edge of the piece that lies on the side to keep."
            tell((*path, "upto", "keep"), "keep-the-line", message, remedy, found=upto.keep, allowed="another edge")
        return PiecePart((upto.line,), upto.keep)
    if table.between is UNSET or not whole((*path, "between")):
        return None
    lines = leaves.each_once((*path, "between"), table.between, lambda below, name: None)
    return PiecePart(lines) if len(lines) == 2 else None


def edges_of_part(leaves: Leaves, path: KeyPath, table: PieceTable, part: PiecePart | None) -> dict[str, EdgeSpec]:
    """What is said of the new edges, along the lines: their allowance, and nothing else."""
    edges: dict[str, EdgeSpec] = {}
    if part is None:
        return edges
    for name, told in table.edges.items():
        below = (*path, "edges", name)
        if name not in part.lines and leaves.faults.whole((*path, "edges")):
            message = f"is an edge of {shown(str(table.outline_of))}, whose allowance it keeps."
            remedy = did_you_mean(name, part.lines)
            leaves.faults.tell(below, "not-on-derived", message, remedy, found=name, allowed=", ".join(part.lines))
            continue
        extra = [
            field.name
            for field in msgspec.structs.fields(EdgeTable)
            if field.name != "allowance" and getattr(told, field.name) != field.default
        ]
        for key in extra:
            message, remedy = "is more than an edge along a line can say.", "Say its allowance alone."
            leaves.faults.tell((*below, key), "only-allowance", message, remedy, found=key, allowed="allowance")
        if not extra:
            spec = convert_edge(leaves, below, name, told)
            if spec.allowance_end_mm is not None:
                message, remedy = "tapers along a line.", "Give it one allowance."
                allowed = "one allowance"
                leaves.faults.tell((*below, "allowance"), "only-allowance", message, remedy, allowed=allowed)
            edges[name] = spec
    return edges
