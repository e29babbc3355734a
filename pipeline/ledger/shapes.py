"""How far a piece's edges, notches and marks moved between two versions: in mm, and where.

A piece that was drawn at another place of the page has not changed, so the two shapes are laid on one another first.
An edge that only grew because its neighbour moved has not moved: each edge is held against the other one and against
the straight run-on of its ends.
"""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pipeline.ledger.changes import WHOLE
from pipeline.ledger.packed import Line, Shape

TOLD_MM = 0.05
"""Twice what rounding and thinning two shapes can add up to, and a little: no knife follows it."""
_NOTCH_MM = 0.1
_RUN_ON_MM = 200.0
_EVERY_MM = 5.0
_WHOLE_SHARE = 0.8
_END = 0.2

Lines = tuple[Line, ...]
Array = NDArray[np.float64]


class Moved(NamedTuple):
    """How far something moved at most, at which place of the new shape, and in words."""

    mm: float
    place: tuple[float, float]
    near: str


class ShapeChange(NamedTuple):
    """What differs between two shapes; a name that only one of them has is in `gone` or `new`."""

    edges: dict[str, Moved]
    notches: dict[str, Moved]
    marks: dict[str, Moved]
    gone: tuple[str, ...]
    new: tuple[str, ...]


def shape_change(old: Shape, new: Shape) -> ShapeChange:
    """The new shape held against the old one."""
    old = laid_on(old, new)
    edges = _edges(old, new)
    before, after = _named(old), _named(new)
    gone = tuple(name for name in before if name not in after)
    come = tuple(name for name in after if name not in before)
    return ShapeChange(edges, _notches(old, new, edges), _marks(old, new), gone, come)


def laid_on(old: Shape, new: Shape) -> Shape:
    """The old shape laid on the new one where the fewest edges differ."""
    return min((_moved(old, shift) for shift in _shifts(old, new)), key=lambda laid: _differs(laid, new))


def _named(shape: Shape) -> list[str]:
    """What a shape has, in words."""
    notches = [f"notch {name} on {edge}" for edge, on in shape.notches.items() for name in on]
    return [*(f"edge {name}" for name in shape.edges), *notches, *(f"mark {name}" for name in shape.marks)]


def _shifts(old: Shape, new: Shape) -> list[tuple[float, float]]:
    """Where the old shape may lie on the new one: as it is, or with one edge's start on its namesake's."""
    starts = [(old.edges[name][0][0], lines[0][0]) for name, lines in new.edges.items() if _starts(old, name, lines)]
    shifts = ((round(to[0] - at[0], 2), round(to[1] - at[1], 2)) for at, to in starts)
    return list(dict.fromkeys([(0.0, 0.0), *shifts]))


def _starts(old: Shape, name: str, lines: Lines) -> bool:
    return bool(lines and lines[0] and old.edges.get(name) and old.edges[name][0])


def _differs(laid: Shape, new: Shape) -> int:
    return len(_edges(laid, new))


def _moved(shape: Shape, shift: tuple[float, float]) -> Shape:
    if shift == (0.0, 0.0):
        return shape

    def all_of(named: Mapping[str, Lines]) -> dict[str, Lines]:
        return {
            name: tuple(tuple((x + shift[0], y + shift[1]) for x, y in line) for line in lines)
            for name, lines in named.items()
        }

    notches = {edge: all_of(on) for edge, on in shape.notches.items()}
    return Shape(edges=all_of(shape.edges), notches=notches, marks=all_of(shape.marks))


def _edges(old: Shape, new: Shape) -> dict[str, Moved]:
    """Edges of both that moved; where the outline differs and none did, the one where it differs most."""
    names = [name for name in new.edges if name in old.edges and new.edges[name] != old.edges[name]]
    found = {}
    for name in names:
        moved = _edge(old.edges[name], new.edges[name], *_beside(new, name))
        if moved.mm > TOLD_MM:
            found[name] = moved
    if names and not found and old.edges.keys() == new.edges.keys():
        before = [line for lines in old.edges.values() for line in lines]
        worst = {name: _held(new.edges[name], before, *_beside(new, name)) for name in names if new.edges[name]}
        found = {name: moved for name, moved in worst.items() if moved.mm == max(each.mm for each in worst.values())}
        found = {name: moved for name, moved in found.items() if moved.mm > TOLD_MM}
    return found


