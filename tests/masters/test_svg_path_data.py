"""Path data: the strict grammar, and the same curves as a second parser on generated paths."""

import math
import random
import re

import pytest
import svgpathtools

from pipeline.geometry.curves import Arc, Cubic, Line, path_area_mm2, path_length_mm
from pipeline.geometry.points import Point
from pipeline.masters.svg.fault import SvgFault
from pipeline.masters.svg.path_data import parse_path


def written(number: float, chance: random.Random) -> str:
    form = chance.choice((".3f", ".6g", ".2e", "d", "+.1f"))
    text = f"{round(number):d}" if form == "d" else f"{number:{form}}"
    # Editors leave out the zero before the point.
    return re.sub(r"^([+-]?)0\.", r"\1.", text) if chance.random() < 0.3 else text


def joined(numbers: list[str], chance: random.Random) -> str:
    text = numbers[0]
    for number in numbers[1:]:
        signed = number[0] in "+-"
        text += chance.choice((" ", ",", " , ", "\n", "" if signed else " ")) + number
    return text


def generated_path(seed: int) -> str:
    chance = random.Random(seed)
    number = lambda: written(chance.uniform(-300, 300), chance)  # noqa: E731
    text = f"{chance.choice('Mm')} {joined([number(), number()], chance)}"
    for _ in range(chance.randint(1, 12)):
        command = chance.choice("LlHhVvCcSsQqTtAaZM" + "CcAaSsTt")
        repeats = chance.randint(1, 3)
        if command == "Z":
            text += "Z" if chance.random() < 0.5 else f"zM{joined([number(), number()], chance)}"
            repeats = 0
        count = {"L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "M": 2}.get(command.upper(), 0)
        if command in "Aa":
            arcs = []
            for _ in range(repeats):
                radii = [f"{chance.uniform(1, 400):.3f}" for _ in "xy"]
                flags = chance.choice("01") + chance.choice((" ", ",", "")) + chance.choice("01")
                arcs.append(f"{radii[0]} {radii[1]},{chance.uniform(-400, 400):.2f} {flags} {number()} {number()}")
            text += command + " ".join(arcs)
        elif repeats:
            text += command + joined([number() for _ in range(count * repeats)], chance)
    return text


def test_generated_paths_are_the_curves_that_a_second_parser_reads():
    seen = dict.fromkeys("LCQA", 0)
    for seed in range(1200):
        text = generated_path(seed)
        ours = [segment for stroke in parse_path(text) for segment in stroke.segments]
        theirs = [segment for segment in svgpathtools.parse_path(text) if segment.start != segment.end]
        assert len(ours) == len(theirs), text
        for own, other in zip(ours, theirs, strict=True):
            seen[type(other).__name__[0]] += 1
            for t in (0.0, 0.25, 0.5, 0.8, 1.0):
                place = other.point(t)
                assert own.at(t).distance(Point(place.real, place.imag)) < 1e-6 * (1 + abs(place)), text
    assert min(seen.values()) > 500


@pytest.mark.parametrize(
    "data",
    [
        "",
        "  ",
        "M1 2",
        "M1,2",
        "m1 2z",
        "M.5.5",
        "M1-2",
        "M1 2 3 4",
        "M1. 2",
        "M+1-.2e-3",
        "M1 2zm3 4",
        "M 1e1 2E+1 h 5",
    ],
)
def test_what_the_grammar_allows(data):
    parse_path(data)


@pytest.mark.parametrize(
    "data",
    [
        *("L1 2", "1 2", "M", "M1", "M1 2 3", "M,1 2", "M1 2,", "M1,,2", "M1 2L", "M1 2 L 3", "M1 2Z3", "M1 2z,L3 4"),
        *("M1 2R3 4", "M1 2C1 2 3 4 5", "M1 2e", "M1 .", "M1 2;", "M1 2L3e 4", "M1 2L3 4e+", "M1 2L0x10 3", "#"),
        *("M1 2A1 1 0 1 1 5", "M1 2A1 1 0 11 1", "M1 2A1 1 0 2 1 5 6", "M1 2A1 1 00 1 5 6", "M1 2 l 3 4 Q"),
        *("M1 2 L\u0663 4", "M1 2\u00a0L3 4", "M1 2L3 4\0"),
    ],
)
def test_what_does_not_parse_to_its_end_is_refused(data):
    with pytest.raises(SvgFault) as refused:
        parse_path(data)
    assert refused.value.code == "bad-path-data"


@pytest.mark.parametrize("data", ["M1 nan", "M1 2L-inf 3", "M1 2LInfinity 3", "M1 1e400", "M0 0A1e999 1 0 0 1 5 5"])
def test_numbers_that_are_not_finite_are_refused(data):
    with pytest.raises(SvgFault) as refused:
        parse_path(data)
    assert refused.value.code == "not-finite"


def test_flags_of_arcs_need_nothing_between_them():
    (spaced,) = parse_path("M0 0A10 20 30 1 0 5 6")
    (tight,) = parse_path("M0 0A10 20 30 105 6")
    assert spaced == tight


def test_a_quadratic_curve_is_raised_to_a_cubic_exactly():
    ((curve,),) = (stroke.segments for stroke in parse_path("M0 0Q30 60 90 0"))
    assert isinstance(curve, Cubic)
    for t in (0.1, 0.4, 0.7):
        s = 1 - t
        assert curve.at(t) == pytest.approx((2 * s * t * 30 + t * t * 90, 2 * s * t * 60), abs=1e-12)


def test_s_after_q_and_t_after_c_mirror_nothing():
    (stroke,) = parse_path("M0 0Q10 10 20 0S30 10 40 0")
    assert stroke.segments[1].control1 == Point(20, 0)
    (stroke,) = parse_path("M0 0C0 10 20 10 20 0T40 0")
    assert stroke.segments[1].control1 == Point(20, 0)


def test_t_after_t_mirrors_the_control_point_that_was_meant():
    (stroke,) = parse_path("M0 0Q10 10 20 0T40 0T60 0")
    assert stroke.segments[2].at(0.5) == pytest.approx((50, 5))


def test_a_half_circle_has_its_length_and_area():
    (stroke,) = parse_path("M0 0A50 50 0 0 1 100 0Z")
    assert path_length_mm(stroke.segments) == pytest.approx(50 * math.pi + 100, abs=1e-6)
    assert path_area_mm2(stroke.segments) == pytest.approx(50**2 * math.pi / 2, abs=1e-6)


def test_radii_that_are_too_small_are_scaled_up_until_the_arc_fits():
    (stroke,) = parse_path("M0 0A1 2 0 0 1 100 0")
    assert path_length_mm(stroke.segments) == pytest.approx(
        path_length_mm(parse_path("M0 0A50 100 0 0 1 100 0")[0].segments)
    )


@pytest.mark.parametrize("data", ["M0 0A0 5 0 0 1 10 0", "M0 0A5 0 0 0 1 10 0"])
def test_an_arc_without_a_radius_is_a_line(data):
    assert parse_path(data)[0].segments == (Line(Point(0, 0), Point(10, 0)),)


def test_a_negative_radius_counts_without_its_sign():
    assert parse_path("M0 0A-5 -6 7 0 1 8 0") == parse_path("M0 0A5 6 7 0 1 8 0")


def test_steps_of_no_length_leave_nothing_behind():
    assert parse_path("M5 5L5 5h0v0c0 0 0 0 0 0q0 0 0 0a3 3 0 0 1 0 0")[0].segments == ()


def test_a_stroke_after_z_begins_where_the_last_one_did():
    first, second = parse_path("M10 10h5v5zl-5 0")
    assert (first.closed, second.closed) == (True, False)
    assert second.segments == (Line(Point(10, 10), Point(5, 10)),)


def test_an_arc_keeps_the_direction_of_its_sweep():
    (stroke,) = parse_path("M0 0A50 50 0 0 0 100 0")
    (arc,) = stroke.segments
    assert isinstance(arc, Arc)
    assert arc.sweep_rad < 0
    assert arc.at(0.5).y == pytest.approx(50)
