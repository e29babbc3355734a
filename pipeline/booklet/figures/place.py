"""The figure of a place: where a mark, or the piece that is sewn on there, lies on a piece."""

import re
from collections.abc import Iterator, Sequence

import msgspec
import shapely

from pipeline.booklet.figures.figure import Figure, FigureError, Letters
from pipeline.booklet.figures.ink import ACCENT, FINE_MM, OUTLINE_MM, lines_at, lines_of, whole_scene
from pipeline.booklet.figures.looks import surface_of
from pipeline.booklet.figures.naming import numbered
from pipeline.booklet.figures.on_piece import PieceView, drawn_piece, mapped, piece_view
from pipeline.booklet.figures.room import Room
from pipeline.booklet.unbroken import unbroken_lines
from pipeline.checks.garment import Garment
from pipeline.drawing import scene
from pipeline.drawing.piece.mark_names import line_words, point_words
from pipeline.drawing.scene import Shape
from pipeline.geometry.points import Affine, Point
from pipeline.masters.toml.faults import did_you_mean
from pipeline.model.pattern import in_language
from pipeline.model.pieces import CutPiece, InsideLine, MarkPoint
from pipeline.words import say

_HIGH_MM, _LARGEST_SCALE = 60.0, 0.45
_CROSS_MM = 1.5
_FITS_MM = 3.0
"""A piece lies on two points where one of its edges is as long as they are apart, within this."""
_LABEL_MM, _LABEL_SHARE = 42.0, 0.45
"""Room for a name beside the piece, and how much of the width it may take."""


def place_figure(garment: Garment, cut: CutPiece, mark: str, language: str, letters: Letters) -> Figure:
    """Where the marks of a name lie on a piece: `pocket` means `pocket`, `pocket-inner`, `pocket-1` and the like.

    Raises FigureError where the piece has no such mark.
    """
    points = [point for point in cut.drawn.points if _is_named(point.name, mark)]
    lines = [line for line in cut.drawn.inside if _is_named(line.name, mark)]
    if not points and not lines:
        known = sorted(
            {name for name in (*(p.name for p in cut.drawn.points), *(i.name for i in cut.drawn.inside)) if name}
        )
        raise FigureError(
            "unknown-mark",
            f'{cut.piece} has no mark "{mark}".',
            did_you_mean(mark, known),
            mark,
            ", ".join(known) or "none",
        )
    name = _name(garment, cut, mark, points, lines, language)
    label = min(_LABEL_MM * letters.grown, _LABEL_SHARE * letters.width_mm)
    wide = letters.width_mm - label - 2
    surface = surface_of(garment.pattern, cut.piece)

    def drawn() -> tuple[PieceView, list[Shape]]:
        view = piece_view(cut, wide, _HIGH_MM, _LARGEST_SCALE)
        return view, list(drawn_piece(view, surface))

    view, piece = garment.once(("piece", cut.piece, letters), drawn)
    shapes = [*piece]
    marked: list[shapely.Geometry] = []
    sewn_on = _sewn_on(garment, cut, view, mark, points)
    if sewn_on is not None:
        shapes += lines_of(sewn_on.exterior, OUTLINE_MM, (), ACCENT)
        marked.append(sewn_on)
    for line in lines:
        drawn = view.line(line.path)
        shapes += lines_of(drawn, OUTLINE_MM, (1.5, 0.7), ACCENT)
        marked.append(drawn)
    for point in points:
        shapes += _crosses(view, point)
        marked.append(shapely.Point(view.point(point.place)))
    shapes += _label(view, marked, name, label, letters.text_mm)
    title = numbered(garment.pattern, cut.piece, language)
    right = say(language, "figure.right-side")
    room = garment.once(
        ("place", cut.piece, mark, letters), lambda: Room(view.area, [*(m.buffer(2.0) for m in marked), view.seam])
    )
    block = room.name(title, right, surface.tone, letters)
    if block is None:
        left, _, _, bottom = view.area.bounds
        whole = whole_scene(shapes, 0.0)
        below = Point(min(left, whole.left_mm), max(bottom, whole.top_mm + whole.height_mm) + 1.0)
        block, _ = lines_at(below, f"{title}, {right}", letters.width_mm - 4, letters.text_mm, bold=True)
    shapes += block
    alt = say(language, "figure.alt-place", mark=name, piece=title)
    return Figure(whole_scene(shapes), alt)


def _is_named(name: str | None, mark: str) -> bool:
    return name is not None and re.fullmatch(rf"{re.escape(mark)}(?:[-_].+)?", name) is not None


