"""Seams walked in every size: lengths, notches, corners, and which way."""

import pytest

from pipeline.checks.seam_way import decided_direction, directions, walks
from pipeline.checks.side_ends import seam_end
from pipeline.geometry.curves import Cubic
from pipeline.geometry.points import Point
from pipeline.masters.toml.sums import parse_sum
from pipeline.model.pattern import Notion, Range, SideEdge, Strip
from pipeline.model.piece_specs import Cut, EdgePart
from pipeline.model.pieces import DrawnPiece
from tests.checks.skirt import PATTERN, SIZES, EdgeSpec, codes, garment, notch, one, pattern_with, replace, seam, told
from tests.checks.skirt_faults import longer, notch_moved, notch_style, with_edges, without_notch


def with_seam(name: str, **changes):
    return replace(PATTERN, seams={**PATTERN.seams, name: replace(PATTERN.seams[name], **changes)})


def test_a_skirt_without_fault_has_no_finding():
    assert told() == []


def test_darts_are_closed_before_a_seam_is_walked():
    lengths = {(s.name, size): (a.length_mm, b.length_mm) for s, size, a, b in walks(garment())}
    assert lengths["waist", "M"] == pytest.approx((340, 340))


def test_a_side_3_mm_longer_is_told_with_its_piece_the_place_and_what_would_close_it():
    finding = one("seam-lengths", {("back", "L"): longer(3)})
    assert (finding.code, finding.size, finding.where) == ("too-short", "L", "seams.side")
    assert finding.object == "back.side"
    assert finding.file == "sizes/L/back.svg"
    assert "back.side is 3.0 mm too long for front.side" in finding.message
    assert "the difference lies after notch knee, 400 mm from its end at front.waist" in finding.message
    assert "by 3.0 mm in size L" in finding.remedy


def test_what_is_told_with_the_length_is_not_told_again_with_the_notches():
    assert codes(told({("back", "L"): longer(3)})) == {("seam-lengths", "too-short")}


@pytest.mark.parametrize(("by_mm", "found"), [(0.9, set()), (1.1, {("seam-lengths", "too-short")})])
def test_the_tolerance_is_1_mm_at_any_length(by_mm, found):
    assert codes(told({("back", "L"): longer(by_mm)})) == found


@pytest.mark.parametrize(
    ("ease", "found"),
    [
        (Range(-4, -2), set()),
        (Range(-10, -4.5), {"too-long"}),
        (Range(-0.01, -0.004, True), set()),
        (Range(0, 0.5, True), {"too-short"}),
    ],
)
def test_ease_is_length_of_a_minus_length_of_b_in_mm_or_as_a_share_of_b(ease, found):
    faults = {("back", size): longer(3) for size in PATTERN.sizes}
    assert {f.code for f in told(faults, with_seam("side", ease=ease)) if f.check == "seam-lengths"} == found


def test_a_lining_is_held_to_its_length_only():
    pattern = with_seam("side", kind="lining", ease=Range(-1, 1))
    assert told({("back", "L"): without_notch("hip")}, pattern)[0].check == "size-set"
    assert ("seam-lengths", "too-short") in codes(told({("back", "L"): longer(3)}, pattern))


@pytest.mark.parametrize("by_mm", [5, -5, 1.2])
def test_a_notch_that_has_moved_blocks_in_its_size(by_mm):
    found = [f for f in told({("front", "XL"): notch_moved("hip", by_mm)}) if f.severity == "block"]
    assert {(f.check, f.code, f.size, f.where) for f in found} == {("seam-notches", "apart", "XL", "seams.side")}
    assert any(f"is {abs(by_mm):.1f} mm too long" in f.message for f in found)


def test_a_notch_that_has_moved_is_told_first_with_its_name_its_edge_and_how_far():
    first, second = (f for f in told({("front", "L"): notch_moved("hip", 5)}) if f.severity == "block")
    assert first.message.startswith("notch hip of front.side has probably moved by 5.0 mm: between the start")
    assert first.object == "front.side, hip"
    assert "moved" not in second.message


