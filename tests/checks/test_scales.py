"""A size that was drawn at another scale fits in itself: only the other sizes tell."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.checks.causes import places_of
from pipeline.checks.garment import Garment
from pipeline.checks.telling import clusters, tell
from pipeline.geometry.curves import mapped_path, nearest_on_path
from pipeline.geometry.points import Affine
from pipeline.model.pieces import CutPiece, DrawnPiece, Edge
from tests.checks.skirt import PATTERN, SIZES, Change, garment, replace
from tests.checks.skirt_faults import longer

PIECES = ("front", "back", "band")


def scaled(by: float) -> Change:
    to = Affine(a=by, d=by)

    def change(piece: DrawnPiece) -> DrawnPiece:
        edges = tuple(Edge(edge.name, mapped_path(edge.path, to)) for edge in piece.edges)
        paths = {edge.name: edge.path for edge in edges}
        notches = []
        for mark in piece.notches:
            _, place, at_mm = nearest_on_path(paths[mark.edge], to.point(mark.place))
            notches.append(replace(mark, place=place, at_mm=at_mm))
        return replace(
            piece,
            edges=edges,
            notches=tuple(notches),
            grain=replace(piece.grain, bottom=to.point(piece.grain.bottom), top=to.point(piece.grain.top)),
            inside=tuple(replace(line, path=mapped_path(line.path, to)) for line in piece.inside),
        )

    return change


def found(size: str, by: float, pieces: tuple[str, ...] = PIECES):
    return check_garment(garment({(piece, size): scaled(by) for piece in pieces}))


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize(("by", "told"), [(0.96, "about 4 % smaller"), (1.25, "about 25 % larger")])
def test_a_size_that_was_scaled_is_told_as_that_and_first(size, by, told):
    findings = [f for f in found(size, by) if f.severity == "warn" and f.check.startswith(("grading", "size"))]
    first, *rest = tell(findings, (SIZES,), places_of(PATTERN))
    assert first.startswith(f"look at: size {size}: all of size {size} is {told} than the other sizes let expect")
    assert [line for line in rest if line.startswith("look at")] == []


def test_one_piece_that_is_smaller_and_pieces_in_order_are_no_scale():
    assert [f for f in found("L", 0.96, ("front",)) if f.check == "size-scales"] == []
    lower = garment({("front", "L"): longer(20), ("back", "L"): longer(20)})
    assert [f for f in check_garment(lower) if f.check == "size-scales"] == []
    assert [f for f in check_garment(garment()) if f.check == "size-scales"] == []


@pytest.mark.parametrize("size", ["S", "L", "XXL"])
@pytest.mark.parametrize(
    ("by", "told"),
    [
        (0.75, "scaled, by 0.75: 72 units to the inch, read at 96?"),
        (96 / 72, "scaled, by 1.33: 96 units to the inch, read at 72?"),
        (25.4 / 72, "scaled, by 0.353: millimetres, read as points of 1/72 in?"),
        (25.4 / 96, "scaled, by 0.265: millimetres, read as pixels of 1/96 in?"),
        (0.1, "scaled, by 0.1: centimetres, read as millimetres?"),
        (0.8, "was its drawing scaled?"),
    ],
)
def test_a_scale_that_a_mistaken_unit_gives_is_named(size, by, told):
    (scale,) = [f for f in found(size, by) if f.check == "size-scales"]
    assert scale.size == size
    assert scale.message.endswith(told)


AXES = {"size": SIZES, "cup": ("b", "c", "d")}
POINTS = tuple(f"{size}-{cup}" for size in SIZES for cup in AXES["cup"])
SETS = {value: tuple(point for point in POINTS if value in point.split("-")) for of in AXES.values() for value in of}


def in_cups(size: str, by: float) -> Garment:
    """The skirt in cups: the front is drawn for each of them, all else is the same in both."""
    sizes = {"sizes": POINTS}
    made = {name: replace(spec, **sizes) for name, spec in PATTERN.pieces.items()}
    pattern = replace(PATTERN, pieces=made, sizes=POINTS, base="M-b", size_axes=AXES, size_sets=SETS)
    plain = garment({(piece, size): scaled(by) for piece in PIECES})
    cuts: dict[str, dict[str, CutPiece]] = {piece: {} for piece in PATTERN.pieces}
    for piece, of in plain.cuts.items():
        for point in POINTS:
            cut = of[point.split("-")[0]]
            own = f"sizes/{point}/front.svg" if piece == "front" else cut.drawn.file
            cuts[piece][point] = replace(cut, drawn=replace(cut.drawn, size=point, file=own))
    return Garment(pattern, cuts)


def test_all_points_of_a_drawing_that_was_scaled_are_told_together():
    told = [f for f in check_garment(in_cups("L", 0.98)) if f.check == "size-scales"]
    assert [f.size for f in told] == ["L-b", "L-c", "L-d"]
    assert {f.message.split(" than ")[0] for f in told} == {"all of sizes L-b, L-c, L-d is about 2 % smaller"}
    assert [f for f in check_garment(in_cups("L", 1.0)) if f.check == "size-scales"] == []


def test_what_a_scaled_drawing_breaks_in_all_its_points_follows_from_it():
    subject = in_cups("L", 0.98)
    findings = [f for f in check_garment(subject) if f.check.startswith(("grading", "seam-lengths", "size-scales"))]
    ladders = [ladder.sizes for ladder in subject.ladders]
    told = clusters([f for f in findings if f.severity in ("block", "warn")], ladders, places_of(subject.pattern))
    assert [cluster.cause.first.check for cluster in told] == ["size-scales"]
    assert told[0].effects
