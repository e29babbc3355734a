"""Faults that are seeded into masters. Each kind returns None where it does not apply to what was drawn by lot."""

import math
import re
from random import Random

from pipeline.checks.mirror import is_symmetric
from pipeline.geometry.curves import Cubic, Line, direction, path_length_mm, point_along
from pipeline.geometry.points import Affine, Point
from pipeline.model.pieces import CutPiece, DrawnPiece, Edge, Notch
from tests.bench.masters import (
    as_cubics,
    lengthened,
    mapped,
    master_text,
    replace,
    split,
    turned_about,
    with_corner,
    with_line,
    with_path,
)
from tests.bench.seeding import Demo, Fault

_FOLD = Affine(-1, 0, 0, 1, 0, 0)


def spot(demo: Demo, lot: Random) -> CutPiece:
    """Any drawn piece in any size."""
    piece = lot.choice([name for name, spec in demo.pattern.pieces.items() if spec.source is None])
    return demo.cuts[lot.choice(demo.pattern.pieces[piece].sizes)][piece]


def _sewn(demo: Demo) -> list[tuple[str, str]]:
    """A piece and edge for each sewn seam that it is in."""
    seams = [seam for seam in demo.pattern.seams.values() if seam.kind == "sewn"]
    places = dict.fromkeys((seam.name, step.piece, step.edge) for seam in seams for step in (*seam.a, *seam.b))
    return [(piece, edge) for _, piece, edge in places]


def redrawn(demo: Demo, kind: str, was: DrawnPiece, now: DrawnPiece, edges: tuple[str, ...], told: str) -> Fault:
    """A fault in one master."""
    size = demo.only_size(was.file)
    return Fault(
        kind=kind,
        demo=demo.name,
        changes={was.file: master_text(now)},
        told=f"{demo.name} {was.file}: {told}",
        size=size,
        piece=was.piece,
        edges=edges,
    )


def with_text(demo: Demo, kind: str, drawn: DrawnPiece, text: str, edge: str, told: str) -> Fault:
    """A fault in the text of one master."""
    return Fault(
        kind=kind,
        demo=demo.name,
        changes={drawn.file: text},
        told=f"{demo.name} {drawn.file}: {told}",
        size=demo.only_size(drawn.file),
        piece=drawn.piece,
        edges=(edge,),
    )


def side_length(demo: Demo, lot: Random) -> Fault | None:
    """One side of a sewn seam 3 mm longer or shorter: its corner slipped along it, or its curve redrawn."""
    piece, name = lot.choice(_sewn(demo))
    drawn = demo.drawn(piece, lot.choice(demo.pattern.pieces[piece].sizes))
    by_mm = lot.choice((3.0, -3.0))
    index = next(i for i, edge in enumerate(drawn.edges) if edge.name == name)
    edge = drawn.edges[index]
    if lot.random() < 0.5 and any(not isinstance(segment, Line) for segment in edge.path):
        try:
            path = lengthened(edge.path, by_mm)
        except ValueError:
            return None
        return redrawn(demo, "side", drawn, with_path(drawn, name, path), (name,), f"{name} {by_mm:+g} mm, curve")
    beside = drawn.edges[(index + 1) % len(drawn.edges)].name
    now = with_corner(drawn, index, direction(edge.path[-1], 1.0).scaled(by_mm))
    return redrawn(demo, "side", drawn, now, (name, beside), f"{name} {by_mm:+g} mm, corner")


def corner_moved(demo: Demo, lot: Random) -> Fault | None:
    """A corner moved by 4 mm in any direction."""
    drawn = spot(demo, lot).drawn
    index, turn = lot.randrange(len(drawn.edges)), lot.uniform(0, 360)
    by = turned_about(turn, Point(0, 0)).vector(Point(0, 0).to(Point(4, 0)))
    names = (drawn.edges[index].name, drawn.edges[(index + 1) % len(drawn.edges)].name)
    return redrawn(demo, "corner", drawn, with_corner(drawn, index, by), names, f"{names} corner 4 mm at {turn:.0f}°")


def notch_lost(demo: Demo, lot: Random) -> Fault | None:
    """A notch taken away, at a corner from both its edges."""
    drawn, notch = _notch(demo, lot)
    if drawn is None or notch is None:
        return None
    kept = tuple(n for n in drawn.notches if (n.name, n.place) != (notch.name, notch.place))
    return redrawn(demo, "notch lost", drawn, replace(drawn, notches=kept), (notch.edge,), f"lost {notch.name}")