def test_the_edge_that_leaves_its_row_of_sizes_is_the_first_to_look_at():
    longer_back, shorter_back = (one("seam-lengths", {("back", "L"): longer(by)}) for by in (3, -3))
    assert longer_back.remedy.startswith("look at back.side first, 3.0 mm too long; else shorten back.side")
    assert shorter_back.remedy.startswith("look at back.side first, 3.0 mm too short; else shorten front.side")


def test_between_matched_notches_all_of_the_ease_may_lie_or_none_of_it():
    faults = {("front", size): longer(12) for size in PATTERN.sizes}
    assert codes(told(faults, with_seam("side", ease=Range(10, 14)))) == set()
    moved = {("front", size): notch_moved("hip", -3) for size in PATTERN.sizes}
    assert ("seam-notches", "apart") in codes(told(moved, with_seam("side", ease=Range(-0.5, 14))))


def test_a_lost_notch_leaves_its_partner_alone():
    finding = one("seam-notches", {("front", "S"): without_notch("hip")})
    assert (finding.code, finding.object, finding.size) == ("no-partner", "back.side, hip", "S")
    assert finding.file == "sizes/S/back.svg"


def test_a_notch_that_faces_a_joint_of_the_other_side_needs_no_partner():
    assert not [f for f in told() if f.where == "seams.waist"]
    away = told({("band", "S"): notch_moved("side-seam", 5)})
    assert ("seam-notches", "no-partner") in codes(away)


@pytest.mark.parametrize("caught", ["strips", "notions"])
def test_a_notch_where_a_strip_or_an_elastic_is_caught_needs_no_partner(caught):
    faults = {("front", size): renamed("hip", "loop") for size in SIZES}
    faults |= {("back", size): without_notch("hip") for size in SIZES}
    assert ("seam-notches", "no-partner") in codes(told(faults))
    assert ("seam-notches", "no-partner") not in codes(told(faults, pattern=with_loop(caught)))


def test_a_notch_for_a_strip_that_one_size_lost_on_one_side_is_told():
    faults = {(piece, size): renamed("hip", "loop") for size in SIZES for piece in ("front", "back")}
    faults["back", "M"] = lambda piece: without_notch("loop")(renamed("hip", "loop")(piece))
    found = [f for f in told(faults, pattern=with_loop("strips")) if f.check == "seam-notches"]
    assert [(f.code, f.size, f.object) for f in found] == [("no-partner", "M", "front.side, loop")]


def renamed(old: str, new: str):
    return lambda piece: replace(
        piece, notches=tuple(replace(n, name=new) if n.name == old else n for n in piece.notches)
    )


def with_loop(kind: str):
    """The skirt's pattern with a loop, as a strip or as an elastic."""
    title = {"en": "Loop"}
    length = parse_sum("10 cm")
    cut = (Cut("shell", dict.fromkeys(SIZES, 2), dict.fromkeys(SIZES, 0)),)
    strip = Strip(name="loop", title=title, cut=cut, width_mm=10.0, make="doubled", length=length)
    elastic = Notion(name="loop", title=title, length=dict.fromkeys(SIZES, length), stretched=Range(0.8, 0.9, True))
    return replace(PATTERN, **{kind: {"loop": strip if kind == "strips" else elastic}})


def test_single_against_double():
    finding = one("seam-notches", {("back", "M"): notch_style("hip", "double")})
    assert (finding.code, finding.object) == ("kind", "back.side, hip")
    assert finding.found == "double, and single on front.side"


def test_notches_in_another_order():
    def exchanged(piece):
        names = {"hip": "knee", "knee": "hip"}
        return replace(piece, notches=tuple(replace(n, name=names.get(n.name, n.name)) for n in piece.notches))

    def elsewhere(piece):
        return notch_moved("hip", 5)(exchanged(piece))

    assert ("seam-notches", "order") in codes(told({("back", "M"): elsewhere}))


def nameless(piece):
    return replace(piece, notches=tuple(replace(n, name=None) if n.edge == "side" else n for n in piece.notches))


def test_notches_without_names_are_matched_in_their_order():
    faults = {(piece, size): nameless for piece in ("front", "back") for size in PATTERN.sizes}
    assert told(faults) == []
    faults["back", "L"] = lambda piece: nameless(notch_moved("knee", 5)(piece))
    assert {(f.code, f.size) for f in told(faults) if f.check == "seam-notches"} == {("apart", "L")}
    faults["back", "L"] = lambda piece: nameless(without_notch("knee")(piece))
    lonely = [f for f in told(faults) if f.check == "seam-notches"]
    assert [(f.code, f.object) for f in lonely] == [("no-partner", "front.side, unnamed notch")]


