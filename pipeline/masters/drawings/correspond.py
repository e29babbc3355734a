"""Whether the corners of a size are those of the size before, and which is which: certain, or told and not guessed."""

import math
from collections.abc import Sequence

import msgspec

from pipeline.geometry.curves import mapped_path, reversed_path
from pipeline.geometry.points import Affine, Point
from pipeline.masters.drawings.alike import MOST_NODES, PASSED_COST, Corners, Match, candidates, cost_of, match
from pipeline.masters.drawings.outline import FAINT_DEG, Node, Outline, outline_of
from pipeline.model.pieces import Edge

MARGIN = 6.0
"""How much more the second best must cost than the best: as a likelihood, twenty times less."""
TURNED_DEG = 20.0
"""A piece that lies turned by more against the other sizes is told."""
MOST_MEAN = 12.0
"""What a corner and the edge after it may cost on average; between neighbouring sizes of one piece it is below 1."""
FLATTER_DEG = 4.0
"""A corner that is none by itself in the next size may turn by so much less there: 21° in one, 18° in the other."""
BESIDE_MM = 15.0
GOOD_MEAN = 4.0
"""What it costs at most where a piece that is turned or mirrored is said to be that."""
_FLIPPED = Affine(-1.0, 0.0, 0.0, 1.0, 0.0, 0.0)


class Answer(msgspec.Struct, frozen=True):
    """The nodes of an outline that answer to each corner of the other, in its order; None with the reason where unsure.

    `code` and `why` say what is wrong or, beside nodes, what is to be known (`code` "symmetrical").
    """

    nodes: tuple[int, ...] | None
    code: str = ""
    why: str = ""
    remedy: str = ""


def correspondence(known: Corners, outline: Outline, notches_mm: Sequence[float]) -> Answer:
    """Where the corners of `known` are on the outline of another size."""
    soft = any(not node.sharp for node in known.nodes) and not any(node.marked for node in outline.nodes)
    there = candidates(outline, all_nodes=soft)
    if len(there) > MOST_NODES:
        there = candidates(outline, all_nodes=False)
    if len(there) > MOST_NODES:
        return Answer(
            None, "too-many-corners", f"it turns at {len(there)} nodes", "Draw it with fewer nodes, as smooth curves."
        )
    other = Corners(outline, there, tuple(notches_mm))
    sharp = sum(node.sharp for node in there), sum(node.sharp for node in known.nodes)
    placed, free = match(known, other, placed=True), match(known, other, placed=False)
    if placed is None or free is None:
        return _missing(sharp)
    flipped = _flipped(known, other)
    if flipped is not None and _fits(flipped) and flipped.cost + MARGIN / 2 < free.cost:
        return Answer(
            None,
            "piece-mirrored",
            "it is the mirror image of the other sizes",
            "Mirror the piece of that size, so that all sizes lie alike.",
        )
    answer = _judged(known, other, placed, free, sharp)
    if answer.nodes is not None and flipped is not None and flipped.cost < free.cost + MARGIN:
        return msgspec.structs.replace(answer, code="symmetrical")
    return answer


def _judged(known: Corners, other: Corners, placed: Match, free: Match, sharp: tuple[int, int]) -> Answer:
    lying = [other.nodes[i] for i in placed.nodes]
    fitting = [other.nodes[i] for i in free.nodes]
    turned = _angle_deg(known.nodes, fitting)
    if lying != fitting and cost_of(known, other, placed.nodes, placed=False) - free.cost > MARGIN:
        return _turned(turned) if abs(turned) > TURNED_DEG and _fits(free) else _unsure(placed, free)
    passed = [node for node in other.nodes if node.sharp and node not in lying]
    if passed:
        return _extra(sharp, passed)
    for number, (one, two) in enumerate(zip(known.nodes, lying, strict=True)):
        flatter = one.sharp and not two.sharp and abs(one.turn_deg) - abs(two.turn_deg) > FLATTER_DEG
        if flatter or _beside(other.outline, two) > _beside(known.outline, one):
            return _lost(number, one, two)
    if lying == fitting and abs(turned) > TURNED_DEG:
        return _turned(turned)
    if placed.second - placed.cost < MARGIN:
        return _unsure(placed, free)
    if placed.cost > MOST_MEAN * len(lying):
        return Answer(
            None,
            "corners-unlike",
            "it has as many corners, but angles and lengths between them are too unlike those of the size beside it",
            "Look at the picture: a corner that is meant lies elsewhere, or the piece is another one.",
        )
    places = {node: i for i, node in enumerate(other.outline.nodes)}
    found = tuple(places[node] for node in lying)
    if free.second - free.cost < MARGIN:
        return Answer(found, "symmetrical")
    return Answer(found)


