"""Hems: turned up, their ends must lie where the piece beside them does, and they are as deep all along."""

from collections.abc import Iterator
from itertools import groupby

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import at_corner, corner_deg, neighbour
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.geometry.curves import direction
from pipeline.geometry.distances import right_of_mm
from pipeline.model.pieces import CutEdge, CutPiece
from pipeline.model.turns import turns_of

OFF_MM = 2.0
DEEP_MM = 20.0
EVEN_MM = 0.1
RUNS_ON_DEG = 20.0
"""How far a hem's line may turn where it still runs on; a vent or a slit turns it by more."""


@CHECKS.register(
    id="hem-turned",
    title="A hem that is turned up is as wide as the piece it lies on",
    rationale="Where the sides taper, a hem that is cut straight on pulls or puckers once it is turned up.",
    remedy='say corner = "turned" for the hem edge, so that its ends mirror the sides',
    severity="block",
    source="ends within 2 mm of the piece's own cut line when turned: common practice, the limit from memory",
)
def hem_turned(garment: Garment) -> Iterator[Outcome]:
    """Both ends of every hem: an edge that says so, or one in no seam with 20 mm and more."""
    sewn = _sewn(garment)
    for spec, cut in garment.each():
        hems = [edge for edge in cut.edges if is_hem(edge, (cut.piece, edge.name) in sewn)] if not spec.source else []
        for hem in hems:
            for at_end in (False, True) if len(cut.edges) > 1 else ():
                beside = cut.edge(neighbour(cut, hem.name, at_end).name)
                if (
                    beside.folded_at(0.0 if at_end else 1.0)
                    or beside in hems
                    or not beside.cut_line
                    or not hem.cut_line
                ):
                    continue
                folds_mm = spec.edges[hem.name].folds_mm if hem.name in spec.edges else ()
                short = short_mm(cut, hem, beside, at_end, folds_mm)
                if short is not None and abs(short) > OFF_MM:
                    yield Outcome(
                        code="short" if short > 0 else "full",
                        size=cut.size,
                        piece=cut.piece,
                        where=hem.name,
                        file=cut.drawn.file,
                        object=f"{hem.name} at {beside.name}",
                        found=f"{abs(short):.1f} mm too {'short' if short > 0 else 'full'}",
                        allowed=f"within {OFF_MM:g} mm of the cut line of {beside.name}",
                        message=(
                            f"turned up, {cut.piece}.{hem.name} ends {abs(short):.1f} mm "
                            f"{'inside' if short > 0 else 'outside'} the piece at {beside.name}"
                        ),
                    )


@CHECKS.register(
    id="hem-said",
    title="A deep allowance in no seam is said to be a hem",
    rationale="Where nothing is sewn to an edge, nothing tells a hem from a seam allowance typed twice as wide.",
    remedy="say hem = true for that edge where it is turned up, or correct its allowance",
    severity="warn",
    source="hems of 20 mm and more, seam allowances of less: common practice",
)
def hem_said(garment: Garment) -> Iterator[Outcome]:
    """Edges that are in no seam, have 20 mm and more, and do not say that they are hems."""
    sewn = _sewn(garment)
    for spec, cut in garment.each():
        for edge in cut.edges if spec.source is None else ():
            if is_hem(edge, (cut.piece, edge.name) in sewn) and not edge.hem:
                yield Outcome(
                    code="not-said",
                    size=cut.size,
                    piece=cut.piece,
                    where=edge.name,
                    file="pattern.toml",
                    object=f"pieces.{cut.piece}.edges.{edge.name}",
                    found=f"{edge.widest_mm:g} mm, in no seam",
                    allowed=f"hem = true, or less than {DEEP_MM:g} mm",
                    message=f"{cut.piece}.{edge.name} is in no seam and has {edge.widest_mm:g} mm: is it a hem?",
                )