def test_shared_names_tell_which_way_an_edge_runs():
    subject = garment()
    assert len(directions(subject, PATTERN.seams["side"])) == 1
    way = decided_direction(subject, PATTERN.seams["side"])
    assert way is not None
    assert way.a == way.b


def test_edges_of_one_piece_run_through_their_shared_corner():
    pattern = with_seam("bag", a=PATTERN.seams["bag"].a[::-1], b=PATTERN.seams["bag"].b[::-1])
    way = decided_direction(garment(pattern=pattern), pattern.seams["bag"])
    assert way is not None
    assert way.a == way.b == (True, True, True)


def test_an_edge_with_a_mark_runs_against_its_outline_and_the_others_along_theirs():
    subject = garment()
    assert [(w.a, w.b) for w in directions(subject, PATTERN.seams["waist"])] == [((False, True), (True,))]


def ways(one, *others, **said):
    """The ways that are open for a seam in a garment that has it, and other seams."""
    pattern = replace(PATTERN, seams={each.name: each for each in (one, *others)}, **said)
    return [(way.a, way.b) for way in directions(garment(pattern=pattern), one)]


def test_joints_of_a_side_meet_where_their_neighbours_are_sewn_together():
    free = seam("waist", ["front.waist", "back.waist"], ["band.lower"], notches=False)
    assert ways(free, PATTERN.seams["side"]) == [((False, True), (True,))]


def test_neighbours_tell_more_than_names_of_notches_which_may_be_given_twice():
    def misleading(piece):
        at = {"front": 0.2, "back": 0.8}[piece.piece] * 500
        return replace(piece, notches=(*piece.notches, notch({"side": piece.edge("side").path}, "side", "n", at)))

    faults = {(p, s): lambda d: misleading(replace(d, notches=())) for p in ("front", "back") for s in PATTERN.sizes}
    side = replace(PATTERN.seams["side"], notches=False)
    pattern = replace(PATTERN, seams={"side": side, "waist": PATTERN.seams["waist"]}, pieces=_without_takes())
    way = decided_direction(garment(faults, pattern), side)
    assert way is not None
    assert way.a == way.b


def test_both_edges_of_a_tube_have_the_same_neighbours_at_the_same_ends():
    tube = seam("tube", ["band.cf"], ["band.end"])
    assert ways(tube, pieces=pattern_with({("band", "cf"): EdgeSpec()}).pieces) == [((False,), (True,))]


def test_two_halves_of_one_edge_meet_at_the_fold():
    twice = seam("whole", ["front.waist", "front.waist"], ["pocket.right"], notches=False, angles=False)
    assert {a for a, _ in ways(twice)} == {(True, False)}


def test_an_edge_sewn_to_its_mirror_image_runs_alike_on_both_sides():
    closed = seam("middle", ["pocket.left"], ["pocket.left"])
    ways = directions(garment(pattern=replace(PATTERN, seams={"middle": closed})), closed)
    assert [(way.a, way.b) for way in ways] == [((False,), (False,))]


def test_a_way_that_nothing_tells_is_told_where_it_matters():
    lost = {(p, s): lambda d: replace(d, notches=()) for p in ("front", "back") for s in PATTERN.sizes}
    pattern = replace(PATTERN, seams={"side": PATTERN.seams["side"]}, pieces=_without_takes())
    assert not [f for f in told(lost, pattern) if f.check == "seam-direction"]  # all corners are right angles
    odd = {(p, s): _slanted if p == "front" else _slanted_otherwise for p, s in lost}
    found = one("seam-direction", odd, pattern)
    assert (found.code, found.where, found.severity) == ("undecided", "seams.side", "warn")


def _without_takes():
    pieces = dict(PATTERN.pieces)
    return {
        **pieces,
        "back": replace(pieces["back"], edges={k: v for k, v in pieces["back"].edges.items() if k != "waist"}),
    }


