"""Rows of stitching: parallel to the seam line, so far inside it, from seam line to seam line."""

import math

import numpy as np
import pytest
import shapely
from msgspec.structs import replace

from pipeline.cutting.cut import cut_piece
from pipeline.drawing.nest.one_size import in_nest
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.piece_specs import EdgePart, EdgeSpec
from pipeline.model.pieces import InsideLine
from tests.cutting.shapes import arc, clean, codes, cut, drawn_of, notch, pattern_of, polygon, spec_of, straight

BOX = polygon([(0, 0), (200, 0), (200, 100), (0, 100)])


def rows(*inside_mm: float, **more) -> EdgeSpec:
    return EdgeSpec(topstitch_mm=inside_mm, **more)


def ends(line: InsideLine) -> list[tuple[float, float]]:
    return sorted((round(place.x, 3), round(place.y, 3)) for place in (line.path[0].start, line.path[-1].end))


def points(line: InsideLine) -> np.ndarray:
    return np.array([line.path[0].start, *(one.end for one in line.path)])


def test_rows_lie_at_their_distances_and_end_on_the_seam_lines_beside_them():
    piece = clean(BOX, {"e0": rows(3, 8)})
    assert [(line.name, line.kind, ends(line)) for line in piece.rows] == [
        ("e0-topstitch-1", "stitch", [(0, 3), (200, 3)]),
        ("e0-topstitch-2", "stitch", [(0, 8), (200, 8)]),
    ]
    assert piece.inside == piece.rows


@pytest.mark.parametrize("degrees", [-30, 30])
def test_beside_a_slanting_neighbour_a_row_is_as_long_as_the_piece_is_wide_there(degrees):
    lean = 100 * math.tan(math.radians(degrees))
    piece = clean(polygon([(0, 0), (200, 0), (200 + lean, 100), (0, 100)]), {"e0": rows(20)})
    assert ends(piece.rows[0]) == [(0, 20), (pytest.approx(200 + 20 * math.tan(math.radians(degrees)), abs=0.002), 20)]


@pytest.mark.parametrize(("centre", "start", "sweep", "radius"), [((100, 0), 180, -180, 80), ((100, 0), 180, 180, 120)])
def test_beside_a_curve_a_row_is_the_curve_with_another_radius(centre, start, sweep, radius):
    """Half a circle of 100 mm: hollow upward, the row lies 20 mm within the cloth below, at 120 mm; bulging, at 80."""
    curve = arc(centre, 100, start, sweep)
    edges = {
        "curve": curve,
        "right": straight((200, 0), (200, 300)),
        "bottom": straight((200, 300), (0, 300)),
        "left": straight((0, 300), (0, 0)),
    }
    if sweep < 0:
        edges |= {"right": straight((200, 0), (260, 0), (260, 300)), "bottom": straight((260, 300), (-60, 300))}
        edges |= {"left": straight((-60, 300), (-60, 0), (0, 0))}
    piece = clean(edges, {"curve": rows(20)})
    far = np.hypot(*(points(piece.rows[0]) - centre).T)
    expected = 120 if sweep < 0 else 80
    middle = far[len(far) // 4 : -len(far) // 4]
    assert len(middle) > 5
    assert np.abs(middle - expected).max() < 0.01
    assert radius != expected or sweep > 0


def test_where_an_edge_bends_in_more_than_the_row_can_it_has_no_loops():
    """A corner rounded with 5 mm: 8 mm inside the rows of both straight stretches meet at a corner, with no loop."""
    edges = {
        "round": (*straight((0, 0), (195, 0)), *arc((195, 5), 5, -90, 90), *straight((200, 5), (200, 100))),
        "rest": straight((200, 100), (0, 100), (0, 0)),
    }
    line = shapely.LineString(points(clean(edges, {"round": rows(8)}).rows[0]))
    assert line.is_simple
    assert line.hausdorff_distance(shapely.LineString([(0, 8), (192, 8), (192, 100)])) < 0.02


def test_edges_that_follow_each_other_have_one_row_that_turns_at_their_corner():
    """A patch pocket: three sides are stitched on, the top is not."""
    piece = clean(BOX, {edge: rows(2) for edge in ("e1", "e2", "e3")})
    (line,) = piece.rows
    assert (line.name, line.closed) == ("e1-topstitch-1", False)
    assert points(line).round(3).tolist() == [[198, 0], [198, 98], [2, 98], [2, 0]]


def test_all_round_a_row_closes():
    (line,) = clean(BOX, {edge: rows(6) for edge in BOX}).rows
    assert line.closed
    assert shapely.Polygon(points(line)).bounds == pytest.approx((6, 6, 194, 94))
    assert len(points(line)) == 5


def test_rows_of_other_distances_do_not_turn_into_each_other():
    assert [line.name for line in clean(BOX, {"e1": rows(2), "e2": rows(3)}).rows] == [
        "e1-topstitch-1",
        "e2-topstitch-1",
    ]


def test_on_the_fold_a_row_ends_at_the_fold_and_opened_it_is_on_both_halves():
    piece = clean(BOX, {"e0": rows(5), "e3": EdgeSpec(fold=True)})
    assert ends(piece.rows[0]) == [(0, 5), (200, 5)]
    whole = in_nest(piece, 0, whole=True)
    assert len([line for line in whole.inside if line.kind == "stitch"]) == 2


def seamed(pressed: str, part: EdgePart | None = None):
    sides = {"a": (SideEdge("front", "e0", False, part),), "b": (SideEdge("back", "e2"),)}
    seam = Seam(name="s", topstitch_mm=(4.0,), pressed=pressed, **sides)
    pattern = pattern_of(spec_of("front"), spec_of("back"))
    return {
        name: cut_piece(
            replace(pattern, seams={"s": seam}),
            drawn_of(BOX, (notch(BOX, "e0", 50, name="waist"), notch(BOX, "e0", 120, name="hip")), name),
        )[0].rows
        for name in ("front", "back")
    }


@pytest.mark.parametrize(("pressed", "having"), [("a", {"front"}), ("b", {"back"}), ("open", {"front", "back"})])
def test_the_rows_of_a_seam_lie_on_the_side_to_which_it_is_pressed(pressed, having):
    assert {name for name, lines in seamed(pressed).items() if lines} == having


def test_along_a_part_of_an_edge_a_row_is_as_long_as_the_part():
    (line,) = seamed("a", EdgePart("waist", "hip"))["front"]
    assert ends(line) == [(50, 4), (120, 4)]
    (line,) = seamed("a", EdgePart("hip", "e3"))["front"]
    assert ends(line) == [(0, 4), (120, 4)]


def test_a_row_that_leaves_the_piece_is_told():
    _, found = cut(BOX, {"e0": rows(120)})
    assert [(one.code, one.severity, one.where) for one in found] == [("row-outside", "block", "e0")]
    # a waist of 40 mm between two wide ends
    narrow = polygon([(0, 0), (300, 0), (300, 100), (200, 40), (100, 40), (0, 100)])
    assert codes(cut(narrow, {"e0": rows(50)})[1]) == {"row-outside"}
    assert clean(narrow, {"e0": rows(30)}).rows


def test_a_line_that_the_designer_called_as_a_row_is_told():
    spec = spec_of(edges={"e0": rows(5)})
    line = InsideLine("e0-topstitch-1", straight((10, 10), (20, 10)), False)
    taken = replace(drawn_of(BOX), inside=(line,))
    assert codes(cut_piece(pattern_of(spec), taken)[1]) == {"row-drawn"}
