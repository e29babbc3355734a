"""The seam line of a piece, checked: one closed chain of edges, simple, on one side of its fold."""

import math

import numpy as np
import shapely

from pipeline.cutting.folds import Fold, make_fold
from pipeline.cutting.rules import PieceRules
from pipeline.cutting.runs import Run, edge_runs, make_run
from pipeline.cutting.telling import Teller, mm
from pipeline.geometry.chains import Array
from pipeline.geometry.curves import Segment, flattened
from pipeline.model.pieces import DrawnPiece

CHAIN_MM = 0.1
FOLD_BENT_MM = 0.1
_FAR_MM = 1e5


def closed_runs(drawn: DrawnPiece, rules: PieceRules, teller: Teller) -> tuple[tuple[Run, ...], ...] | None:
    """Runs of all edges, their ends drawn together; None where the seam line is no closed chain of edges."""
    good = True
    for index, edge in enumerate(drawn.edges):
        if not edge.path:
            teller.tell("empty-edge", "block", "it has no line.", "Draw the edge again.", where=edge.name)
            return None
        if not all(_finite(segment) for segment in edge.path):
            teller.tell(
                "not-finite",
                "block",
                "it holds a number that is not finite, or lies beyond 100 m.",
                "Draw the edge again.",
                where=edge.name,
            )
            return None
        after = drawn.edges[(index + 1) % len(drawn.edges)]
        gap = edge.path[-1].end.distance(after.path[0].start) if after.path else math.inf
        if not gap <= CHAIN_MM:
            good = False
            teller.tell(
                "open-outline",
                "block",
                f"it does not meet {after.name}, which follows it.",
                "Let the two edges end on one point.",
                where=edge.name,
                found=f"a gap of {mm(gap)}",
                allowed=f"at most {mm(CHAIN_MM)}",
            )
    if not good:
        return None
    by_edge = edge_runs(drawn, tuple(rule.fold for rule in rules.edges))
    for rule, runs in zip(rules.edges, by_edge, strict=True):
        if not runs:
            teller.tell(
                "empty-edge",
                "block",
                "it has no length.",
                "Draw the edge again, or join it to its neighbour.",
                where=rule.name,
            )
            good = False
    return _closed_up(by_edge) if good else None


def _finite(segment: Segment) -> bool:
    numbers = (*segment.start, *segment.end, segment.bend())
    return all(math.isfinite(number) for number in numbers) and max(abs(number) for number in numbers[:4]) <= _FAR_MM


def _closed_up(by_edge: tuple[tuple[Run, ...], ...]) -> tuple[tuple[Run, ...], ...]:
    """Every run starts exactly where the one before it ends."""
    flat = [run for runs in by_edge for run in runs]
    closed: list[Run] = []
    for index, run in enumerate(flat):
        points = run.points.copy()
        points[0] = flat[index - 1].points[-1]
        closed.append(make_run(run.edge, points) if (points[0] != run.points[0]).any() else run)
    return tuple(tuple(run for run in closed if run.edge == edge) for edge in range(len(by_edge)))


def fold_of(drawn: DrawnPiece, rules: PieceRules, by_edge: tuple[tuple[Run, ...], ...], teller: Teller) -> Fold | None:
    """The fold of a piece that is drawn half; None where there is none, or more than one."""
    folds = [index for index, rule in enumerate(rules.edges) if rule.fold]
    if not folds:
        return None
    if len(folds) > 1:
        names = " and ".join(rules.edges[index].name for index in folds)
        teller.tell(
            "two-folds",
            "block",
            f"{names} are both folds.",
            "Let one edge lie on the fold; join two that lie on one line.",
            where=rules.edges[folds[1]].name,
            found=f"{len(folds)} folds",
            allowed="1",
        )
        return None
    points = by_edge[folds[0]][0].points
    fold = make_fold(points[0], points[-1])
    edge = drawn.edges[folds[0]]
    bent = max(abs(fold.beyond_mm(np.array([point]))[0]) for point in flattened(edge.path))
    if bent > FOLD_BENT_MM:
        teller.tell(
            "fold-bent",
            "block",
            "the fold is not a straight line.",
            "Draw the fold as one straight line.",
            where=edge.name,
            found=f"bent by {mm(bent)}",
            allowed=f"at most {mm(FOLD_BENT_MM)}",
        )
    return fold


def seam_region(ring: Array, fold: Fold | None, teller: Teller) -> shapely.Geometry | None:
    """The region inside the seam line; None where it is not simple, clockwise and on one side of its fold."""
    seam = shapely.polygons(ring) if len(ring) > 2 else None
    if seam is None or not shapely.is_valid(seam) or shapely.area(seam) < 1:
        reason = "it encloses no area" if seam is None or shapely.area(seam) < 1 else shapely.is_valid_reason(seam)
        teller.tell(
            "outline",
            "block",
            "the seam line is no simple closed outline.",
            "Draw an outline that encloses an area and neither touches nor crosses itself.",
            found=reason,
            allowed="one closed line that does not cross itself",
        )
        return None
    if not shapely.is_ccw(shapely.get_exterior_ring(seam)):
        teller.tell(
            "outline",
            "block",
            "the seam line is walked anticlockwise.",
            "Let the edges follow each other clockwise on the page.",
            found="anticlockwise",
            allowed="clockwise",
        )
        return None
    if fold is not None and fold.beyond_mm(ring).max() > FOLD_BENT_MM:
        teller.tell(
            "crosses-fold",
            "block",
            "part of the half that is drawn lies beyond the fold, so that it would overlap itself when opened.",
            "Keep the half on one side of the fold's line.",
            found=f"{mm(float(fold.beyond_mm(ring).max()))} beyond it",
            allowed="0 mm",
        )
        return None
    return seam
