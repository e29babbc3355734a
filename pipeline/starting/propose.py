"""What may be said of the pieces that were found: folds, and seams between edges of equal length. All is proposed."""

import math
from collections.abc import Collection, Mapping
from itertools import combinations, pairwise

import msgspec

from pipeline.geometry.curves import path_length_mm, turn_between_rad
from pipeline.masters.drawings.layers import words
from pipeline.masters.marks import bend_mm
from pipeline.model.pieces import DrawnPiece, Edge
from pipeline.starting.forks import SAME_MM, legs, open_folds
from pipeline.starting.likely import SHORT_MM, are_versions, neighbours_of, pairs_of, unlikely
from pipeline.starting.piece_words import is_facing

SHORTEST_MM = 30.0
MOST_TAKES = 3
"""Darts or pleats of one edge."""
STRAIGHT_MM = 0.1
SQUARE_DEG = 3.0
"""How far from a right angle a neighbour of a fold may leave it."""
PARALLEL = 0.02
"""The sine of the angle between a fold and the grain: about a degree."""

_MIDDLE = {
    "cf",
    "cb",
    "vm",
    "hm",
    "centre",
    "center",
    "front",
    "back",
    "mitte",
    "milieu",
    "centro",
    "midden",
    "mitt",
    "fold",
}
_BESIDE_MIDDLE = {"line", "linie", *map(str, range(10))}
_BUTTONHOLE = {"buttonhole"}

Lengths = dict[str, float]
"""Of an edge in mm, by size."""


class Take(msgspec.Struct, frozen=True):
    """Two notches of an edge between which a dart or pleat may be sewn away."""

    first: str
    last: str

    @property
    def kind(self) -> str:
        """What their names say it is; a dart where they say nothing."""
        return next((kind for kind in ("pleat", "tuck") if kind in f"{self.first} {self.last}".casefold()), "dart")


class Proposed(msgspec.Struct, frozen=True):
    """Edges that may lie on the fold, by piece, pairs of edges that may be sewn together, and by edge what it takes."""

    folds: dict[str, str] = {}
    seams: tuple[tuple[str, str], ...] = ()
    takes: dict[str, tuple[Take, ...]] = {}


def propose(sizes: Mapping[str, Mapping[str, DrawnPiece]], garment: Collection[str] = ()) -> Proposed:
    """By size and piece; `garment` are names of the whole, as of its folder and drawing."""
    pieces = list(dict.fromkeys(piece for there in sizes.values() for piece in there))
    lengths = _lengths(sizes)
    drawn = {piece: drawn for there in sizes.values() for piece, drawn in there.items()}
    with_fork = legs(drawn, garment)
    folds = {
        piece: fold
        for piece in pieces
        if piece not in with_fork and (fold := _fold([s[piece] for s in sizes.values() if piece in s]))
    }
    folds = {piece: fold for piece, fold in folds.items() if not _is_sewn(piece, folds, lengths)}
    whole = {one: lengths[one] for one in lengths if one not in {f"{piece}.{edge}" for piece, edge in folds.items()}}
    folds = {piece: fold for piece, fold in folds.items() if piece not in open_folds(folds, drawn, lengths)}

    def agree(one: str, two: str) -> bool:
        return (one, two) not in apart and (two, one) not in apart and _agree(one, whole[one], two, whole[two])

    apart: set[tuple[str, str]] = set()
    seams = pairs_of(whole, agree)
    while found := unlikely(seams, drawn, lambda one: is_constant(whole[one])) - apart:
        apart |= found
        seams = pairs_of(whole, agree)
    paired = {one for pair in seams for one in pair}
    return Proposed(
        folds, *_over_takes(sizes, {one: whole[one] for one in whole if one not in paired}, tuple(sorted(seams)))
    )


def _is_sewn(piece: str, folds: Mapping[str, str], lengths: Mapping[str, Lengths]) -> bool:
    """Whether what may be the fold of a piece is as long as an edge that is none, or as that of what it faces.

    Folds of two pieces are alike where both are worn on each other; a facing along the whole of an edge is sewn to it.
    """
    own = f"{piece}.{folds[piece]}"
    if own not in lengths or any(_agree_mm(lengths[own], lengths[one]) for one in _others(own, lengths)):
        return False  # of a rectangle nothing is told by lengths
    may_be = {f"{other}.{fold}": is_facing(other) for other, fold in folds.items()}
    others = [one for one in lengths if not is_constant(lengths[one]) and may_be.get(one) != is_facing(piece)]
    return any(_agree(own, lengths[own], one, lengths[one]) for one in others)


def _others(own: str, lengths: Mapping[str, Lengths]) -> list[str]:
    """The other edges of the same piece."""
    return [one for one in lengths if one != own and one.split(".")[0] == own.split(".")[0]]


def is_constant(lengths: Lengths) -> bool:
    """Whether an edge is short, and alike in all sizes: others are as long by chance."""
    return max(lengths.values()) < SHORT_MM and max(lengths.values()) - min(lengths.values()) <= SAME_MM


