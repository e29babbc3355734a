"""The exact curves: closed forms of length and area, and what stays the same under reversal and affine maps."""

import math
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from pipeline.geometry.curves import (
    Arc,
    Cubic,
    Line,
    Path,
    Segment,
    arc_lengths_mm,
    chord_count,
    chords_needed,
    direction,
    flattened,
    mapped_path,
    nearest_on_path,
    path_area_mm2,
    path_length_mm,
    point_along,
    reversed_path,
    segment_length_mm,
    turn_between_rad,
)
from pipeline.geometry.points import Affine, Point, Vector, bounds

LENGTH_MM = 0.001
ORIGIN = Point(0, 0)
coordinates = st.integers(-5000, 5000).map(lambda number: number / 10)
points = st.builds(Point, coordinates, coordinates)
vectors = st.builds(Vector, coordinates, coordinates)
angles = st.integers(-628, 628).map(lambda number: number / 100)
lines = st.builds(Line, points, points)
cubics = st.builds(Cubic, points, points, points, points)
arcs = st.builds(Arc, points, vectors, vectors, angles, angles)
segments: st.SearchStrategy[Segment] = st.one_of(lines, cubics, arcs)
motions = st.builds(
    lambda turn, flip, x, y: Affine(
        math.cos(turn), math.sin(turn), -flip * math.sin(turn), flip * math.cos(turn), float(x), float(y)
    ),
    angles,
    st.sampled_from([1, -1]),
    coordinates,
    coordinates,
)
numbers = st.integers(-30, 30).map(lambda number: number / 10)
affines = st.builds(Affine, numbers, numbers, numbers, numbers, coordinates, coordinates)


@st.composite
def loops(draw: st.DrawFn) -> Path:
    """A closed chain of lines and cubics, which may cross itself."""
    corners = draw(st.lists(points, min_size=3, max_size=5))
    chain: list[Segment] = []
    for start, end in pairwise([*corners, corners[0]]):
        chain.append(Cubic(start, draw(points), draw(points), end) if draw(st.booleans()) else Line(start, end))
    return tuple(chain)


def circle(radius: float, centre: Point = ORIGIN, start: float = 0.0, sweep: float = 2 * math.pi) -> Arc:
    return Arc(centre, Vector(radius, 0), Vector(0, radius), start, sweep)


# Closed forms


def test_a_line_is_as_long_as_pythagoras_says():
    assert path_length_mm((Line(Point(0, 0), Point(30, 40)), Line(Point(30, 40), Point(35, 52)))) == 50 + 13


@pytest.mark.parametrize("radius", [0.5, 22.28, 111.4, 5000])
def test_a_circle_is_2_pi_r_long_and_pi_r2_large(radius):
    whole = (circle(radius, Point(17, -4)),)
    assert path_length_mm(whole) == pytest.approx(2 * math.pi * radius, abs=LENGTH_MM)
    assert path_area_mm2(whole) == pytest.approx(math.pi * radius**2, rel=1e-12)
    assert path_area_mm2(reversed_path(whole)) == pytest.approx(-math.pi * radius**2, rel=1e-12)


def test_the_waist_of_a_half_circle_skirt():
    """Radius = waist / pi: 70 cm gives 22.28 cm (calc); the quarter that is drawn has half the half circle's arc."""
    radius = 700 / math.pi
    assert round(radius / 10, 2) == 22.28
    assert segment_length_mm(circle(radius, sweep=math.pi / 2)) * 2 == pytest.approx(700, abs=LENGTH_MM)


def test_an_ellipse_is_pi_a_b_large_and_as_long_as_its_integral():
    """Perimeter of a = 2, b = 1 by the complete elliptic integral: 4 a E(3/4) = 9.688448220547675."""
    ellipse = (Arc(Point(0, 0), Vector(200, 0), Vector(0, 100), 0.3, 2 * math.pi),)
    assert path_area_mm2(ellipse) == pytest.approx(math.pi * 200 * 100, rel=1e-12)
    assert path_length_mm(ellipse) == pytest.approx(968.8448220547675, abs=LENGTH_MM)


def test_a_parabola_is_as_long_as_its_closed_form():
    """y = x² / 100 for x from 0 to 100, a quadratic raised to a cubic; length 25 (2 √5 + asinh 2), area a third."""
    quadratic = Point(0, 0), Point(50, 0), Point(100, 100)
    raised = Cubic(
        quadratic[0],
        Point(quadratic[0].x + 2 / 3 * 50, 0),
        Point(100 + 2 / 3 * (50 - 100), 100 + 2 / 3 * (0 - 100)),
        quadratic[2],
    )
    closed = 25 * (2 * math.sqrt(5) + math.asinh(2))
    assert segment_length_mm(raised) == pytest.approx(closed, abs=LENGTH_MM)
    under = (raised, Line(Point(100, 100), Point(100, 0)), Line(Point(100, 0), Point(0, 0)))
    assert abs(path_area_mm2(under)) == pytest.approx(100 * 100 / 3, rel=1e-12)


