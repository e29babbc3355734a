"""Linings that are sewn to the raw edge of a hem: as long as its allowance is where it is sewn."""

import math

import pytest
from msgspec.structs import replace

from pipeline.checks.all import check_garment
from pipeline.checks.bagged import sewn_length_mm
from pipeline.checks.garment import Garment
from pipeline.cutting.cut import cut_pieces
from pipeline.model.pattern import Range, Seam, SideEdge
from pipeline.model.piece_specs import Cut, EdgePart, EdgeSpec
from tests.cutting.shapes import SIZE, arc, drawn_of, notch, pattern_of, polygon, spec_of, straight

HEIGHT = 400.0


def sleeve(degrees: float, width: float = 300.0):
    """A piece that is `width` wide at its hem, edge e2, and wider above it where it tapers towards the hem."""
    lean = HEIGHT * math.tan(math.radians(degrees))
    return polygon([(-lean, 0), (width + lean, 0), (width, HEIGHT), (0, HEIGHT)])


def garment(
    lining_mm: float,
    *,
    shell=None,
    lining_allowance_mm: float = 10.0,
    depth_mm: float = 40.0,
    corner: str = "turned",
    side_mm: float = 10.0,
    part: EdgePart | None = None,
    notches=(),
    **said,
) -> Garment:
    """A shell with a hem along e2, and a lining so wide whose edge e2 is sewn to it."""
    edges = {"e2": EdgeSpec(allowance_mm=depth_mm, corner=corner, hem=True)}
    specs = (
        spec_of("shell", side_mm, edges=edges),
        spec_of("lining", 10.0, edges={"e2": EdgeSpec(allowance_mm=lining_allowance_mm)}),
    )
    a, b = (SideEdge("lining", "e2"),), (SideEdge("shell", "e2", False, part),)
    seam = Seam(name="hem", a=a, b=b, kind="bagged", **said)
    pattern = replace(pattern_of(*specs), seams={"hem": seam})
    box = polygon([(0, 0), (lining_mm, 0), (lining_mm, HEIGHT), (0, HEIGHT)])
    drawn = (drawn_of(shell or sleeve(0), notches, "shell"), drawn_of(box, (), "lining"))
    cuts, told = cut_pieces(pattern, SIZE, drawn)
    assert told == ()
    return Garment(pattern, {cut.piece: {SIZE: cut} for cut in cuts})


def sewn(made: Garment) -> float:
    return sewn_length_mm(made, made.pattern.seams["hem"], SIZE)


def codes(made: Garment, *checks: str) -> list[tuple[str, str]]:
    return [(one.check, one.code) for one in check_garment(made) if one.check in checks]


@pytest.mark.parametrize("degrees", [-10, 0, 5, 10])
@pytest.mark.parametrize(("depth_mm", "allowance_mm"), [(40, 10), (30, 6)])
def test_a_tapered_hem_is_wider_where_the_lining_is_sewn(degrees, depth_mm, allowance_mm):
    """30 mm above the hem line a sleeve is 2 x 30 tan a wider; its hem is the mirror image of that."""
    made = garment(300, shell=sleeve(degrees), depth_mm=depth_mm, lining_allowance_mm=allowance_mm)
    wider = 2 * (depth_mm - allowance_mm) * math.tan(math.radians(degrees))
    assert sewn(made) == pytest.approx(300 + wider, abs=0.02)


@pytest.mark.parametrize("side_mm", [0, 6, 15])
def test_the_allowances_of_the_sides_do_not_count(side_mm):
    made = garment(300, shell=sleeve(10), side_mm=side_mm)
    assert sewn(made) == pytest.approx(300 + 60 * math.tan(math.radians(10)), abs=0.05)


def test_cut_straight_on_it_goes_on_as_the_sides_do():
    made = garment(300, shell=sleeve(10), corner="mitre")
    assert sewn(made) == pytest.approx(300 - 60 * math.tan(math.radians(10)), abs=0.05)


def test_a_curved_hem_is_longer_beyond_its_line():
    """A quarter of a circle of 300 mm: 30 mm out it has a radius of 330 mm. Both ends stand at right angles to it."""
    edges = {
        "e3": straight((0, 0), (200, 0)),
        "e1": straight((200, 0), (300, 0)),
        "e2": arc((0, 0), 300, 0, 90),
        "e0": straight((0, 300), (0, 0)),
    }
    assert sewn(garment(300, shell=edges)) == pytest.approx(330 * math.pi / 2, abs=0.1)


def test_a_part_of_a_hem_ends_at_right_angles_to_it():
    shell = sleeve(10)
    made = garment(200, shell=shell, part=EdgePart("facing", "e3"), notches=(notch(shell, "e2", 100, name="facing"),))
    assert sewn(made) == pytest.approx(200 + 30 * math.tan(math.radians(10)), abs=0.05)


def test_the_linings_edge_is_held_against_that_and_not_against_the_hem_line():
    fits = 300 + 60 * math.tan(math.radians(10))
    assert codes(garment(fits, shell=sleeve(10)), "seam-lengths") == []
    assert codes(garment(300, shell=sleeve(10)), "seam-lengths") == [("seam-lengths", "too-short")]
    assert codes(garment(fits + 20, shell=sleeve(10), ease=Range(20, 20)), "seam-lengths") == []


def test_nothing_is_asked_of_angles_notches_or_equal_allowances():
    made = garment(300 + 60 * math.tan(math.radians(10)), shell=sleeve(10))
    assert codes(made, "seam-angles", "seam-notches", "allowance-pairs", "allowance-ends", "seams-named") == [
        ("seams-named", "in-no-seam")
    ]
    assert all("e2" not in one.found for one in check_garment(made) if one.check == "seams-named")


@pytest.mark.parametrize(
    ("depth_mm", "allowance_mm", "told"),
    [
        (40, 10, []),
        (15, 10, []),
        (14, 10, [("bagged-hems", "hem-too-shallow")]),
        (10, 10, [("bagged-hems", "hem-too-shallow")]),
        (40, 0, [("bagged-hems", "no-allowance")]),
    ],
)
def test_something_of_the_hem_hangs_between(depth_mm, allowance_mm, told):
    assert codes(garment(300, depth_mm=depth_mm, lining_allowance_mm=allowance_mm), "bagged-hems") == told


@pytest.mark.parametrize(("gap_mm", "told"), [(299, []), (300, [("turned-through", "gap-too-long")]), (None, [])])
def test_a_gap_is_shorter_than_its_seam(gap_mm, told):
    assert codes(garment(300, turn_through_mm=gap_mm), "turned-through") == told


def test_counts_are_asked_as_of_any_seam_that_is_sewn():
    made = garment(300)
    counts = {"shell": (2, 1), "lining": (1, 0)}
    cut = {name: (Cut("cloth", {SIZE: count}, {SIZE: mirrored}),) for name, (count, mirrored) in counts.items()}
    pieces = {name: replace(spec, cut=cut[name]) for name, spec in made.pattern.pieces.items()}
    assert codes(Garment(replace(made.pattern, pieces=pieces), made.cuts), "cut-counts")
