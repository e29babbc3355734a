"""A logo is read as areas in plain colours, as large as it is printed; what cannot be drawn true is refused."""

import math

import pytest
import shapely

from pipeline.geometry.points import Point
from pipeline.geometry.windings import filled_area
from pipeline.masters.logo import HIGHEST_MM, WIDEST_MM, read_logo

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="60mm" viewBox="0 0 120 60">'
LEAF = '<path d="M10,50 C10,10 60,5 110,10 C105,45 60,55 10,50 Z" fill="#1f5a57"/>'


def read(inside: str, head: str = HEAD):
    return read_logo(f"{head}{inside}</svg>".encode(), "apron")


def areas(inside: str, head: str = HEAD) -> list[tuple[str, shapely.Geometry]]:
    """Colours and areas, in mm of the page as it is drawn."""
    logo, findings = read(inside, head)
    assert findings == ()
    scale = 120 / logo.width_mm
    bigger = [tuple(tuple(Point(x * scale, y * scale) for x, y in ring) for ring in area.rings) for area in logo.areas]
    return [(area.colour, filled_area(rings, even_odd=False)) for area, rings in zip(logo.areas, bigger, strict=True)]


@pytest.mark.parametrize(("page", "sides"), [("120x60", (30, 15)), ("60x120", (7.5, 15)), ("12x2", (30, 5))])
def test_it_is_printed_as_large_as_fits(page, sides):
    width, height = page.split("x")
    head = f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm">'
    logo, _ = read('<rect width="2" height="2"/>', head)
    assert (logo.width_mm, logo.height_mm) == pytest.approx(sides)
    assert logo.width_mm <= WIDEST_MM
    assert logo.height_mm <= HIGHEST_MM


def test_a_fill_has_the_area_that_is_drawn():
    ((colour, area),) = areas('<circle cx="60" cy="30" r="20" fill="teal"/>')
    assert colour == "#008080"
    assert area.area == pytest.approx(math.pi * 400, rel=1e-3)


@pytest.mark.parametrize(("rule", "found"), [("nonzero", 40 * 40), ("evenodd", 40 * 40 - 20 * 20)])
def test_rings_in_one_another_are_filled_by_the_rule_that_is_said(rule, found):
    same_way = "M10,10 h40 v40 h-40 Z M20,20 h20 v20 h-20 Z"
    ((_, area),) = areas(f'<path fill-rule="{rule}" d="{same_way}"/>')
    assert area.area == pytest.approx(found)


def test_a_hole_that_is_walked_the_other_way_is_one_by_either_rule():
    ((_, area),) = areas('<path d="M10,10 h40 v40 h-40 Z M20,20 v20 h20 v-20 Z"/>')
    assert area.area == pytest.approx(40 * 40 - 20 * 20)


@pytest.mark.parametrize(
    ("style", "found"),
    [
        ("", 80 * 4),
        ('stroke-linecap="square"', 84 * 4),
        ('stroke-linecap="round"', 80 * 4 + math.pi * 4),
    ],
)
def test_a_stroke_covers_its_width_and_its_caps(style, found):
    ((colour, area),) = areas(f'<path d="M20,30 h80" stroke="#700" stroke-width="4" fill="none" {style}/>')
    assert colour == "#770000"
    assert area.area == pytest.approx(found, rel=1e-3)


@pytest.mark.parametrize(("join", "outside"), [("miter", 4.0), ("bevel", 2.0), ("round", math.pi)])
def test_corners_of_a_stroke_are_as_they_are_said(join, outside):
    """At each of the four corners of a square a quarter of this stands outside its sides, of a stroke 4 wide."""
    ((_, area),) = areas(f'<rect x="20" y="10" width="40" height="40" fill="none" stroke="#000" stroke-width="4"'
                         f' stroke-linejoin="{join}"/>')  # fmt: skip
    without_corners = 4 * 40 * 2 + (40 * 40 - 36 * 36)
    assert area.area == pytest.approx(without_corners + 4 * outside, rel=1e-3)


