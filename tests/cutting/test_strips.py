"""Strips: cut sizes against the trade's examples, and strips drawn as pieces."""

import pytest

from pipeline.cutting.cut import cut_pieces
from pipeline.cutting.strips import strip_cut_size, strip_piece
from pipeline.model.pattern import Reference, Strip, Sum, Term
from pipeline.model.piece_specs import Cut
from tests.cutting.shapes import SIZE, codes, drawn_of, pattern_of, polygon, spec_of


def strip(make="flat", width_mm=10.0, allowance_mm=0.0, length=(40.0,), **rest) -> Strip:
    terms = tuple(term if isinstance(term, Term) else Term(1.0, term) for term in length)
    return Strip(
        name="loop",
        title={"en": "Loop"},
        cut=(Cut("shell", {SIZE: 2}, {SIZE: 0}),),
        width_mm=width_mm,
        make=make,
        length=Sum("as declared", terms),
        allowance_mm=allowance_mm,
        **rest,
    )


@pytest.mark.parametrize(
    ("make", "finished", "allowance", "cut_mm"),
    [
        ("edges-to-centre", 10, 0, 20),  # loop, raw edges to the centre: 2 x finished (calc)
        ("edges-to-centre", 15, 0, 30),  # cut 30 mm wide with edges to the centre finishes 15 mm (common practice)
        ("thirds", 10, 0, 30),  # 3 x (common practice)
        ("quarters", 10, 0, 40),  # 4 x (common practice)
        ("quarters", 12.7, 0, 50.8),  # double-fold bias: 1/2 in from 2 in (common practice)
        ("doubled", 40, 10, 100),  # belt, tie: 2 x width + 2 allowances (calc)
        ("doubled", 30, 10, 80),
        ("flat", 30, 10, 50),
    ],
)
def test_the_cut_width_follows_from_the_make(make, finished, allowance, cut_mm):
    assert strip_cut_size(strip(make, finished, allowance), 100).width_mm == pytest.approx(cut_mm)


def test_the_cut_length_has_two_allowances_more():
    assert strip_cut_size(strip(allowance_mm=10), 700 + 20 + 30).length_mm == pytest.approx(770)
    assert strip_cut_size(strip("thirds", allowance_mm=10), 750).length_mm == pytest.approx(770)
    # loop: opening + 2 tucks, 40 + 10 + 2 x 10 = 70 mm (calc)
    assert strip_cut_size(strip("edges-to-centre"), 40 + 10 + 2 * 10).length_mm == 70


def test_a_strip_is_a_rectangle_with_its_folds_marked():
    piece = strip_piece(strip("quarters", 10, 5), SIZE, 200)
    assert piece.cut_area_mm2 == pytest.approx(40 * 210)
    assert piece.seam_area_mm2 == pytest.approx(40 * 200)
    assert [edge.allowance_mm for edge in piece.edges] == [5, 0, 5, 0]
    assert [line.path[0].start.x for line in piece.drawn.inside] == [10, 20, 30]
    doubled = strip_piece(strip("doubled", 30, 10), SIZE, 200)
    assert doubled.cut_area_mm2 == pytest.approx(80 * 220)
    assert doubled.seam_area_mm2 == pytest.approx(60 * 200)
    assert [edge.cut_length_mm for edge in doubled.edges] == pytest.approx([80, 220, 80, 220])
    assert doubled.seam_outline == doubled.seam_drawn == ((0, 0), (60, 0), (60, 200), (0, 200))
    assert doubled.cut_outline == doubled.cut_drawn == ((-10, -10), (70, -10), (70, 210), (-10, 210))
    assert (doubled.piece, doubled.size, doubled.drawn.file) == (strip("doubled").name, SIZE, "pattern.toml")


@pytest.mark.parametrize(
    ("make", "shares"),
    [
        ("flat", ()),
        ("doubled", (1 / 2,)),
        ("edges-to-centre", (1 / 4, 3 / 4)),
        ("thirds", (1 / 3, 2 / 3)),
        ("quarters", (1 / 4, 1 / 2, 3 / 4)),
    ],
)
def test_folds_lie_at_their_shares_of_the_width(make, shares):
    piece = strip_piece(strip(make, 12, 5), SIZE, 200)
    wide = piece.edge("top").length_mm
    assert [line.path[0].start.x for line in piece.drawn.inside] == pytest.approx([share * wide for share in shares])


@pytest.mark.parametrize(("grain", "dx", "dy"), [("along", 0, -1), ("across", -1, 0), ("bias", 1, -1), ("any", 0, -1)])
def test_the_grain_lies_as_declared(grain, dx, dy):
    line = strip_piece(strip(grain=grain), SIZE, 200).drawn.grain
    run = line.bottom.to(line.top)
    assert (run.dx > 0) - (run.dx < 0) == dx
    assert (run.dy > 0) - (run.dy < 0) == dy
    if grain == "bias":
        assert run.dx == -run.dy


def test_drawn_strips_stand_after_the_pieces_with_the_length_of_their_sum():
    edges = polygon([(0, 0), (300, 0), (300, 200), (0, 200)])
    length = (Term(2.0, Reference("piece", "e0")), 90.0)
    both = {"loop": strip(length=length, drawn=True), "other": strip(length=length)}
    pieces, findings = cut_pieces(pattern_of(spec_of(), strips=both), SIZE, (drawn_of(edges),))
    assert findings == ()
    assert [piece.piece for piece in pieces] == ["piece", "loop"]
    assert pieces[1].edge("right").length_mm == pytest.approx(690)


def test_a_strip_whose_sum_has_no_length_is_told():
    strips = {"loop": strip(length=(Term(1.0, Reference("nothing", "e0")),), drawn=True)}
    pieces, findings = cut_pieces(pattern_of(strips=strips), SIZE, ())
    assert pieces == ()
    assert codes(findings) == {"strip-length"}
    assert findings[0].where == "strips.loop"
