"""What a good master says: sizes, transforms, shapes, edges and groups, against closed formulas."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.geometry.curves import Arc, Cubic
from pipeline.geometry.points import Point
from pipeline.masters.svg.transform import parse_transform
from tests.masters.svg_samples import area, codes, good, outline_of, read, seam, square, svg


def bounds(drawn):
    places = [segment.at(i / 64) for segment in outline_of(drawn) for i in range(65)]
    return tuple(f(p[axis] for p in places) for f in (min, max) for axis in (0, 1))


# Sizes


@pytest.mark.parametrize(
    ("size", "mm"), [("100mm", 100), ("10cm", 100), ("4in", 101.6), ("72pt", 25.4), ("6pc", 25.4), (" 1e2 mm ", 100)]
)
def test_a_page_as_wide_as_its_viewbox_fixes_the_scale(size, mm):
    drawn = good(seam('<rect width="50" height="50"/>', f'width="{size}" height="{size}" viewBox="0 0 50 50"'))
    assert bounds(drawn) == pytest.approx((0, 0, mm, mm))


def test_coordinates_in_mm_are_kept_to_the_last_digit():
    drawn = good(seam('<path d="M0.1 0.2H33.3V77.7H0.1Z"/>'))
    assert [segment.start for segment in outline_of(drawn)] == [(0.1, 0.2), (33.3, 0.2), (33.3, 77.7), (0.1, 77.7)]


def test_without_a_viewbox_96_units_are_an_inch():
    drawn = good(seam('<rect width="96" height="192"/>', 'width="300mm" height="300mm"'))
    assert bounds(drawn) == pytest.approx((0, 0, 25.4, 50.8))


def test_units_inside_the_drawing_are_of_the_same_96():
    drawn = good(seam('<rect width="1in" height="50%"/>', 'width="200mm" height="100mm"'))
    assert bounds(drawn) == pytest.approx((0, 0, 25.4, 50))


@pytest.mark.parametrize("root", ['width="144" height="144px"', 'width="144px" height="144" viewBox="0 0 144 144"'])
def test_pixels_count_where_the_pattern_says_how_many_make_an_inch(root):
    source = seam('<rect width="72" height="72"/>', root)
    assert codes(read(source)[1]) == ["size-pixels"]
    assert bounds(good(source, pixels_per_inch=72)) == pytest.approx((0, 0, 25.4, 25.4))


@pytest.mark.parametrize(
    ("aspect", "box"),
    [
        ("xMidYMid meet", (50, 0, 150, 100)),
        ("xMinYMin", (0, 0, 100, 100)),
        ("xMaxYMax meet", (100, 0, 200, 100)),
        ("xMidYMid slice", (0, -50, 200, 150)),
        ("xMinYMax slice", (0, -100, 200, 100)),
        ("none", (0, 0, 200, 100)),
    ],
)
def test_the_viewbox_is_fitted_as_the_aspect_says(aspect, box):
    root = f'width="200mm" height="100mm" viewBox="10 20 10 10" preserveAspectRatio="{aspect}"'
    assert bounds(good(seam('<rect x="10" y="20" width="10" height="10"/>', root))) == pytest.approx(box)


def test_a_nested_svg_is_fitted_into_its_place():
    nested = '<svg x="10" y="20" width="40" height="80" viewBox="0 0 10 10"><rect width="100%" height="10"/></svg>'
    assert bounds(good(seam(nested))) == pytest.approx((10, 40, 50, 80))


def test_a_symbol_takes_the_size_of_its_use():
    symbol = '<defs><symbol id="s" viewBox="0 0 10 10"><rect width="10" height="10"/></symbol></defs>'
    drawn = good(svg(f'{symbol}<g id="seam"><use href="#s" x="5" y="6" width="20" height="20"/></g>'))
    assert bounds(drawn) == pytest.approx((5, 6, 25, 26))


def test_a_use_is_moved_after_its_own_transform_and_before_that_of_what_it_repeats():
    parts = '<defs><g id="p"><rect transform="scale(2)" width="10" height="10"/></g></defs>'
    drawn = good(svg(f'{parts}<g id="seam"><use href="#p" x="5" y="0" transform="scale(3)"/></g>'))
    assert bounds(drawn) == pytest.approx((15, 0, 75, 60))


# Transforms


@pytest.mark.parametrize(
    ("text", "place"),
    [
        ("translate(3 4)", (4, 6)),
        ("translate(3)", (4, 2)),
        ("scale(2)", (2, 4)),
        ("scale(2,-1)", (2, -2)),
        ("rotate(90)", (-2, 1)),
        ("rotate(90 1 1)", (0, 1)),
        ("skewX(45)", (3, 2)),
        ("skewY(45)", (1, 3)),
        ("matrix(1 2 3 4 5 6)", (12, 16)),
        ("translate(10) scale(2)", (12, 4)),
        ("scale(2),translate(10,0)", (22, 4)),
        (" rotate( 450 ) ", (-2, 1)),
    ],
)
def test_each_function_maps_a_point_as_svg_says(text, place):
    assert parse_transform(text).map.point(Point(1, 2)) == pytest.approx(place)


numbers = st.floats(-3, 3).map(lambda x: round(x, 3))
matrices = st.tuples(numbers, numbers, numbers, numbers).filter(lambda m: abs(m[0] * m[3] - m[1] * m[2]) > 0.2)


@given(matrices, st.floats(1, 40).map(lambda r: round(r, 2)), st.floats(0.3, 3).map(lambda r: round(r, 2)))
@settings(max_examples=150, deadline=None)
def test_an_ellipse_under_any_map_keeps_its_area_times_the_determinant_and_stays_on_its_curve(matrix, r, share):
    a, b, c, d = matrix
    ry = r * share
    drawn = good(seam(f'<ellipse transform="matrix({a} {b} {c} {d} 7 8)" cx="5" cy="6" rx="{r}" ry="{ry}"/>'))
    ((segment,),) = (edge.path for edge in drawn.edges)
    assert isinstance(segment, Arc)
    assert area(drawn) == pytest.approx(math.pi * r * ry * abs(a * d - b * c), rel=1e-9)
    for i in range(16):
        x, y = segment.at(i / 16)
        x, y = x - 7, y - 8
        determinant = a * d - b * c
        back_x, back_y = (d * x - c * y) / determinant - 5, (a * y - b * x) / determinant - 6
        assert math.hypot(back_x / r, back_y / ry) == pytest.approx(1, abs=1e-9)


def test_a_circle_skewed_by_45_degrees_has_the_axes_of_the_golden_section():
    drawn = good(seam('<circle transform="skewX(45)" cx="100" cy="50" r="50"/>'))
    ((arc,),) = (edge.path for edge in drawn.edges)
    reach = [arc.at(i / 3600).distance(arc.centre) for i in range(3600)]
    golden = (1 + math.sqrt(5)) / 2
    assert max(reach) == pytest.approx(50 * golden, abs=1e-3)
    assert min(reach) == pytest.approx(50 / golden, abs=1e-3)


def test_transforms_of_all_levels_count_in_their_order():
    inner = '<g transform="translate(10 0)"><g transform="rotate(90)"><rect width="20" height="10"/></g></g>'
    assert bounds(good(seam(f'<g transform="scale(2)">{inner}</g>'))) == pytest.approx((0, 0, 20, 40))


# Shapes


@pytest.mark.parametrize(
    ("shape", "wanted"),
    [
        ('<rect x="1" y="2" width="30" height="20"/>', 600),
        ('<rect width="30" height="20" rx="5"/>', 600 - (4 - math.pi) * 25),
        ('<rect width="30" height="20" rx="5" ry="3"/>', 600 - (4 - math.pi) * 15),
        ('<rect width="30" height="20" ry="99"/>', 600 - (4 - math.pi) * 150),
        ('<circle cx="50" cy="50" r="10"/>', math.pi * 100),
        ('<ellipse cx="50" cy="50" rx="10" ry="5"/>', math.pi * 50),
        ('<polygon points="0,0 30,0 0,40"/>', 600),
        ('<polyline points="0 0 30 0 0 40 0 0"/>', 600),
        ('<path d="M0 0h30v20h-30z"/>', 600),
        ('<path d="M0 0A15 15 0 0 1 30 0L0 0"/>', math.pi * 225 / 2),
        ('<path d="M0 0V-20H-30V0Z" transform="scale(-1 1)"/>', 600),
    ],
)
def test_a_closed_shape_is_one_edge_called_outline_walked_clockwise(shape, wanted):
    drawn = good(seam(shape))
    assert [edge.name for edge in drawn.edges] == ["outline"]
    assert area(drawn) == pytest.approx(wanted, abs=1e-6)


def test_what_closing_a_path_leaves_behind_is_removed():
    drawn = good(seam('<path d="M0 0H100V100H0V0.0004Z"/>'))
    assert len(outline_of(drawn)) == 4


# The seam


@given(st.permutations(["a", "b", "c", "d"]), st.sets(st.sampled_from("abcd")))
@settings(max_examples=60, deadline=None)
def test_edges_chain_in_any_order_and_direction(order, turned):
    curves = {"a": "M0 0C30 9 60 9 100 0", "b": "M100 0V100", "c": "M100 100A60 60 0 0 0 0 100", "d": "M0 100L0 0"}
    backwards = {"a": "M100 0C60 9 30 9 0 0", "b": "M100 100V0", "c": "M0 100A60 60 0 0 1 100 100", "d": "M0 0L0 100"}
    paths = "".join(f'<path id="{n}" d="{(backwards if n in turned else curves)[n]}"/>' for n in order)
    drawn = good(seam(paths))
    first = "abcd".index(order[0])
    assert [edge.name for edge in drawn.edges] == list("abcd"[first:] + "abcd"[:first])
    assert area(drawn) == pytest.approx(area(good(seam("".join(f'<path id="{n}" d="{curves[n]}"/>' for n in "abcd")))))
    for before, after in zip(drawn.edges, (*drawn.edges[1:], drawn.edges[0]), strict=True):
        assert before.path[-1].end.distance(after.path[0].start) < 1e-9


@pytest.mark.parametrize(("gap", "closes"), [(0.05, True), (0.099, True), (0.101, False), (1, False)])
def test_ends_within_a_tenth_of_a_millimetre_are_brought_together(gap, closes):
    drawn, findings = read(square(a=f"M0 {-gap}C0 0 50 20 100 0"))
    assert (drawn is not None) == closes
    assert codes(findings) == (["grain-missing"] if closes else ["outline-open", "outline-open"])
    if drawn:
        edge = drawn.edge("a")
        assert isinstance(edge.path[0], Cubic)
        assert edge.path[0].start == drawn.edge("d").path[-1].end == pytest.approx((0, -gap / 2))


@pytest.mark.parametrize(("gap", "told"), [("1e-9", True), ("0", True), ("0.01", False)])
def test_an_outline_that_all_but_touches_itself_touches_itself(gap, told):
    """So small a gap is gone once the outline is written anywhere."""
    edges = f'<path id="a" d="M0 0H100V80H50L50 {gap}L40 80H0V0"/>'
    drawn, findings = read(svg(f'<g id="seam">{edges}</g>'))
    assert (drawn is None) is told
    assert ("outline-crosses" in {finding.code for finding in findings}) is told


def test_an_arc_whose_end_is_moved_stays_an_arc_of_its_shape():
    drawn = good(square(a="M0 0A50 50 0 0 1 100 0.08"))
    (arc,) = drawn.edge("a").path
    assert isinstance(arc, Arc)
    assert arc.end.distance(Point(100, 0.04)) < 1e-9
    assert arc.u.length == pytest.approx(arc.v.length)


def test_a_group_is_known_by_label_before_data_name_before_id_and_in_any_case():
    layer = '<g id="grain" data-name="points" xmlns:e="http://example.org/e" e:label="SEAM">'
    drawn = good(svg(f'{layer}<rect width="9" height="9"/></g>'))
    assert [edge.name for edge in drawn.edges] == ["outline"]


def test_the_nearest_known_group_decides_and_others_are_transparent():
    drawn = good(
        svg('<g id="seam"><g id="x"><rect width="90" height="90"/></g><g id="inside"><path id="i" d="M1 1h5"/></g></g>')
    )
    assert [line.name for line in drawn.inside] == ["i"]


@pytest.mark.parametrize("name", ["inside", "label", "points", "SEAM"])
def test_an_edge_and_a_mark_may_be_called_as_a_group_is(name):
    edges = f'<path id="a" d="M0 0H90V90"/><path data-name="{name}" d="M90 90L0 0"/>'
    drawn = good(svg(f'<g id="seam">{edges}</g><g id="points"><circle data-name="grain" cx="70" cy="40" r="1"/></g>'))
    assert {edge.name for edge in drawn.edges} == {"a", name}
    assert [point.name for point in drawn.points] == ["grain"]


def test_a_use_that_stands_for_a_group_names_no_edge():
    other = '<g data-name="seam"><path id="a" d="M90 90L0 0"/></g>'
    drawn, told = read(svg(f'<defs><path id="p" d="M0 0H90V90"/></defs><use id="seam" href="#p"/>{other}'))
    assert drawn is None
    assert codes(told) == ["edge-unnamed"]


def test_a_piece_is_never_lost_without_a_word(monkeypatch):
    monkeypatch.setattr("pipeline.masters.read_piece.outline_edges", lambda shapes, reading: ())
    drawn, told = read(seam('<rect width="90" height="90"/>'))
    assert drawn is None
    assert codes(told) == ["piece-lost"]
