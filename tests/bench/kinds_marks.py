"""Faults of marks, turned parts, strips and notions. Each kind returns None where it does not apply."""

import re
from collections.abc import Callable
from random import Random

from pipeline.checks.bindings import bound_edges, turn_deg
from pipeline.checks.mirror import is_symmetric
from pipeline.geometry.curves import mapped_path, path_length_mm, point_along
from pipeline.geometry.points import Affine, Point, Vector
from pipeline.model.pattern import Strip
from pipeline.model.pieces import DrawnPiece
from tests.bench.kinds_drawn import redrawn, spot
from tests.bench.kinds_said import said, table_text
from tests.bench.masters import mapped, master_text, replace, with_corner
from tests.bench.seeding import Demo, Fault

_FOLD = Affine(-1, 0, 0, 1, 0, 0)
_SIDE_MM = 5.0


def mark_lost(demo: Demo, lot: Random) -> Fault | None:
    """A point, a buttonhole or an inside line taken out of one size."""
    drawn = _graded(demo, lot)
    marks = [*drawn.points, *drawn.inside] if drawn else []
    if drawn is None or not marks:
        return None
    gone = lot.choice(marks)
    points = tuple(point for point in drawn.points if point is not gone)
    now = replace(drawn, points=points, inside=tuple(line for line in drawn.inside if line is not gone))
    return redrawn(demo, "mark lost", drawn, now, (), f"lost {gone.name}")


def mark_moved(demo: Demo, lot: Random) -> Fault | None:
    """A point, a buttonhole or an inside line moved by 5 mm in one size."""
    drawn = _graded(demo, lot)
    marks = [*drawn.points, *drawn.inside] if drawn else []
    if drawn is None or not marks:
        return None
    moved, by = lot.choice(marks), lot.choice((Vector(_SIDE_MM, 0), Vector(0, _SIDE_MM), Vector(-_SIDE_MM, 0)))
    shift = Affine(1, 0, 0, 1, by.dx, by.dy)
    points = tuple(_shifted(point, by) if point is moved else point for point in drawn.points)
    inside = tuple(replace(one, path=mapped_path(one.path, shift)) if one is moved else one for one in drawn.inside)
    now = replace(drawn, points=points, inside=inside)
    return redrawn(demo, "mark moved", drawn, now, (), f"{moved.name} by 5 mm")


def _shifted(point, by):
    slit = point.slit and (point.slit[0].plus(by), point.slit[1].plus(by))
    return replace(point, place=point.place.plus(by), slit=slit)


def _graded(demo: Demo, lot: Random) -> DrawnPiece | None:
    """A piece of which each size has its own master."""
    drawn = spot(demo, lot).drawn
    return drawn if demo.only_size(drawn.file) else None


def dart_off(demo: Demo, lot: Random) -> Fault | None:
    """The stitching line of a dart moved by 4 mm along its edge: it no longer ends on its notches."""
    darts = [
        (piece.name, edge, take)
        for piece in demo.pattern.pieces.values()
        for edge, spec in piece.edges.items()
        for take in spec.takes
        if take.kind == "dart"
    ]
    if not darts:
        return None
    piece, edge, take = lot.choice(darts)
    drawn = demo.drawn(piece, lot.choice(demo.pattern.pieces[piece].sizes))
    ends = [notch for notch in drawn.notches if notch.edge == edge and notch.name in (take.start_notch, take.end_notch)]
    by = ends[0].place.to(ends[1].place).unit().scaled(lot.choice((4.0, -4.0)))
    shift = Affine(1, 0, 0, 1, by.dx, by.dy)
    places = [notch.place for notch in ends]

    def is_leg(line) -> bool:
        corners = (line.path[0].start, line.path[-1].end)
        return not line.closed and any(corner.distance(place) < 1 for corner in corners for place in places)

    if not any(map(is_leg, drawn.inside)):
        return None
    lines = tuple(replace(one, path=mapped_path(one.path, shift)) if is_leg(one) else one for one in drawn.inside)
    now = replace(drawn, inside=lines)
    return redrawn(demo, "dart off", drawn, now, (edge,), f"the dart at {edge} is 4 mm beside its notches")