def _name(
    garment: Garment, cut: CutPiece, mark: str, points: Sequence[MarkPoint], lines: Sequence[InsideLine], language: str
) -> str:
    """What the marks are called: the title of the piece or strip of that name, else as on the pattern."""
    pattern = garment.pattern
    titles = {name: owner.title for name, owner in pattern.pieces.items()}
    titles |= {name: strip.title for name, strip in pattern.strips.items()}
    # a mark called "tab" is that of the strip "cuff-tab", where no other has the word
    having = [mark] if mark in titles else [name for name in titles if mark in name.split("-")]
    if len(having) == 1 and having[0] != cut.piece:
        return in_language(titles[having[0]], language)
    alone = msgspec.structs.replace(pattern, languages=(language,))
    told = [point_words(alone, cut.piece, point.name or "") for point in points]
    told += [line_words(alone, cut.piece, line.name or "", line.kind) for line in lines]
    return next((words[0] for words in told if words), say(language, "figure.mark"))


def _crosses(view: PieceView, point: MarkPoint) -> Iterator[Shape]:
    if point.slit is not None:
        yield scene.line(view.point(point.slit[0]), view.point(point.slit[1]), ACCENT, 2 * OUTLINE_MM)
        return
    x, y = view.point(point.place)
    yield scene.line(Point(x - _CROSS_MM, y), Point(x + _CROSS_MM, y), ACCENT, OUTLINE_MM)
    yield scene.line(Point(x, y - _CROSS_MM), Point(x, y + _CROSS_MM), ACCENT, OUTLINE_MM)


def _sewn_on(
    garment: Garment, cut: CutPiece, view: PieceView, mark: str, points: Sequence[MarkPoint]
) -> shapely.Polygon | None:
    """The finished outline of the piece that is named like the mark, laid with one of its edges between two points, its
    grain up; None where it does not fit there."""
    other = garment.cuts.get(mark, {}).get(cut.size)
    if other is None or len(points) != 2:
        return None
    spots = [view.point(point.place) for point in points]
    scale = abs(view.to_paper.determinant) ** 0.5
    up = other.drawn.grain.bottom.to(other.drawn.grain.top).unit()
    best: tuple[float, Affine] | None = None
    for edge in other.drawn.edges:
        first, last = edge.path[0].start, edge.path[-1].end
        if abs(first.distance(last) - spots[0].distance(spots[1]) / scale) > _FITS_MM:
            continue
        for one, two in ((spots[0], spots[1]), (spots[1], spots[0])):
            run, onto = first.to(last).unit(), one.to(two).unit()
            cosine, sine = run.dot(onto) * scale, run.cross(onto) * scale
            turn = Affine(cosine, sine, -sine, cosine)
            start = turn.point(first)
            move = Affine(*turn[:4], one.x - start.x, one.y - start.y)
            upright = -move.vector(up).dy
            if best is None or upright > best[0] + 1e-6:
                best = upright, move
    return mapped(shapely.Polygon(other.seam_outline), best[1]) if best is not None and best[0] > 0 else None


def _label(
    view: PieceView, marked: Sequence[shapely.Geometry], name: str, wide_mm: float, size: float
) -> Iterator[Shape]:
    """The mark's name beside the piece, on the side to which the mark is nearer, a fine line from it."""
    left, _, right, _ = view.area.bounds
    whole = shapely.union_all(marked)
    on_right = right - whole.bounds[2] <= whole.bounds[0] - left
    spot = max(marked, key=lambda m: m.bounds[2]) if on_right else min(marked, key=lambda m: m.bounds[0])
    x, y = _outermost(spot, on_right)
    end = right + 4.0 if on_right else left - 4.0
    begin = x + (1.8 if on_right else -1.8)
    yield scene.line(Point(begin, y), Point(end, y), ACCENT, FINE_MM * 1.5)
    rows = unbroken_lines(name, size, wide_mm - 6, bold=True)
    first = y + 0.36 * size - (len(rows) - 1) * 0.625 * size
    for k, row in enumerate(rows):
        at = Point(end + (1.0 if on_right else -1.0), first + k * 1.25 * size)
        yield scene.text(at, row, size, "start" if on_right else "end", bold=True)


def _outermost(spot: shapely.Geometry, on_right: bool) -> Point:
    """The place of a mark that is farthest out, halfway up where it has a height there."""
    left, top, right, bottom = spot.bounds
    level = shapely.LineString([(left - 1, (top + bottom) / 2), (right + 1, (top + bottom) / 2)])
    edge = spot.boundary if spot.geom_type == "Polygon" else spot
    places = shapely.get_coordinates(edge.intersection(level) if edge.intersects(level) else edge)
    x, y = max(places.tolist()) if on_right else min(places.tolist())
    return Point(x, y)
