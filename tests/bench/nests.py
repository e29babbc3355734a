"""Random nests of closed outlines with a fault in one size: are edges named right, or told?

A piece of 3 to 14 corners, with curves, nodes in curves and notches without names, is graded by a smooth random rule:
a linear map and a small step of its own at every corner. In one size it is left as it is, or a corner of it is blunted,
rounded or dropped, or the piece is turned or mirrored. Every size begins at another node and runs either way round.
"""

import argparse
import math
import tempfile
from collections import Counter
from pathlib import Path
from random import Random
from typing import NamedTuple

from pipeline.geometry.curves import Cubic, Line, mapped_path, path_length_mm, point_along, reversed_path
from pipeline.geometry.curves import Path as Curve
from pipeline.geometry.parts import split_segment
from pipeline.geometry.points import Affine, Point, Vector
from pipeline.masters.drawings.cut import cut_drawings
from pipeline.masters.drawings.outline import turn_deg
from pipeline.masters.read_piece import read_piece
from pipeline.masters.toml.load import load_pattern
from tests.masters.drawings.redrawn import path_data

SIZES = ("1", "2", "3", "4", "5", "6", "7")
BASE = "4"
KINDS = ("none", "blunted", "rounded", "dropped", "turned", "turned half", "mirrored")
SHAPES = ("any", "any", "any", "oblong", "even")
NEAR_MM = 0.05
HEAD = """format = 1
[pattern]
title = "Nest"
version = "1.0.0"
maker = "Invented Workroom"
contact = "help@workroom.example"
sizes = ["1", "2", "3", "4", "5", "6", "7"]
base = "4"
languages = ["en"]
licence = "For private use."
[masters]
drawings = ["nest.svg"]
[pieces.piece]
title = "Piece"
"""


class Nest(NamedTuple):
    """A drawing, its pattern.toml, the place where each named edge begins in each size, and what was done to which."""

    drawing: str
    said: str
    truth: dict[str, dict[str, Point]]
    kind: str
    faulty: str


def drawn_nest(lot: Random, kind: str) -> Nest:
    """A random nest."""
    shape, count = lot.choice(SHAPES), lot.randint(3, 14)
    while True:
        edges = _base(lot, shape, count)
        rule, own = _rule(lot, len(edges))
        graded = {size: _graded(edges, rule, own, i - SIZES.index(BASE)) for i, size in enumerate(SIZES)}
        if all(_has_corners(there) for there in graded.values()):
            break
    names = [f"e{i}" for i in range(len(edges))]
    faulty = lot.choice([size for size in SIZES if size != BASE])
    graded[faulty] = _with_fault(graded[faulty], kind, lot)
    beside = lot.choice((0.0, 900.0))
    layers, truth = [], {}
    notched = [i for i in range(len(edges)) if lot.random() < 0.4]
    for i, size in enumerate(SIZES):
        move = Affine(e=200 + i * beside + lot.uniform(-1, 1), f=200 + lot.uniform(-1, 1))
        there = [mapped_path(path, move) for path in graded[size]]
        truth[size] = {name: path[0].start for name, path in zip(names, there, strict=False)}
        if kind == "mirrored" and size == faulty:
            truth[size] = {name: path[-1].end for name, path in zip(names, there, strict=True)}
        marks = [point_along(there[j], path_length_mm(there[j]) * 0.4)[0] for j in notched if j < len(there)]
        layers.append(_layer(size, [segment for path in there for segment in path], marks, lot))
    start = truth[BASE]["e0"]
    layers.append(f'<g id="size{BASE}" data-name="{BASE}"><g data-name="corners">{_dot(start, "first")}</g></g>')
    said = HEAD + f'around = [{", ".join(f""" "{name}" """ for name in names)}]\nstart = "first"\n'
    width = 1200 + 6 * beside
    drawing = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:g}mm" height="1200mm" viewBox="0 0 {width:g} 1200">'
        f"{''.join(layers)}</svg>"
    )
    return Nest(drawing, said, truth, kind, faulty)