def _slanted(piece):
    """A right angle at the waist and 80 degrees at the hem: one fault if like ends meet, two if not."""
    low, high = piece.edge("hem").path[0].start, piece.edge("side").path[0].start
    side = Cubic(high, Point(high.x, high.y + 200), Point(low.x - 35.3, low.y - 200), low)
    return replace(with_edges(piece, {"side": (side,)}), notches=())


def _slanted_otherwise(piece):
    """The same, its other edges called so that nothing but the side tells where it belongs."""
    names = {"waist": "upper", "hem": "lower"}
    made = _slanted(piece)
    return replace(made, edges=tuple(replace(edge, name=names.get(edge.name, edge.name)) for edge in made.edges))


def test_corners_that_do_not_join_to_a_straight_line_warn():
    def sloped(piece):
        side, low = piece.edge("side").path[0], piece.edge("hem").path[0].start
        return with_edges(piece, {"side": (Cubic(side.start, side.control1, Point(low.x - 17.5, low.y - 200), low),)})

    finding = one("seam-angles", {("front", "M"): sloped})
    assert (finding.severity, finding.size, finding.where) == ("warn", "M", "seams.side")
    assert finding.found == "175.0 degrees"
    assert not [f for f in told({("front", "M"): sloped}, with_seam("side", angles=False)) if f.check == "seam-angles"]


def test_the_two_corners_of_a_straight_side_are_right_angles():
    subject = garment()
    way = decided_direction(subject, PATTERN.seams["side"])
    assert way is not None
    for at_end in (False, True):
        ends = seam_end(subject, PATTERN.seams["side"], way, "M", at_end)
        assert [end.deg for end in ends] == pytest.approx([90, 90])


def test_a_size_that_lacks_a_piece_is_not_walked():
    pieces = {**PATTERN.pieces, "front": replace(PATTERN.pieces["front"], sizes=("S", "M"))}
    subject = garment(pattern=pattern_with(pieces=pieces))
    del subject.cuts["front"]["L"]
    assert {size for s, size, _, _ in walks(subject) if s.name == "side"} == {"S", "M", "XL", "XXL"}


def test_a_side_that_is_too_long_by_what_lies_between_two_notches_may_hold_a_dart_that_nobody_said():
    unsaid = told(pattern=pattern_with({("back", "waist"): EdgeSpec()}))
    remedy = next(each.remedy for each in unsaid if each.check == "seam-lengths")
    assert 'takes = [{ from = "dart-a", to = "dart-b", kind = "dart" }] }; else shorten' in remedy
    assert "dart" not in one("seam-lengths", {("front", "M"): longer(3)}).remedy


@pytest.mark.parametrize("sizes", [("L",), SIZES])
def test_two_notches_that_have_each_others_name_are_told_as_that_alone(sizes):
    """In every size the names would tell that the seam runs the other way."""
    other = {"hip": "knee", "knee": "hip"}

    def exchanged(piece: DrawnPiece) -> DrawnPiece:
        return replace(piece, notches=tuple(replace(mark, name=other[mark.name]) for mark in piece.notches))

    found = [f for f in told({("front", size): exchanged for size in sizes}) if f.check == "seam-notches"]
    assert [(f.code, f.severity, f.size, f.where) for f in found] == [
        ("exchanged", "block", size, "seams.side") for size in sizes
    ]
    assert found[0].message == "notches hip and knee of front.side have probably changed places"


def test_a_notch_that_is_lost_beside_another_is_no_exchange():
    found = [f for f in told({("front", "L"): without_notch("hip")}) if f.check == "seam-notches"]
    assert {f.code for f in found} == {"no-partner"}


@pytest.mark.parametrize(("sizes", "notch_first"), [(("M",), True), (SIZES, False)])
def test_a_notch_is_to_be_put_back_in_a_size_and_not_where_every_size_is_off(sizes, notch_first):
    parts = {side: (SideEdge(side, "side", part=EdgePart("waist", "hip")),) for side in ("front", "back")}
    pattern = with_seam("side", a=parts["front"], b=parts["back"])
    found = told({("front", size): notch_moved("hip", 5) for size in sizes}, pattern=pattern)
    remedies = [f.remedy or "" for f in found if f.check == "seam-lengths"]
    assert len(remedies) == len(sizes)
    assert [remedy.startswith("put notch hip") for remedy in remedies] == [notch_first] * len(sizes)