def test_a_cubic_whose_control_points_lie_on_its_ends_is_straight():
    straight = Cubic(Point(0, 0), Point(0, 0), Point(30, 40), Point(30, 40))
    assert segment_length_mm(straight) == pytest.approx(50, abs=LENGTH_MM)
    assert direction(straight, 0.0) == pytest.approx((0.6, 0.8), abs=1e-6)
    assert direction(straight, 1.0) == pytest.approx((0.6, 0.8), abs=1e-6)


def test_a_cusp_is_measured_there_and_back():
    """It runs to 3/4 of the height and returns: two branches of one straight stretch."""
    back = Cubic(Point(0, 0), Point(0, 100), Point(0, 100), Point(0, 0))
    assert segment_length_mm(back) == pytest.approx(150, abs=LENGTH_MM)


def test_area_is_positive_where_the_outline_is_walked_clockwise_on_the_page():
    corners = [Point(0, 0), Point(100, 0), Point(100, 50), Point(0, 50)]
    square = tuple(Line(a, b) for a, b in pairwise([*corners, corners[0]]))
    assert path_area_mm2(square) == 5000


# Chords, nearest, along, turns


def test_a_circle_takes_as_many_chords_as_its_sagitta_asks():
    """A chord over the angle h lies r (1 - cos h/2) from its arc; `bend` takes √2 r for r, to hold for ellipses."""
    radius, error_mm = 100.0, 0.002
    circle_count = chord_count(circle(radius), error_mm)
    exact = math.pi / math.acos(1 - error_mm / radius)
    assert exact <= circle_count <= exact * math.sqrt(math.sqrt(2)) + 1
    assert circle_count == math.ceil(chords_needed(circle(radius), error_mm))


def test_a_line_takes_one_chord():
    assert chord_count(Line(Point(0, 0), Point(900, 0)), 1e-6) == 1


def test_arc_lengths_of_a_path_add_up_its_segments():
    path = (
        Line(Point(0, 0), Point(30, 40)),
        circle(100, Point(-70, 40), sweep=math.pi),
        Line(Point(0, 0), Point(0, 9)),
    )
    assert arc_lengths_mm(path) == pytest.approx([0, 50, 50 + 100 * math.pi, 59 + 100 * math.pi], abs=LENGTH_MM)
    assert arc_lengths_mm(path)[-1] == pytest.approx(path_length_mm(path), abs=1e-9)


def test_the_turn_between_two_segments_is_that_of_their_tangents():
    """A quarter of a circle that is walked clockwise ends at right angles to its start, 45° off a diagonal."""
    right, down_right = Line(Point(0, 0), Point(10, 0)), Line(Point(10, 0), Point(20, 10))
    assert turn_between_rad(right, down_right) == pytest.approx(math.pi / 4)
    assert turn_between_rad(down_right.reversed(), right.reversed()) == pytest.approx(-math.pi / 4)
    quarter = circle(50, sweep=math.pi / 2)
    assert turn_between_rad(quarter, Line(quarter.end, Point(-50, 50))) == pytest.approx(0, abs=1e-12)


