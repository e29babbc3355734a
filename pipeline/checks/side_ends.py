"""The ends of a seam's sides: the corner of each piece there, and the edge beside the seam."""

from itertools import pairwise
from typing import NamedTuple

from pipeline.checks.corners import corner_deg, neighbour
from pipeline.checks.garment import Garment
from pipeline.checks.seam_walk import Direction
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import CutEdge, CutPiece


class SideEnd(NamedTuple):
    """One side of a seam at one of its ends: the piece, the edge, and whether this is the edge's last point."""

    cut: CutPiece
    edge: str
    last: bool

    @property
    def beside(self) -> CutEdge:
        """The edge beside the seam."""
        return self.cut.edge(neighbour(self.cut, self.edge, self.last).name)

    @property
    def beside_mm(self) -> float:
        """The allowance of the edge beside the seam, at the corner."""
        return self.beside.allowance_at(0.0 if self.last else 1.0)

    @property
    def place(self) -> tuple[str, str]:
        """Piece and name of the edge beside the seam."""
        return self.cut.piece, self.beside.name

    @property
    def deg(self) -> float:
        """The interior angle of the corner."""
        return corner_deg(self.cut, self.edge, self.last)


def seam_end(garment: Garment, seam: Seam, way: Direction, size: str, at_end: bool) -> tuple[SideEnd, SideEnd]:
    """Both sides of a seam at its start or end, in one size."""
    one, two = side_ends(seam, way, at_end)
    return side_end(garment, size, at_end, *one), side_end(garment, size, at_end, *two)


def side_end(garment: Garment, size: str, at_end: bool, step: SideEdge, turned: bool) -> SideEnd:
    """An edge at the end (or start) of its stretch of a side; `turned` where it runs against its outline's order."""
    return SideEnd(garment.cuts[step.piece][size], step.edge, at_end != turned)


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
