"""Edges along which sizes are blended: what is sewn to them must blend alike, and come out as long."""

from collections.abc import Iterator
from itertools import pairwise, permutations

import numpy as np

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import ease_mm
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_parts import reach_mm
from pipeline.checks.seam_walk import is_complete, is_of_one_cloth
from pipeline.checks.seam_way import decided_direction, side_text
from pipeline.geometry.blend import blended
from pipeline.geometry.chains import Array, arc_lengths, coordinates
from pipeline.geometry.curves import flattened
from pipeline.geometry.parts import part_of
from pipeline.model.edge_places import place_mm
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.piece_specs import EdgePart
from pipeline.model.pieces import CutPiece

MOST_APART_MM = 1.0


@CHECKS.register(
    id="blended-seams",
    title="What is sewn to an edge along which sizes are blended blends alike, and is as long",
    rationale="Who cuts one piece from size to size and not its partner has two edges that do not meet.",
    remedy="say blend of both edges, or of neither",
    severity="warn",
    source="1 mm beyond the ease, along the seam lines: common practice",
    needs=("seams",),
)
def blended_seams(garment: Garment) -> Iterator[Outcome]:
    """Seams of which one side is blended alone; of blended ones, lengths from each size to its neighbours."""
    for seam in garment.pattern.seams.values():
        if seam.kind != "sewn" or is_of_one_cloth(seam):
            continue
        sides = {name: _blends(garment, side) for name, side in (("a", seam.a), ("b", seam.b))}
        if bool(sides["a"]) != bool(sides["b"]):
            yield _alone(seam, "a" if sides["a"] else "b")
        elif sides["a"]:
            yield from _apart(garment, seam)


def _blends(garment: Garment, side: tuple[SideEdge, ...]) -> bool:
    return any(garment.edge_spec(step.piece, step.edge).blend for step in side)


def _alone(seam: Seam, name: str) -> Outcome:
    mine, other = (seam.a, seam.b) if name == "a" else (seam.b, seam.a)
    return Outcome(
        code="one-side",
        where=f"seams.{seam.name}",
        object=side_text(mine),
        found=f"blend of {side_text(mine)} alone",
        allowed="of both sides, or of neither",
        message=f"sizes are blended along {side_text(mine)}, and not along {side_text(other)}, which is sewn to it",
    )


def _apart(garment: Garment, seam: Seam) -> Iterator[Outcome]:
    """Pairs of neighbouring sizes between which both sides of a seam, an edge each, come out at different lengths."""
    way = decided_direction(garment, seam)
    if way is None or len(seam.a) > 1 or len(seam.b) > 1:
        return
    pairs = dict.fromkeys(pair for ladder in garment.ladders for pair in pairwise(ladder.sizes))
    for pair in pairs:
        if not all(is_complete(garment, seam, size) for size in pair):
            continue
        for start, end in permutations(pair):
            a = _length_mm(garment, seam.a[0], way.a[0], start, end)
            b = _length_mm(garment, seam.b[0], way.b[0], start, end)
            if a is None or b is None:
                continue
            low, high = ease_mm(seam.ease, b)
            off = max(low - (a - b), (a - b) - high)
            if off > MOST_APART_MM:
                yield Outcome(
                    code="lengths",
                    where=f"seams.{seam.name}",
                    found=f"a minus b = {a - b:+.2f} mm ({a:.2f} − {b:.2f})",
                    allowed=f"{low:.1f} to {high:.1f} mm, ± {MOST_APART_MM:g} mm",
                    message=(
                        f"blended from size {start} to {end}, {side_text(seam.a)} and {side_text(seam.b)} "
                        f"are {off:.1f} mm apart in length"
                    ),
                    remedy="blend both between the same notches, or draw both edges alike",
                )


def _length_mm(garment: Garment, step: SideEdge, back: bool, start: str, end: str) -> float | None:
    """How long a step is that is the line of one size where the seam starts and of another where it ends, without what
    darts and pleats take up. None where it is drawn so that this cannot be said."""
    if garment.takes(step.piece, step.edge):
        return None
    blend = garment.edge_spec(step.piece, step.edge).blend
    first, last = (end, start) if back else (start, end)
    cuts = [garment.cuts[step.piece][size] for size in (first, last)]
    parts = [part for cut in cuts if (part := _parted(cut, step, blend)) is not None]
    if len(parts) < 2:
        return None
    (before_mm, one, _), (_, other, after_mm) = parts
    return before_mm + float(arc_lengths(blended(one, other))[-1]) + after_mm


def _parted(cut: CutPiece, step: SideEdge, blend: EdgePart | bool) -> tuple[float, Array, float] | None:
    """A step's seam line in walking order: the length before what is blended, that as a chain, and the length after."""
    reach = reach_mm(cut, step)
    if reach is None:
        return None
    low, high = min(reach), max(reach)
    ends = [low, high]
    if isinstance(blend, EdgePart):
        places = [place_mm(cut.drawn, step.edge, name) for name in (blend.start, blend.end)]
        ends = sorted(float(np.clip(place, low, high)) for place in places if place is not None)
    if len(ends) < 2 or ends[1] - ends[0] < MOST_APART_MM:
        return None
    path = part_of(cut.drawn.edge(step.edge).path, ends[0], ends[1])
    return ends[0] - low, coordinates(flattened(path)), high - ends[1]