@CHECKS.register(
    id="hem-even",
    title="A hem is as deep all along its line",
    rationale="Where its depth changes, the raw edge of a hem steps, and what was turned up lies crooked inside.",
    remedy="give the edges of one hem one allowance, or waive this where the step is meant",
    severity="warn",
    source=(
        f"one allowance where the line runs on within {RUNS_ON_DEG:g} degrees: common practice, the limit from memory"
    ),
)
def hem_even(garment: Garment) -> Iterator[Outcome]:
    """Hems that taper, and edges of one piece in no seam that run on into each other, a hem among the two.

    Of those that run on across a seam allowance-ends tells.
    """
    sewn = _sewn(garment)
    for name, by_size in garment.cuts.items():
        spec, cut = garment.pattern.pieces.get(name), next(iter(by_size.values()))
        for edge in cut.edges if spec and not spec.source else ():
            if edge.hem and edge.tapers:
                yield _tapers(name, edge)
            if len(cut.edges) == 1:
                continue
            after = cut.edge(neighbour(cut, edge.name, True).name)
            runs_on = abs(corner_deg(cut, edge.name, True) - 180) <= RUNS_ON_DEG
            free = not {(name, edge.name), (name, after.name)} & sewn
            end_mm, start_mm = edge.allowance_at(1.0), after.allowance_at(0.0)
            even = abs(end_mm - start_mm) <= EVEN_MM
            folded = edge.folded_at(1.0) or after.folded_at(0.0)
            if runs_on and free and not even and (edge.hem or after.hem) and not folded:
                yield Outcome(
                    code="step",
                    piece=name,
                    where=edge.name,
                    file="pattern.toml",
                    object=f"pieces.{name}.edges.{edge.name}",
                    found=f"{end_mm:g} and {start_mm:g} mm",
                    allowed="one depth along the whole hem",
                    message=(
                        f"the hem {name}.{edge.name} is {end_mm:g} mm deep "
                        f"and runs on into {after.name} with {start_mm:g} mm"
                    ),
                )


def _tapers(piece: str, hem: CutEdge) -> Outcome:
    widths = [width for width, _ in groupby(width for _, width in hem.allowances)]
    return Outcome(
        code="tapers",
        piece=piece,
        where=hem.name,
        file="pattern.toml",
        object=f"pieces.{piece}.edges.{hem.name}",
        found=f"{' .. '.join(f'{width:g}' for width in widths)} mm",
        allowed="one depth along the whole hem",
        message=f"the hem {piece}.{hem.name} tapers from {widths[0]:g} {' '.join(f'to {w:g}' for w in widths[1:])} mm",
    )


def _sewn(garment: Garment) -> set[tuple[str, str]]:
    """Every edge that is in a seam, by piece and name."""
    return {(step.piece, step.edge) for seam in garment.pattern.seams.values() for step in (*seam.a, *seam.b)}


def is_hem(edge: CutEdge, in_a_seam: bool) -> bool:
    """Whether an edge is turned up: it says so, or is in no seam and has 20 mm and more."""
    return not edge.folded and edge.widest_mm > 0 and (edge.hem or (not in_a_seam and edge.widest_mm >= DEEP_MM))


def short_mm(
    cut: CutPiece, hem: CutEdge, beside: CutEdge, at_end: bool, folds_mm: tuple[float, ...] = ()
) -> float | None:
    """How far a hem's raw end, turned up about the hem's line, lies inside the cut line beside it; negative outside.

    `folds_mm`: how far from its line it is folded again. None where the piece beside the hem is not as deep as the hem.
    """
    before, after = at_corner(cut, hem.name, at_end)
    corner = after.path[0].start
    along = direction(before.path[-1], 1.0) if at_end else direction(after.path[0], 0.0)
    raw = hem.cut_line[-1][-1] if at_end else hem.cut_line[0][0]
    to = corner.to(raw)
    depth_mm, height_mm = turns_of(folds_mm, hem.widest_mm)[-1]
    share = height_mm / depth_mm
    turned = corner.plus(along.scaled((1 + share) * to.dot(along))).plus(to.scaled(-share))
    line = beside.cut_line[0] if at_end else beside.cut_line[-1]
    inside, foot = right_of_mm(turned, line)
    return None if foot == (line[-1] if at_end else line[0]) else inside