def _base(lot: Random, shape: str, count: int) -> list[Curve]:
    """The edges of a piece, clockwise: corners round a middle, some drawn in, and curves between them."""
    if shape == "oblong":
        width, height = lot.uniform(60, 500), lot.uniform(40, 500)
        corners = [Point(0, 0), Point(width, lot.uniform(0, 6)), Point(width, height), Point(0, height)]
    elif shape == "even":
        sides = lot.randint(3, 6)
        corners = [
            Point(200 * math.cos(math.tau * i / sides), 200 * math.sin(math.tau * i / sides)) for i in range(sides)
        ]
    else:
        angles = [math.tau * (i + lot.uniform(-0.4, 0.4)) / count for i in range(count)]
        corners = [Point(300 * r * math.cos(a), 250 * r * math.sin(a)) for a in angles if (r := lot.uniform(0.5, 1.0))]
    bulges = [0.0 if shape != "any" or lot.random() < 0.5 else lot.uniform(-0.18, 0.18) for _ in corners]
    paths = []
    for i, corner in enumerate(corners):
        paths.append(_curve(corner, corners[(i + 1) % len(corners)], bulges[i]))
    return [_in_parts(path, lot) for path in paths]


def _curve(start: Point, end: Point, bulge: float) -> Curve:
    if bulge == 0.0:
        return (Line(start, end),)
    run = start.to(end)
    out = run.left().scaled(bulge)
    first, second = run.scaled(1 / 3), run.scaled(2 / 3)
    return (
        Cubic(
            start,
            start.plus(Vector(first.dx + out.dx, first.dy + out.dy)),
            start.plus(Vector(second.dx + out.dx, second.dy + out.dy)),
            end,
        ),
    )


def _in_parts(path: Curve, lot: Random) -> Curve:
    """With nodes in the middle of curves and lines, as they are drawn."""
    if lot.random() < 0.6:
        return path
    return split_segment(path[0], path_length_mm(path) * lot.uniform(0.3, 0.7))


def _rule(lot: Random, count: int) -> tuple[Affine, list[Vector]]:
    grow = Affine(
        lot.uniform(0.005, 0.04), lot.uniform(-0.004, 0.004), lot.uniform(-0.004, 0.004), lot.uniform(0.0, 0.03)
    )
    return grow, [Vector(lot.uniform(-2, 2), lot.uniform(-2, 2)) for _ in range(count)]


def _graded(edges: list[Curve], rule: Affine, own: list[Vector], step: int) -> list[Curve]:
    """Each edge between its moved corners, its curve carried along by the map that moves both its ends."""
    grown = []
    for i, path in enumerate(edges):
        a, b = path[0].start, path[-1].end
        to_a = _moved(a, rule, own[i], step)
        to_b = _moved(b, rule, own[(i + 1) % len(edges)], step)
        grown.append(mapped_path(path, _similar(a, b, to_a, to_b)))
    return grown


def _moved(place: Point, rule: Affine, own: Vector, step: int) -> Point:
    grow = rule.vector(Vector(place.x, place.y))
    return Point(place.x + step * (grow.dx + own.dx), place.y + step * (grow.dy + own.dy))


def _similar(a: Point, b: Point, to_a: Point, to_b: Point) -> Affine:
    run, wanted = a.to(b), to_a.to(to_b)
    square = run.dot(run)
    p, q = run.dot(wanted) / square, run.cross(wanted) / square
    turned = Affine(p, q, -q, p).point(a)
    return Affine(p, q, -q, p, to_a.x - turned.x, to_a.y - turned.y)


def _has_corners(edges: list[Curve]) -> bool:
    """Whether each edge ends in a corner, is long enough, and the outline does not cross itself."""
    import shapely

    from pipeline.geometry.curves import flattened

    turns = [abs(turn_deg(edges[i - 1][-1], path[0])) for i, path in enumerate(edges)]
    if min(turns) < 25 or max(turns) > 165 or min(map(path_length_mm, edges)) < 20:
        return False
    shape = shapely.Polygon([place for path in edges for place in flattened(path, 0.1)[:-1]])
    return shape.is_valid and shape.exterior.is_ccw and shape.area > 5000


def _with_fault(edges: list[Curve], kind: str, lot: Random) -> list[Curve]:
    if kind == "turned half":
        return [mapped_path(path, Affine(-1, 0, 0, -1, 0, 0)) for path in edges]
    if kind == "turned":
        angle = math.radians(lot.choice((90, -90, lot.uniform(30, 330))))
        cos, sin = math.cos(angle), math.sin(angle)
        return [mapped_path(path, Affine(cos, sin, -sin, cos, 0, 0)) for path in edges]
    if kind == "mirrored":
        return [mapped_path(path, Affine(-1, 0, 0, 1, 0, 0)) for path in edges]
    if kind == "none":
        return edges
    at = lot.randrange(len(edges))
    before, after = edges[at - 1], edges[at]
    if kind == "dropped":
        over = _curve(before[0].start, after[-1].end, 0.0)
        return [over if i == (at - 1) % len(edges) else path for i, path in enumerate(edges) if i != at]
    cut_mm = lot.uniform(3, 10)
    short = _shortened(before, path_length_mm(before) - cut_mm, False)
    rest = _shortened(after, cut_mm, True)
    a, b, corner = short[-1].end, rest[0].start, after[0].start
    between: Curve = (
        (Line(a, b),)
        if kind == "blunted"
        else (Cubic(a, a.plus(a.to(corner).scaled(0.6)), b.plus(b.to(corner).scaled(0.6)), b),)
    )
    changed = {(at - 1) % len(edges): (*short, *between), at: rest}
    return [changed.get(i, path) for i, path in enumerate(edges)]


