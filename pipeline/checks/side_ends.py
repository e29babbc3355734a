"""The ends of a seam's sides: the corner of each piece there, and the edge beside the seam."""

from itertools import pairwise
from typing import NamedTuple

from pipeline.checks.corners import corner_deg, neighbour
from pipeline.checks.garment import Garment
from pipeline.checks.seam_parts import ends_within, known_reach_mm
from pipeline.checks.seam_walk import Direction
from pipeline.geometry.curves import point_along
from pipeline.geometry.points import Point
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import CutEdge, CutPiece


class SideEnd(NamedTuple):
    """One side of a seam at one of its ends: the piece, the edge, and whether this is the edge's last point.

    `within_mm`: how far along its edge a part ends that does not reach a corner there; the edge itself then goes on
    beside the seam, straight on. None at a corner.
    """

    cut: CutPiece
    edge: str
    last: bool
    within_mm: float | None = None

    @property
    def at_corner(self) -> bool:
        """Whether the seam ends at a corner of the piece."""
        return self.within_mm is None

    @property
    def point(self) -> Point:
        """Where the seam ends."""
        path = self.cut.drawn.edge(self.edge).path
        if self.within_mm is not None:
            return point_along(path, self.within_mm)[0]
        return path[-1].end if self.last else path[0].start

    @property
    def beside(self) -> CutEdge:
        """The edge beside the seam."""
        return self.cut.edge(neighbour(self.cut, self.edge, self.last).name if self.at_corner else self.edge)

    @property
    def beside_mm(self) -> float:
        """The allowance of the edge beside the seam, where the seam ends."""
        if self.within_mm is not None:
            return self.beside.allowance_at(self.within_mm / self.beside.gross_length_mm)
        return self.beside.allowance_at(0.0 if self.last else 1.0)

    @property
    def on_fold(self) -> bool:
        """Whether the edge beside the seam is folded at the corner, so that it has no raw edge there."""
        return self.at_corner and self.beside.folded_at(0.0 if self.last else 1.0)

    @property
    def place(self) -> tuple[str, str]:
        """Piece and name of the edge beside the seam."""
        return self.cut.piece, self.beside.name

    @property
    def deg(self) -> float:
        """The interior angle of the corner; 180 degrees where the seam ends within an edge."""
        return corner_deg(self.cut, self.edge, self.last) if self.at_corner else 180.0


def seam_end(garment: Garment, seam: Seam, way: Direction, size: str, at_end: bool) -> tuple[SideEnd, SideEnd]:
    """Both sides of a seam at its start or end, in one size."""
    one, two = side_ends(seam, way, at_end)
    return side_end(garment, size, at_end, *one), side_end(garment, size, at_end, *two)


def side_end(garment: Garment, size: str, at_end: bool, step: SideEdge, turned: bool) -> SideEnd:
    """An edge at the end (or start) of its stretch of a side; `turned` where it runs against its outline's order."""
    cut, last = garment.cuts[step.piece][size], at_end != turned
    within_mm = known_reach_mm(cut, step)[last] if ends_within(cut, step, last) else None
    return SideEnd(cut, step.edge, last, within_mm)


def side_ends(seam: Seam, way: Direction, at_end: bool) -> tuple[tuple[SideEdge, bool], tuple[SideEdge, bool]]:
    """The edge of each side at the start (or end) of a seam, and whether it is walked against its outline's order."""
    which = -1 if at_end else 0
    return (seam.a[which], way.a[which]), (seam.b[which], way.b[which])


def sewn_edges(garment: Garment) -> frozenset[tuple[str, str]]:
    """Every edge in a sewn seam, by piece and name."""

    def make() -> frozenset[tuple[str, str]]:
        seams = (seam for seam in garment.pattern.seams.values() if seam.kind == "sewn")
        return frozenset((step.piece, step.edge) for seam in seams for step in (*seam.a, *seam.b))

    return garment.once("sewn edges", make)


def in_one_line(garment: Garment, one: SideEnd, two: SideEnd) -> bool:
    """Whether the edges beside a seam follow each other in a side of another one, so that they are one line there."""
    wanted = {(one.place, two.place), (two.place, one.place)}
    sides = (side for seam in garment.pattern.seams.values() for side in (seam.a, seam.b))
    steps = (pair for side in sides for pair in pairwise((step.piece, step.edge) for step in side))
    return one.place == two.place or any(pair in wanted for pair in steps)
