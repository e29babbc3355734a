"""Edges that were named in the wrong order: most seams of the piece are then off, in all sizes."""

import math
from collections.abc import Iterator
from itertools import pairwise

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import whole_band
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_walk import is_complete, length_mm
from pipeline.geometry.curves import Path, path_length_mm, turn_between_rad
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import CutPiece, Edge

_LEAST_SEAMS = 3
_CORNER_DEG = 10.0
Lengths = dict[str, float]


@CHECKS.register(
    id="edge-names",
    title="The edges of a piece are named in the order in which they are drawn",
    rationale="Names that are shifted by one corner put every edge into its neighbour's seam, and nothing fits.",
    remedy="hold the names of its edges against the drawing, clockwise from its first corner; then mend what is left",
    severity="warn",
    source=f"most of {_LEAST_SEAMS} seams and more are off in length in all sizes (a judgement)",
    needs=("seams",),
)
def edge_names(garment: Garment) -> Iterator[Outcome]:
    """The pieces most of whose seams are off in every size, the worst first; a seam speaks of one piece only.

    Where one cyclic shift of the names makes all its seams fit, that is said.
    """
    of = {name: seams for name in garment.pattern.pieces if len(seams := _seams_of(garment, name)) >= _LEAST_SEAMS}
    off = {name: [seam for seam in seams if _is_off(garment, seam, {}, None)] for name, seams in of.items()}
    told: set[str] = set()
    for name in sorted(off, key=lambda piece: -len(off[piece])):
        wrong = [seam for seam in off[name] if seam.name not in told]
        if len(wrong) < _LEAST_SEAMS or 2 * len(wrong) <= len(of[name]):
            continue
        told |= {seam.name for seam in wrong}
        cut = garment.cuts[name][_size(garment, name)]
        order = _order_that_fits(garment, garment.pattern.pieces[name], cut, of[name])
        fits = "they may be in the wrong order"
        if order:
            fits = f"{', '.join(order)}, clockwise from what is now {cut.drawn.edges[0].name}, make all of them fit"
        yield Outcome(
            code="order",
            piece=name,
            file=cut.drawn.file,
            object=f"pieces.{name}.around" if garment.pattern.pieces[name].around else name,
            found=f"{len(wrong)} of {len(of[name])} seams off in every size",
            allowed="edges as long as what they are sewn to",
            message=f"most seams of {name} do not fit in any size: look at the names of its edges first; {fits}",
        )


def _seams_of(garment: Garment, piece: str) -> list[Seam]:
    """The seams that a piece has whole edges in, beside other pieces."""
    if piece not in garment.cuts:
        return []
    seams = (seam for seam in garment.pattern.seams.values() if is_complete(garment, seam, _size(garment, piece)))
    steps = ((seam, (*seam.a, *seam.b)) for seam in seams)
    return [
        seam
        for seam, both in steps
        if len({step.piece for step in both}) > 1 and any(s.piece == piece and s.part is None for s in both)
    ]


def _size(garment: Garment, piece: str) -> str:
    """The base size, or the first that the piece has."""
    return garment.pattern.base if garment.pattern.base in garment.cuts[piece] else next(iter(garment.cuts[piece]))


def _is_off(garment: Garment, seam: Seam, other: Lengths, piece: str | None) -> bool:
    """Whether a seam is off in length in all sizes; in the size of `piece` alone, with other lengths of its edges."""
    sizes = [_size(garment, piece)] if piece else garment.pattern.sizes
    there = [size for size in sizes if is_complete(garment, seam, size)]

    def side_mm(side: tuple[SideEdge, ...], size: str) -> float:
        return sum(other[s.edge] if s.piece == piece else length_mm(garment, s, size) for s in side)

    sums = [(side_mm(seam.a, size), side_mm(seam.b, size)) for size in there]
    return bool(sums) and all(whole_band(seam, b_mm).misses_mm(a_mm - b_mm) for a_mm, b_mm in sums)


def _order_that_fits(garment: Garment, spec: PieceSpec, cut: CutPiece, seams: list[Seam]) -> tuple[str, ...]:
    """The names from the first drawn edge on, shifted so that all seams fit; empty where no shift or several do."""
    named = [(edge.name, run_mm) for edge in cut.drawn.edges for run_mm in _runs_mm(edge, spec, cut)]
    names, lengths_mm = [name for name, _ in named], [run_mm for _, run_mm in named]
    whole = [seam for seam in seams if all(step.part is None for step in (*seam.a, *seam.b))]
    found = []
    for shift in range(1, len(names)):
        order = (*names[shift:], *names[:shift])
        sums: Lengths = {}
        for name, run_mm in zip(order, lengths_mm, strict=True):
            sums[name] = sums.get(name, 0.0) + run_mm
        if len(whole) >= _LEAST_SEAMS and not any(_is_off(garment, seam, sums, spec.name) for seam in whole):
            found.append(order)
    return found[0] if len(found) == 1 else ()


def _runs_mm(edge: Edge, spec: PieceSpec, cut: CutPiece) -> list[float]:
    """Lengths from corner to corner of an edge that `around` names several times, darts and pleats closed."""
    runs: list[Path] = [edge.path]
    if spec.around.count(edge.name) > 1:
        sharp = [abs(math.degrees(turn_between_rad(*two))) > _CORNER_DEG for two in pairwise(edge.path)]
        ends = [0, *(at for at, turns in enumerate(sharp, 1) if turns), len(edge.path)]
        runs = [edge.path[start:stop] for start, stop in pairwise(ends)]
    lengths_mm = [path_length_mm(run) for run in runs]
    starts_mm = [sum(lengths_mm[:i]) for i in range(len(runs))]
    at = {notch.name: notch.at_mm for notch in cut.drawn.notches if notch.edge == edge.name}
    for take in (take for said in spec.edges.values() for take in said.takes):
        if take.start_notch in at and take.end_notch in at:
            low, high = sorted((at[take.start_notch], at[take.end_notch]))
            lengths_mm[sum(start <= low for start in starts_mm) - 1] -= high - low
    return lengths_mm