def _shortened(path: Curve, at_mm: float, rest: bool) -> Curve:
    """What lies before a place along a path, or the rest."""
    for i, segment in enumerate(path):
        length = path_length_mm((segment,))
        if at_mm < length - 1e-6:
            one, two = split_segment(segment, at_mm)
            return (two, *path[i + 1 :]) if rest else (*path[:i], one)
        at_mm -= length
    return path


def _layer(size: str, outline: list, marks: list[Point], lot: Random) -> str:
    first = lot.randrange(len(outline))
    path = tuple(outline[first:] + outline[:first])
    path = reversed_path(path) if lot.random() < 0.5 else path
    notches = "".join(_dot(place, "") for place in marks)
    return (
        f'<g data-name="Size {size}"><g data-name="seam"><path d="{path_data(path)}Z"/></g>'
        f'<g data-name="notches">{notches}</g></g>'
    )


def _dot(place: Point, name: str) -> str:
    said = f' data-name="{name}"' if name else ""
    return f'<circle{said} cx="{place.x:.4f}" cy="{place.y:.4f}" r="1"/>'


def outcome(nest: Nest, folder: Path) -> str:
    """What became of a nest: "right", "told", "note, right", "note, wrong" or "wrong in silence"."""
    (folder / "nest.svg").write_text(nest.drawing, encoding="utf-8")
    (folder / "pattern.toml").write_text(nest.said, encoding="utf-8")
    pattern, told = load_pattern(folder)
    assert pattern is not None, told
    cut = cut_drawings(pattern, folder)
    blocked = {finding.size for finding in cut.findings if finding.severity == "block"}
    noted = any(finding.code == "symmetrical" and nest.faulty in finding.message for finding in cut.findings)
    wrong = [size for size in SIZES if size not in blocked and not _is_right(nest, pattern, cut.masters, size)]
    if wrong:
        return "note, wrong" if noted and wrong == [nest.faulty] else "wrong in silence"
    if blocked - {nest.faulty}:
        return "told of another size"
    if blocked:
        return "told"
    return "note, right" if noted else "right"


def _is_right(nest: Nest, pattern, masters: dict[str, bytes], size: str) -> bool:
    file = f"sizes/{size}/piece.svg"
    if nest.kind in ("blunted", "rounded", "dropped") and size == nest.faulty:
        return False  # it has no names that are right
    piece, findings = read_piece(pattern, pattern.pieces["piece"], size, file, masters[file])
    assert piece is not None, findings
    starts = {edge.name: edge.path[0].start for edge in piece.edges}
    truth = nest.truth[size]
    return starts.keys() == truth.keys() and all(starts[name].distance(truth[name]) < NEAR_MM for name in truth)


def run(count: int, seed: int) -> dict[str, Counter[str]]:
    """Outcomes by kind."""
    table: dict[str, Counter[str]] = {kind: Counter() for kind in KINDS}
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "nest"
        folder.mkdir()
        for i in range(count):
            kind = KINDS[i % len(KINDS)]
            found = outcome(drawn_nest(Random(f"{seed}-{i}"), kind), folder)
            table[kind][found] += 1
            if found in ("wrong in silence", "told of another size"):
                print(f"{found}: nest {seed}-{i}, {kind}", flush=True)
    return table


COLUMNS = ("right", "told", "told of another size", "note, right", "note, wrong", "wrong in silence")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=300)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    table = run(asked.count, asked.seed)
    print(f"| in one size | {' | '.join(COLUMNS)} |")
    print(f"| --- |{' ---: |' * len(COLUMNS)}")
    for kind, found in table.items():
        print(f"| {kind} | {' | '.join(str(found[column]) for column in COLUMNS)} |")


if __name__ == "__main__":
    main()