def _over_takes(
    sizes: Mapping[str, Mapping[str, DrawnPiece]], left: Mapping[str, Lengths], seams: tuple[tuple[str, str], ...]
) -> tuple[tuple[tuple[str, str], ...], dict[str, tuple[Take, ...]]]:
    """The seams, and those of edges that are left which agree once what lies between two notches is taken out."""
    net = {(one, taken): lengths for one in left for taken, lengths in _without_takes(sizes, one, left[one]).items()}
    fits = [(one, taken, two) for (one, taken), of in net.items() for two in left if _agree(one, of, two, left[two])]
    takes: dict[str, tuple[Take, ...]] = {}
    for one, taken, two in fits:
        ways = {of for a, of, b in fits if one in (a, b)}
        partners = [b if a == one else a for a, _, b in fits if one in (a, b)]
        if len(ways) == 1 and are_versions(partners) and all(one in (a, b) for a, _, b in fits if two in (a, b)):
            takes[one] = taken  # of several ways none is proposed
            seams = (*seams, (one, two))
    return seams, takes


def _agree(one: str, of_one: Lengths, two: str, of_two: Lengths) -> bool:
    return one.split(".")[0] != two.split(".")[0] and _agree_mm(of_one, of_two)


def _agree_mm(one: Lengths, two: Lengths) -> bool:
    return one.keys() == two.keys() and all(abs(one[size] - two[size]) <= SAME_MM for size in one)


def _without_takes(
    sizes: Mapping[str, Mapping[str, DrawnPiece]], one: str, lengths: Lengths
) -> dict[tuple[Take, ...], Lengths]:
    """The lengths of an edge by size, for what lies between neighbouring notches with names that every size has.

    Several darts or pleats take up the same, since else too many ways fit.
    """
    piece, edge = one.split(".")
    at = {size: {n.name: n.at_mm for n in sizes[size][piece].notches if n.edge == edge and n.name} for size in lengths}
    rows = [[*pairwise(sorted(there, key=lambda name: (there[name], name)))] for there in at.values()]
    widths = {
        Take(*pair): {size: there[pair[1]] - there[pair[0]] for size, there in at.items()}
        for pair in rows[0]
        if all(pair in row for row in rows)
    }
    found: dict[tuple[Take, ...], Lengths] = {}
    for taken in (each for count in range(1, MOST_TAKES + 1) for each in combinations(widths, count)):
        apart = len({name for take in taken for name in (take.first, take.last)}) == 2 * len(taken)
        alike = all(abs(widths[take][size] - widths[taken[0]][size]) <= SAME_MM for take in taken for size in lengths)
        if apart and alike:
            found[taken] = {size: lengths[size] - sum(widths[take][size] for take in taken) for size in lengths}
    return found


def _lengths(sizes: Mapping[str, Mapping[str, DrawnPiece]]) -> dict[str, Lengths]:
    found: dict[str, Lengths] = {}
    for size, there in sizes.items():
        for piece, drawn in there.items():
            for edge in drawn.edges:
                length = path_length_mm(edge.path)
                if length >= SHORTEST_MM:
                    found.setdefault(f"{piece}.{edge.name}", {})[size] = length
    return found


def _fold(drawn: list[DrawnPiece]) -> str | None:
    """The one edge that is straight, along the grain and outermost to a side, in every size.

    Of several, as where sides are straight too, it is the one that its neighbours meet at right angles: they run on
    over a fold without a point.
    """
    if any(map(_says_its_middle, drawn)):
        return None
    names = [{edge.name for edge in piece.edges if _may_be_fold(piece, edge)} for piece in drawn]
    common = set.intersection(*names) if names else set()
    square = {name for name in common if all(_runs_on(piece, name) for piece in drawn)}
    return next((next(iter(found)) for found in (common, square) if len(found) == 1), None)


def _says_its_middle(piece: DrawnPiece) -> bool:
    """Whether marks within a piece say that its middle or fold is there, or that it is buttoned: then no edge is."""
    lines = [set(words(line.name)) - _BESIDE_MIDDLE for line in piece.inside if line.name]
    buttonholes = [point for point in piece.points if point.name and set(words(point.name)) >= _BUTTONHOLE]
    return any(line and line <= _MIDDLE for line in lines) or len(buttonholes) > 1


def _runs_on(piece: DrawnPiece, name: str) -> bool:
    """Whether both neighbours of an edge leave it at right angles."""
    edge = piece.edge(name)
    before, after = neighbours_of(piece, name)
    turns = (turn_between_rad(one.path[-1], other.path[0]) for one, other in ((before, edge), (edge, after)))
    return all(abs(math.degrees(turn) - 90.0) <= SQUARE_DEG for turn in turns)


def _may_be_fold(piece: DrawnPiece, edge: Edge) -> bool:
    if bend_mm(edge.path) > STRAIGHT_MM or len(piece.edges) < 2 or not piece.grain.drawn:
        return False
    run, grain = edge.path[0].start.to(edge.path[-1].end), piece.grain.bottom.to(piece.grain.top)
    if abs(run.unit().cross(grain.unit())) > PARALLEL:
        return False
    along = grain.unit()
    at = along.cross(piece.grain.bottom.to(edge.path[0].start))
    others = [along.cross(piece.grain.bottom.to(other.path[0].start)) for other in piece.edges]
    return abs(at - min(others)) < 1.0 or abs(at - max(others)) < 1.0
