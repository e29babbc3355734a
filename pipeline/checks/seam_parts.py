"""The part of an edge that lies in a side of a seam: between two of its notches, or from one of its ends."""

from pipeline.geometry.curves import Path
from pipeline.geometry.parts import part_of
from pipeline.model.edge_places import SAME_MM, place_mm
from pipeline.model.pattern import SideEdge
from pipeline.model.pieces import CutPiece

Reach = tuple[float, float]


def reach_mm(cut: CutPiece, step: SideEdge) -> Reach | None:
    """Where on its edge a step begins and ends as the seam runs, in mm from the edge's first point, darts counted; a
    whole edge from first to last. None where the piece lacks the edge or a place, or has two places of a name."""
    if all(edge.name != step.edge for edge in cut.edges):
        return None
    if step.part is None:
        return 0.0, cut.edge(step.edge).gross_length_mm
    start, end = (place_mm(cut.drawn, step.edge, name) for name in (step.part.start, step.part.end))
    return None if start is None or end is None or abs(end - start) <= SAME_MM else (start, end)


def known_reach_mm(cut: CutPiece, step: SideEdge) -> Reach:
    """The reach of a step that is there, lower place first. Raises KeyError where it is not."""
    reach = reach_mm(cut, step)
    if reach is None:
        raise KeyError(f"{step.piece}.{step.edge}")
    return min(reach), max(reach)


def runs_back(cut: CutPiece, step: SideEdge) -> bool:
    """Whether a part runs against its outline's walking order. Raises KeyError."""
    reach = reach_mm(cut, step)
    if reach is None:
        raise KeyError(f"{step.piece}.{step.edge}")
    return reach[0] > reach[1]


def ends_within(cut: CutPiece, step: SideEdge, last: bool) -> bool:
    """Whether a step ends within its edge, where the cloth goes on beside the seam, and not at a corner of the piece;
    `last` asks for the end that is nearer to the edge's last point."""
    if step.part is None:
        return False
    low, high = known_reach_mm(cut, step)
    return high < cut.edge(step.edge).gross_length_mm - SAME_MM if last else low > SAME_MM


def path_of(cut: CutPiece, step: SideEdge) -> Path:
    """The seam line of a step, in its outline's walking order. Raises KeyError."""
    path = cut.drawn.edge(step.edge).path
    return path if step.part is None else part_of(path, *known_reach_mm(cut, step))


def step_text(step: SideEdge) -> str:
    """A step in the words of `pattern.toml`."""
    return f"{step.piece}.{step.edge}{step.part.text if step.part else ''}"


def narrowest_mm(cut: CutPiece, step: SideEdge) -> float:
    """The narrowest allowance along a step. Raises KeyError where it is not there."""
    edge, (low, high) = cut.edge(step.edge), known_reach_mm(cut, step)
    ends = [low / edge.gross_length_mm, high / edge.gross_length_mm]
    inner = [share for share, _ in edge.allowances if ends[0] < share < ends[1]]
    return min(edge.allowance_at(share) for share in (*ends, *inner))
