"""Notches, grain, inside lines, points, label and anchor of a good master."""

import math

import msgspec
import pytest

from pipeline.geometry.curves import Line, path_length_mm
from pipeline.geometry.points import Point
from pipeline.model.piece_specs import EdgeSpec
from tests.masters.svg_samples import CASES, FRONT, PLAIN, codes, good, read, square

PLACE = 'x="10" y="20" width="30" height="10"'


def test_the_good_file_is_read_as_it_was_drawn():
    drawn = good((CASES / "good.svg").read_bytes(), FRONT)
    assert [edge.name for edge in drawn.edges] == ["cf", "neck", "armhole", "side", "hem"]
    assert [(n.name, n.edge, n.style) for n in drawn.notches] == [
        ("front-notch", "cf", "single"),
        ("hip", "side", "double"),
    ]
    assert drawn.notches[0].at_mm == pytest.approx(150)
    assert drawn.notches[1].at_mm == pytest.approx(math.hypot(5, 125))
    assert (drawn.grain.bottom, drawn.grain.top, drawn.grain.drawn) == ((100, 300), (100, 100), True)
    assert [(line.name, line.kind, line.closed) for line in drawn.inside] == [("bust", "level", False)]
    assert path_length_mm(drawn.inside[0].path) == 142
    assert drawn.points[0].place == (60, 100)
    assert (drawn.points[1].place, drawn.points[1].slit) == ((60, 210), ((60, 200), (60, 220)))
    assert drawn.label == ((80, 150), (140, 150), (140, 190), (80, 190))
    assert drawn.anchor == (50, 50)
    assert (drawn.piece, drawn.size, drawn.file) == ("front", "36", "sizes/36/front.svg")


def test_a_notch_at_a_corner_counts_for_both_edges():
    drawn = good(square('<g id="notches"><circle id="n" cx="100.2" cy="0.3" r="1"/></g>'))
    assert [(n.name, n.edge, n.at_mm, n.place) for n in drawn.notches] == [
        ("n", "a", 100, (100, 0)),
        ("n", "b", 0, (100, 0)),
    ]


@pytest.mark.parametrize(
    "mark", ['<path d="M30 -3V3"/>', '<path d="M27 1l3 -2l3 2z"/>', '<rect x="29" y="-1" width="2" height="2"/>']
)
def test_anything_small_is_a_notch_at_its_centre(mark):
    (notch,) = good(square(f'<g id="notches">{mark}</g>')).notches
    assert (notch.edge, notch.at_mm) == ("a", pytest.approx(30))


@pytest.mark.parametrize("stroke", ["M30 0V6", "M30 6V0", "M30 -0.4L33 7", "M30 0L30 -6"])
def test_a_straight_stroke_from_the_seam_line_is_a_notch_where_it_begins(stroke):
    (notch,) = good(square(f'<g id="notches"><path d="{stroke}"/></g>')).notches
    assert (notch.edge, notch.at_mm) == ("a", pytest.approx(30))


@pytest.mark.parametrize("stroke", ["M30 0C30 2 31 4 30 6", "M30 0V6H31", "M30 1.2V7", "M30 0V6H27Z"])
def test_no_other_shape_is_a_notch_by_its_end(stroke):
    _, findings = read(square(f'<g id="notches"><path d="{stroke}"/></g>'))
    assert [finding.code for finding in findings if finding.severity == "block"] == ["notch-off-seam"]


def test_a_stroke_across_a_corner_says_not_where_it_is():
    _, findings = read(square('<g id="notches"><path d="M96 0L100 4"/></g>'))
    assert [finding.code for finding in findings if finding.severity == "block"] == ["notch-off-seam"]


def test_a_notch_on_a_curve_lies_on_its_nearest_point():
    (notch,) = good(
        square('<g id="notches"><circle cx="50" cy="-49.5" r="1"/></g>', a="M0 0A50 50 0 0 1 100 0")
    ).notches
    assert notch.place == pytest.approx((50, -50), abs=1e-6)
    assert notch.at_mm == pytest.approx(25 * math.pi, abs=1e-4)


@pytest.mark.parametrize("line", ['x1="5" y1="90" x2="8" y2="10"', 'x1="8" y1="10" x2="5" y2="90"'])
def test_the_higher_end_of_the_grain_is_its_top(line):
    grain = good(square(f'<g id="grain"><line {line}/></g>')).grain
    assert (grain.bottom, grain.top) == ((5, 90), (8, 10))


def test_without_a_grain_line_the_pages_vertical_is_taken_and_told():
    drawn, findings = read(square())
    assert drawn is not None
    assert codes(findings) == ["grain-missing"]
    assert drawn.grain.drawn is False
    assert (drawn.grain.bottom, drawn.grain.top) == ((50, 75), (50, 25))
    assert drawn.anchor == drawn.grain.top


def test_a_level_grain_is_told():
    drawn, findings = read(square('<g id="grain"><path d="M90 50H10"/></g>'))
    assert drawn is not None
    assert codes(findings) == ["grain-level"]
    assert drawn.grain.top == (90, 50)


def test_the_anchor_is_the_middle_of_the_fold_where_none_is_drawn():
    piece = msgspec.structs.replace(PLAIN, edges={"d": EdgeSpec(fold=True)})
    assert good(square(), piece).anchor == (0, 50)


@pytest.mark.parametrize(
    ("rect", "corners"),
    [
        (f"<rect {PLACE}/>", ((10, 20), (40, 20), (40, 30), (10, 30))),
        (
            '<rect transform="translate(60) scale(-1 1)" x="10" y="20" width="30" height="10"/>',
            ((20, 20), (50, 20), (50, 30), (20, 30)),
        ),
        (
            '<rect transform="translate(60) rotate(90)" x="10" y="20" width="30" height="10"/>',
            ((40, 10), (40, 40), (30, 40), (30, 10)),
        ),
        ('<path d="M40 30H10V20H40Z"/>', ((10, 20), (40, 20), (40, 30), (10, 30))),
        ('<polygon points="10 30 10 20 40 20 40 30"/>', ((10, 20), (40, 20), (40, 30), (10, 30))),
    ],
)
def test_the_labels_rectangle_keeps_its_reading_direction(rect, corners):
    label = good(square(f'<g id="label">{rect}</g>')).label
    for corner, wanted in zip(label, corners, strict=True):
        assert corner == pytest.approx(wanted)


def test_a_line_of_several_strokes_is_marked_but_has_no_name_to_measure():
    drawn, findings = read(square('<g id="inside"><path id="dart" d="M10 10h20M10 30h20"/></g>'))
    assert drawn is not None
    assert [(line.name, line.path) for line in drawn.inside] == [
        (None, (Line(Point(10, 10), Point(30, 10)),)),
        (None, (Line(Point(10, 30), Point(30, 30)),)),
    ]
    assert "line-in-parts" in codes(findings)


def test_the_same_file_gives_the_same_piece():
    data = (CASES / "good.svg").read_bytes()
    assert read(data, FRONT) == read(data, FRONT)


@pytest.mark.parametrize("data", ["M20 20", "M20 20h1e-9", "M20 20h1e-4v1e-4"])
def test_an_inside_line_without_length_is_told(data):
    drawn, findings = read(square(f'<g id="inside"><path id="level" d="{data}"/></g>'))
    assert drawn is None
    assert "line-empty" in codes(findings)
