"""What else comes together where a seam ends: the ring of corners round a sewn point.

Go round such a point from corner to corner, across one seam after the other. Where the way ends at raw edges or hems,
those two run on as one line. Where it closes with three seams, as at the tip of a gusset, under a yoke with a corner
or at a godet, no two of the corners make a straight line: all of them together shape the garment, 360 degrees where it
lies flat there. Where it closes with two, one corner is set into the other, or both pieces are sewn round a corner as
a bag is. Where four seams cross, the lines run on across each; where they cross on the wearer's middle, as at the fork
of trousers, two corners of one pair and two of another shape the point together. Geometry, and the limits from memory.
"""

from typing import Literal, NamedTuple

from pipeline.checks.corners import at_corner, interior_deg
from pipeline.checks.garment import Garment
from pipeline.checks.seam_walk import is_complete, length_mm
from pipeline.checks.side_ends import SideEnd
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import worn_of

STRAIGHT_ON_DEG = 15.0
POINT_DEG = 75.0
"""A corner as narrow as this is the tip of a gusset or godet, let into a slit whose edges it spreads."""
_OPPOSITE_SHARE = 0.25

Place = tuple[str, str]


class Filling(NamedTuple):
    """What closes the ring beside the two corners of a seam, and its angle.

    `nothing more`: the edges beside the seam are sewn to each other, or lie on each other as two collars do that are
    sewn to one neck. `a corner`: that of a third piece. `a pair`: both
    corners of a third piece and its mirror image, which are sewn to each other as the seam's own are. `itself`: one
    edge is a fold and the other is sewn to its own mirror image, so the opened garment has three seams there.
    """

    by: Literal["nothing more", "a corner", "a pair", "itself"]
    deg: float = 0.0


def filling(garment: Garment, one: SideEnd, two: SideEnd) -> Filling | None:
    """What closes the ring of corners at the end of a seam with two or three seams; None where nothing does."""
    found = _opposites(garment)
    mine, theirs = found.get(one.place, frozenset()), found.get(two.place, frozenset())
    folds = one.beside.fold, two.beside.fold
    if folds != (False, False):
        other = two if folds[0] else one
        is_point = folds != (True, True) and other.place in found.get(other.place, ())
        return Filling("itself") if is_point else None
    if two.place in mine and one.beside.name != two.edge:
        return Filling("nothing more")
    if one.place != two.place and _on_one_stretch(garment, one, two):
        return Filling("nothing more")
    corners = [
        deg
        for p in sorted(mine)
        for q in sorted(theirs)
        if p[0] == q[0] and (cut := garment.cut(p[0], one.cut.size)) is not None
        for deg in _between_deg(cut, p[1], q[1], one.place == two.place)
    ]
    if len(corners) == 1:
        return Filling("a corner", corners[0])
    pairs = [deg for p in sorted(mine) for deg in _pair_deg(garment, one.cut.size, p)] if one.place == two.place else []
    return Filling("a pair", pairs[0]) if len(pairs) == 1 else None


def _on_one_stretch(garment: Garment, one: SideEnd, two: SideEnd) -> bool:
    """Whether two edges are each sewn, in a seam of its own, all along one stretch that is there no more often than
    they: all three then lie on each other. Where it is there for each of them, as a facing for both sides of a bag,
    they may go on as one line."""
    mine, theirs = (_stretches(garment, end.place) for end in (one, two))
    edges = min(_edge_count(garment, end.cut) for end in (one, two))
    return any(
        all((cut := garment.cut(step.piece, one.cut.size)) and _edge_count(garment, cut) <= edges for step in stretch)
        for stretch in mine & theirs
    )


def _stretches(garment: Garment, place: Place) -> set[tuple[SideEdge, ...]]:
    """The other sides of the seams in which a whole edge is one side by itself."""
    seams = [seam for seam in garment.pattern.seams.values() if seam.kind == "sewn"]
    sides = [pair for seam in seams for pair in ((seam.a, seam.b), (seam.b, seam.a))]
    return {
        other for own, other in sides if len(own) == 1 and own[0].part is None and (own[0].piece, own[0].edge) == place
    }


def _edge_count(garment: Garment, cut: CutPiece) -> int:
    """How many edges of a name the garment has of a piece: two of each on the fold; an interfacing is no more of it."""
    entries = garment.pattern.pieces[cut.piece].cut
    copies = max((worn_of(entry, cut.size).copies for entry in entries), default=0)
    return copies * (2 if cut.fold is not None else 1)


def on_mirror(garment: Garment, end: SideEnd) -> bool:
    """Whether the edge beside a seam is a fold, or sewn to its own mirror image: it lies on the wearer's middle."""
    return end.beside.fold or end.place in _opposites(garment).get(end.place, ())


def _between_deg(cut: CutPiece, one: str, two: str, own_mirror: bool) -> list[float]:
    """The corners between two edges of a piece; with its mirror image where the fold is what parts the two."""
    names = {edge.name for edge in cut.edges}
    if not {one, two} <= names or len(names) < 3:
        return []
    found = []
    for at_end in (False, True):
        before, after = at_corner(cut, one, at_end)
        beside = after if at_end else before
        if one != two and beside.name == two:
            found.append(interior_deg(before, after))
        elif one == two and own_mirror and cut.edge(beside.name).fold:
            found.append(2 * interior_deg(before, after))
    return found


def _pair_deg(garment: Garment, size: str, place: Place) -> list[float]:
    """Both corners of a piece and its mirror image at the ends of an edge beside which the two are sewn together."""
    piece, edge = place
    cut = garment.cut(piece, size)
    if cut is None or len(cut.drawn.edges) < 3 or all(drawn.name != edge for drawn in cut.drawn.edges):
        return []
    found = []
    for at_end in (False, True):
        before, after = at_corner(cut, edge, at_end)
        beside = (piece, (after if at_end else before).name)
        if beside in _opposites(garment).get(beside, ()):
            found.append(2 * interior_deg(before, after))
    return found


def _opposites(garment: Garment) -> dict[Place, frozenset[Place]]:
    """For each edge those that it is sewn onto, by their shares of the sides: sides are written in one order."""
    return garment.once("opposite edges", lambda: _found_opposites(garment))


def _found_opposites(garment: Garment) -> dict[Place, frozenset[Place]]:
    found: dict[Place, frozenset[Place]] = {}
    for seam in garment.pattern.seams.values():
        size = next((size for size in garment.pattern.sizes if is_complete(garment, seam, size)), None)
        if seam.kind != "sewn" or size is None:
            continue
        for one, start, stop in _shares(garment, seam, "a", size):
            for two, low, high in _shares(garment, seam, "b", size):
                if min(stop, high) - max(start, low) > _OPPOSITE_SHARE * min(stop - start, high - low):
                    found[one] = found.get(one, frozenset()) | {two}
                    found[two] = found.get(two, frozenset()) | {one}
    return found


def _shares(garment: Garment, seam: Seam, side: Literal["a", "b"], size: str) -> list[tuple[Place, float, float]]:
    steps = seam.a if side == "a" else seam.b
    lengths = [length_mm(garment, step, size) for step in steps]
    total, at, found = sum(lengths) or 1.0, 0.0, []
    for step, length in zip(steps, lengths, strict=True):
        found.append(((step.piece, step.edge), at / total, (at + length) / total))
        at += length
    return found
