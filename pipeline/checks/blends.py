"""Edges along which sizes are blended: what is sewn to them must blend alike, and come out as long."""

from collections.abc import Iterator
from itertools import pairwise, permutations
from typing import NamedTuple

import numpy as np

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import ease_mm
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_parts import reach_mm
from pipeline.checks.seam_walk import is_complete, is_of_one_cloth
from pipeline.checks.seam_way import decided_direction, side_text
from pipeline.geometry.blend import blended
from pipeline.geometry.chains import Array, arc_lengths, coordinates, places_along
from pipeline.geometry.curves import flattened
from pipeline.geometry.parts import part_of
from pipeline.model.edge_places import place_mm
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.piece_specs import EdgePart
from pipeline.model.pieces import CutPiece

MOST_APART_MM = 1.0
_ALIKE_MM = 0.1
_SHARES = 9


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
            one, two = (
                _guide(garment, step, back, start, end) for step, back in ((seam.a[0], way.a[0]), (seam.b[0], way.b[0]))
            )
            if one is None or two is None or one.is_drawn_as(two):
                continue
            a, b = one.length_mm, two.length_mm
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
                    remedy=(
                        "blend both between the same notches, draw both edges alike, and lay both pieces on an anchor"
                        " at the same place of the seam"
                    ),
                )


class _Guide(NamedTuple):
    """What a step is blended from and to, in walking order, laid as its sizes are nested, and what is beside."""

    one: Array
    other: Array
    beside_mm: float

    @property
    def length_mm(self) -> float:
        return self.beside_mm + float(arc_lengths(blended(self.one, self.other))[-1])

    def is_drawn_as(self, guide: "_Guide") -> bool:
        """Whether both sizes are drawn as those of another guide, turned over or not: where each piece lies in its nest
        is not a matter of its drawing, and no other drawing would mend it."""
        pairs = ((self.one, guide.one), (self.other, guide.other))
        return all(float(np.abs(_shape(mine) - _shape(theirs)).max()) <= _ALIKE_MM for mine, theirs in pairs)


def _shape(line: Array) -> Array:
    """Length, and how far places at equal shares of it are from its first and its last point, in mm."""
    along = arc_lengths(line)
    places = places_along(line, along, np.linspace(0.0, along[-1], _SHARES))
    apart = [np.hypot(*(places - places[end]).T) for end in (0, -1)]
    return np.concatenate(([along[-1]], *apart))


def _guide(garment: Garment, step: SideEdge, back: bool, start: str, end: str) -> _Guide | None:
    """A step that is the line of one size where the seam starts and of another where it ends, without what darts and
    pleats take up. None where it is drawn so that this cannot be said."""
    if garment.takes(step.piece, step.edge):
        return None
    blend = garment.edge_spec(step.piece, step.edge).blend
    first, last = (end, start) if back else (start, end)
    cuts = [garment.cuts[step.piece][size] for size in (first, last)]
    parts = [part for cut in cuts if (part := _parted(cut, step, blend)) is not None]
    if len(parts) < 2:
        return None
    (before_mm, one, _), (_, other, after_mm) = parts
    one, other = (line - np.asarray(cut.drawn.anchor) for line, cut in zip((one, other), cuts, strict=True))
    if back:
        one, other = other[::-1], one[::-1]
    return _Guide(one, other, before_mm + after_mm)


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
