"""What the edges of an outline are called: said of the base size once, carried to every other size by its corners."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

import msgspec

from pipeline.geometry.curves import Path, flattened, nearest_on_path
from pipeline.geometry.points import Point
from pipeline.masters.drawings.alike import Corners
from pipeline.masters.drawings.correspond import Answer, correspondence
from pipeline.masters.drawings.files import listed
from pipeline.masters.drawings.outline import CORNER_DEG, Node, Outline
from pipeline.masters.drawings.pieces import Shown
from pipeline.masters.drawings.result import Doubt
from pipeline.masters.groups import NAME, NAME_RULE
from pipeline.masters.svg.words import Words
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import Edge
from pipeline.model.texts import counted

NEARER = 1.5
"""A text names the edge that it stands beside where every other is farther away by half again."""
FIRST_NEARER = 1.15
"""How much nearer to the outline's top left the first corner must be than the next."""


class Named(msgspec.Struct, frozen=True):
    """The corners of an outline in the base size's order, by index of node, and the name of the part after each."""

    outline: Outline
    corners: tuple[int, ...]
    names: tuple[str, ...]

    def places(self) -> tuple[Point, ...]:
        """Where the corners are."""
        return tuple(self.outline.nodes[i].place for i in self.corners)

    def edges(self) -> tuple[Edge, ...]:
        """The named edges, clockwise; neighbours of one name are one edge."""
        parts = [
            (name, self.outline.part(first, last))
            for name, first, last in zip(self.names, self.corners, (*self.corners[1:], self.corners[0]), strict=True)
        ]
        first = next(i for i in range(len(parts)) if parts[i][0] != parts[i - 1][0])
        joined: list[tuple[str, Path]] = []
        for name, path in (*parts[first:], *parts[:first]):
            if joined and joined[-1][0] == name:
                joined[-1] = name, (*joined[-1][1], *path)
            else:
                joined.append((name, path))
        return tuple(Edge(name, path) for name, path in joined)


def named_base(spec: PieceSpec, shown: Shown, texts: Sequence[Words]) -> Named | None:
    """The base size's edges by what is said of them; None where that leaves anything open (told)."""
    assert shown.outline is not None
    if shown.names:
        return as_split(shown.outline, shown.names)
    corners = tuple(i for i, node in enumerate(shown.outline.nodes) if node.corner)
    if spec.around and texts:
        _tell_text(
            shown,
            texts[0],
            "named-twice",
            f"names an edge that pieces.{spec.name}.around names too",
            "Take the texts out, or around.",
        )
        return None
    if spec.around:
        return _around(spec, shown, corners)
    return _by_words(shown, corners, texts)


def as_split(outline: Outline, names: tuple[str, ...]) -> Named:
    """An outline whose edges are drawn as named paths."""
    corners = tuple(i for i, node in enumerate(outline.nodes) if node.corner)
    return Named(outline, corners, tuple(names[i] for i in corners))


def _around(spec: PieceSpec, shown: Shown, corners: tuple[int, ...]) -> Named | None:
    outline = shown.outline
    assert outline is not None
    if len(corners) != len(spec.around):
        shown.reading.tell(
            "around-count",
            f"The outline of {spec.name} has {len(corners)} corners and so as many edges; pieces.{spec.name}.around"
            f" names {len(spec.around)}.",
            f"Name every edge once, or mark more corners in a group called corners: the outline has one where it turns"
            f" by more than {CORNER_DEG:g}°. Neighbours of one name are one edge.",
            object=f"pieces.{spec.name}.around",
            found=f"{len(corners)} corners at {_shown(outline.nodes[i].place for i in corners)}",
            allowed=f"{len(spec.around)}",
        )
        return None
    nodes = [outline.nodes[i] for i in corners]
    first = _marked(spec, shown, nodes) if spec.start is not None else _top_left(spec, shown, nodes)
    if first is None:
        return None
    return Named(outline, (*corners[first:], *corners[:first]), spec.around)


def _marked(spec: PieceSpec, shown: Shown, nodes: list[Node]) -> int | None:
    start = shown.start
    if start is not None:
        return min(range(len(nodes)), key=lambda i: start.distance(nodes[i].place))
    marks = [shape.name or "" for shape in shown.drawn.shapes.get("corners", [])]
    shown.reading.tell(
        "no-start",
        f"pieces.{spec.name}.start names the mark {spec.start}, which the base size does not have.",
        f"Draw a mark called {spec.start} at that corner, in a group called corners.",
        object=f"pieces.{spec.name}.start",
        found=listed(filter(None, marks)) or "no named mark",
        allowed=str(spec.start),
    )
    return None