def _fits(found: Match) -> bool:
    """Whether an outline fits so well that it is the piece, lying otherwise."""
    return found.cost < min(PASSED_COST, GOOD_MEAN * len(found.nodes))


def _flipped(known: Corners, other: Corners) -> Match | None:
    """How well the outline's mirror image fits."""
    outline = other.outline
    marks = [_FLIPPED.point(node.place) for node in outline.nodes if node.marked]
    path = reversed_path(mapped_path(outline.path, _FLIPPED))
    mirrored = outline_of([Edge("", path)], marks)
    notches = tuple(outline.length_mm - at for at in other.notches_mm)
    keep = {(round(-node.place.x, 6), round(node.place.y, 6)) for node in other.nodes}
    nodes = tuple(n for n in mirrored.nodes if (round(n.place.x, 6), round(n.place.y, 6)) in keep)
    return match(known, Corners(mirrored, nodes, notches), placed=False)


def _angle_deg(known: Sequence[Node], found: Sequence[Node]) -> float:
    """By how much the corners lie turned, clockwise: the rotation of least squares."""
    one, two = [node.place for node in known], [node.place for node in found]
    a, b = _centre(one), _centre(two)
    pairs = [(a.to(p), b.to(q)) for p, q in zip(one, two, strict=True)]
    return math.degrees(math.atan2(sum(p.cross(q) for p, q in pairs), sum(p.dot(q) for p, q in pairs)))


def _centre(places: Sequence[Point]) -> Point:
    return Point(sum(p.x for p in places) / len(places), sum(p.y for p in places) / len(places))


def _turned(turned_deg: float) -> Answer:
    return Answer(
        None,
        "piece-turned",
        f"it lies turned by {turned_deg:.0f}° against the other sizes",
        "Turn the piece of that size, so that all sizes lie alike.",
    )


def _unsure(placed: Match, free: Match) -> Answer:
    return Answer(
        None,
        "corners-unsure",
        f"its corners fit in two ways nearly as well (cost {placed.cost:.1f}, the next {placed.second:.1f};"
        f" wherever it lies {free.cost:.1f} and {free.second:.1f})",
        "Mark its corners in a group called corners, or split and name its edges.",
    )


def _beside(outline: Outline, corner: Node) -> int:
    """How many more nodes turn visibly close to a corner, as where it is blunted."""
    away = (abs(node.at_mm - corner.at_mm) for node in outline.nodes if abs(node.turn_deg) >= FAINT_DEG)
    return sum(0 < min(mm, outline.length_mm - mm) <= BESIDE_MM for mm in away)


def _missing(sharp: tuple[int, int]) -> Answer:
    counts = f"it has {sharp[0]} corners, the size beside it {sharp[1]}"
    if sharp[0] >= sharp[1]:  # what is missing is a corner that does not turn, and that is not marked here
        counts = "a corner that is marked in the size beside it is not marked here, and the outline runs on smoothly"
    return Answer(
        None,
        "corner-missing",
        counts,
        "Draw the corner that is missing, or mark it in a group called corners.",
    )


def _extra(sharp: tuple[int, int], passed: Sequence[Node]) -> Answer:
    at = ", ".join(f"({node.place.x:.1f}, {node.place.y:.1f}) mm" for node in passed[:3])
    return Answer(
        None,
        "corner-extra",
        f"it has {sharp[0]} corners, the size beside it {sharp[1]}: one too many is at {at}",
        "Smooth the corner that is too much, or draw it in every size.",
    )


def _lost(number: int, known: Node, found: Node) -> Answer:
    return Answer(
        None,
        "corner-lost",
        f"corner {number + 1} turns by {abs(known.turn_deg):.0f}° in the size beside it, and by"
        f" {abs(found.turn_deg):.0f}° here, or is blunted",
        "Draw the corner, or mark it in a group called corners.",
    )