def notch_moved(demo: Demo, lot: Random) -> Fault | None:
    """A notch moved by 5 mm along its edge."""
    drawn, notch = _notch(demo, lot)
    if drawn is None or notch is None:
        return None
    path = drawn.edge(notch.edge).path
    at_mm = notch.at_mm + lot.choice((5.0, -5.0))
    if not 1.0 < at_mm < path_length_mm(path) - 1.0:
        return None
    moved = replace(notch, at_mm=at_mm, place=point_along(path, at_mm)[0])
    kept = tuple(n for n in drawn.notches if (n.name, n.place) != (notch.name, notch.place))
    edges = tuple(n.edge for n in drawn.notches if (n.name, n.place) == (notch.name, notch.place))
    now = replace(drawn, notches=(*kept, moved))
    return redrawn(demo, "notch moved", drawn, now, edges, f"{notch.edge} {notch.name} by 5 mm")


def _notch(demo: Demo, lot: Random) -> tuple[DrawnPiece | None, Notch | None]:
    drawn = spot(demo, lot).drawn
    return (drawn, lot.choice(drawn.notches)) if drawn.notches else (None, None)


def cap_ease(demo: Demo, lot: Random) -> Fault | None:
    """The eased side of a seam redrawn until its ease lies 2 mm past the tolerance."""
    seams = [s for s in demo.pattern.seams.values() if s.kind == "sewn" and (s.ease.low or s.ease.high)]
    if not seams:
        return None
    seam, size = lot.choice(seams), lot.choice(demo.pattern.sizes)
    a_mm, b_mm = (sum(demo.cuts[size][s.piece].edge(s.edge).length_mm for s in side) for side in (seam.a, seam.b))
    factor, over = (b_mm if seam.ease.percent else 1.0), seam.tolerance_mm + 2.0
    by_mm = lot.choice((seam.ease.high * factor + over, seam.ease.low * factor - over)) - (a_mm - b_mm)
    step = max(seam.a, key=lambda s: demo.cuts[size][s.piece].edge(s.edge).length_mm)
    drawn = demo.drawn(step.piece, size)
    try:
        path = lengthened(drawn.edge(step.edge).path, by_mm)
    except ValueError:
        return None
    now = with_path(drawn, step.edge, path)
    return redrawn(demo, "ease", drawn, now, (step.edge,), f"{step.edge} {by_mm:+.1f} mm, out of its ease")


def grain_turned(demo: Demo, lot: Random) -> Fault | None:
    """The grain turned about its middle by 3 or 90 degrees."""
    drawn = spot(demo, lot).drawn
    grain, angle = drawn.grain, lot.choice((3.0, -3.0, 90.0))
    middle = Point((grain.top.x + grain.bottom.x) / 2, (grain.top.y + grain.bottom.y) / 2)
    turn = turned_about(angle, middle)
    now = replace(drawn, grain=replace(grain, top=turn.point(grain.top), bottom=turn.point(grain.bottom)))
    return redrawn(demo, "grain", drawn, now, (), f"grain {angle:+g}°")


def flipped(demo: Demo, lot: Random) -> Fault | None:
    """An asymmetric piece drawn turned over, in one size or, where only one way is cut, in all of them."""
    cut = spot(demo, lot)
    if cut.fold is not None or is_symmetric(cut.cut_outline):
        return None
    if demo.only_size(cut.drawn.file) is None:
        spec = demo.pattern.pieces[cut.piece]
        one_way = all(e.mirrored.get(cut.size, 0) in (0, e.count.get(cut.size, 0)) for e in spec.cut)
        if not one_way:
            return None  # pairs drawn turned over are the same pairs
    edges = tuple(edge.name for edge in cut.edges)  # of two pieces that are each drawn once, either may be the one
    return redrawn(demo, "flipped", cut.drawn, mapped(cut.drawn, _FOLD), edges, "turned over")


def other_size(demo: Demo, lot: Random) -> Fault | None:
    """The master of one size in the place of another's."""
    drawn = spot(demo, lot).drawn
    other = demo.drawn(drawn.piece, lot.choice(demo.pattern.pieces[drawn.piece].sizes))
    text = demo.texts[other.file]
    if text == demo.texts[drawn.file]:
        return None
    return with_text(demo, "other size", drawn, text, "", f"is {other.file}")


def edge_lost(demo: Demo, lot: Random) -> Fault | None:
    """An edge taken out of the master, or called otherwise."""
    drawn = spot(demo, lot).drawn
    edge = lot.choice(drawn.edges).name
    line = _edge_line(demo, drawn, edge)
    if lot.random() < 0.5:
        return with_text(demo, "edge lost", drawn, demo.texts[drawn.file].replace(line, ""), edge, f"{edge} taken out")
    said = demo.texts["pattern.toml"]
    if demo.only_size(drawn.file) is None and f"{drawn.piece}.{edge}" not in said and f"edges.{edge} " not in said:
        return None  # a name that nothing uses, the same in all sizes: no fault
    other = line.replace(f'"{edge}"', f'"{edge}2"')
    return with_text(demo, "edge lost", drawn, demo.texts[drawn.file].replace(line, other), edge, f"{edge} renamed")