def test_a_stroke_lies_over_the_fill_of_its_shape_and_both_take_what_the_group_says():
    inside = '<g fill="#036" transform="scale(2)"><rect x="5" y="5" width="20" height="10" stroke="black"/></g>'
    (fill, inner), (stroke, outer) = areas(inside)
    assert (fill, stroke) == ("#003366", "#000000")
    assert inner.area == pytest.approx(40 * 20)
    assert outer.bounds == pytest.approx((9, 9, 51, 31))


@pytest.mark.parametrize(
    "sheet", [".a{fill:#803}", "rect.a { fill : #880033 }", "#it{fill:#880033}rect{fill:red}", "*{fill:#803}"]
)
def test_colours_of_style_sheets_count(sheet):
    ((colour, _),) = areas(f'<style>{sheet}</style><rect id="it" class="a" width="9" height="9" fill="lime"/>')
    assert colour == "#880033"


def test_an_elements_own_style_comes_before_the_sheet_and_what_is_used_twice_is_drawn_twice():
    inside = '<style>.a{fill:#803}</style><rect id="r" class="a" width="9" height="9" style="fill:navy"/>'
    found = areas(f'{inside}<use href="#r" x="50"/>')
    assert [colour for colour, _ in found] == ["#000080"] * 2
    assert found[1][1].bounds == pytest.approx((50, 0, 59, 9))


GRADIENT = '<defs><linearGradient id="g"><stop offset="0"/></linearGradient></defs>'


@pytest.mark.parametrize(
    ("inside", "code"),
    [
        (f'{GRADIENT}<rect width="9" height="9" fill="url(#g)"/>', "gradient"),
        (f'{GRADIENT}<g style="stroke:url(#g)"><rect width="9" height="9"/></g>', "gradient"),
        ('<rect width="9" height="9" filter="url(#f)"/>', "filter"),
        ('<g clip-path="url(#c)"><rect width="9" height="9"/></g>', "clip"),
        ('<rect width="9" height="9" style="mask:url(#m)"/>', "clip"),
        ('<rect width="9" height="9" opacity=".5"/>', "see-through"),
        ('<rect width="9" height="9" fill-opacity="50%"/>', "see-through"),
        ('<rect width="9" height="9" fill="rgba(0,0,0,.5)"/>', "see-through"),
        ('<g style="mix-blend-mode:multiply"><rect width="9" height="9"/></g>', "see-through"),
        ('<rect width="9" height="9" fill="of-gold"/>', "colour"),
        ('<text x="9" y="9">Workroom</text>', "text"),
        ('<path d="M1,1 h9" stroke="#000" stroke-dasharray="2 1"/>', "stroke"),
        ('<path d="M1,1 h9" stroke="#000" marker-end="url(#arrow)"/>', "stroke"),
        ('<path d="M20,20 h40 l-40,2" stroke="#000"/>', "stroke"),
        ('<path d="M20,20 h9" stroke="#000" transform="scale(2,1)"/>', "stroke"),
        ('<path d="M20,20 h9" stroke="#000" vector-effect="non-scaling-stroke"/>', "stroke"),
        ('<rect x="100" width="40" height="9"/>', "beyond-page"),
        ('<svg width="20" height="20"><rect width="40" height="9"/></svg>', "nested"),
        ('<rect width="9" height="9" fill="none"/>', "nothing-painted"),
        ("<style>g > .a{fill:red}</style>", "style-sheet"),
        ("<style>.a{fill:red !important}</style>", "important"),
    ],
)  # fmt: skip
def test_what_cannot_be_drawn_true_is_refused_with_its_object_and_what_to_do(inside, code):
    logo, findings = read(LEAF + inside if code != "nothing-painted" else inside)
    assert logo is None
    (told,) = [finding for finding in findings if finding.code == code]
    assert (told.check, told.severity, told.file) == ("logo", "block", "booklet/logo.svg")
    assert told.remedy
    assert told.allowed
    assert told.object or code == "nothing-painted"


@pytest.mark.parametrize("data", [b"", b"<svg", HEAD.encode(), f"{HEAD.replace('120mm', '120m')}{LEAF}</svg>".encode()])
def test_what_is_no_drawing_is_told_with_the_booklets_drawings_and_not_again(data):
    assert read_logo(data, "apron") == (None, ())


def test_equal_bytes_are_read_alike():
    assert read(LEAF) == read(LEAF)
