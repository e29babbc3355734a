"""Allowances: the cut line where it must be, and the same on both sides of a seam, up to its ends."""

import math
from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import at_corner
from pipeline.checks.garment import Garment
from pipeline.checks.laid import ends_within_another
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_ends import lie, turned_pieces
from pipeline.checks.seam_walk import WalkedSide, walk_side
from pipeline.checks.seam_way import walked_seams
from pipeline.checks.side_ends import SideEnd, in_one_line, seam_end, sewn_edges
from pipeline.geometry.curves import Line, direction, path_length_mm
from pipeline.geometry.distances import to_line_mm
from pipeline.model.pattern import Reference, Seam, SideEdge
from pipeline.model.pieces import CutEdge

DISTANCE_MM = 0.05
EQUAL_MM = 0.1
ENDS_MM = 3.0
_STRAIGHT_MM = 30.0
_Pair = tuple[float, float]
_FACING_SHARE = 0.25
_NEARLY_STRAIGHT = 0.1
_BENT_DEG = 30.0
"""Beyond such a bend the line beside a seam does not run on: its two allowances are not laid on each other."""


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
        for drawn, edge in zip(cut.drawn.edges, cut.edges, strict=True):
            for index, segment in enumerate(drawn.path if not edge.fold else ()):
                if not isinstance(segment, Line) or segment.start.distance(segment.end) < longest:
                    continue
                along_mm = path_length_mm(drawn.path[:index]) + segment.start.distance(segment.end) / 2
                allowance_mm = edge.allowance_at(along_mm / edge.gross_length_mm)
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
    """Edges that lie on each other, in the first size that has them all; an allowance is the same in all sizes.

    One that tapers is held against what lies on it at both ends of the stretch that the two share.
    """
    told = set()
    for seam, way, size in walked_seams(garment):
        if seam.name in told or seam.kind != "sewn":
            continue
        told.add(seam.name)
        a, b = walk_side(garment, seam.a, way.a, size), walk_side(garment, seam.b, way.b, size)
        compared = set()
        for i, j in _facing(seam, a, b):
            one, two = seam.a[i], seam.b[j]
            spans = _span(a, i), _span(b, j)
            stretch = max(spans[0][0], spans[1][0]), min(spans[0][1], spans[1][1])
            edges = [garment.cuts[step.piece][size].edge(step.edge) for step in (one, two)]
            first, second = (_along(*side, stretch) for side in zip(edges, spans, (way.a[i], way.b[j]), strict=True))
            if (one, two, first, second) in compared:
                continue
            compared.add((one, two, first, second))
            apart = max(abs(near - far) for near, far in zip(first, second, strict=True))
            if apart > EQUAL_MM:
                yield _unequal(garment, seam, (one, _in_words(first)), (two, _in_words(second)))
            elif max(*first, *second) <= EQUAL_MM:
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


def _span(side: WalkedSide, index: int) -> _Pair:
    """Where an edge of a side begins and ends, as shares of the side."""
    return side.joints_mm[index] / side.length_mm, side.joints_mm[index + 1] / side.length_mm


def _along(edge: CutEdge, span: tuple[float, float], turned: bool, stretch: tuple[float, float]) -> tuple[float, float]:
    """An edge's allowance at both ends of a stretch of its side, as the seam runs."""
    shares = [(place - span[0]) / (span[1] - span[0]) for place in stretch]
    first, last = (edge.allowance_at(1 - share if turned else share) for share in shares)
    return first, last


def _in_words(widths_mm: _Pair) -> str:
    """ "10", or "25 .. 10" where it tapers as the seam runs."""
    first, last = (f"{width:g}" for width in widths_mm)
    return first if first == last else f"{first} .. {last}"


def _unequal(garment: Garment, seam: Seam, one: tuple[SideEdge, str], two: tuple[SideEdge, str]) -> Outcome:
    """Told of the side whose edge has an allowance of its own, where only one has."""
    own = [garment.edge_spec(step.piece, step.edge).allowance_mm is not None for step, _ in (one, two)]
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


@CHECKS.register(
    id="allowance-bare",
    title="An edge without allowance is sewn or bound",
    rationale="Raw edges without allowance fray or cannot be turned in; a nought is easily written, or left.",
    remedy="give the edge an allowance; where a strip binds it, name the edge in the strip's length or goes_round",
    severity="warn",
    source="common practice",
)
def allowance_bare(garment: Garment) -> Iterator[Outcome]:
    """Edges of 0 mm in no seam (allowance-pairs tells of those) and in no strip's sum; hems of 0 mm always.

    Free edges of facings, bags and linings are let be, and those of what is laid on a larger piece and ends on it.
    """
    pattern, within = garment.pattern, _within(garment)
    steps = (step for seam in pattern.seams.values() for step in (*seam.a, *seam.b))
    held = {(step.piece, step.edge) for step in steps}
    sums = (total for strip in pattern.strips.values() for total in (strip.length, strip.goes_round) if total)
    bound = {(term.of.piece, term.of.line) for total in sums for term in total.terms if isinstance(term.of, Reference)}
    for name, by_size in garment.cuts.items():
        spec = pattern.pieces.get(name)
        if spec is None or spec.source is not None or name in within:
            continue
        for edge in next(iter(by_size.values())).edges:
            of = (name, edge.name)
            bare = not edge.fold and edge.widest_mm == 0
            if bare and (edge.hem or (of not in held | bound and not ends_within_another(garment, *of))):
                yield Outcome(
                    code="bare",
                    piece=name,
                    where=edge.name,
                    file="pattern.toml",
                    object=f"pieces.{name}.edges.{edge.name}",
                    found="0 mm",
                    allowed="an allowance, or a strip that binds it",
                    message=f"{name}.{edge.name} has no allowance, and nothing says what it is sewn to or bound with",
                )


