"""Ways to put a fault into the pieces of the skirt: each changes what is drawn of one piece."""

import math
from collections.abc import Mapping

from pipeline.geometry.curves import Line, Path, mapped_path, nearest_on_path, point_along, reversed_path
from pipeline.geometry.points import Affine, Point, Vector
from pipeline.model.pieces import DrawnPiece, Edge, Notch
from tests.checks.skirt import SIZES, Change, Faults, lines, master, replace


def with_edges(piece: DrawnPiece, edges: dict[str, Path]) -> DrawnPiece:
    """The piece with some edges redrawn; notches keep their places as near as they can."""
    made = tuple(Edge(edge.name, edges.get(edge.name, edge.path)) for edge in piece.edges)
    paths = {edge.name: edge.path for edge in made}
    moved = []
    for mark in piece.notches:
        _, place, at_mm = nearest_on_path(paths[mark.edge], mark.place)
        moved.append(replace(mark, at_mm=at_mm, place=place))
    return replace(piece, edges=made, notches=tuple(moved))


def longer(by_mm: float) -> Change:
    """The hem lowered, so that side and fold are longer."""

    def change(piece: DrawnPiece) -> DrawnPiece:
        _, side, hem, fold = piece.edges
        right, left = hem.path[0].start.plus(_down(by_mm)), hem.path[-1].end.plus(_down(by_mm))
        more: Path = (*side.path[:-1], Line(side.path[-1].start, right))
        top = fold.path[-1].end
        return with_edges(piece, {side.name: more, hem.name: (Line(right, left),), fold.name: (Line(left, top),)})

    return change


def _down(by_mm: float):
    return Point(0, 0).to(Point(0, by_mm))


def without_notch(name: str) -> Change:
    return lambda piece: replace(piece, notches=tuple(n for n in piece.notches if n.name != name))


def notch_moved(name: str, by_mm: float) -> Change:
    def change(piece: DrawnPiece) -> DrawnPiece:
        def moved(mark: Notch) -> Notch:
            if mark.name != name:
                return mark
            place, _ = point_along(piece.edge(mark.edge).path, mark.at_mm + by_mm)
            return replace(mark, at_mm=mark.at_mm + by_mm, place=place)

        return replace(piece, notches=tuple(map(moved, piece.notches)))

    return change


def notch_style(name: str, style: str) -> Change:
    return lambda piece: replace(
        piece, notches=tuple(replace(n, style=style) if n.name == name else n for n in piece.notches)
    )


def grain_turned(degrees: float) -> Change:
    def change(piece: DrawnPiece) -> DrawnPiece:
        bottom, top = piece.grain.bottom, piece.grain.top
        middle = Point((bottom.x + top.x) / 2, (bottom.y + top.y) / 2)
        half, angle = bottom.distance(top) / 2, math.radians(degrees)
        up = Point(0, 0).to(Point(half * math.sin(angle), -half * math.cos(angle)))
        return replace(piece, grain=replace(piece.grain, bottom=middle.plus(up.scaled(-1)), top=middle.plus(up)))

    return change


def laid_elsewhere(by: Vector) -> Change:
    """The same on another place of its page, its anchor with it."""

    def change(piece: DrawnPiece) -> DrawnPiece:
        to = Affine(e=by.dx, f=by.dy)
        return replace(
            piece,
            edges=tuple(Edge(edge.name, mapped_path(edge.path, to)) for edge in piece.edges),
            grain=replace(piece.grain, bottom=piece.grain.bottom.plus(by), top=piece.grain.top.plus(by)),
            anchor=piece.anchor.plus(by),
            notches=tuple(replace(mark, place=mark.place.plus(by)) for mark in piece.notches),
            inside=tuple(replace(line, path=mapped_path(line.path, to)) for line in piece.inside),
        )

    return change


def turned_over(piece: DrawnPiece) -> DrawnPiece:
    """Seen from the back: mirrored, its edges walked clockwise again."""
    mirror = Affine(-1, 0, 0, 1, 0, 0)
    edges = tuple(Edge(edge.name, reversed_path(mapped_path(edge.path, mirror))) for edge in reversed(piece.edges))
    grain = replace(piece.grain, bottom=mirror.point(piece.grain.bottom), top=mirror.point(piece.grain.top))
    marks = tuple(replace(mark, place=mirror.point(mark.place)) for mark in piece.notches)
    inside = tuple(replace(line, path=mapped_path(line.path, mirror)) for line in piece.inside)
    return with_edges(replace(piece, edges=edges, grain=grain, notches=marks, inside=inside), {})


def drawn_as(size: str) -> Change:
    """Another size's outline in this size's file."""
    return lambda piece: replace(master(piece.piece, size), size=piece.size, file=piece.file)


def in_all(piece: str, change: Change) -> Faults:
    return {(piece, size): change for size in SIZES}


BAGS = ("pocket", "pocket-lining")


def bag(wider_mm: float, foot_mm: float = 0.0) -> Change:
    """A pocket of the size's own file, so much wider; its foot besides, which moves two corners."""

    def change(piece: DrawnPiece) -> DrawnPiece:
        right, low = 140 + wider_mm, 130 + wider_mm + foot_mm
        edges = {
            "top": lines((0, 0), (right, 14)),
            "right": lines((right, 14), (low, 180)),
            "foot": lines((low, 180), (14, 180)),
        }
        return replace(with_edges(piece, edges), file=f"sizes/{piece.size}/{piece.piece}.svg")

    return change


def bags(groups: Mapping[str, int], step_mm: float = 8.0) -> Faults:
    """Pocket and lining, the same in the sizes of a group, and larger from group to group."""
    return {(piece, size): bag(step_mm * group) for piece in BAGS for size, group in groups.items()}
