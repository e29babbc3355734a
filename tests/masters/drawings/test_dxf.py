"""DXF as drawings: units, what is refused, and how near curves come that are led through points."""

import contextlib
import math

import pytest

from pipeline.geometry.curves import Line, flattened
from pipeline.geometry.points import Point
from pipeline.masters.drawings import dxf_file
from pipeline.masters.drawings.dxf import dxf_objects
from pipeline.masters.drawings.dxf_curves import through
from pipeline.masters.drawings.dxf_file import read_document, unit_mm
from pipeline.masters.drawings.sorted_objects import OF_DRAWING, DrawingReading
from pipeline.masters.svg.fault import SvgFault

RING = [(0, 0), (100, 0), (100, 200), (0, 200)]


def polyline(layer: str, places) -> str:
    rows = "".join(f"0\nVERTEX\n8\n{layer}\n10\n{x}\n20\n{y}\n30\n0\n" for x, y in places)
    return f"0\nPOLYLINE\n8\n{layer}\n66\n1\n10\n0\n20\n0\n30\n0\n70\n1\n{rows}0\nSEQEND\n8\n{layer}\n"


def file(entities: str = polyline("1", RING), units: str = "UNITS: METRIC", header: str = "") -> bytes:
    block = f"0\nBLOCK\n8\n1\n2\nfront\n70\n0\n10\n0\n20\n0\n30\n0\n3\nfront\n{entities}0\nENDBLK\n8\n1\n"
    text = f"0\nTEXT\n8\n1\n10\n0\n20\n0\n30\n0\n40\n5\n1\n{units}\n" if units else ""
    head = f"0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1009\n{header}0\nENDSEC\n"
    blocks = f"0\nSECTION\n2\nBLOCKS\n{block}0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{text}0\nENDSEC\n0\nEOF\n"
    return (head + blocks).encode()


def objects(data: bytes):
    reading = DrawingReading("tea-apron", None, None, "drawing/nest.dxf")
    shapes, _ = dxf_objects(data, reading, OF_DRAWING)
    return shapes, reading.findings()


def insunits(code: int) -> str:
    return f"9\n$INSUNITS\n70\n{code}\n"


@pytest.mark.parametrize(
    ("units", "header", "mm"),
    [
        ("UNITS: METRIC", "", 1.0),
        ("Units: English", "", 25.4),
        ("", insunits(4), 1.0),
        ("", insunits(5), 10.0),
        ("UNITS: METRIC", insunits(5), 10.0),
        ("UNITS: ENGLISH", insunits(1), 25.4),
    ],
)
def test_units_are_what_the_file_says(units, header, mm):
    shapes, _ = objects(file(units=units, header=header))
    (seam,) = [shape for shape in shapes if shape.within[-1].name == "seam"]
    ends = [segment.end for segment in seam.strokes[0].segments]
    assert max(end.x for end in ends) == pytest.approx(100 * mm)
    assert min(end.y for end in ends) == pytest.approx(-200 * mm)


@pytest.mark.parametrize(
    ("units", "header"),
    [("", ""), ("", insunits(0)), ("UNITS: FURLONGS", ""), ("UNITS: METRIC", insunits(1)), ("", insunits(13))],
)
def test_units_that_are_missing_strange_or_contradict_each_other_are_refused(units, header):
    with pytest.raises(SvgFault) as refused:
        objects(file(units=units, header=header))
    assert refused.value.code == "dxf-units"


def test_a_piece_of_an_absurd_size_is_told():
    shapes, found = objects(file(header=insunits(6), units=""))
    assert shapes == [] or found
    assert [finding.code for finding in found] == ["dxf-scale"]


def test_a_boundary_without_a_sew_line_is_taken_and_told():
    _, found = objects(file())
    assert [(finding.code, finding.severity) for finding in found] == [("dxf-boundary", "info")]
    _, found = objects(file(polyline("1", RING) + polyline("14", RING)))
    assert found == ()


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "dxf-incomplete"),
        (b"AutoCAD Binary DXF\r\n\x1a\x00", "dxf-binary"),
        (b"%PDF-1.4", "dxf-incomplete"),
        (file()[: len(file()) // 2], "dxf-incomplete"),
        (b"hello\nworld\nEOF", "not-dxf"),
        (file().replace(b"10\n100", b"10\nwide"), "not-dxf"),
        (file(entities=""), "dxf-no-blocks"),
        (b"0\n" * dxf_file.MOST_LINES + b"0\n0\nEOF\n", "dxf-too-large"),
    ],
)
def test_what_is_no_dxf_or_too_much_of_one_is_refused_and_not_a_stack(data, code):
    with pytest.raises(SvgFault) as refused:
        objects(data)
    assert refused.value.code == code


@pytest.mark.parametrize("at", range(7, 400, 13))
def test_a_file_with_a_line_lost_is_read_or_refused(at):
    lines = file().split(b"\n")
    del lines[at % (len(lines) - 4)]
    with contextlib.suppress(SvgFault):
        shapes, found = objects(b"\n".join(lines))
        assert shapes or found