def wrong_side(demo: Demo, lot: Random) -> Fault | None:
    """A piece that is cut one way only, as a facing of one front, drawn from its back in all sizes.

    Not one that is cut once for a pair: on the other side of the garment it is right.
    """
    pieces = [
        spec.name
        for spec in demo.pattern.pieces.values()
        if spec.source is None and all(e.mirrored.get(s, 0) in (0, n) for e in spec.cut for s, n in e.count.items())
    ]
    if not pieces:
        return None
    piece = lot.choice(pieces)
    cuts = [demo.cuts[size][piece] for size in demo.pattern.pieces[piece].sizes]
    if cuts[0].fold is not None or is_symmetric(cuts[0].cut_outline) or not _is_sewn(demo, piece):
        return None
    if _is_for_one_of_a_pair(demo, piece):
        return None
    files = {cut.drawn.file: cut.drawn for cut in cuts}
    return Fault(
        kind="wrong side",
        demo=demo.name,
        changes={file: master_text(mapped(drawn, _FOLD)) for file, drawn in files.items()},
        told=f"{demo.name} {piece}: turned over in all sizes",
        piece=piece,
        edges=tuple(edge.name for edge in cuts[0].edges),
    )


def _is_sewn(demo: Demo, piece: str) -> bool:
    seams = (seam for seam in demo.pattern.seams.values() if seam.kind == "sewn")
    return any(step.piece == piece for seam in seams for step in (*seam.a, *seam.b))


def _is_for_one_of_a_pair(demo: Demo, piece: str) -> bool:
    seams = [(*seam.a, *seam.b) for seam in demo.pattern.seams.values() if seam.kind == "sewn"]
    beside = {step.piece for steps in seams if piece in {step.piece for step in steps} for step in steps} - {piece}
    counts = {name: sum(max(cut.count.values()) for cut in demo.pattern.pieces[name].cut) for name in (piece, *beside)}
    return counts[piece] == 1 and any(counts[name] == 2 for name in beside)


def tapering(demo: Demo, lot: Random) -> Fault | None:
    """The outer corners of what is turned about a fold line moved inward by 6 to 12 mm, in one master."""
    drawn = spot(demo, lot).drawn
    lines = [line for line in drawn.inside if line.kind == "fold" and not line.closed]
    if len(lines) != 1 or len(drawn.edges) < 4:
        return None
    start, end = lines[0].path[0].start, lines[0].path[-1].end
    along = start.to(end).unit()
    ends = [place for place in (start, end) if min(_off_edge_mm(edge, place) for edge in drawn.edges) <= 1]
    corners = [edge.path[-1].end for edge in drawn.edges]
    side = lot.choice((1, -1))
    outer = [i for i, corner in enumerate(corners) if along.cross(start.to(corner)) * side > 2.0]
    if len(ends) != 2 or len(outer) != 2:
        return None
    by_mm, now = lot.uniform(6, 12), drawn
    middle = start.to(Point((start.x + end.x) / 2, (start.y + end.y) / 2)).dot(along)
    for index in outer:
        inward = 1 if start.to(corners[index]).dot(along) < middle else -1
        now = with_corner(now, index, along.scaled(inward * by_mm))
    edges = tuple(edge.name for edge in drawn.edges)
    return redrawn(demo, "tapering", drawn, now, edges, f"{by_mm:.0f} mm narrower on both sides past {lines[0].name}")


def _off_edge_mm(edge, place: Point) -> float:
    length_mm = path_length_mm(edge.path)
    return min(point_along(edge.path, share * length_mm / 64)[0].distance(place) for share in range(65))


def hem_uneven(demo: Demo, lot: Random) -> Fault | None:
    """The hem of one piece 1 cm deeper or shallower than that of the piece that it runs on into."""
    hems = {(p.name, e) for p in demo.pattern.pieces.values() for e, s in p.edges.items() if s.hem and not p.source}
    joined = sorted(of for of in hems if _runs_on(demo, *of, hems))
    if not joined:
        return None
    piece, edge = lot.choice(joined)
    return _edge_allowance(demo, "hem uneven", piece, edge, lot.choice((10.0, -10.0)))


def _runs_on(demo: Demo, piece: str, edge: str, hems: set[tuple[str, str]]) -> bool:
    """Whether an edge beside the hem is sewn to an edge that has another piece's hem beside it."""
    beside = _beside(demo, piece, edge)
    for seam in demo.pattern.seams.values():
        for mine, theirs in ((seam.a, seam.b), (seam.b, seam.a)) if seam.kind == "sewn" else ():
            if any(step.piece == piece and step.edge in beside for step in mine):
                others = {
                    (s.piece, name) for s in theirs if s.piece != piece for name in _beside(demo, s.piece, s.edge)
                }
                if others & hems:
                    return True
    return False


def _beside(demo: Demo, piece: str, edge: str) -> set[str]:
    names = [each.name for each in demo.drawn(piece, demo.pattern.pieces[piece].sizes[0]).edges]
    index = names.index(edge)
    return {names[index - 1], names[(index + 1) % len(names)]}