def _beside(shape: Shape, name: str) -> tuple[str, str]:
    """The edges before and after one."""
    names = list(shape.edges)
    index = names.index(name)
    return names[index - 1], names[(index + 1) % len(names)]


def _edge(old: Lines, new: Lines, before: str, after: str) -> Moved:
    """Both ways: the new edge from the old one run on, and the old one from the new one run on."""
    if not old or not new:
        return Moved(0.0, (0.0, 0.0), "")
    forth = _held(new, [_run_on(line) for line in old], before, after)
    back = _held(old, [_run_on(line) for line in new], before, after)
    return forth if forth.mm >= back.mm else back


def _held(lines: Lines, against: list[Line], before: str, after: str) -> Moved:
    places = np.concatenate([_places(line) for line in lines])
    far = shapely.distance(shapely.points(places), _geometry(against))
    index = int(np.argmax(far))
    return Moved(round(float(far[index]), 2), (_mm(places[index, 0]), _mm(places[index, 1])), _near(far, before, after))


def _near(far: Array, before: str, after: str) -> str:
    """Where along an edge it is farthest; places stand in walking order, evenly enough."""
    if float(np.mean(far >= _WHOLE_SHARE * far.max())) >= _WHOLE_SHARE:
        return WHOLE
    share = float(np.argmax(far)) / max(len(far) - 1, 1)
    if share <= _END:
        return f"at its end beside {before}"
    return f"at its end beside {after}" if share >= 1 - _END else f"between {before} and {after}"


def _places(line: Line) -> Array:
    if len(line) < 2:
        return np.array(line, dtype=float)
    return shapely.get_coordinates(shapely.segmentize(shapely.LineString(line), _EVERY_MM))


def _geometry(lines: list[Line]) -> shapely.Geometry:
    parts = [shapely.LineString(line) if len(line) > 1 else shapely.Point(line[0]) for line in lines]
    return shapely.GeometryCollection(parts)


def _run_on(line: Line) -> Line:
    """A line with a straight piece beyond either end."""
    if len(line) < 2:
        return line
    return (_beyond(line[1], line[0]), *line, _beyond(line[-2], line[-1]))


def _beyond(inner: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    away = np.subtract(end, inner)
    length = float(np.hypot(*away)) or 1.0
    x, y = np.add(end, away / length * _RUN_ON_MM)
    return float(x), float(y)


def _notches(old: Shape, new: Shape, edges: Mapping[str, Moved]) -> dict[str, Moved]:
    """Notches that moved along their edge; one that went with it stays where it was on it."""
    found = {}
    for edge, name, before, after in _both(old, new):
        at, to = _onto(new.edges.get(edge, ()), before[0][0]), _onto(new.edges.get(edge, ()), after[0][0])
        mm = round(float(np.hypot(to[0] - at[0], to[1] - at[1])), 2)
        went = edges[edge].mm / 10 if edge in edges else 0.0  # what a curve that moved shifts by itself
        if mm > _NOTCH_MM + went:
            found[f"{name} on {edge}"] = Moved(mm, after[0][0], "")
    return found


def _both(old: Shape, new: Shape) -> Iterator[tuple[str, str, Lines, Lines]]:
    for edge, on in new.notches.items():
        for name, after in on.items():
            before = old.notches.get(edge, {}).get(name)
            if before is not None:
                yield edge, name, before, after


def _onto(lines: Lines, place: tuple[float, float]) -> tuple[float, float]:
    """The place of an edge that is nearest."""
    if not lines:
        return place
    geometry = _geometry(list(lines))
    x, y = shapely.get_coordinates(shapely.shortest_line(geometry, shapely.Point(place)))[0]
    return float(x), float(y)


def _marks(old: Shape, new: Shape) -> dict[str, Moved]:
    found = {}
    for name, after in new.marks.items():
        before = old.marks.get(name)
        if before is None or before == after:
            continue
        forth, back = (_held(one, list(other), "", "") for one, other in ((after, before), (before, after)))
        worst = forth if forth.mm >= back.mm else back
        if worst.mm > TOLD_MM:
            found[name] = worst._replace(near="")
    return found


def _mm(value: float) -> float:
    return round(float(value), 2)
