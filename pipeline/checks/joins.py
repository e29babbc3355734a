"""Lines that run on across a seam: the edges beside it must go on bending as they did."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import BEND_WINDOW_MM, bend_deg, edge_index, interior_deg
from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import part_band
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_ends import ANGLE_LIMIT_DEG
from pipeline.checks.seam_walk import walk_side
from pipeline.checks.seam_way import walked_seams
from pipeline.checks.side_ends import seam_end
from pipeline.geometry.curves import Path
from pipeline.model.pattern import Seam

BEND_LIMIT_DEG = 20.0
"""How differently two joined lines may bend within 10 mm: a straight line that runs into a circle of 29 mm radius."""

ONWARD_MM = 40.0


@CHECKS.register(
    id="joined-lines",
    title="Lines that are joined by a seam run on smoothly",
    rationale="Neck, armhole, cap and hem are sewn and seen as one line; a hook beside the seam stays visible in it.",
    remedy="even out the curve beside the seam on one of the two pieces, or say angles = false for the seam",
    severity="warn",
    source=(
        f"within {BEND_WINDOW_MM:g} mm beside the seam both lines bend alike within {BEND_LIMIT_DEG:g} degrees: "
        "common practice, the limit from memory"
    ),
    needs=("seams",),
)
def joined_lines(garment: Garment) -> Iterator[Outcome]:
    """The bend of the edges on both sides of every seam end; told for corners by seam-angles, so only where none is."""
    for seam, way, size in walked_seams(garment):
        if not seam.angles or seam.kind != "sewn" or seam.facing:
            continue
        for at_end in (False, True):
            ends = seam_end(garment, seam, way, size, at_end)
            if abs(sum(end.deg for end in ends) - 180) > ANGLE_LIMIT_DEG or any(
                end.beside.fold or not end.at_corner for end in ends
            ):
                continue
            lines = [(end.cut.drawn.edge(end.beside.name).path, not end.last) for end in ends]
            bends = [bend_deg(path, at_end=last) for path, last in lines]
            names = [f"{end.cut.piece}.{end.beside.name}" for end in ends]
            hooked = max((0, 1), key=lambda side: abs(bends[side]))
            if abs(bends[0] - bends[1]) > BEND_LIMIT_DEG and not _goes_on(*lines[hooked], bends[hooked]):
                piece, edge = names[hooked].split(".")
                yield Outcome(
                    code="bend",
                    size=size,
                    piece=piece,
                    where=edge,
                    file=garment.cuts[piece][size].drawn.file,
                    object=edge,
                    found=f"{bends[0]:+.1f} and {bends[1]:+.1f} degrees within {BEND_WINDOW_MM:g} mm",
                    allowed=f"alike within {BEND_LIMIT_DEG:g} degrees",
                    message=f"{names[0]} and {names[1]}, joined by seam {seam.name}, bend differently beside it",
                )


def _goes_on(path: Path, at_end: bool, bend: float) -> bool:
    """Whether a line goes on bending as it does beside the seam, as a shallow neck does: then it has no hook there."""
    onward = bend_deg(path, at_end, ONWARD_MM) - bend
    return onward * bend > 0 and abs(onward) >= BEND_LIMIT_DEG / 2


@CHECKS.register(
    id="side-corners",
    title="A seam's side runs smoothly from one edge into the next of the same piece",
    rationale="Where one side of a seam has a corner and the other has none there, the two cannot lie on each other.",
    remedy="smooth the corner, or give the other side a joint where it has the same corner",
    severity="warn",
    source=f"180 degrees, within {ANGLE_LIMIT_DEG:g}: common practice, the limit from memory",
    needs=("seams",),
)
def side_corners(garment: Garment) -> Iterator[Outcome]:
    """Corners between edges of one piece that follow each other in a side, unless they face a joint of the other."""
    for seam, way, size in walked_seams(garment):
        sides = ((seam.a, way.a, seam.b, way.b, 1), (seam.b, way.b, seam.a, way.a, -1))
        for steps, turned, other, other_turned, sign in sides if seam.kind == "sewn" else ():
            own, facing = walk_side(garment, steps, turned, size), walk_side(garment, other, other_turned, size)
            for index in range(1, len(steps)):
                before, after = steps[index - 1], steps[index]
                if before.piece != after.piece or before.edge == after.edge or before.part or after.part:
                    continue
                drawn = garment.cuts[before.piece][size]
                pair = (before, after) if not turned[index] else (after, before)
                one, two = (drawn.drawn.edges[edge_index(drawn, step.edge)] for step in pair)
                found = interior_deg(one, two)
                if abs(found - 180) <= ANGLE_LIMIT_DEG or _faced(
                    seam, own.joints_mm[index], facing.joints_mm, sign, facing.length_mm
                ):
                    continue
                yield Outcome(
                    code="corner",
                    size=size,
                    piece=before.piece,
                    where=after.edge,
                    file=drawn.drawn.file,
                    object=f"{before.edge}, {after.edge}",
                    found=f"{found:.1f} degrees",
                    allowed=f"180 ± {ANGLE_LIMIT_DEG:g} degrees",
                    message=f"in seam {seam.name} {before.edge} meets {after.edge} at {found:.1f} degrees",
                )


def _faced(seam: Seam, at_mm: float, joints_mm: tuple[float, ...], sign: int, b_mm: float) -> bool:
    """Whether a joint of the other side lies opposite, within the band."""
    band = part_band(seam, b_mm)
    return any(not band.misses_mm(sign * (at_mm - joint)) for joint in joints_mm[1:-1])