def _within(garment: Garment) -> set[str]:
    """Pieces that lie within the garment, as facings, bags and linings do: their free edges may be left raw."""
    found = {step.piece for seam in garment.pattern.seams.values() if seam.kind == "lining" for step in seam.a}
    for seam, way, size in walked_seams(garment):
        if seam.kind == "sewn":
            found |= turned_pieces(garment, seam, way, size)
    return found


@CHECKS.register(
    id="allowance-ends",
    title="Allowances go on alike across a seam, and their ends lie on each other",
    rationale="Where the raw edge steps, the next seam runs off its line; an end that sticks out is sewn in as a lump.",
    remedy='give the edges beside the seam one allowance; say corner = "square" where they meet at a sharp angle',
    severity="warn",
    source=f"one width; ends stick out by at most {ENDS_MM:g} mm when pressed: common practice, the limit from memory",
    needs=("seams",),
)
def allowance_ends(garment: Garment) -> Iterator[Outcome]:
    """At each seam end: the widths of the two edges beside the seam, and how far its own allowances stick out there."""
    stepped = set()
    for seam, way, size in walked_seams(garment):
        for at_end in (False, True) if seam.kind == "sewn" else ():
            ends = seam_end(garment, seam, way, size, at_end)
            bend = abs(sum(end.deg for end in ends) - 180)
            on_each_other = lie(garment, seam, way, size, at_end) == "lies on"
            if any(end.beside.fold for end in ends) or on_each_other or bend > _BENT_DEG:
                continue
            one, two = ends
            apart = abs(one.beside_mm - two.beside_mm) > EQUAL_MM
            told = (seam.name, at_end) in stepped or _crossed(garment, one, two)
            if apart and _one_cloth(garment, seam.a[0], seam.b[0]) and not told:
                stepped.add((seam.name, at_end))
                own = [garment.edge_spec(end.cut.piece, end.beside.name).allowance_mm is not None for end in ends]
                yield _step(seam, two, one) if own == [False, True] else _step(seam, one, two)
            for end in ends:
                if not end.beside.hem and _sticks_out_mm(end) > ENDS_MM:
                    yield _dog_ear(seam, end)


def _crossed(garment: Garment, one: SideEnd, two: SideEnd) -> bool:
    """Whether the edges beside a seam are sewn and pressed open, each in a seam of its own, before it crosses them.

    Then their raw edges lie within the garment and need not go on as one line.
    """
    both_sewn = {one.place, two.place} <= sewn_edges(garment)
    return both_sewn and not in_one_line(garment, one, two)


def _sticks_out_mm(end: SideEnd) -> float:
    """How far the raw edge runs on past the place where the neighbour's cut line crosses the seam."""
    line = end.cut.edge(end.edge).cut_line
    before, after = at_corner(end.cut, end.edge, end.last)
    sharp = math.radians(end.deg)
    if not line or math.sin(sharp) < _NEARLY_STRAIGHT:
        return 0.0
    tip = line[-1][-1] if end.last else line[0][0]
    along = direction(before.path[-1], 1.0) if end.last else direction(after.path[0], 0.0).scaled(-1)
    # The neighbour's cut line rises past its end by a slope where it tapers, and lies sharp off the raw edge's way.
    slope = (end.beside_mm - end.beside.allowance_at(1.0 if end.last else 0.0)) / end.beside.gross_length_mm
    crossed_mm = end.beside_mm / (math.sin(sharp) - slope * math.cos(sharp))
    return after.path[0].start.to(tip).dot(along) - crossed_mm


def _step(seam: Seam, one: SideEnd, two: SideEnd) -> Outcome:
    """Told of the first: the side whose edge has an allowance of its own, where only one has."""
    first, second = one.beside, two.beside
    return Outcome(
        code="step",
        piece=one.cut.piece,
        where=first.name,
        file="pattern.toml",
        object=f"pieces.{one.cut.piece}.edges.{first.name}",
        found=f"{one.beside_mm:g} and {two.beside_mm:g} mm",
        allowed="one allowance where the line runs on",
        message=(
            f"across seam {seam.name} {one.cut.piece}.{first.name} has {one.beside_mm:g} mm "
            f"and {two.cut.piece}.{second.name} {two.beside_mm:g} mm"
        ),
    )


def _dog_ear(seam: Seam, end: SideEnd) -> Outcome:
    beside, out = end.beside.name, _sticks_out_mm(end)
    return Outcome(
        code="dog-ear",
        size=end.cut.size,
        piece=end.cut.piece,
        where=end.edge,
        file=end.cut.drawn.file,
        object=f"{end.edge} at {beside}",
        found=f"{out:.1f} mm",
        allowed=f"up to {ENDS_MM:g} mm",
        message=(
            f"in seam {seam.name} the allowance of {end.cut.piece}.{end.edge}, pressed open, "
            f"sticks out {out:.1f} mm at {beside}"
        ),
        remedy=f'say edges.{end.edge} = {{ corner = {{ {beside} = "square" }} }}, or square the corner in the master',
    )


def _one_cloth(garment: Garment, one: SideEdge, two: SideEdge) -> bool:
    """Whether two pieces are cut of one cloth: a lining's hem need not be as deep as the facing's beside it."""
    first, second = ({cut.material for cut in garment.pattern.pieces[step.piece].cut} for step in (one, two))
    return bool(first & second)
