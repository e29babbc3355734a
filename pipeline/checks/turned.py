"""What is turned about a fold line, a grown-on facing, a cuff, a band, must mirror the piece that it turns onto."""

from collections.abc import Iterator
from itertools import pairwise

import msgspec

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import interior_deg
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_rows import masters_of
from pipeline.geometry.curves import flattened, nearest_on_path, path_length_mm
from pipeline.geometry.points import Point, Vector
from pipeline.model.pieces import CutPiece, InsideLine, Polyline

OFF_MM = 2.0
_ENDS_MM = 1.0
_FACING_SHARE = 0.5
_BAND_SHARE = 0.1
_STEEPEST = 0.6
"""Past this share of its depth the turned side is no mirror image that went wrong: 17 degrees of taper on each side."""
_CORNER_DEG = 25.0
_SHARES = (0.5, 0.95)


class _Chain(msgspec.Struct, frozen=True):
    """The outline from one end of a fold line to the next corner: places as (along the line, away from it)."""

    places: tuple[tuple[float, float], ...]
    edges: tuple[str, ...]
    at_joint: bool

    @property
    def depth_mm(self) -> float:
        return max(away for _, away in self.places)

    def along_mm(self, away_mm: float) -> float:
        """Where the chain first is so far from the line, measured along it."""
        for (x, y), (next_x, next_y) in pairwise(self.places):
            if next_y >= away_mm > y:
                return x + (next_x - x) * (away_mm - y) / (next_y - y)
        return self.places[-1][0]


class _Half(msgspec.Struct, frozen=True):
    """One side of a fold line: its outline at the line's start and end, and the edges between those two."""

    start: _Chain
    end: _Chain
    far: frozenset[str]

    @property
    def depth_mm(self) -> float:
        return min(self.start.depth_mm, self.end.depth_mm)


@CHECKS.register(
    id="fold-mirrored",
    title="What is turned about a fold line mirrors the piece that it turns onto",
    rationale="A facing, cuff or band that was left running on in a taper is too narrow or too wide once it is folded.",
    remedy="fold the drawing at the line and trace the sides through, or waive this where the difference is meant",
    severity="warn",
    source=f"ends within {OFF_MM:g} mm of the piece's own when folded, as a hem: common practice, limits from memory",
)
def fold_mirrored(garment: Garment) -> Iterator[Outcome]:
    """Pieces with one fold line from edge to edge that turns a facing, or one half of a band.

    A crease, a pleat or a roll line ends on a seam to another piece, or has sides that never were alike: let be.
    """
    for spec in garment.pattern.pieces.values():
        for cut in masters_of(garment, spec.name) if spec.source is None else ():
            lines = [line for line in cut.drawn.inside if line.kind == "fold" and not line.closed]
            halves = _halves(cut, lines[0]) if len(lines) == 1 else None
            if halves is not None and _is_turned(garment, cut.piece, *halves):
                yield from _outcomes(cut, lines[0], *sorted(halves, key=lambda half: half.depth_mm))


def _outcomes(cut: CutPiece, line: InsideLine, turned: _Half, lies: _Half) -> Iterator[Outcome]:
    found = []
    for one, two in ((turned.start, lies.start), (turned.end, lies.end)):
        depth_mm = min(one.depth_mm, two.depth_mm)
        offs = [one.along_mm(share * depth_mm) - two.along_mm(share * depth_mm) for share in _SHARES]
        off_mm = max(map(abs, offs))
        if off_mm > _STEEPEST * depth_mm:
            return
        if off_mm > OFF_MM:
            found.append((one, two, off_mm))
    for one, two, off_mm in found:
        yield Outcome(
            code="not-mirrored",
            size=cut.size,
            piece=cut.piece,
            where=one.edges[0],
            file=cut.drawn.file,
            object=" against ".join(dict.fromkeys((one.edges[0], two.edges[0]))),
            found=f"{off_mm:.1f} mm off",
            allowed=f"its mirror image, ± {OFF_MM:g} mm",
            message=(
                f"turned about {line.name or 'its fold line'}, {cut.piece}.{one.edges[0]} lies up to {off_mm:.1f} mm "
                f"beside {cut.piece}.{two.edges[0]}"
            ),
        )


