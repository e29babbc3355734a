"""The lines of a nest and how each is stroked: cut, seam, fold and inside lines, each stretch once."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
import shapely

from pipeline.drawing.ink import Ink, stroke_ink
from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.segments import NEAR_SHARE
from pipeline.drawing.nest.stretches import Chain, Stretch, points_of, shared_stretches
from pipeline.drawing.scene import Run
from pipeline.drawing.styles import ALIKE_MM, FOLD_EDGE_DASH_MM, LineStyle
from pipeline.geometry.chains import coordinates
from pipeline.model.piece_specs import LineKind

BLEND = "blend"
"""The sign of guides between sizes, which are of both together."""


class Line(NamedTuple):
    """One stretch, how it is stroked, and which sign of the key it is."""

    stretch: Stretch
    style: LineStyle
    sign: str = ""


class InsideLine(NamedTuple):
    """A stretch of an inside line; `key` tells the line among those of its piece."""

    stretch: Stretch
    style: LineStyle
    key: str
    kind: LineKind


def cut_lines(nest: Nest) -> list[Line]:
    """Cut lines, without what lies on a fold."""
    stretches = shared_stretches({size: piece.cut for size, piece in nest.pieces.items()})
    return [Line(stretch, nest.look.cut(stretch.sizes, nest.codes), "cut") for stretch in stretches]


def other_lines(nest: Nest) -> list[Line]:
    """Seam lines and fold edges."""
    look, lines = nest.look, []
    if look.seam_mm is not None:
        for stretch in shared_stretches({size: piece.seam for size, piece in nest.pieces.items()}):
            lines.append(Line(stretch, look.seam(stretch.sizes, nest.codes), "seam"))
    dash = tuple(part * look.marks for part in FOLD_EDGE_DASH_MM)
    for stretch in shared_stretches({size: piece.fold_edge for size, piece in nest.pieces.items()}):
        lines.append(Line(stretch, LineStyle(look.colour(stretch.sizes, nest.codes), look.fold_mm, dash), "fold"))
    return lines


def inside_lines(nest: Nest) -> list[InsideLine]:
    """Inside lines with their kinds; lines of one name are held against each other."""
    kinds = {(line.key, line.kind): None for piece in nest.pieces.values() for line in piece.inside}
    found = []
    for key, kind in kinds:
        chains = {
            size: tuple(line.chain for line in piece.inside if (line.key, line.kind) == (key, kind))
            for size, piece in nest.pieces.items()
        }
        alike_mm = nest.look.inside_alike_mm(kind)
        for stretch in shared_stretches(middle_first(chains, alike_mm), alike_mm):
            sizes = tuple(size for size in nest.sizes if size in stretch.sizes)
            style = nest.look.inside(kind, sizes, nest.codes)
            found.append(InsideLine(stretch._replace(sizes=sizes), style, key, kind))
    return found


def middle_first(chains: Mapping[str, Sequence[Chain]], alike_mm: float) -> dict[str, Sequence[Chain]]:
    """Lines of sizes so that those come first that lie in the middle of as many as `alike_mm` allows: the fewest lines
    are drawn, and each lies as near to its sizes as can be."""
    lines = {
        size: shapely.MultiLineString([coordinates(chain.ring) for chain in own if len(chain.points) > 1])
        for size, own in chains.items()
    }
    left, first = [size for size in chains if not lines[size].is_empty], list[str]()
    while left and alike_mm > ALIKE_MM:
        near = [size for size in left if _apart_mm(lines[left[0]], lines[size]) <= NEAR_SHARE * alike_mm]
        first.append(near[-1])
        left = [size for size in left if _apart_mm(lines[near[-1]], lines[size]) > NEAR_SHARE * alike_mm]
    return {size: chains[size] for size in dict.fromkeys((*first, *chains))}


def _apart_mm(line: shapely.Geometry, other: shapely.Geometry) -> float:
    """How far the one of two lines that lies nearer to the other is from it at its corners: one may be longer."""
    pairs = ((line, other), (other, line))
    return min(float(shapely.distance(shapely.points(shapely.get_coordinates(a)), b).max()) for a, b in pairs)


def line_inks(lines: Sequence[Line], boxes: Sequence[shapely.Polygon]) -> list[Ink]:
    """Lines less the gaps for texts, those of one style and the same sizes in one path."""
    groups: dict[tuple[tuple[str, ...], LineStyle, str], list[Run]] = {}
    for line, parts in zip(lines, _with_gaps([line.stretch for line in lines], boxes), strict=True):
        for part in parts:
            groups.setdefault((part.sizes, line.style, line.sign), []).append(Run(part.points, part.closed))
    return [
        stroke_ink(sizes, strokes, style)._replace(sign=sign, together=sign == BLEND)
        for (sizes, style, sign), strokes in groups.items()
    ]


def square_ended(line: Line) -> Line:
    """A line that goes on for half its width: where stretches of several sizes meet at a corner, they fill it."""
    stretch, half = line.stretch, line.style.width_mm / 2
    if stretch.closed or line.style.dash_mm:
        return line
    first, *inner, last = stretch.points
    before = [*inner, last][0].to(first).unit().scaled(half)
    after = [first, *inner][-1].to(last).unit().scaled(half)
    return line._replace(stretch=stretch._replace(points=(first.plus(before), *inner, last.plus(after))))


def _with_gaps(lines: Sequence[Stretch], boxes: Sequence[shapely.Polygon]) -> tuple[tuple[Stretch, ...], ...]:
    """Each line less what lies in the boxes: a line without one comes back whole."""
    if not boxes:
        return tuple((line,) for line in lines)
    shapes = [shapely.linestrings(coordinates(line.ring)) for line in lines]
    tree = shapely.STRtree(shapes)
    at_box, at_line = tree.query(np.asarray(boxes), predicate="intersects")
    hits: dict[int, list[shapely.Polygon]] = {}
    for box, index in zip(at_box.tolist(), at_line.tolist(), strict=True):
        hits.setdefault(index, []).append(boxes[box])
    return tuple(_less(line, shapes[k], hits[k]) if k in hits else (line,) for k, line in enumerate(lines))


def _less(line: Stretch, whole: shapely.LineString, boxes: Sequence[shapely.Polygon]) -> tuple[Stretch, ...]:
    rest = whole.difference(shapely.union_all(boxes) if len(boxes) > 1 else boxes[0])
    if line.closed and rest.geom_type == "MultiLineString":
        rest = _joined(rest, whole)
    return tuple(
        Stretch(line.sizes, points_of(shapely.get_coordinates(part)), False)
        for part in shapely.get_parts(rest)
        if part.length > 0.2
    )


def _joined(rest: shapely.MultiLineString, whole: shapely.LineString) -> shapely.MultiLineString:
    """The first and the last part of an opened ring are one where they meet at the ring's start."""
    start = whole.coords[0]
    parts = [list(part.coords) for part in rest.geoms]
    if parts[0][0] == start and parts[-1][-1] == start:
        parts = [parts[-1] + parts[0][1:], *parts[1:-1]]
    return shapely.MultiLineString(parts)