def test_units_can_be_asked_of_a_document_alone():
    assert unit_mm(read_document(file()), ["UNITS: METRIC"]) == 1.0


def test_even_points_of_an_arc_give_the_arc_and_straight_lines_stay_straight():
    radius, count = 80.0, 7
    turns = [math.pi / 2 * i / (count - 1) for i in range(count)]
    places = [Point(radius * math.cos(turn), radius * math.sin(turn)) for turn in turns]
    path = through(places, [False, *[True] * (count - 2), False], closed=False)
    off = max(abs(math.hypot(*place) - radius) for place in flattened(path, 0.001))
    assert off < 0.0003 * radius
    corner = through([Point(0, 0), Point(9, 0), Point(9, 5)], [False] * 3, closed=False)
    assert corner == (Line(Point(0, 0), Point(9, 0)), Line(Point(9, 0), Point(9, 5)))


def test_uneven_points_of_an_ellipse_come_ten_times_nearer_than_chords():
    turns = [0.0, 0.25, 0.45, 0.8, 1.0, 1.3, math.pi / 2]
    places = [Point(120 * math.cos(turn), 70 * math.sin(turn)) for turn in turns]

    def off_mm(curved: bool) -> float:
        path = through(places, [False, *[curved] * 5, False], closed=False)
        there = [segment.at(t / 50) for segment in path for t in range(51)]
        return max(abs(math.hypot(p.x / 120, p.y / 70) - 1) for p in there) * 90

    assert off_mm(curved=True) < off_mm(curved=False) / 10


def test_a_line_that_runs_into_a_curve_stays_straight():
    turns = [0.05 * i for i in range(8)]
    places = [Point(0, -200), *(Point(100 - 100 * math.cos(turn), 100 * math.sin(turn)) for turn in turns)]
    path = through(places, [False, *[True] * 7, False], closed=False)
    assert max(abs(path[0].at(t / 20).x) for t in range(21)) < 0.05


def point(layer: str, x: float, y: float) -> str:
    return f"0\nPOINT\n8\n{layer}\n10\n{x}\n20\n{y}\n30\n0\n"


def line(layer: str, *ends: float) -> str:
    return "0\nLINE\n8\n{}\n10\n{}\n20\n{}\n30\n0\n11\n{}\n21\n{}\n31\n0\n".format(layer, *ends)


def said(text: str, x: float, y: float) -> str:
    return f"0\nTEXT\n8\n15\n10\n{x}\n20\n{y}\n30\n0\n40\n2\n1\n{text}\n"


MARKS = (
    polyline("14", RING)
    + "".join(point("4", *place) for place in ((0, 50), (0, 117), (0, 123), (100, 60)))
    + point("13", 40, 40)
    + line("8", 10, 150, 90, 150)
    + line("8", 60, 20, 70, 20)
)


def names_of(data: bytes) -> dict[str, list[tuple[str | None, tuple[float, float]]]]:
    """Of each role the names of its objects, and where they are."""
    found: dict[str, list[tuple[str | None, tuple[float, float]]]] = {}
    for shape in objects(data)[0]:
        ends = [segment.end for segment in shape.strokes[0].segments]
        middle = sum(end.x for end in ends) / len(ends), -sum(end.y for end in ends) / len(ends)
        found.setdefault(shape.within[-1].name or "", []).append((shape.name, (round(middle[0]), round(middle[1]))))
    return found


def test_a_text_that_begins_at_a_mark_names_it():
    texts = said("NOTCH: waist", 0, 50) + said("POINT: button", 40, 40) + said("LINE: bust-line", 10, 150)
    found = names_of(file(MARKS + texts))
    assert ("waist", (0, 50)) in found["notches"]
    assert [name for name, _ in found["notches"] if name] == ["waist"]
    assert found["points"] == [("button", (40, 40))]
    assert sorted(name or "" for name, _ in found["inside"]) == ["", "bust-line"]


def test_strokes_that_a_text_says_are_one_notch_are_one_where_it_stands():
    found = names_of(file(MARKS + said("NOTCH: cap, 2", 0, 120)))
    assert sorted(found["notches"], key=lambda each: each[1]) == [
        (None, (0, 50)),
        ("cap", (0, 120)),
        (None, (100, 60)),
    ]


def test_a_line_whose_middle_is_named_as_a_point_is_a_slit():
    found = names_of(file(MARKS + said("POINT: buttonhole-1", 65, 20)))
    assert ("buttonhole-1", (70, 20)) in found["points"]
    assert len(found["inside"]) == 1


@pytest.mark.parametrize("text", ["NOTCH: waist", "NOTCH: cap, 2", "LINE: hip", "POINT: loop", "NOTCH:", "CUT 2 MAIN"])
def test_a_text_that_stands_at_no_mark_names_none(text):
    assert names_of(file(MARKS + said(text, 50, 190))) == names_of(file(MARKS))
