"""Allowances: the cut line where it must be, and the same on both sides of a seam."""

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from typing import NamedTuple

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_parts import known_reach_mm
from pipeline.checks.seam_walk import WalkedSide, walk_side
from pipeline.checks.seam_way import walked_seams
from pipeline.geometry.curves import Line, direction, path_length_mm
from pipeline.geometry.distances import to_line_mm
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import CutEdge

DISTANCE_MM = 0.05
EQUAL_MM = 0.1
FOLDED_MM = 1.0
"""A seam that reaches this little past the end of what is grown on ends there."""
_STRAIGHT_MM = 30.0
_FACING_SHARE = 0.25
_Pair = tuple[float, float]


@CHECKS.register(
    id="allowance-distance",
    title="The cut line lies at its allowance from the seam line",
    rationale="Sewers measure from the cut edge: at any other distance they sew beside the seam line.",
    remedy="report this with the master: the cut line is computed, so the fault is not in the drawing",
    severity="block",
    source=f"within {DISTANCE_MM:g} mm, what a printed line's place can show: common practice, from memory",
)
def allowance_distance(garment: Garment) -> Iterator[Outcome]:
    """The middle of every long straight stretch, moved out by its allowance, against the edge's cut line."""
    for _, cut in garment.each():
        longest = max(_STRAIGHT_MM, *(3 * edge.widest_mm for edge in cut.edges))
        longest = max(
            longest,
            *(4 * max(part.cut_at(part.start), part.cut_at(part.end)) for edge in cut.edges for part in edge.grown_on),
            0.0,
        )
        for drawn, edge in zip(cut.drawn.edges, cut.edges, strict=True):
            for index, segment in enumerate(drawn.path if not edge.fold else ()):
                if not isinstance(segment, Line) or segment.start.distance(segment.end) < longest:
                    continue
                length_mm = segment.start.distance(segment.end)
                along_mm = path_length_mm(drawn.path[:index]) + length_mm / 2
                share = along_mm / edge.gross_length_mm
                if edge.grown_on and not _within_one(edge, share, length_mm / 4 / edge.gross_length_mm):
                    continue
                grown = edge.grown_at(share)
                allowance_mm = edge.allowance_at(share) if grown is None else grown.cut_at(share)
                expected = segment.at(0.5).plus(direction(segment, 0.5).left().scaled(allowance_mm))
                off = min((to_line_mm(expected, line) for line in edge.cut_line), default=allowance_mm)
                if off > DISTANCE_MM:
                    yield Outcome(
                        code="off",
                        size=cut.size,
                        piece=cut.piece,
                        where=edge.name,
                        file=cut.drawn.file,
                        object=edge.name,
                        found=f"{off:.2f} mm away from where it belongs",
                        allowed=f"{allowance_mm:g} ± {DISTANCE_MM:g} mm from the seam line",
                        message=f"the cut line of {cut.piece}.{edge.name} does not lie at its allowance",
                    )


def _within_one(edge: CutEdge, share: float, reach: float) -> bool:
    """Whether no part begins or ends within a reach of a place, both as shares of the edge."""
    ends = (end for part in edge.grown_on for end in (part.start, part.end))
    return all(abs(end - share) > reach for end in ends)


@CHECKS.register(
    id="allowance-pairs",
    title="Both sides of a seam have the same allowance",
    rationale="Raw edges are laid on each other: unequal allowances put the seam beside one of the two seam lines.",
    remedy="give both edges one allowance, or waive this where the seam is meant so, as a felled one",
    severity="block",
    source="equal on both sides of a seam: common practice",
    needs=("seams",),
)
def allowance_pairs(garment: Garment) -> Iterator[Outcome]:
    """Edges that lie on each other, in the first size that has them all; an allowance is the same in all sizes, but for
    parts between notches, which may lie elsewhere in each: a fault of these is told of the first size that has it.

    One that changes is held against what lies on it at both ends of the stretch that the two share, and wherever it
    begins to change otherwise.
    """
    told = set()
    for seam, way, size in walked_seams(garment):
        if seam.name in told or seam.kind != "sewn":
            continue
        if not any(garment.edge_spec(step.piece, step.edge).along for step in (*seam.a, *seam.b)):
            told.add(seam.name)
        a, b = walk_side(garment, seam.a, way.a, size), walk_side(garment, seam.b, way.b, size)
        compared = set()
        for i, j in _facing(seam, a, b):
            one, two = seam.a[i], seam.b[j]
            spans = _span(a, i), _span(b, j)
            stretch = max(spans[0][0], spans[1][0]), min(spans[0][1], spans[1][1])
            edges = [garment.cuts[step.piece][size].edge(step.edge) for step in (one, two)]
            reaches = [known_reach_mm(garment.cuts[step.piece][size], step) for step in (one, two)]
            sides = [_Laid(*side) for side in zip(edges, reaches, spans, (way.a[i], way.b[j]), strict=True)]
            if any(side.folded(*stretch) for side in sides):
                continue
            inner = {place for side in sides for place in side.changes() if stretch[0] < place < stretch[1]}
            places = sorted({*stretch, *inner})
            first, second = ([side.allowance_at(place) for place in places] for side in sides)
            key = (one, two, tuple(first), tuple(second))
            if key in compared:
                continue
            compared.add(key)
            # Between these places both run smoothly, and not alike where the places before and after are not the same.
            closer = (
                sorted({*places, *((before + after) / 2 for before, after in pairwise(places))}) if inner else places
            )
            near, far = ([side.allowance_at(place) for place in closer] for side in sides)
            if _apart_mm(near, far) > EQUAL_MM:
                told.add(seam.name)
                shown = (first, second) if _apart_mm(first, second) > EQUAL_MM else (near, far)
                yield _unequal(garment, seam, (one, _in_words(shown[0])), (two, _in_words(shown[1])))
            elif max(*first, *second) <= EQUAL_MM:
                told.add(seam.name)
                yield Outcome(
                    code="none",
                    piece=one.piece,
                    where=one.edge,
                    file="pattern.toml",
                    object=f"seams.{seam.name}",
                    found="0 mm on both sides",
                    allowed="an allowance to sew with",
                    message=f"seam {seam.name} has no allowance at {one.piece}.{one.edge} and {two.piece}.{two.edge}",
                    remedy="give both edges an allowance",
                )


