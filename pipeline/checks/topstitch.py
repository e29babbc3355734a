"""Rows of stitching that are seen: what lies beneath them is caught."""

import math
from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_parts import narrowest_mm, reach_mm
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import CutEdge
from pipeline.model.turns import highest_mm, turns_of

_EQUAL_MM = 0.1


@CHECKS.register(
    id="topstitch-caught",
    title="A row of topstitching lies on the allowance that is pressed under it",
    rationale="Beyond the cut edge the row holds nothing: the allowance turns over beneath it, and shows as a ridge.",
    remedy="widen the allowance, or bring the row nearer to the seam; waive this for a row that is for looks alone",
    severity="warn",
    source="an allowance at least as wide as its farthest row is away: common practice",
)
def topstitch_caught(garment: Garment) -> Iterator[Outcome]:
    """The farthest row of every seam against the allowance that lies beneath it: the wider of both where they are
    pressed to one side, each where they are pressed apart."""
    for seam in garment.pattern.seams.values():
        for size in garment.pattern.sizes if seam.topstitch_mm else ():
            sides = [_narrowest_mm(garment, side, size) for side in (seam.a, seam.b)]
            if None in sides:
                continue
            known = [width for width in sides if width is not None]
            caught_mm = min(known) if seam.pressed == "open" else max(known)
            if caught_mm < seam.topstitch_mm[-1] - _EQUAL_MM:
                yield _not_caught(seam, size, caught_mm)


def _not_caught(seam: Seam, size: str, caught_mm: float) -> Outcome:
    row_mm = seam.topstitch_mm[-1]
    return Outcome(
        code="beyond-allowance",
        size=size,
        where=f"seams.{seam.name}",
        file="pattern.toml",
        object=f"seams.{seam.name}.topstitch",
        found=f"an allowance of {caught_mm:g} mm under a row at {row_mm:g} mm",
        allowed=f"an allowance of {row_mm:g} mm or more",
        message=f"the row {row_mm:g} mm from the seam {seam.name} does not catch its allowance of {caught_mm:g} mm",
    )


def _narrowest_mm(garment: Garment, side: tuple[SideEdge, ...], size: str) -> float | None:
    """The narrowest allowance along a side; None where a piece of it is not there."""
    cuts = [garment.cut(step.piece, size) for step in side]
    there = [(cut, step) for cut, step in zip(cuts, side, strict=True) if cut is not None and reach_mm(cut, step)]
    return min(narrowest_mm(cut, step) for cut, step in there) if len(there) == len(side) else None


@CHECKS.register(
    id="topstitch-hem",
    title="A row that stitches a hem or a facing that is grown on lies on what is folded there",
    rationale="A row above the turned edge holds nothing, and the hem falls down.",
    remedy="bring the row nearer to the hem line, or deepen the hem",
    severity="block",
    source=(
        "every row within the turned depth: geometry; what is turned in again counts as its folds say, and what is "
        "grown on with its width"
    ),
)
def topstitch_hem(garment: Garment) -> Iterator[Outcome]:
    """Rows of edges against how high what is turned or folded back lies, the lowest of it along the edge; where
    nothing is, a row is one through one layer."""
    for spec, cut in garment.each():
        for name, told in spec.edges.items() if spec.source is None and cut is _first(garment, spec.name) else ():
            edge = next((own for own in cut.edges if own.name == name), None)
            depths = _depths_mm(edge, told.folds_mm) if edge is not None and told.topstitch_mm else []
            turned_mm, what = min(depths, default=(math.inf, ""))
            if depths and told.topstitch_mm[-1] > turned_mm + _EQUAL_MM:
                row_mm = told.topstitch_mm[-1]
                yield Outcome(
                    code="above-hem",
                    piece=cut.piece,
                    where=name,
                    file="pattern.toml",
                    object=f"pieces.{cut.piece}.edges.{name}.topstitch",
                    found=f"a row at {row_mm:g} mm",
                    allowed=f"up to {turned_mm:g} mm, {what}",
                    message=f"the row {row_mm:g} mm from {cut.piece}.{name} lies above {what}",
                )


def _first(garment: Garment, piece: str) -> object:
    return next(iter(garment.cuts[piece].values()))


def _depths_mm(edge: CutEdge, folds_mm: tuple[float, ...]) -> list[tuple[float, str]]:
    """How high what lies folded along an edge comes, each with what it is: what is grown on, and the allowance beside
    that. None where the edge is cut bare."""
    found = [(min(part.widths_mm), "what is folded back") for part in edge.grown_on]
    if not edge.folded and edge.narrowest_mm > 0:
        found.append((turned_depth_mm(edge, folds_mm), "what is turned up"))
    return found


def turned_depth_mm(edge: CutEdge, folds_mm: tuple[float, ...]) -> float:
    """How high the allowance of an edge lies on its piece once it is turned up, and folded again where it says so."""
    return highest_mm(turns_of(tuple(fold for fold in folds_mm if fold < edge.narrowest_mm), edge.narrowest_mm))