def edge_doubled(demo: Demo, lot: Random) -> Fault | None:
    """An edge drawn twice, under its own name or another."""
    drawn = spot(demo, lot).drawn
    edge = lot.choice(drawn.edges).name
    line = _edge_line(demo, drawn, edge)
    again = line if lot.random() < 0.5 else line.replace(f'"{edge}"', f'"{edge}-copy"')
    text = demo.texts[drawn.file].replace(line, line + again)
    return with_text(demo, "edge doubled", drawn, text, edge, f"{edge} twice")


def _edge_line(demo: Demo, drawn: DrawnPiece, edge: str) -> str:
    text = demo.texts[drawn.file]
    seam = text[text.index('"seam"') :]  # an inside line may have the same name
    match = re.search(rf'<path data-name="{edge}" [^>]*/>\n', seam)
    assert match is not None
    return match[0]


def dart_leg(demo: Demo, lot: Random) -> Fault | None:
    """The tip of a dart moved along one of its legs, so that this one is 3 mm longer."""
    darts = [
        (piece.name, edge)
        for piece in demo.pattern.pieces.values()
        for edge, spec in piece.edges.items()
        for take in spec.takes
        if take.kind == "dart"
    ]
    if not darts:
        return None
    piece, edge = lot.choice(darts)
    drawn = demo.drawn(piece, lot.choice(demo.pattern.sizes))
    line = next((line for line in drawn.inside if line.name and line.name.endswith("dart")), None)
    if line is None or len(line.path) != 2:
        return None
    ends = line.path[0].start, line.path[-1].end
    tip = line.path[0].end
    own = lot.choice((0, 1))
    # moved off the bisector: one leg grows and the other shrinks
    across = ends[1 - own].to(ends[own]).unit().scaled(-lot.choice((1.0, 1.3)) * 3.0)
    scale = 3.0 / abs(_leg_difference(ends, tip.plus(across)) or 1.0)
    moved = tip.plus(across.scaled(scale))
    now = with_line(
        drawn, line.name or "", lambda dart: replace(dart, path=(Line(ends[0], moved), Line(moved, ends[1])))
    )
    difference = _leg_difference(ends, moved)
    return redrawn(demo, "dart", drawn, now, (edge,), f"legs differ by {difference:.1f} mm")


def _leg_difference(ends: tuple[Point, Point], tip: Point) -> float:
    return tip.distance(ends[0]) - tip.distance(ends[1])


def fold_bent(demo: Demo, lot: Random) -> Fault | None:
    """A fold edge that bends by 0.5 to 3 mm."""
    cut = spot(demo, lot)
    fold = next((edge.name for edge in cut.edges if edge.fold), None)
    if fold is None:
        return None
    path = cut.drawn.edge(fold).path
    start, end, off = path[0].start, path[-1].end, lot.choice((-1, 1)) * lot.uniform(0.5, 3.0)
    middle = Line(start, end).at(0.5).plus(start.to(end).unit().left().scaled(off))
    now = with_path(cut.drawn, fold, (Line(start, middle), Line(middle, end)))
    return redrawn(demo, "fold bent", cut.drawn, now, (fold,), f"{fold} bent by {off:.1f} mm")


def kinked(demo: Demo, lot: Random) -> Fault | None:
    """A curve with a kink of 12 to 25 degrees: a handle turned at one point of it."""
    drawn = spot(demo, lot).drawn
    curved = [edge for edge in drawn.edges if any(not isinstance(segment, Line) for segment in edge.path)]
    if not curved:
        return None
    edge: Edge = lot.choice(curved)
    cubics = list(as_cubics(edge.path))
    index = lot.randrange(len(cubics))
    first, second = split(cubics[index], lot.uniform(0.3, 0.7))
    if second.start.distance(second.control1) < 8 or second.start.distance(second.end) < 20:
        return None
    angle = lot.choice((-1, 1)) * lot.uniform(12, 25)
    turned = turned_about(angle, second.start).point(second.control1)
    path = (*cubics[:index], first, Cubic(second.start, turned, second.control2, second.end), *cubics[index + 1 :])
    now = with_path(drawn, edge.name, path)
    if not math.isfinite(path_length_mm(path)):
        return None
    return redrawn(demo, "kink", drawn, now, (edge.name,), f"{edge.name} kinked by {angle:.0f}°")
