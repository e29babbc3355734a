"""Rows of stitching that are seen, as lines inside the piece: beside an edge, from seam line to seam line."""

from collections import Counter
from collections.abc import Sequence
from itertools import pairwise

import msgspec
import numpy as np
import shapely

from pipeline.cutting.bands import offset_points
from pipeline.cutting.clips import polyline
from pipeline.cutting.outline import Parts
from pipeline.cutting.runs import make_run
from pipeline.cutting.telling import Teller, mm
from pipeline.cutting.turned import run_on
from pipeline.geometry.chains import Array, arc_lengths, places_along
from pipeline.geometry.curves import Line, path_length_mm
from pipeline.model.edge_places import SAME_MM, place_mm
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import DrawnPiece, InsideLine
from pipeline.model.topstitching import Rows, row_name, rows_of

_COLLINEAR_MM = 1e-4
_NEARER_MM = 0.005
"""What lies so much nearer to the edge than the row should is a loop, where the edge bends in more than the row can."""
_CRUMB_MM = 1.0
_LEAST_SHARE = 0.5
"""Of a row: what its neighbours' corners leave of it on the piece."""


class _Stretch(msgspec.Struct, frozen=True):
    """A part of the outline along which rows lie: its points, and whether each end is a corner of the piece. A stretch
    that goes round the whole piece ends where it starts."""

    edges: tuple[int, ...]
    points: Array
    corners: tuple[bool, bool]
    rows: Rows

    @property
    def closed(self) -> bool:
        return bool(np.hypot(*(self.points[-1] - self.points[0])) < SAME_MM)


def topstitch_lines(
    pattern: Pattern, drawn: DrawnPiece, parts: Parts, seam_ring: Array, teller: Teller
) -> tuple[InsideLine, ...]:
    """The rows of a piece, as half where it is half. Edges that follow each other and have the same rows have them as
    one line, which turns at their corner. A line that the designer drew and called so, and a row that leaves the piece,
    are told."""
    inside, taken = shapely.polygons(seam_ring), {line.name for line in drawn.inside}
    found: list[InsideLine] = []
    counted: Counter[str] = Counter()
    for stretch in _joined(_stretches(pattern, drawn, parts), len(drawn.edges)):
        edge = drawn.edges[stretch.edges[0]].name
        for inside_mm in stretch.rows.inside_mm:
            counted.update(drawn.edges[index].name for index in stretch.edges)
            name = row_name(edge, counted[edge])
            if name in taken:
                _tell_drawn(teller, edge, name)
            path = _row(stretch, inside_mm, inside)
            if not path:
                _tell_outside(teller, edge, inside_mm)
            else:
                found.append(InsideLine(name, path, stretch.closed, "stitch"))
    return tuple(found)


def _tell_drawn(teller: Teller, edge: str, name: str) -> None:
    teller.tell(
        "row-drawn",
        "block",
        f"its row of stitching is called {name}, as a line is that you drew.",
        "Take the line out of the drawing, or give it another name: topstitch has it drawn.",
        where=edge,
        found=name,
        allowed="no inside line of that name",
    )


def _tell_outside(teller: Teller, edge: str, inside_mm: float) -> None:
    teller.tell(
        "row-outside",
        "block",
        f"its row of stitching, {mm(inside_mm)} inside the seam line, leaves the piece.",
        "Say a smaller distance in topstitch, or widen the piece there.",
        where=edge,
        found=mm(inside_mm),
        allowed="a row inside the piece",
    )


def _stretches(pattern: Pattern, drawn: DrawnPiece, parts: Parts) -> list[_Stretch]:
    """Every edge, or part of one, that has rows and is there, as the outline runs."""
    at = {edge.name: index for index, edge in enumerate(drawn.edges)}
    found = []
    for rows in rows_of(pattern, drawn.piece):
        runs = [run.points for run in parts.runs if run.edge == at.get(rows.edge)]
        if not runs:
            continue
        chain = np.vstack([runs[0], *(run[1:] for run in runs[1:])])
        if rows.part is None:
            found.append(_Stretch((at[rows.edge],), chain, (True, True), rows))
            continue
        whole_mm = path_length_mm(drawn.edge(rows.edge).path)
        places = [place_mm(drawn, rows.edge, name) for name in (rows.part.start, rows.part.end)]
        if None not in places:
            low, high = sorted(place for place in places if place is not None)
            corners = (low <= SAME_MM, high >= whole_mm - SAME_MM)
            found.append(_Stretch((at[rows.edge],), _between(chain, low / whole_mm, high / whole_mm), corners, rows))
    return sorted(found, key=lambda stretch: stretch.edges)