def _top_left(spec: PieceSpec, shown: Shown, nodes: list[Node]) -> int | None:
    """The corner nearest to the top left of the outline's box, which no drawing program has a say in."""
    assert shown.outline is not None
    left, top, _, _ = shown.outline.box()
    by_distance = sorted((Point(left, top).distance(node.place), i) for i, node in enumerate(nodes))
    (nearest, first), (next_mm, second) = by_distance[:2]
    if next_mm < FIRST_NEARER * nearest:
        shown.reading.tell(
            "two-starts",
            f"Two corners of {spec.name} lie about as near to its top left, at {_shown((nodes[first].place,))} and"
            f" {_shown((nodes[second].place,))}: which edge comes first is open.",
            f'Draw a small mark called "first" at the corner where the first edge begins, in a group called corners, in'
            f' the base size alone, and say pieces.{spec.name}.start = "first".',
            object=f"pieces.{spec.name}.around",
            found=f"{nearest:.1f} and {next_mm:.1f} mm from the top left",
            allowed="one corner that is nearest",
        )
        return None
    return first


def _by_words(shown: Shown, corners: tuple[int, ...], texts: Sequence[Words]) -> Named | None:
    """Each text names the part of the outline that it stands beside."""
    outline = shown.outline
    assert outline is not None
    if len(corners) < 2:
        shown.reading.tell(
            "no-corners",
            f"The outline of {shown.drawn.piece} has {counted(len(corners), 'corner')}, so that no edge of it can be"
            " named.",
            "Mark at least two corners in a group called corners.",
            found=str(len(corners)),
            allowed="2 or more",
        )
        return None
    parts = [outline.part(first, last) for first, last in zip(corners, (*corners[1:], corners[0]), strict=True)]
    names: dict[int, Words] = {}
    well = True
    for text in texts:
        if NAME.fullmatch(text.said) is None:
            _tell_text(shown, text, "bad-name", "is no name of an edge", f"Write {NAME_RULE}.")
            well = False
            continue
        away = sorted((nearest_on_path(part, text.place)[0], i) for i, part in enumerate(parts))
        (near_mm, index), (next_mm, _) = away[:2]
        if next_mm < NEARER * near_mm + 1.0:
            why = f"stands {near_mm:.1f} mm from one edge and {next_mm:.1f} mm from another"
            _tell_text(shown, text, "name-between", why, "Move it close to the middle of the edge that it names.")
            well = False
        elif index in names and names[index].said != text.said:
            why = f"and {names[index].said!r} stand beside one edge"
            _tell_text(shown, text, "two-names", why, "Keep one of them, or mark the corner between both.")
            well = False
        else:
            names[index] = text
    bare = [i for i in range(len(parts)) if i not in names]
    if well and bare:
        shown.reading.tell(
            "edge-without-name",
            f"{len(bare)} of {len(parts)} edges of {shown.drawn.piece} have no name beside them, the first from"
            f" {_shown((outline.nodes[corners[bare[0]]].place,))} on, clockwise.",
            "Write a text beside each edge of the base size, in a group called names, or name them in pattern.toml:"
            f' pieces.{shown.drawn.piece}.around = ["…"].',
            found=listed(text.said for text in names.values()) or "no name",
            allowed=f"{len(parts)} names",
        )
    if not well or bare:
        return None
    said = tuple(names[i].said for i in range(len(parts)))
    return Named(outline, corners, said) if _once(shown, said) else None


def _once(shown: Shown, said: tuple[str, ...]) -> bool:
    """Whether only neighbours share a name."""
    runs = [name for before, name in pairwise((said[-1], *said)) if before != name]
    twice = next((name for name in runs if runs.count(name) > 1), None)
    if twice is not None or len(runs) < 2:
        shown.reading.tell(
            "duplicate-edge",
            f"Edges of {shown.drawn.piece} that do not follow each other are called {(twice or said[0])!r}.",
            "Give each edge a name of its own; only neighbours may share one, and are joined.",
            where=twice,
            found=listed(said),
            allowed="each name once",
        )
        return False
    return True


def _tell_text(shown: Shown, text: Words, code: str, why: str, remedy: str) -> None:
    shown.reading.tell(
        code,
        f"The text {text.said[:40]!r} beside {shown.drawn.piece} {why}.",
        remedy,
        node=text.node,
        found=text.said,
        allowed="a name beside one edge",
    )


def carried(known: Named, known_notches: Sequence[float], shown: Shown) -> tuple[Named | None, Answer]:
    """The names of a size beside it, carried over to this one."""
    outline = shown.outline
    assert outline is not None
    corners = Corners(known.outline, tuple(known.outline.nodes[i] for i in known.corners), tuple(known_notches))
    answer = correspondence(corners, outline, shown.notches_mm)
    if answer.nodes is None:
        return None, answer
    return Named(outline, answer.nodes, known.names), answer


def doubt(spec: PieceSpec, shown: Shown, code: str, known: Named | None) -> Doubt:
    """The picture's values."""
    outline = shown.outline
    assert outline is not None
    return Doubt(
        piece=spec.name,
        size=shown.drawn.size,
        code=code,
        outline=flattened(outline.path, 0.2),
        corners=tuple(node.place for node in outline.nodes if node.corner),
        beside=flattened(known.outline.path, 0.2) if known else (),
        beside_corners=known.places() if known else (),
        names=known.names if known else (),
    )


def _shown(places: Iterable[Point]) -> str:
    return listed(f"({place.x:.1f}, {place.y:.1f}) mm" for place in places)
