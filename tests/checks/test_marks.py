"""Marks over the sizes: points, buttonholes and lines that one size lost, or has otherwise."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.geometry.curves import Line
from pipeline.geometry.points import Point
from pipeline.model.pattern import Notion
from pipeline.model.pieces import InsideLine, MarkPoint
from tests.checks.skirt import PATTERN, SIZES, garment, lines, replace


def told(check: str, change, pattern=PATTERN):
    """What a check says of the front, whose marks `change` makes for every size."""
    faults = {("front", size): (lambda piece, size=size: change(piece, size)) for size in SIZES}
    found = [f for f in check_garment(garment(faults, pattern)) if f.check == check and f.severity in ("block", "warn")]
    assert {f.piece for f in found} <= {"front"}
    return [(f.code, f.severity, f.size, f.where) for f in found]


def holes(piece, *numbers, slit=20.0, move=None):
    """Buttonholes 60 mm apart beside the fold; `move` is (number, dx, dy)."""
    number, dx, dy = move or (0, 0.0, 0.0)
    places = {n: Point(20 + dx * (n == number), 60.0 * n + dy * (n == number)) for n in numbers}
    points = tuple(
        MarkPoint(f"hole-{n}", place, (Point(place.x - slit / 2, place.y), Point(place.x + slit / 2, place.y)))
        for n, place in places.items()
    )
    return replace(piece, points=points)


@pytest.mark.parametrize(
    ("lacking", "severity"), [(("L",), "block"), (("M", "L"), "block"), (("S",), "warn"), (("XXL",), "warn")]
)
def test_a_point_that_the_sizes_beside_it_have_is_missed(lacking, severity):
    """Between sizes that have it it blocks; at an end of the row, where marks can begin, it warns."""
    found = told("size-marks", lambda piece, size: holes(piece, 1) if size in lacking else holes(piece, 1, 2))
    assert found == [("lost", severity, size, "hole-2") for size in lacking]


def test_a_point_that_only_one_size_has_is_told():
    found = told("size-marks", lambda piece, size: holes(piece, 1, 2) if size == "L" else holes(piece, 1))
    assert found == [("more", "block", "L", "hole-2")]


@pytest.mark.parametrize(
    "said",
    [
        {"bands": ("XL",)},
        {"size_sets": {"large": ("XXL",)}},
        {"notions": {"button": Notion(name="button", title={}, count=dict.fromkeys(SIZES, 4) | {"XXL": 5})}},
    ],
)
def test_where_pattern_toml_says_that_something_changes_a_point_may_begin(said):
    def largest_has_one_more(piece, size):
        return holes(piece, 1, 2) if size == "XXL" else holes(piece, 1)

    assert told("size-marks", largest_has_one_more, replace(PATTERN, **said)) == []


def test_marks_that_begin_with_several_sizes_are_meant():
    assert told("size-marks", lambda p, size: holes(p, 1, 2) if size in ("XL", "XXL") else holes(p, 1)) == []


def test_unnamed_lines_are_counted():
    def unnamed(piece, size):
        line = InsideLine(None, lines((20, 300), (90, 300)), False)
        return piece if size == "M" else replace(piece, inside=(*piece.inside, line))

    assert told("size-marks", unnamed) == [("lost", "block", "M", "lines")]


def test_a_buttonhole_that_is_longer_in_one_size_is_told_and_one_that_grows_once_is_not():
    assert told("mark-shapes", lambda p, size: holes(p, 1, slit=23 if size == "L" else 20)) == [
        ("slit", "warn", "L", "hole-1")
    ]
    assert told("mark-shapes", lambda p, size: holes(p, 1, slit=23 if size in ("XL", "XXL") else 20)) == []


@pytest.mark.parametrize(("off_mm", "found"), [(5.0, [("bent", "warn", "L", "hip-line")]), (1.0, [])])
def test_a_line_that_is_bent_in_one_size_is_told_though_its_ends_are_right(off_mm, found):
    def bent(piece, size):
        line = next(line for line in piece.inside if line.name == "hip-line")
        start, end = line.path[0].start, line.path[-1].end
        middle = Line(start, end).at(0.5).plus(Point(0, 0).to(Point(0, off_mm if size == "L" else 0)))
        return replace(piece, inside=(replace(line, path=(Line(start, middle), Line(middle, end))),))

    assert told("mark-shapes", bent) == found


@pytest.mark.parametrize(
    ("move", "slipped"),
    [((3, 2.0, 0.0), 3), ((3, 0.0, 2.0), 3), ((3, 1.0, 0.0), None), ((1, 0.0, 9.0), None), ((6, 3.0, 0.0), None)],
)
def test_a_mark_that_slipped_out_of_an_even_row_is_told_and_a_first_or_last_that_stands_apart_is_not(move, slipped):
    found = told("mark-rows", lambda piece, size: holes(piece, 1, 2, 3, 4, 5, 6, move=move))
    assert found == ([("slipped", "warn", size, f"hole-{slipped}") for size in SIZES] if slipped else [])


def test_a_row_that_is_uneven_on_purpose_is_let_be():
    def uneven(piece, size):
        made = holes(piece, 1, 2, 3, 4, 5, 6)
        drop = (0, 3, 9, 18, 30, 45)
        return replace(
            made,
            points=tuple(
                replace(point, place=Point(point.place.x, point.place.y + by), slit=None)
                for point, by in zip(made.points, drop, strict=True)
            ),
        )

    assert told("mark-rows", uneven) == []


def test_a_level_buttonhole_is_alike_whichever_way_it_was_drawn_and_a_hair_off_level():
    def redrawn(piece, size):
        made = holes(piece, 1)
        tilt = 1e-7 if size in ("M", "XL") else -1e-7
        return replace(
            made,
            points=tuple(
                replace(p, slit=(Point(p.slit[1].x, p.slit[1].y + tilt), p.slit[0])) if p.slit else p
                for p in made.points
            ),
        )

    assert told("mark-shapes", redrawn) == []


@pytest.mark.parametrize(
    ("to", "expected"),
    [
        ((10, 100), []),
        ((-10, 100), []),  # beyond the fold: the piece opened
        ((100, -6), [("in-allowance", "warn", "M", "hole-1")]),
        ((100, -40), [("outside", "block", "M", "hole-1")]),
        ((220, 100), [("outside", "block", "M", "hole-1")]),
    ],
)
def test_a_buttonhole_that_the_piece_does_not_reach_is_told(to, expected):
    def change(piece, size):
        place = Point(*to) if size == "M" else Point(30, 100)
        return replace(piece, points=(MarkPoint("hole-1", place, (place, Point(place.x + 2, place.y))),))

    assert told("mark-inside", change) == expected


@pytest.mark.parametrize(("end", "codes"), [(150, []), (175, []), (300, ["outside"])])
def test_a_placement_line_may_run_into_an_allowance_and_no_farther(end, codes):
    def change(piece, size):
        line = InsideLine("pocket", lines((20, 100), (end, 100)), False)
        return replace(piece, inside=(*piece.inside, *([line] if size == "M" else [])))

    assert [code for code, _, size, _ in told("mark-inside", change) if size == "M"] == codes


def test_a_stitching_line_may_run_on_past_the_edges_that_it_crosses():
    def change(piece, size):
        return replace(piece, inside=(*piece.inside, InsideLine("stitch-line", lines((-300, 100), (300, 100)), False)))

    front = replace(PATTERN.pieces["front"], lines={"stitch-line": "stitch"})
    pattern = replace(PATTERN, pieces={**PATTERN.pieces, "front": front})
    assert told("mark-inside", change, pattern=pattern) == []
    assert {code for code, *_ in told("mark-inside", change)} == {"outside"}, "a placement line may not"
