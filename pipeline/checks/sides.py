"""Left and right of the wearer: what one side alone has is there once, of its own hand, and marked on its own half."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.counts import symmetric
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.uses import marks_of, named_after
from pipeline.model.findings import Severity
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import copies_of, drawn_half, mark_spec, side_of

_CLOSED_MM = 10.0
"""As far as a button lies from the middle of its buttonhole where what it closes is drawn as one piece."""


@CHECKS.register(
    id="cut-sides",
    title="What one side of the wearer has is cut once for it, as its own hand, and marked on its half alone",
    rationale="A breast pocket that is cut twice, or marked on both fronts, ends in cloth where none belongs.",
    remedy="correct the side, the count or mirrored of the cut entry; say the side of a mark, and which half is drawn",
    severity="warn",
    source="one piece for one side, right side up: common practice",
)
def cut_sides(garment: Garment) -> Iterator[Outcome]:
    """Counts of one side above its layers; a left and a right of one hand; sides of derived pieces; sides of marks, by
    themselves and against the piece that they are named after; a button and a buttonhole at one place."""
    for spec, cut in garment.each():
        yield from _several(spec, cut)
        yield from _alike(garment, spec, cut)
        yield from _other_than_source(garment, spec, cut)
        yield from _unsaid(garment, spec, cut)
        yield from _own_hole(garment, spec, cut)


def _several(spec: PieceSpec, cut: CutPiece) -> Iterator[Outcome]:
    for entry in spec.cut:
        count = copies_of(entry, cut.size).copies
        if entry.side and count > entry.layers:
            yield _told(
                "several",
                cut,
                found=f"{count} of {entry.material} for the {entry.side}",
                allowed="1, or as many as lie on each other",
                message=f"{spec.name} is cut {count} times for the wearer's {entry.side} alone",
                remedy=f"correct the count; where they lie on each other say layers = {count}, where both sides have"
                " one take side out",
            )


def _alike(garment: Garment, spec: PieceSpec, cut: CutPiece) -> Iterator[Outcome]:
    """A left and a right of one material each, or of two, that are cut alike, though they are no mirror images."""
    left, right = ([entry for entry in spec.cut if entry.side == side] for side in ("left", "right"))
    if not left or not right or cut.fold is not None or symmetric(garment, cut):
        return
    hands = []
    for entries in (left, right):
        there = [copies_of(entry, cut.size) for entry in entries]
        hands.append((any(of.as_drawn for of in there), any(of.mirrored for of in there)))
    if hands[0] == hands[1] and sum(hands[0]) == 1:
        yield _told(
            "alike",
            cut,
            severity="block",
            found="both as drawn" if hands[0][0] else "both mirrored",
            allowed="one of them mirrored",
            message=f"{spec.name} is cut for the left and for the right, and both are of one hand",
            remedy="say mirrored = 1 of the side that is not drawn",
        )


def _other_than_source(garment: Garment, spec: PieceSpec, cut: CutPiece) -> Iterator[Outcome]:
    source = garment.pattern.pieces.get(spec.source or "")
    mine, theirs = side_of(spec.cut), side_of(source.cut) if source is not None else None
    if source is not None and mine and theirs and mine != theirs:
        yield _told(
            "other-than-source",
            cut,
            found=mine,
            allowed=f"{theirs}, as {source.name}",
            message=f"{spec.name} has the outline of {source.name}, and is for the other side of the wearer",
        )


def _unsaid(garment: Garment, spec: PieceSpec, cut: CutPiece) -> Iterator[Outcome]:
    """Marks of one side on a fold of which nobody knows which half is drawn; marks of one side's piece on both."""
    pattern, both = garment.pattern, cut.fold is not None or (side_of(spec.cut) is None and _has_both_hands(spec, cut))
    for name, _, group in marks_of(cut):
        if not name or spec.source is not None:
            continue
        side, place = mark_spec(pattern, spec.name, name, group).side, f"{group}.{name}"
        if side and cut.fold is not None and drawn_half(pattern, spec.name) is None:
            fold = next(edge.name for edge in cut.edges if edge.fold)
            yield _told(
                "half-unsaid",
                cut,
                place,
                found="no half",
                allowed=f'edges.{fold} = {{ fold = true, half = "left" }}, or "right"',
                message=f"{name} is on the {side} alone, and nobody knows which half of {spec.name} is drawn",
                remedy="say at its fold which half of the wearer you drew: until then both have it",
            )
        owner = named_after(garment, name)
        theirs = side_of(pattern.pieces[owner].cut) if owner else None
        if owner and theirs and side and theirs != side:
            yield _told(
                "other-side",
                cut,
                place,
                severity="block",
                found=side,
                allowed=f"{theirs}, as {owner}",
                message=f"{owner} is for the {theirs} alone, and its mark on {spec.name} is for the {side}",
                remedy=f"correct the side of {place}, or that of {owner}",
            )
        if theirs and not side and both:
            yield _told(
                "mark-on-both",
                cut,
                place,
                found="no side",
                allowed=theirs,
                message=f"{owner} is for the {theirs} alone, and its mark is on both sides of {spec.name}",
                remedy=f'say {place} = {{ side = "{theirs}" }}',
            )


def _own_hole(garment: Garment, spec: PieceSpec, cut: CutPiece) -> Iterator[Outcome]:
    """A button and the buttonhole of its number at one place of one half, `button-1` and `buttonhole-1`. At the two
    ends of a cuff both may be on one side of the wearer."""
    places = {point.name: point.place for point in cut.drawn.points if point.name}
    for name, place in places.items() if spec.source is None else ():
        hole = name.replace("button", "buttonhole", 1)
        if "buttonhole" in name or hole == name or hole not in places or place.distance(places[hole]) > _CLOSED_MM:
            continue
        sides = [mark_spec(garment.pattern, spec.name, own, "points").side for own in (name, hole)]
        if sides[0] and sides[0] == sides[1]:
            other = "right" if sides[0] == "left" else "left"
            yield _told(
                "own-hole",
                cut,
                f"points.{name}",
                found=f"both on the {sides[0]}",
                allowed=f"one on the {sides[0]}, one on the {other}",
                message=f"{name} and {hole} lie at one place, and both are on the {sides[0]} alone",
                remedy=f"say the other side of points.{name}, or of points.{hole}",
            )


def _has_both_hands(spec: PieceSpec, cut: CutPiece) -> bool:
    there = [copies_of(entry, cut.size) for entry in spec.cut]
    return any(of.as_drawn and of.mirrored for of in there)


def _told(code: str, cut: CutPiece, place: str | None = None, severity: Severity | None = None, **told: str) -> Outcome:
    return Outcome(
        code=code,
        severity=severity,
        size=cut.size,
        piece=cut.piece,
        where=place,
        file="pattern.toml",
        object=f"pieces.{cut.piece}.{place or 'cut'}",
        **told,
    )
