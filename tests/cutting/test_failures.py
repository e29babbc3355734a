"""Every way in which a cut line can be valid and wrong, seeded once: each is told, with its edge."""

import math

import pytest

from pipeline.geometry.curves import Cubic
from pipeline.geometry.points import Point
from pipeline.model.piece_specs import EdgeSpec
from tests.cutting.shapes import arc, clean, codes, curve, cut, polygon, straight


def _slotted(width: float, depth: float = 100) -> dict:
    """A rectangle of 300 x 200 mm with a slot down from the middle of its upper edge."""
    left, right = 150 - width / 2, 150 + width / 2
    return {
        "upper-left": straight((0, 0), (left, 0)),
        "slot-left": straight((left, 0), (left, depth)),
        "slot-foot": straight((left, depth), (right, depth)),
        "slot-right": straight((right, depth), (right, 0)),
        "upper-right": straight((right, 0), (300, 0)),
        "right": straight((300, 0), (300, 200)),
        "foot": straight((300, 200), (0, 200)),
        "left": straight((0, 200), (0, 0)),
    }


def test_a_slot_wider_than_both_allowances_is_right():
    piece = clean(_slotted(25))
    assert piece.edge("slot-foot").cut_length_mm == pytest.approx(5)
    assert piece.edge("slot-left").cut_length_mm == pytest.approx(100)


@pytest.mark.parametrize("width", [19, 15, 8])
def test_a_slot_narrower_than_both_allowances_is_told_though_the_result_is_valid(width):
    _, findings = cut(_slotted(width))
    assert codes(findings) >= {"allowances-overlap", "edge-vanished"}
    overlap = next(finding for finding in findings if finding.code == "allowances-overlap")
    assert overlap.severity == "block"
    assert overlap.where == "slot-left"
    assert {finding.where for finding in findings if finding.code == "edge-vanished"} >= {"slot-foot"}


def test_a_slot_narrower_than_the_allowances_within_one_edge_is_told():
    path = (*straight((0, 0), (142, 0), (142, 100), (158, 100), (158, 0), (300, 0)),)
    edges = {"upper": path, "right": straight((300, 0), (300, 200)), "foot": straight((300, 200), (0, 200), (0, 0))}
    _, findings = cut(edges)
    assert "allowances-overlap" in codes(findings)
    assert {finding.where for finding in findings} == {"upper"}


def test_a_hole_left_where_a_mouth_closed_is_told():
    # A round pocket of radius 40 mm whose mouth is 12 mm wide.
    open_deg = math.degrees(math.asin(6 / 40))
    mouth = 100 - 40 * math.cos(math.radians(open_deg))
    bowl = tuple(segment.reversed() for segment in arc((150, 100), 40, -90 + open_deg, 360 - 2 * open_deg))
    edges = {
        "upper-left": straight((0, 0), (144, 0)),
        "neck-left": straight((144, 0), (144, mouth)),
        "bowl": bowl,
        "neck-right": straight((156, mouth), (156, 0)),
        "upper-right": straight((156, 0), (300, 0)),
        "right": straight((300, 0), (300, 250)),
        "foot": straight((300, 250), (0, 250)),
        "left": straight((0, 250), (0, 0)),
    }
    _, findings = cut(edges)
    assert "mouth-closed" in codes(findings)
    hole = next(finding for finding in findings if finding.code == "mouth-closed")
    assert hole.found.startswith("a hole of ")


@pytest.mark.parametrize(("radius", "told"), [(30, False), (10.5, False), (9, True), (4, True)])
def test_a_concave_radius_below_the_allowance_is_told(radius, told):
    edges = {
        "top": straight((0, 0), (100, 0)),
        "inner": (
            *straight((100, 0), (100, 100 - radius)),
            *(segment.reversed() for segment in arc((100 + radius, 100 - radius), radius, 90, 90)),
            *straight((100 + radius, 100), (200, 100)),
        ),
        "right": straight((200, 100), (200, 200)),
        "foot": straight((200, 200), (0, 200)),
        "left": straight((0, 200), (0, 0)),
    }
    piece, findings = cut(edges)
    assert piece is not None
    assert codes(findings) == ({"concave-radius"} if told else set())
    for finding in findings:
        assert finding.where == "inner"
        assert float(finding.found.removesuffix(" mm")) == pytest.approx(radius, rel=0.02)


