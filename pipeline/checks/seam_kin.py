"""Which way a seam runs by what lies beside its edges: neighbours that are sewn to each other meet where it is sewn.

The end of a front's waist that meets a back's waist is the one beside the side seam; both edges of a sleeve's seam have
the cap at one end and the hem at the other. All of it is plain geometry of the pieces and of the other seams.
"""

from itertools import pairwise

from pipeline.checks.garment import Garment
from pipeline.checks.seam_walk import Direction
from pipeline.checks.sewn_points import filling, on_mirror
from pipeline.checks.side_ends import SideEnd, in_one_line, seam_end, side_end
from pipeline.model.pattern import Seam


def told_by_neighbours(garment: Garment, seam: Seam, way: Direction, size: str) -> int:
    """At how many ends and joints the edges beside the seam belong together."""
    ends = [seam_end(garment, seam, way, size, at_end) for at_end in (False, True)]
    run_on = sum(_belong_together(garment, one, two) for one, two in ends if one.at_corner and two.at_corner)
    return run_on + sum(_meet_in_a_seam(garment, one, two) for one, two in _joints(garment, seam, way, size))


def told_by_names(garment: Garment, seam: Seam, way: Direction, size: str) -> int:
    """At how many ends and joints the edges beside the seam are called alike."""
    ends = [seam_end(garment, seam, way, size, at_end) for at_end in (False, True)]
    pairs = ((one, two) for one, two in (*ends, *_joints(garment, seam, way, size)) if one.at_corner and two.at_corner)
    return sum(one.beside.name == two.beside.name for one, two in pairs)


def joints_off_deg(garment: Garment, seam: Seam, way: Direction, size: str) -> int:
    """How far the corners at all joints miss a straight line, in tens of degrees: a side is one line as it is sewn."""
    joints = _joints(garment, seam, way, size)
    return round(sum(abs(one.deg + two.deg - 180) for one, two in joints) / 10)


def _joints(garment: Garment, seam: Seam, way: Direction, size: str) -> list[tuple[SideEnd, SideEnd]]:
    """Where an edge of a side ends at a corner and the next begins, but for those that share a corner of one piece."""
    found = []
    for side, turned in ((seam.a, way.a), (seam.b, way.b)):
        for (one, one_turned), (two, two_turned) in pairwise(zip(side, turned, strict=True)):
            pair = side_end(garment, size, True, one, one_turned), side_end(garment, size, False, two, two_turned)
            meet = one.piece == two.piece and pair[0].beside.name == two.edge
            if pair[0].at_corner and pair[1].at_corner and not meet:
                found.append(pair)
    return found


def _belong_together(garment: Garment, one: SideEnd, two: SideEnd) -> bool:
    """Whether two edges belong together once the seam between them is sewn: as one line, or round one point.

    Both may lie on the wearer's middle, as folds and seams to the own mirror image do, or be sewn to each other, or to
    both edges of one corner, as that of a gusset.
    """
    middle = on_mirror(garment, one) and on_mirror(garment, two)
    return in_one_line(garment, one, two) or middle or filling(garment, one, two) is not None


def _meet_in_a_seam(garment: Garment, one: SideEnd, two: SideEnd) -> bool:
    """Whether two edges beside a joint are sewn to each other (or to their own mirror image), or are one fold."""
    partners = garment.once("partners", lambda: _partners(garment))
    return (one.place == two.place and one.beside.fold) or two.place in partners.get(one.place, ())


def _partners(garment: Garment) -> dict[tuple[str, str], set[tuple[str, str]]]:
    """For each edge those of the other side of its seams."""
    found: dict[tuple[str, str], set[tuple[str, str]]] = {}
    for seam in garment.pattern.seams.values():
        for own, other in ((seam.a, seam.b), (seam.b, seam.a)):
            for step in own if seam.kind == "sewn" else ():
                found.setdefault((step.piece, step.edge), set()).update((two.piece, two.edge) for two in other)
    return found