def _apart_mm(one: Sequence[float], two: Sequence[float]) -> float:
    return max(abs(near - far) for near, far in zip(one, two, strict=True))


def _span(side: WalkedSide, index: int) -> _Pair:
    """Where an edge of a side begins and ends, as shares of the side."""
    return side.joints_mm[index] / side.length_mm, side.joints_mm[index + 1] / side.length_mm


class _Laid(NamedTuple):
    """An edge as it lies in its side: from where to where along it, between which shares of the side, and whether from
    its last point on."""

    edge: CutEdge
    reach_mm: _Pair
    span: _Pair
    turned: bool

    def allowance_at(self, place: float) -> float:
        """Its allowance at a place of the side."""
        return self.edge.allowance_at(self._share_at(place))

    def folded(self, start: float, end: float) -> bool:
        """Whether something is grown onto it between two places of the side: it is folded there, and not raw."""
        low, high = sorted(self._share_at(place) for place in (start, end))
        least = FOLDED_MM / self.edge.gross_length_mm
        return any(min(part.end, high) - max(part.start, low) > least for part in self.edge.grown_on)

    def _share_at(self, place: float) -> float:
        """How far along the edge a place of the side lies."""
        share = (place - self.span[0]) / (self.span[1] - self.span[0])
        low, high = (along / self.edge.gross_length_mm for along in self.reach_mm)
        share = 1 - share if self.turned else share
        return low * (1 - share) + high * share

    def changes(self) -> Iterator[float]:
        """The places of the side at which its allowance begins to change otherwise."""
        low, high = (along / self.edge.gross_length_mm for along in self.reach_mm)
        for of_edge, _ in self.edge.allowance_between:
            share = (of_edge - low) / (high - low)
            yield self.span[0] + (1 - share if self.turned else share) * (self.span[1] - self.span[0])


def _in_words(widths_mm: Sequence[float]) -> str:
    """ "10", or "25 .. 10" where it changes as the seam runs."""
    return " .. ".join(width for width, _ in groupby(f"{width:g}" for width in widths_mm))


def _unequal(garment: Garment, seam: Seam, one: tuple[SideEdge, str], two: tuple[SideEdge, str]) -> Outcome:
    """Told of the side whose edge has an allowance of its own, where only one has."""
    own = [garment.edge_spec(step.piece, step.edge).says_allowance for step, _ in (one, two)]
    (step, mm), (other, other_mm) = (two, one) if own == [False, True] else (one, two)
    return Outcome(
        code="unequal",
        piece=step.piece,
        where=step.edge,
        file="pattern.toml",
        object=f"pieces.{step.piece}.edges.{step.edge}",
        found=f"{mm} and {other_mm} mm",
        allowed="one allowance on both sides",
        message=(
            f"in seam {seam.name} {step.piece}.{step.edge} has {mm} mm and {other.piece}.{other.edge} {other_mm} mm"
        ),
    )


def _facing(seam: Seam, a: WalkedSide, b: WalkedSide) -> Iterator[tuple[int, int]]:
    """Edges of both sides that lie on each other for a good part of the shorter one, places taken as shares."""
    for i in range(len(seam.a)):
        for j in range(len(seam.b)):
            first, second = _span(a, i), _span(b, j)
            shorter = min(first[1] - first[0], second[1] - second[0])
            if min(first[1], second[1]) - max(first[0], second[0]) > _FACING_SHARE * shorter:
                yield i, j