def test_an_edge_that_its_neighbours_cover_is_told():
    # A bevel of 4 mm in a concave corner: the allowances beside it meet before it.
    edges = polygon([(0, 0), (100, 0), (100, 97), (103, 100), (200, 100), (200, 300), (0, 300)])
    _, findings = cut(edges, allowance_mm=15)
    vanished = [finding for finding in findings if finding.code == "edge-vanished"]
    assert [finding.where for finding in vanished] == ["e2"]
    assert vanished[0].severity == "block"


def test_an_edge_without_any_allowance_is_told_and_nothing_is_guessed():
    piece, findings = cut(polygon([(0, 0), (100, 0), (100, 100)]), {"e0": EdgeSpec(allowance_mm=5)}, allowance_mm=None)
    assert piece is None
    assert [(finding.code, finding.where) for finding in findings] == [("no-allowance", "e1"), ("no-allowance", "e2")]


@pytest.mark.parametrize(
    ("edges", "code"),
    [
        (polygon([(0, 0), (100, 100), (100, 0), (0, 100)]), "outline"),
        (polygon([(0, 0), (0, 100), (100, 100), (100, 0)]), "outline"),
        (polygon([(0, 0), (100, 0)]), "outline"),
        ({"a": straight((0, 0), (100, 0), (100, 100)), "b": straight((100, 100), (0, 5))}, "open-outline"),
        ({"a": straight((0, 0), (100, 0), (100, 100), (0, 0)), "b": straight((0, 0), (0, 0))}, "empty-edge"),
        ({"a": straight((0, 0), (math.nan, 0)), "b": straight((math.nan, 0), (0, 0))}, "not-finite"),
        ({"a": straight((0, 0), (2e6, 0), (0, 100)), "b": straight((0, 100), (0, 0))}, "not-finite"),
        ({"a": (Cubic(*[Point(1, 1)] * 4),)}, "empty-edge"),
    ],
)
def test_a_seam_line_that_is_no_outline_is_told(edges, code):
    piece, findings = cut(edges)
    assert piece is None
    assert codes(findings) == {code}
    assert all(finding.severity == "block" and finding.remedy for finding in findings)


@pytest.mark.parametrize(("gap_mm", "told"), [(0.09, set()), (0.11, {"open-outline"})])
def test_ends_of_edges_may_miss_each_other_by_a_tenth_of_a_millimetre(gap_mm, told):
    edges = {"a": straight((0, 0), (100, 0), (100, 100)), "b": straight((100, 100), (0, 100), (0, gap_mm))}
    assert codes(cut(edges)[1]) == told


def test_a_finding_names_pattern_size_piece_file_and_place():
    _, findings = cut(polygon([(0, 0), (100, 0), (100, 100)]), allowance_mm=None)
    finding = findings[0]
    assert (finding.check, finding.pattern, finding.size, finding.piece) == ("cutting", "test", "36", "piece")
    assert (finding.file, finding.where, finding.object) == ("sizes/36/piece.svg", "e0", "e0")


def test_a_smooth_piece_with_tight_convex_curves_has_nothing_to_tell():
    edges = {
        "top": straight((0, 0), (150, 0)),
        "round": (
            *straight((150, 0), (150, 147)),
            *arc((147, 147), 3, 0, 90),
            *straight((147, 150), (3, 150)),
            *arc((3, 147), 3, 90, 90),
            *straight((0, 147), (0, 0)),
        ),
    }
    clean(edges, {"top": EdgeSpec(allowance_mm=30, corner="turned", hem=True)})


def test_an_s_shaped_edge_of_many_short_cubics_has_nothing_to_tell():
    path = []
    for step in range(24):
        x, y = 12.5 * step, 20 * math.sin(step / 4)
        slope, next_slope = 5 * math.cos(step / 4) / 12.5, 5 * math.cos((step + 1) / 4) / 12.5
        after = (12.5 * (step + 1), 20 * math.sin((step + 1) / 4))
        third = 12.5 / 3
        path += curve((x, y), (x + third, y + slope * third), (after[0] - third, after[1] - next_slope * third), after)
    end = path[-1].end
    edges = {"wave": tuple(path), "rest": straight(tuple(end), (300, 200), (0, 200), (0, 0))}
    clean(edges, allowance_mm=15)
