"""Names of pieces that are too small for a name that is read from afar: beside the piece, with a leader into it."""

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
import shapely

from pipeline.drawing import scene
from pipeline.drawing.drawing import Drawing
from pipeline.drawing.fonts import CAP_HEIGHT, DESCENT, text_width_mm
from pipeline.drawing.labels.text_block import LEAST_READ_AFAR_MM
from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.nest.one_size import in_nest
from pipeline.drawing.scene import Shape, Text
from pipeline.drawing.styles import BLACK, PROJECTED
from pipeline.drawing.wording import SEPARATOR
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece
from pipeline.sheets.layout import Layout, Placement

_NAME_MM = (12.0, 10.0, 8.0)
_LEADING = 1.3
_AWAY_MM = tuple(range(4, 244, 12))
_STEP_MM = 20.0
_ROOM_MM = 9.0
"""How far what stands in a cut line reaches beyond it: half of the largest label."""
_CLEAR_MM = 4.0
_DOT_MM = 2.5
_INSIDE_MM = 8.0
"""How far within the piece, of every size, a leader ends."""


def names_beside(
    pattern: Pattern, cuts: Mapping[str, Mapping[str, CutPiece]], layout: Layout, drawings: Sequence[Drawing]
) -> list[Shape]:
    """Names and leaders in the layout's coordinates, in black; nothing for a piece that has no room beside it."""
    small = [place for place in layout.placements if _largest_mm(place, drawings) < LEAST_READ_AFAR_MM]
    if not small:
        return []
    grounds = {place.piece: _grounds(cuts[place.piece], place, pattern.projector.unfold) for place in layout.placements}
    around = {piece: shapely.union_all(own).buffer(_ROOM_MM) for piece, own in grounds.items()}
    names: list[shapely.Geometry] = []
    sheet = shapely.box(0.0, 0.0, layout.width_mm, layout.height_mm)
    body: list[Shape] = []
    for place in small:
        others = [ground for piece, ground in around.items() if piece != place.piece] + names
        inner = _inner(grounds[place.piece])
        for rows, size_mm in _wordings(pattern, place.piece):
            width_mm = max(text_width_mm(row, size_mm, bold=True) for row in rows)
            below_mm = (DESCENT + _LEADING * (len(rows) - 1)) * size_mm
            reach_mm = width_mm / 2, CAP_HEIGHT * size_mm / 2, CAP_HEIGHT * size_mm / 2 + below_mm
            box = _room(around[place.piece], inner, reach_mm, others, sheet)
            if box is not None:
                names.append(box)
                body += _drawn(box, rows, size_mm, inner)
                break
    return body


def _largest_mm(place: Placement, drawings: Sequence[Drawing]) -> float:
    """The size of the largest text of a piece's block."""
    texts = [
        shape.size_mm
        for drawing in drawings
        if drawing.lies_as(place)
        for shape in drawing.shapes
        if isinstance(shape, Text) and shape.anchor == "start"
    ]
    return max(texts, default=0.0)


def _grounds(cuts: Mapping[str, CutPiece], place: Placement, whole: bool) -> list[shapely.Geometry]:
    """What lies inside the cut line of each size, where it lies."""
    rings = (np.array(in_nest(cut, place.quarter_turns, whole).cut_ground) for cut in cuts.values())
    return [shapely.polygons(ring + np.array((place.x_mm, place.y_mm))) for ring in rings]


def _wordings(pattern: Pattern, piece: str) -> Iterator[tuple[tuple[str, ...], float]]:
    """A name in all languages, then in the first, each in ever smaller letters; then this in two rows."""
    named = [laid_names(pattern, language) for language in pattern.languages]
    names = [each.get(piece) or each[f"strips.{piece}"] for each in named]
    titles = list(dict.fromkeys(name.title for name in names))
    told = [f"{names[0].short} {some}" for some in dict.fromkeys((SEPARATOR.join(titles), titles[0]))]
    for rows in (*((text,) for text in told), _in_two(told[-1])):
        for size_mm in _NAME_MM:
            yield rows, size_mm


def _in_two(text: str) -> tuple[str, ...]:
    """A text in two rows about as long as each other."""
    words = text.split(" ")
    halves = ((" ".join(words[:k]), " ".join(words[k:])) for k in range(1, len(words)))
    return min(halves, key=lambda rows: max(text_width_mm(row, 1.0, bold=True) for row in rows), default=(text,))


def _inner(grounds: Sequence[shapely.Geometry]) -> shapely.Geometry:
    """Where a leader may end: within every size, off the cut line where the piece is broad enough."""
    common = shapely.intersection_all(grounds)
    inner = common.buffer(-_INSIDE_MM)
    return common if inner.is_empty else inner


def _room(
    piece: shapely.Geometry,
    inner: shapely.Geometry,
    reach_mm: tuple[float, float, float],
    others: Sequence[shapely.Geometry],
    sheet: shapely.Geometry,
) -> shapely.Polygon | None:
    """The box of level rows on free ground as near to a piece as there is one; None where there is none near it.

    `reach_mm` are half its width, and how far it reaches up and down from the middle of its first row's capitals;
    `piece` is what it keeps off, `inner` where its leader ends, which passes none of the `others`.
    """
    half, up, down = reach_mm
    tree = shapely.STRtree([piece, *others])
    for away in _AWAY_MM:
        ring = piece.buffer(away).exterior
        spots = shapely.get_coordinates(shapely.line_interpolate_point(ring, np.arange(0.0, ring.length, _STEP_MM)))
        # the box touches the ring with the side that faces the piece
        out = spots - np.array(piece.centroid.coords[0])
        x = spots[:, 0] + np.sign(out[:, 0]) * half * (np.abs(out[:, 0]) > np.abs(out[:, 1]))
        y = spots[:, 1] + np.sign(out[:, 1]) * down * (np.abs(out[:, 1]) >= np.abs(out[:, 0]))
        boxes = shapely.box(x - half, y - up, x + half, y + down)
        free = shapely.covers(sheet, boxes)
        free[np.unique(tree.query(boxes, predicate="dwithin", distance=_CLEAR_MM)[0])] = False
        boxes = boxes[free]
        leaders = shapely.shortest_line(boxes, inner)
        passing = np.zeros(len(boxes), dtype=bool)
        for other in others:
            passing |= shapely.intersects(leaders, other)
        if not passing.all():
            return boxes[~passing][int(shapely.length(leaders[~passing]).argmin())]
    return None


def _drawn(box: shapely.Polygon, rows: Sequence[str], size_mm: float, inner: shapely.Geometry) -> Iterator[Shape]:
    """The rows in their box, and a leader from there to a dot within every size of the piece."""
    (start, end) = shapely.get_coordinates(shapely.shortest_line(box, inner)).tolist()
    left, top, right, _ = box.bounds
    yield scene.line(Point(*start), Point(*end), BLACK, PROJECTED.mark_mm)
    yield scene.polygon(
        [Point(*corner) for corner in shapely.Point(end).buffer(_DOT_MM, 4).exterior.coords[:-1]], BLACK
    )
    for number, row in enumerate(rows):
        baseline = Point((left + right) / 2, top + (CAP_HEIGHT + _LEADING * number) * size_mm)
        yield scene.text(baseline, row, size_mm, "middle", bold=True)