def against_facing(demo: Demo, lot: Random) -> Fault | None:
    """One edge of a sewn seam with 4 mm more, or less, than the edge it is sewn to."""
    seams = [seam for seam in demo.pattern.seams.values() if seam.kind == "sewn"]
    steps = [step for seam in seams if seam.a != seam.b for step in (*seam.a, *seam.b)]
    if not steps:
        return None
    step = lot.choice(steps)
    return _edge_allowance(demo, "against facing", step.piece, step.edge, lot.choice((4.0, -4.0)))


def _edge_allowance(demo: Demo, kind: str, piece: str, edge: str, by_mm: float) -> Fault | None:
    cut = demo.cuts[demo.pattern.pieces[piece].sizes[0]][piece]
    now_mm = cut.edge(edge).allowance_mm + by_mm
    if cut.edge(edge).fold or cut.edge(edge).allowance_mm == 0 or now_mm <= 0:
        return None
    table, length = table_text(demo, f"pieces.{piece}"), f'"{now_mm:.4f} mm"'
    line = re.search(rf"^edges\.{edge} = \{{.*$", table, re.MULTILINE)
    old = re.search(r"^allowance = .*$", table, re.MULTILINE)
    assert old is not None
    if line is None:
        new = f"{old[0]}\nedges.{edge} = {{ allowance = {length} }}"
        return said(demo, kind, f"pieces.{piece}", old[0], new, edges=(edge,))
    new = re.sub(r'allowance = "[^"]*"', f"allowance = {length}", line[0])
    if new == line[0]:
        new = line[0].replace("= {", f"= {{ allowance = {length},", 1)
    return said(demo, kind, f"pieces.{piece}", line[0], new, edges=(edge,))


def zip_long(demo: Demo, lot: Random) -> Fault | None:
    """A notion 2 cm longer than the opening that it is sewn into."""
    fitted = [name for name, notion in demo.pattern.notions.items() if notion.opening and notion.length]
    lengths = {
        name: re.search(r'^length = "(.*)"$', table_text(demo, f"notions.{name}"), re.MULTILINE) for name in fitted
    }
    if not any(lengths.values()):
        return None
    name, match = lot.choice([(name, match) for name, match in lengths.items() if match])
    return said(demo, "zip", f"notions.{name}", match[0], f'length = "{match[1]} + 2 cm"')


def strip_count(demo: Demo, lot: Random) -> Fault | None:
    """One strip too many or too few, or twice as many, of those that have edges or marks in the pattern."""
    marks = {
        mark.name or ""
        for there in demo.cuts.values()
        for cut in there.values()
        for mark in (*cut.drawn.notches, *cut.drawn.points)
    }

    def is_used(strip: Strip) -> bool:
        marked = any(mark == strip.name or mark.startswith(f"{strip.name}-") for mark in marks)
        return marked or (strip.goes_round is not None and bool(bound_edges(strip)) and strip.make != "flat")

    used = [name for name, strip in demo.pattern.strips.items() if is_used(strip)]
    if not used:
        return None
    name = lot.choice(used)
    match = re.search(r"count = (\d+)", table_text(demo, f"strips.{name}"))
    assert match is not None
    count = int(match[1])
    other = lot.choice([n for n in (count - 1, count + 1, 2 * count) if n > 0])
    more = ", mirrored = 0" if other % 2 and other > 1 else ""
    return said(demo, "strip count", f"strips.{name}", match[0], f"count = {other}{more}")


def strip_grain(demo: Demo, lot: Random) -> Fault | None:
    """A strip that binds a curve, said to lie along the cloth."""
    binding = [name for name, strip in demo.pattern.strips.items() if strip.grain == "bias" and _binds(demo, strip)]
    if not binding:
        return None
    name = lot.choice(binding)
    return said(
        demo, "strip grain", f"strips.{name}", 'grain = "bias"', lot.choice(('grain = "along"', 'grain = "any"'))
    )


def _binds(demo: Demo, strip: Strip) -> bool:
    size = demo.pattern.sizes[0]
    edges = [of for of in bound_edges(strip) if of.piece in demo.cuts[size]]
    return any(turn_deg(demo.cuts[size][of.piece], of.line) > 30 for of in edges)


KINDS: dict[str, Callable[[Demo, Random], Fault | None]] = {
    "mark lost in one size": mark_lost,
    "mark moved by 5 mm": mark_moved,
    "dart line off its notches": dart_off,
    "piece for the wrong side": wrong_side,
    "turned part left tapering": tapering,
    "hem uneven by 1 cm": hem_uneven,
    "allowance 4 mm off its partner": against_facing,
    "zip longer than its opening": zip_long,
    "strip count wrong": strip_count,
    "strip grain that does not give": strip_grain,
}