def _between(chain: Array, low: float, high: float) -> Array:
    """The part of a chain between two shares of its length."""
    along = arc_lengths(chain)
    start, end = low * along[-1], high * along[-1]
    inner = along[(along > start) & (along < end)]
    return places_along(chain, along, np.array([start, *inner, end]))


def _joined(stretches: Sequence[_Stretch], count: int) -> list[_Stretch]:
    """Stretches with those joined that follow each other round a piece of so many edges."""
    joined: list[_Stretch] = []
    for stretch in stretches:
        before = next((one for one in joined if _follows(one, stretch, count)), None)
        if before is None:
            joined.append(stretch)
        else:
            joined[joined.index(before)] = _one(before, stretch)
    for last in reversed(joined):
        first = next((one for one in joined if one is not last and _follows(last, one, count)), None)
        if first is not None:
            joined[joined.index(first)] = _one(last, first)
            joined.remove(last)
    return joined


def _follows(one: _Stretch, other: _Stretch, count: int) -> bool:
    same = (one.rows.of, one.rows.inside_mm, one.rows.side) == (other.rows.of, other.rows.inside_mm, other.rows.side)
    beside = (one.edges[-1] + 1) % count == other.edges[0]
    return same and beside and one.corners[1] and other.corners[0]


def _one(before: _Stretch, after: _Stretch) -> _Stretch:
    points = np.vstack((before.points, after.points[1:]))
    return _Stretch((*before.edges, *after.edges), points, (before.corners[0], after.corners[1]), before.rows)


def _row(stretch: _Stretch, inside_mm: float, piece: shapely.Geometry) -> tuple[Line, ...]:
    """The line so far inside a stretch, run on past corners of the piece to its seam line; empty where it leaves the
    piece between them."""
    own = stretch.points
    core = _beside(np.vstack((own[-2:-1], own, own[1:2])) if stretch.closed else own, own, inside_mm, stretch.closed)
    kept = [part for part in _parts(core, piece) if shapely.length(part) > _CRUMB_MM]
    if len(kept) != 1 or shapely.length(kept[0]) < _LEAST_SHARE * shapely.length(core):
        return ()
    row = core if stretch.closed else _to_seam_line(stretch, core, kept[0], piece)
    straight = shapely.simplify(row, _COLLINEAR_MM)
    return tuple(Line(a, b) for a, b in pairwise(polyline(shapely.get_coordinates(straight))))


def _to_seam_line(
    stretch: _Stretch, core: shapely.Geometry, kept: shapely.Geometry, piece: shapely.Geometry
) -> shapely.Geometry:
    """A row that ends on the seam line where the edge ends at a corner."""
    left, top, right, bottom = shapely.bounds(piece)
    far, points = float(np.hypot(right - left, bottom - top)), shapely.get_coordinates(core)
    for at_end in (False, True):
        points = run_on(points, at_end, far) if stretch.corners[at_end] else points
    middle = shapely.line_interpolate_point(kept, 0.5, normalized=True)
    return min(_parts(shapely.linestrings(points), piece), key=lambda part: float(shapely.distance(part, middle)))


def _parts(line: shapely.Geometry, piece: shapely.Geometry) -> list[shapely.Geometry]:
    return [part for part in shapely.get_parts(shapely.intersection(line, piece)) if shapely.length(part) > 0]


def _beside(points: Array, own: Array, inside_mm: float, within: bool) -> shapely.Geometry:
    """The line so far inside a chain, without the loops that it makes where the chain bends more than it can; `within`:
    without what stands for the chain's first and last point. Empty where nothing of it is left."""
    raw = offset_points(make_run(0, points), -inside_mm)
    line = shapely.linestrings(raw[1:-1] if within else raw)
    near = shapely.buffer(shapely.linestrings(own), inside_mm - _NEARER_MM, quad_segs=64)
    rest = [part for part in shapely.get_parts(shapely.difference(line, near)) if shapely.length(part) > _CRUMB_MM]
    if not rest:
        return shapely.LineString()
    middles = [shapely.line_interpolate_point(part, 0.5, normalized=True) for part in rest]
    order = np.argsort([shapely.line_locate_point(line, middle) for middle in middles])
    return shapely.linestrings(np.vstack([shapely.get_coordinates(rest[k]) for k in order]))
