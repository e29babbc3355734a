"""Linings that are sewn to the raw edge of a hem, so that its allowance hangs between, and gaps to turn a seam through.

Raw edges are laid on each other, so the seam lies on the hem's allowance the lining's allowance away from its raw edge:
there its length is what the lining's edge is held against. A hem whose sides taper by 10° and that is 40 mm deep is,
30 mm out, 30 tan 10° = 5.29 mm wider a side than at the hem line.
"""

import math
from collections.abc import Iterator

import numpy as np
import shapely

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import corner_deg, neighbour
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_parts import ends_within, narrowest_mm, path_of
from pipeline.checks.seam_walk import is_complete, length_mm
from pipeline.cutting.bands import offset_points
from pipeline.cutting.runs import make_run
from pipeline.cutting.turned import run_on
from pipeline.geometry.chains import Array, chord_lengths, coordinates
from pipeline.geometry.curves import flattened, path_length_mm
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import CutPiece

_FLAT_MM = 0.01
_REPEATED_MM = 1e-4
_LEFT_MM = 5.0
"""Of the hem, beside what is sewn of it: else nothing hangs between (estimated)."""


def sewn_length_mm(garment: Garment, seam: Seam, size: str) -> float:
    """How long side b of a bagged seam is where the lining is sewn to it. Raises KeyError where a piece is missing."""
    taken_mm = lining_mm(garment, seam, size)
    return sum(_line_mm(garment, step, size, taken_mm) for step in seam.b)


def lining_mm(garment: Garment, seam: Seam, size: str) -> float:
    """The allowance of a bagged seam: the lining's, the narrowest along it. Raises KeyError."""
    return min(narrowest_mm(garment.cuts[step.piece][size], step) for step in seam.a)


def _line_mm(garment: Garment, step: SideEdge, size: str, taken_mm: float) -> float:
    """How long a hem's allowance is, `taken_mm` within its raw edge, from seam line to seam line beside it; less what
    darts and pleats take up."""
    cut = garment.cuts[step.piece][size]
    path = path_of(cut, step)
    taken_up = path_length_mm(path) - length_mm(garment, step, size)
    out_mm = max(narrowest_mm(cut, step) - taken_mm, 0.0)
    points = _without_repeats(coordinates(flattened(path, _FLAT_MM)))
    beside = offset_points(make_run(0, points), out_mm)
    middle = shapely.line_interpolate_point(shapely.linestrings(beside), 0.5, normalized=True)
    cloth = shapely.polygons(cut.cut_drawn)
    left, top, right, bottom = shapely.bounds(cloth)
    ends = [at_end for at_end in (False, True) if len(cut.edges) > 1 and not ends_within(cut, step, at_end)]
    for at_end in ends:
        beside = run_on(beside, at_end, float(np.hypot(right - left, bottom - top)))
    stretches = shapely.get_parts(shapely.intersection(shapely.linestrings(beside), cloth))
    line = min(stretches, key=lambda part: float(shapely.distance(part, middle)), default=shapely.LineString())
    return float(shapely.length(line)) - sum(_beyond_mm(cut, step.edge, at_end) for at_end in ends) - taken_up


def _beyond_mm(cut: CutPiece, hem: str, at_end: bool) -> float:
    """How far the allowance beside a hem reaches past its seam line, measured along the hem."""
    beside = cut.edge(neighbour(cut, hem, at_end).name)
    if beside.fold:
        return 0.0
    return beside.allowance_at(0.0 if at_end else 1.0) / max(math.sin(math.radians(corner_deg(cut, hem, at_end))), 0.1)


def _without_repeats(points: Array) -> Array:
    return points[np.concatenate(([True], chord_lengths(points) > _REPEATED_MM))]


@CHECKS.register(
    id="bagged-hems",
    title="A hem to which a lining is sewn is deep enough to hang between the two",
    rationale="Where the lining takes all of the hem's allowance it pulls the hem up, and its seam shows at the edge.",
    remedy="deepen the hem, or give the lining's edge a narrower allowance",
    severity="block",
    source=f"{_LEFT_MM:g} mm of the hem beside the lining's allowance: estimated",
)
def bagged_hems(garment: Garment) -> Iterator[Outcome]:
    """The lining's allowance, which is what is sewn of the hem, against the depth of every hem, in the first size."""
    for seam in garment.pattern.seams.values():
        sizes = garment.pattern.sizes if seam.kind == "bagged" else ()
        size = next((size for size in sizes if is_complete(garment, seam, size)), None)
        if size is None:
            continue
        taken_mm = lining_mm(garment, seam, size)
        if taken_mm <= 0:
            yield _outcome(
                seam, "no-allowance", size, "0 mm", "an allowance to sew with", "its lining has no allowance"
            )
        for step in seam.b:
            depth_mm = narrowest_mm(garment.cuts[step.piece][size], step)
            if depth_mm < taken_mm + _LEFT_MM:
                text = f"{step.piece}.{step.edge} is {depth_mm:g} mm deep, and {taken_mm:g} mm of it are sewn"
                allowed = f"{taken_mm + _LEFT_MM:g} mm or more"
                yield _outcome(seam, "hem-too-shallow", size, f"{depth_mm:g} mm", allowed, text)


@CHECKS.register(
    id="turned-through",
    title="A gap that is left to turn a seam through is shorter than the seam",
    rationale="A seam that is all gap closes nothing; what it should hold falls apart when it is turned.",
    remedy="shorten turn_through, or leave the gap in a longer seam",
    severity="block",
    source="geometry: what is left of the seam holds both ends of the gap",
)
def turned_through(garment: Garment) -> Iterator[Outcome]:
    """`turn_through` against the shorter side; a side of which a piece is on the fold is worn twice as long."""
    for seam in garment.pattern.seams.values():
        for size in garment.pattern.sizes if seam.turn_through_mm is not None else ():
            if seam.turn_through_mm is None or not is_complete(garment, seam, size):
                continue
            shorter_mm = min(_worn_mm(garment, side, size) for side in (seam.a, seam.b))
            if seam.turn_through_mm >= shorter_mm:
                text = f"its gap of {seam.turn_through_mm:g} mm is as long as the seam, {shorter_mm:.0f} mm, or longer"
                found, allowed = f"{seam.turn_through_mm:g} mm", f"less than {shorter_mm:.0f} mm"
                yield _outcome(seam, "gap-too-long", size, found, allowed, text)


def _worn_mm(garment: Garment, side: tuple[SideEdge, ...], size: str) -> float:
    halves = any(garment.cuts[step.piece][size].fold is not None for step in side)
    return sum(length_mm(garment, step, size) for step in side) * (2 if halves else 1)


def _outcome(seam: Seam, code: str, size: str, found: str, allowed: str, text: str) -> Outcome:
    return Outcome(
        code=code,
        size=size,
        where=f"seams.{seam.name}",
        file="pattern.toml",
        object=f"seams.{seam.name}",
        found=found,
        allowed=allowed,
        message=f"seam {seam.name}: {text}",
    )
