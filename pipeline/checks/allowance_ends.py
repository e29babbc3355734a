"""Where allowances end: edges that have none, and how raw edges go on across a seam."""

import math
from collections.abc import Iterator

from pipeline.checks.allowances import EQUAL_MM
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import at_corner
from pipeline.checks.garment import Garment
from pipeline.checks.interfacing import is_fused
from pipeline.checks.laid import ends_within_another
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_ends import lie, turned_pieces
from pipeline.checks.seam_way import walked_seams
from pipeline.checks.side_ends import SideEnd, in_one_line, seam_end, sewn_edges
from pipeline.checks.tapered_ends import reversed_tapers
from pipeline.geometry.curves import direction
from pipeline.model.pattern import Reference, Seam, SideEdge

ENDS_MM = 3.0
_NEARLY_STRAIGHT = 0.1
_BENT_DEG = 30.0
"""Beyond such a bend the line beside a seam does not run on: its two allowances are not laid on each other."""


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

    Free edges of facings, bags and linings are let be, those of interfacings, which are fused, and those of what is
    laid on a larger piece and ends on it.
    """
    pattern, within = garment.pattern, _within(garment)
    steps = (step for seam in pattern.seams.values() for step in (*seam.a, *seam.b))
    held = {(step.piece, step.edge) for step in steps}
    sums = (total for strip in pattern.strips.values() for total in (strip.length, strip.goes_round) if total)
    bound = {(term.of.piece, term.of.line) for total in sums for term in total.terms if isinstance(term.of, Reference)}
    for name, by_size in garment.cuts.items():
        spec = pattern.pieces.get(name)
        if spec is None or spec.source is not None or name in within or is_fused(garment, spec):
            continue
        for edge in next(iter(by_size.values())).edges:
            of = (name, edge.name)
            bare = not edge.folded and edge.widest_mm == 0
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
    found = {step.piece for seam in garment.pattern.seams.values() if seam.kind != "sewn" for step in seam.a}
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
    """At each seam end: the widths of the two edges beside the seam, and how far its own allowances stick out there.

    A taper that is the wrong way round is told as that, and once.
    """
    turned = dict(reversed_tapers(garment, _BENT_DEG))
    yield from turned.values()
    stepped = set()
    for seam, way, size in walked_seams(garment):
        for at_end in (False, True) if seam.kind == "sewn" else ():
            ends = seam_end(garment, seam, way, size, at_end)
            bend = abs(sum(end.deg for end in ends) - 180)
            on_each_other = lie(garment, seam, way, size, at_end) == "lies on"
            within = any(end.on_fold or not end.at_corner for end in ends)
            if within or on_each_other or bend > _BENT_DEG:
                continue
            one, two = ends
            apart = abs(one.beside_mm - two.beside_mm) > EQUAL_MM
            told = (seam.name, at_end) in stepped or one.place in turned or two.place in turned
            told = told or _crossed(garment, one, two)
            if apart and _one_cloth(garment, seam.a[0], seam.b[0]) and not told:
                stepped.add((seam.name, at_end))
                own = [garment.edge_spec(end.cut.piece, end.beside.name).says_allowance for end in ends]
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
    (one, one_mm), (two, two_mm) = end.beside.allowances[:2] if end.last else end.beside.allowances[-2:]
    slope = (one_mm - two_mm if end.last else two_mm - one_mm) / ((two - one) * end.beside.gross_length_mm)
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
