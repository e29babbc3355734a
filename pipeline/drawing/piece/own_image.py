"""Which pieces are their own mirror image: which side of them is up is the same, and two of them are no pair."""

import math
from collections.abc import Iterator

import numpy as np

from pipeline.checks.mirror import SYMMETRIC_MM, asymmetry_mm
from pipeline.geometry.curves import flattened
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import Cut, PieceSpec
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import Copies, copies_of

_CHORD_MM = 0.1


def told_copies(pattern: Pattern, cut: CutPiece, entry: Cut) -> Copies:
    """How often an entry of a piece is cut, as people are told it: none mirrored where none differs from the others."""
    found = copies_of(entry, cut.size)
    if found.mirrored and sides_alike(pattern, cut.piece, entry.material) and is_own_image(cut):
        return Copies(found.copies, 0)
    return found


def sides_alike(pattern: Pattern, piece: str, material: str) -> bool:
    """Whether nothing but its shape can tell a piece from its image: no mark and no copy is of one side of the wearer
    alone, the cloth has no direction, and the piece is not on the bias, whose image lies on the other bias."""
    spec = pattern.pieces.get(piece)
    if spec is None or spec.grain == "bias" or pattern.materials[material].nap != "none":
        return False
    return not any(_one_sided(each) for each in _drawn_as(pattern, spec))


def _drawn_as(pattern: Pattern, spec: PieceSpec) -> Iterator[PieceSpec]:
    yield spec
    while spec.source and spec.source in pattern.pieces:
        spec = pattern.pieces[spec.source]
        yield spec


def _one_sided(spec: PieceSpec) -> bool:
    marks = (*spec.line_marks.values(), *spec.point_marks.values())
    return any(mark.side for mark in marks) or any(entry.side for entry in spec.cut)


def is_own_image(cut: CutPiece) -> bool:
    """Whether a piece, mirrored about its grain, is itself: its cut line, and whatever is marked on it."""
    run = cut.drawn.grain.bottom.to(cut.drawn.grain.top)
    angle = math.atan2(run.dy, run.dx)
    if asymmetry_mm(cut.cut_outline, angle) > SYMMETRIC_MM:
        return False
    marked: dict[str, list[Point]] = {}
    for kind, place in _marked(cut):
        marked.setdefault(kind, []).append(place)
    centre = _centre(cut)
    return all(_mirrors(np.array(places, dtype=float) - centre, angle) for places in marked.values())


def _marked(cut: CutPiece) -> Iterator[tuple[str, Point]]:
    """Every place that is marked, with what tells it from marks of other kinds; of a line its corners and chords."""
    for notch in cut.drawn.notches:
        yield f"notch {notch.style}", notch.place
    for point in cut.drawn.points:
        for place in (point.place, *(point.slit or ())):
            yield "point", place
    for slit in cut.slits:
        yield "slit", slit.inner
    for line in (*cut.drawn.inside, *cut.turns, *cut.rows):
        for place in flattened(line.path, _CHORD_MM):
            yield f"line {line.kind}", place


def _mirrors(places: np.ndarray, angle: float) -> bool:
    mirror = np.array([[math.cos(2 * angle), math.sin(2 * angle)], [math.sin(2 * angle), -math.cos(2 * angle)]])
    apart = np.linalg.norm(places[:, None] - (places @ mirror.T)[None], axis=2)
    return bool((apart.min(axis=0) <= 2 * SYMMETRIC_MM).all())


def _centre(cut: CutPiece) -> np.ndarray:
    """A point on the axis: halfway across the grain, which of a piece that is its own image is enough."""
    run = cut.drawn.grain.bottom.to(cut.drawn.grain.top).unit()
    across = np.array([-run.dy, run.dx])
    reach = np.array(cut.cut_outline, dtype=float) @ across
    return across * float(reach.max() + reach.min()) / 2