def _halves(cut: CutPiece, line: InsideLine) -> tuple[_Half, _Half] | None:
    """Both sides of a straight fold line that runs from edge to edge; None for any other line."""
    start, end = line.path[0].start, line.path[-1].end
    run = start.to(end)
    if not run.length or path_length_mm(line.path) - run.length > OFF_MM or len(cut.drawn.edges) < 3:
        return None
    chains = {}
    for place in (start, end):
        for forward in (True, False):
            chain = _chain(cut, place, forward, start, run.unit())
            if chain is None:
                return None
            chains[place, forward] = chain
    # the outline is walked clockwise: from the start forward is the side on which the end is met backward
    halves = []
    for forward in (True, False):
        one, two = chains[start, forward], chains[end, not forward]
        halves.append(_Half(one, two, _between(cut, one.edges[-1], two.edges[-1], forward)))
    return halves[0], halves[1]


def _chain(cut: CutPiece, place: Point, forward: bool, origin: Point, along: Vector) -> _Chain | None:
    """From a place on the outline along it to the next corner."""
    edges = cut.drawn.edges
    near = [(nearest_on_path(edge.path, place), index) for index, edge in enumerate(edges)]
    (distance, _, at_mm), index = min(near, key=lambda item: item[0][0])
    if distance > _ENDS_MM:
        return None
    length_mm = path_length_mm(edges[index].path)
    at_joint = at_mm <= _ENDS_MM or at_mm >= length_mm - _ENDS_MM
    if forward and at_mm >= length_mm - _ENDS_MM:
        index = (index + 1) % len(edges)
    elif not forward and at_mm <= _ENDS_MM:
        index = (index - 1) % len(edges)
    points, names = _rest(flattened(edges[index].path, 0.05), place, forward), [edges[index].name]
    while len(names) < len(edges):
        beside = (index + (1 if forward else -1)) % len(edges)
        joint = (edges[index], edges[beside]) if forward else (edges[beside], edges[index])
        if abs(interior_deg(*joint) - 180) > _CORNER_DEG:
            break
        index = beside
        more = flattened(edges[index].path, 0.05)
        points = (*points, *(more[1:] if forward else more[-2::-1]))
        names.append(edges[index].name)
    seen = [origin.to(point) for point in points]
    places = [(to.dot(along), abs(along.cross(to))) for to in seen]
    return _Chain(tuple(places), tuple(names), at_joint)


def _rest(points: Polyline, place: Point, forward: bool) -> Polyline:
    """The points of an edge from a place on it on, the place first."""
    ordered = points if forward else points[::-1]
    gaps = [a.distance(place) + place.distance(b) - a.distance(b) for a, b in pairwise(ordered)]
    after = gaps.index(min(gaps)) + 1
    return (place, *(point for point in ordered[after:] if point.distance(place) > _ENDS_MM / 2))


def _between(cut: CutPiece, first: str, last: str, forward: bool) -> frozenset[str]:
    names = [edge.name for edge in cut.drawn.edges]
    step, found = (1 if forward else -1), []
    index = (names.index(first) + step) % len(names)
    while names[index] not in (last, first):
        found.append(names[index])
        index = (index + step) % len(names)
    return frozenset(found)


def _is_turned(garment: Garment, piece: str, one: _Half, two: _Half) -> bool:
    """Whether one half is plainly folded onto the other: nothing else holds the ends, and it is a facing or a band."""
    sewn = _partners(garment, piece)
    for chain in (one.start, one.end, two.start, two.end):
        others = {partner for edge in chain.edges[:1] for partner, _ in sewn.get(edge, ()) if partner != piece}
        if len(chain.places) < 2 or (others and not chain.at_joint):
            return False
    shallow, deep = sorted((one.depth_mm, two.depth_mm))
    if shallow <= _FACING_SHARE * deep:
        return True
    far = [{partner for edge in half.far for partner in sewn.get(edge, ())} for half in (one, two)]
    band = bool(far[0] & far[1]) or (bool(far[0]) != bool(far[1]))
    return band and deep - shallow <= _BAND_SHARE * deep


def _partners(garment: Garment, piece: str) -> dict[str, set[tuple[str, str]]]:
    """What each edge of a piece is sewn to."""
    found: dict[str, set[tuple[str, str]]] = {}
    for seam in garment.pattern.seams.values():
        for side, other in ((seam.a, seam.b), (seam.b, seam.a)) if seam.kind == "sewn" else ():
            for step in side:
                if step.piece == piece:
                    found.setdefault(step.edge, set()).update((of.piece, of.edge) for of in other)
    return found