@given(segments, st.sampled_from([0.002, 0.02, 0.25]))
def test_chords_lie_within_their_error_of_the_curve(segment, error_mm):
    chords = flattened((segment,), error_mm)
    assert (chords[0], chords[-1]) == (segment.start, segment.end)
    count = len(chords) - 1
    for index in {0, count // 2, count - 1}:
        middle = segment.at((index + 0.5) / count)
        run = chords[index].to(chords[index + 1])
        off = run.cross(chords[index].to(middle)) / run.length if run.length else chords[index].distance(middle)
        assert abs(off) <= error_mm + 1e-9


@given(segments, points)
def test_no_point_of_the_curve_is_nearer_than_the_nearest(segment, place):
    distance, found, along = nearest_on_path((segment,), place)
    assert distance == pytest.approx(place.distance(found), abs=1e-9)
    assert -1e-9 <= along <= segment_length_mm(segment) + 1e-3
    sampled = min(place.distance(segment.at(step / 200)) for step in range(201))
    assert distance <= sampled + 1e-3


@given(st.lists(points, min_size=2, max_size=5, unique=True), st.integers(0, 100))
def test_point_along_and_nearest_undo_each_other(corners, percent):
    path = tuple(Line(a, b) for a, b in pairwise(corners))
    at_mm = path_length_mm(path) * percent / 100
    place, way = point_along(path, at_mm)
    assert way.length == pytest.approx(1, abs=1e-9)
    distance, _, along = nearest_on_path(path, place)
    assert distance == pytest.approx(0, abs=1e-6)
    # where the path crosses itself, the first of the places that are as near is told
    assert along <= at_mm + 1e-6


def test_point_along_a_circle():
    place, way = point_along((circle(100),), 100 * math.pi / 2)
    assert place == pytest.approx((0, 100), abs=1e-6)
    assert way == pytest.approx((-1, 0), abs=1e-6)


def test_point_along_stays_on_the_path():
    path = (Line(Point(0, 0), Point(10, 0)),)
    assert point_along(path, -5) == (Point(0, 0), Vector(1, 0))
    assert point_along(path, 99) == (Point(10, 0), Vector(1, 0))


def test_the_first_of_two_nearest_places_is_told():
    there_and_back = (Line(Point(0, 0), Point(10, 0)), Line(Point(10, 0), Point(0, 0)))
    assert nearest_on_path(there_and_back, Point(4, 3)) == (3, Point(4, 0), 4)


def test_bounds_are_left_top_right_bottom():
    assert bounds([Point(3, -1), Point(-2, 7), Point(0, 0)]) == (-2, -1, 3, 7)


# What stays the same


@given(segments)
def test_a_curve_walked_back_has_the_same_points_and_length(segment):
    back = segment.reversed()
    assert back.at(0.25) == pytest.approx(segment.at(0.75), abs=1e-6)
    assert segment_length_mm(back) == pytest.approx(segment_length_mm(segment), abs=2 * LENGTH_MM)


@given(segments, affines)
def test_an_affine_map_of_a_curve_is_the_map_of_each_point(segment, affine):
    for t in (0.0, 0.3, 1.0):
        assert segment.mapped(affine).at(t) == pytest.approx(affine.point(segment.at(t)), abs=1e-6)


@given(segments, motions)
def test_turned_shifted_or_mirrored_a_curve_keeps_its_length(segment, motion):
    assert segment_length_mm(segment.mapped(motion)) == pytest.approx(segment_length_mm(segment), abs=2 * LENGTH_MM)


@given(loops())
def test_a_loop_walked_back_has_the_opposite_area(loop):
    assert path_area_mm2(reversed_path(loop)) == pytest.approx(-path_area_mm2(loop), abs=1e-5)


@given(loops(), affines)
def test_area_is_multiplied_by_the_determinant(loop, affine):
    mapped = path_area_mm2(mapped_path(loop, affine))
    assert mapped == pytest.approx(affine.determinant * path_area_mm2(loop), abs=1e-2)


@given(segments, st.integers(1, 99))
def test_lengths_of_two_parts_add_up(segment, percent):
    t = percent / 100
    parts = segment_length_mm(segment, 0.0, t) + segment_length_mm(segment, t, 1.0)
    assert parts == pytest.approx(segment_length_mm(segment), abs=3 * LENGTH_MM)


@given(segments)
def test_a_curve_is_no_shorter_than_its_chord(segment):
    assert segment_length_mm(segment) >= segment.start.distance(segment.end) - LENGTH_MM


@given(affines, affines, points)
def test_one_map_after_another_is_their_product(last, first, place):
    assert last.after(first).point(place) == pytest.approx(last.point(first.point(place)), abs=1e-6)
    assert last.after(first).determinant == pytest.approx(last.determinant * first.determinant, abs=1e-6)


@given(vectors, vectors)
def test_a_vector_turned_by_its_turn_to_another_points_the_other_way(one, other):
    assume(min(one.length, other.length) > 0.1)
    turn = one.turn_rad(other)
    rotated = Affine(math.cos(turn), math.sin(turn), -math.sin(turn), math.cos(turn)).vector(one.unit())
    assert rotated == pytest.approx(other.unit(), abs=1e-9)
    assert one.turn_deg(other) == math.degrees(turn)


def test_a_turn_to_the_right_is_positive():
    assert Vector(1, 0).turn_deg(Vector(0, 1)) == 90


@given(vectors)
def test_left_is_a_quarter_turn_to_the_left_on_the_page(vector):
    assume(vector.length > 0)
    assert vector.dot(vector.left()) == 0
    assert vector.cross(vector.left()) == pytest.approx(-(vector.length**2))
    assert vector.unit().length == pytest.approx(1)
