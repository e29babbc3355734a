"""Curves that turn at once where no other size does, or in a piece that is drawn once."""

import pytest

from pipeline.geometry.curves import Cubic, segment_length_mm
from pipeline.geometry.points import Point
from pipeline.model.piece_specs import EdgeSpec, Take
from pipeline.model.pieces import DrawnPiece
from tests.bench.masters import split, turned_about
from tests.checks.skirt import SIZES, Change, lines, master, notch, one, pattern_with, replace, told
from tests.checks.skirt_faults import in_all, with_edges


def kinked(degrees: float) -> Change:
    """The side parted in the middle of its curve, the handle beyond turned about that place."""

    def change(piece: DrawnPiece) -> DrawnPiece:
        curve, straight = piece.edge("side").path
        first, second = split(curve, 0.5)
        turned = turned_about(degrees, second.start).point(second.control1)
        beyond = Cubic(second.start, turned, second.control2, second.end)
        return with_edges(piece, {"side": (first, beyond, straight)})

    return change


def kinks(faults: dict) -> list[tuple[str | None, str | None, str | None]]:
    return [(f.size, f.piece, f.where) for f in told(faults) if f.check == "curve-kinks"]


@pytest.mark.parametrize("degrees", [12, -12])
@pytest.mark.parametrize("size", SIZES)
def test_a_kink_in_one_size_warns(size: str, degrees: float):
    finding = one("curve-kinks", {("front", size): kinked(degrees)})
    assert (finding.code, finding.severity, finding.size, finding.piece, finding.where) == (
        "kink",
        "warn",
        size,
        "front",
        "side",
    )
    assert finding.found.startswith("12.0 degrees at x ")


def test_a_curve_that_is_only_parted_runs_on():
    assert kinks({("front", "M"): kinked(0)}) == []


def test_a_turn_of_up_to_three_degrees_is_let_be():
    assert kinks({("front", "M"): kinked(2.9)}) == []
    assert kinks({("front", "M"): kinked(3.1)}) == [("M", "front", "side")]


def test_a_corner_that_all_sizes_have_is_meant():
    assert kinks(in_all("front", kinked(12))) == []


def test_a_turn_that_other_sizes_have_just_below_the_limit_is_theirs_too():
    assert kinks({**in_all("front", kinked(2.9)), ("front", "M"): kinked(3.1)}) == []


def test_a_turn_of_less_than_half_a_degree_in_other_sizes_is_none():
    assert kinks({**in_all("front", kinked(0.6)), ("front", "M"): kinked(3.1)}) == []
    assert kinks({**in_all("front", kinked(0.4)), ("front", "M"): kinked(3.1)}) == [("M", "front", "side")]


def rounded(degrees: float) -> Change:
    """The foot of the pocket as two curves that meet at an angle."""

    def change(piece: DrawnPiece) -> DrawnPiece:
        start, end = piece.edge("foot").path[0].start, piece.edge("foot").path[-1].end
        middle = Point((start.x + end.x) / 2, start.y + 10)
        turn = turned_about(degrees, middle)
        first = Cubic(start, Point(start.x - 15, start.y + 10), Point(middle.x + 15, middle.y), middle)
        second = Cubic(middle, turn.point(Point(middle.x - 15, middle.y)), Point(end.x + 15, end.y + 10), end)
        return with_edges(piece, {"foot": (first, second)})

    return change


def test_a_kink_between_two_curves_of_a_piece_that_is_drawn_once():
    assert set(kinks(in_all("pocket", rounded(12)))) == {("S", "pocket", "foot")}
    assert kinks(in_all("pocket", rounded(0))) == []
    assert kinks(in_all("pocket", rounded(60))) == [], "a corner that is meant"


def test_straight_edges_may_have_corners():
    def bent(piece: DrawnPiece) -> DrawnPiece:
        return with_edges(piece, {"hem": lines(piece.edge("hem").path[0].start, (90, 495), (0, 500))})

    assert kinks({("front", "M"): bent}) == []


def test_a_dart_or_pleat_is_trued_at_its_notches_and_between_them():
    """The leg of a dart that is taken up turns the edge, in one size more than in the others."""
    curve = master("front", "M").edge("side").path[0]
    at_mm = segment_length_mm(split(curve, 0.5)[0])

    def marked(low: float, high: float, change: Change) -> Change:
        def made(piece: DrawnPiece) -> DrawnPiece:
            changed = change(piece)
            edges = {edge.name: edge.path for edge in changed.edges}
            marks = (notch(edges, "side", "leg-a", at_mm + low), notch(edges, "side", "leg-b", at_mm + high))
            return replace(changed, notches=(*changed.notches, *marks))

        return made

    def found(low: float, high: float) -> list[str | None]:
        said = EdgeSpec(takes=(Take("leg-a", "leg-b", "pleat"),))
        faults = {("front", size): marked(low, high, kinked(12 if size == "M" else 0)) for size in SIZES}
        return [f.size for f in told(faults, pattern_with({("front", "side"): said})) if f.check == "curve-kinks"]

    assert found(0, 20) == found(-10, 10) == found(-20, 0) == []
    assert found(10, 30) == ["M"]
