"""What lies beyond a seam's ends: lines that run on, pieces turned onto each other, shapes that may bend."""

import math

import pytest

from pipeline.checks.garment import Garment
from pipeline.checks.seam_ends import lie
from pipeline.checks.seam_way import decided_direction
from pipeline.geometry.curves import Cubic, Line, Path
from pipeline.geometry.points import Point
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import FOLD, HEM, geometry, lines, replace, seam


def found(garment: Garment, *checks: str) -> list[tuple[str, str, str | None]]:
    return [(f.check, f.code, f.where) for f in geometry(garment) if f.check in checks]


def panel(name: str, foot: float, width: float = 100) -> dict[str, Path]:
    """A panel whose side leans: both its corners are as far off a right angle, one more and one less."""
    return ring(top=(0, 0), side=(width, 0), foot=(width + foot, 200), middle=(0, 200))


SIDE = seam("side", ["front.side"], ["back.side"])


def test_a_hem_that_peaks_at_a_side_seam_is_told_though_its_corners_are_equal():
    flared = sewn({"front": panel("front", 30), "back": panel("back", 30)}, SIDE)
    assert found(flared, "seam-angles") == [("seam-angles", "bend", "seams.side")] * 2


def test_a_facing_of_a_slanted_edge_ends_with_equal_corners():
    facing = ring(top=(60, 0), side=(100, 0), foot=(130, 200), inner=(90, 200))
    faced = sewn({"front": panel("front", 30), "back": facing}, SIDE)
    assert found(faced, "seam-angles", "allowance-ends", "seam-direction") == []
    way = decided_direction(faced, SIDE)
    assert way is not None
    assert {lie(faced, SIDE, way, "M", at_end) for at_end in (False, True)} == {"lies on"}


def test_a_facing_whose_corner_is_not_that_of_its_piece_is_told():
    facing = ring(top=(60, 30), side=(100, 0), foot=(130, 200), inner=(90, 200))
    inner = seam("inner", ["back.top"], ["front.middle"], notches=False, ease=replace(SIDE.ease, low=-900, high=900))
    told = sewn({"front": panel("front", 30), "back": facing}, SIDE, inner)
    assert ("seam-angles", "bend", "seams.side") in found(told, "seam-angles")


FACED = replace(SIDE, facing=True)


def test_a_seam_that_is_said_to_be_faced_has_equal_corners_whatever_its_shapes_tell():
    """Two flared panels, as the two layers of a tie's end: without the word their hem peaks."""
    flared = {"front": panel("front", 30), "back": panel("back", 30)}
    assert found(sewn(flared, FACED), "seam-angles", "joined-lines") == []
    joined = {"front": panel("front", 30), "back": panel("back", -30)}
    assert found(sewn(joined, SIDE), "seam-angles") == []
    assert found(sewn(joined, FACED), "seam-angles") == [("seam-angles", "bend", "seams.side")] * 2


def test_a_seam_that_is_said_to_be_faced_is_held_to_it_where_the_facings_edge_is_raw():
    facing = ring(top=(60, 30), side=(100, 0), foot=(130, 200), inner=(90, 200))
    pieces = {"front": panel("front", 30), "back": facing}
    assert found(sewn(pieces, SIDE), "seam-angles") == []
    assert found(sewn(pieces, FACED), "seam-angles") == [("seam-angles", "bend", "seams.side")]


def neck(depth: float) -> dict[str, Path]:
    """A piece on the fold below a neckline."""
    curve = Cubic(Point(0, depth), Point(60, depth), Point(80, depth - 40), Point(90, 0))
    edges = ring(cf=(0, depth + 60), shoulder=(90, 0), end=(130, 12), foot=(130, depth + 60))
    return {"cf": lines((0, depth + 60), (0, depth)), "neck": (curve,)} | {
        k: edges[k] for k in ("shoulder", "end", "foot")
    }


def test_a_neck_facing_is_turned_onto_its_piece():
    wide = neck(90) | ring(cf=(0, 150), shoulder=(90, 0), end=(200, 33), foot=(200, 150))
    wide["cf"] = lines((0, 150), (0, 90))
    wide = {name: wide[name] for name in ("cf", "neck", "shoulder", "end", "foot")}
    faced = sewn(
        {"front": wide, "facing": neck(90)},
        seam("neck", ["front.neck"], ["facing.neck"]),
        edges={"front.cf": FOLD, "facing.cf": FOLD},
        grain=(20, 140, 110),
    )
    assert found(faced, "seam-angles", "seam-direction") == []


def test_a_pocket_bag_ends_with_equal_corners():
    bag = ring(mouth=(0, 0), right=(100, 30), foot=(110, 150), left=(-20, 150))
    around = seam("bag", ["front.right", "front.foot", "front.left"], ["back.right", "back.foot", "back.left"])
    assert found(sewn({"front": bag, "back": bag}, around), "seam-angles", "allowance-ends") == []


def test_a_fly_may_end_on_its_piece_at_any_angle():
    fly = ring(top=(70, 0), side=(100, 0), curve=(100, 120), inner=(72, 60))
    trousers = ring(top=(0, 0), side=(100, 0), crotch=(100, 120), leg=(140, 200), middle=(0, 200))
    crotch = seam("crotch", ["front.crotch"], ["front.crotch"])
    told = found(sewn({"front": trousers, "back": fly}, SIDE, crotch), "seam-angles")
    assert [where for *_, where in told if where != "seams.crotch"] == []


def test_a_facing_that_is_cut_on_ends_with_equal_corners():
    """The facing of a slanted front edge is cut in one with it and folded back along the edge."""
    front = ring(neck=(0, 0), self_neck=(100, 0), inner=(150, 0), hem=(150, 200), middle=(0, 200))
    folded = sewn(
        {"front": front}, seam("neck", ["front.neck"], ["front.self_neck"], ease=replace(SIDE.ease, low=50, high=50))
    )
    assert found(folded, "seam-angles") == []


def test_a_slit_ends_within_a_straight_side():
    slit = ring(top=(0, 0), side=(100, 0), slit=(100, 120), foot=(100, 200), middle=(0, 200))
    assert found(sewn({"front": slit, "back": slit}, SIDE), "seam-angles") == []


def tube(top: float, foot: float) -> dict[str, Path]:
    lean = (foot - top) / 2
    return ring(upper=(0, 0), end=(top, 0), lower=(top + lean, 80), start=(-lean, 80))


def test_a_cuff_may_flare_below_a_tapering_sleeve():
    shapes = {"sleeve": tube(130, 100), "cuff": tube(100, 130)}
    onto = seam("cuff", ["sleeve.lower"], ["cuff.upper"])
    seams = [seam(name, [f"{name}.start"], [f"{name}.end"], angles=False) for name in shapes]
    garment = sewn(shapes, onto, *seams)
    assert found(garment, "seam-angles") == []
    way = decided_direction(garment, onto)
    assert way is not None
    assert lie(garment, onto, way, "M", True) == "bends"
    alone = sewn(shapes, onto)  # nothing is sewn beside it: what one sees is an edge with a bend in it
    assert ("seam-angles", "bend", "seams.cuff") in found(alone, "seam-angles")


def test_angles_false_does_not_hide_a_step_of_allowances():
    square = ring(top=(0, 0), side=(100, 0), hem=(100, 200), middle=(0, 200))
    edges = {"front.hem": HEM, "back.hem": replace(HEM, allowance_mm=25.0)}
    for angles in (True, False):
        garment = sewn({"front": square, "back": square}, replace(SIDE, angles=angles), edges=edges)
        assert ("allowance-ends", "step", "hem") in found(garment, "allowance-ends")


def necks(back_depth: float, hook: float) -> Garment:
    """A front and a back joined at a level shoulder that both necklines meet at right angles."""
    front = (Cubic(Point(0, 90), Point(50, 90), Point(90, 60), Point(90, 0)),)
    back: Path = (Cubic(Point(0, back_depth), Point(60, back_depth), Point(90, back_depth * 0.6), Point(90, 0)),)
    if hook:
        bend = Point(90 - hook, 9)
        back = (
            Line(Point(0, 30), Point(30, 30)),
            Line(Point(30, 30), bend),
            Cubic(bend, Point(88, 6), Point(90, 4), Point(90, 0)),
        )
    shapes = {}
    for name, curve in (("front", front), ("back", back)):
        start = curve[0].start
        rest = ring(cf=(0, 200), shoulder=(90, 0), end=(160, 0), foot=(160, 200))
        shapes[name] = {"cf": lines((0, 200), (start.x, start.y)), "neck": curve} | {
            k: rest[k] for k in ("shoulder", "end", "foot")
        }
    return sewn(shapes, seam("shoulder", ["front.shoulder"], ["back.shoulder"]), grain=(20, 190, 110))


def test_a_shallow_back_neck_that_goes_on_bending_is_no_hook():
    assert found(necks(20, 0), "joined-lines") == []
    assert found(necks(0, 12), "joined-lines") == [("joined-lines", "bend", "neck")]


@pytest.mark.parametrize("lean", [5, 30])
def test_the_bend_is_told_in_degrees(lean):
    told = [
        f
        for f in geometry(
            sewn(
                {"front": panel("front", lean), "back": panel("back", 0)},
                replace(SIDE, ease=replace(SIDE.ease, low=-9, high=9)),
            )
        )
        if f.check == "seam-angles"
    ]
    off = math.degrees(math.atan2(lean, 200))
    assert [f.found for f in told] == ([f"{180 + off:.1f} degrees", f"{180 - off:.1f} degrees"] if off > 3 else [])


def test_two_layers_of_one_piece_that_are_turned_onto_each_other_have_equal_corners():
    bag = ring(mouth=(0, 0), right=(100, 0), foot=(130, 120), left=(-30, 120))
    around = ["bag.right", "bag.foot", "bag.left"]
    assert found(sewn({"bag": bag}, seam("round", around, around)), "seam-angles") == []


def collar(lean: float) -> Garment:
    """A collar whose outer edge is sewn to that of another copy; its point is as much off a right angle as it leans."""
    shape = ring(neck=(0, 0), front=(100, 0), outer=(100 + lean, 60), middle=(0, 60))
    return sewn({"collar": shape}, seam("outer", ["collar.outer"], ["collar.outer"]), grain=(50, 50, 10))


def test_a_point_that_both_layers_have_is_meant():
    assert found(collar(40), "seam-angles") == []


def test_a_middle_seam_that_leaves_its_hem_with_a_peak_is_told():
    assert found(collar(10), "seam-angles") == [("seam-angles", "bend", "seams.outer")]


def collars(under_point: float = 160, *, cut_twice: bool = False) -> Garment:
    """Upper and under collar, half of each on the fold, with corners off the right angle, sewn to one neck; or, of a
    neck that is there twice as often, each to its own."""
    upper = ring(outer=(0, 0), end=(160, 0), neck=(120, 60), cb=(0, 60))
    under = ring(outer=(0, 0), end=(under_point, 0), neck=(120, 60), cb=(0, 60))
    body = ring(neck=(0, 0), front=(120, 0), hem=(120, 200), cb=(0, 200))
    seams = [seam(edge, [f"upper.{edge}"], [f"under.{edge}"], ease=WIDE) for edge in ("outer", "end")]
    necks = [seam(f"neck-{layer}", [f"{layer}.neck"], ["body.neck"]) for layer in ("upper", "under")]
    folds = {"body.cb": FOLD} if cut_twice else {f"{piece}.cb": FOLD for piece in ("upper", "under", "body")}
    edges = {**folds, "body.hem": HEM}
    return sewn({"upper": upper, "under": under, "body": body}, *seams, *necks, edges=edges, grain=(20, 50, 10))


WIDE = replace(SIDE.ease, low=-90, high=90)


def test_two_collars_that_are_sewn_to_one_neck_lie_on_each_other():
    assert [told for told in found(collars(), "seam-angles") if told[2] == "seams.end"] == []


def test_two_collars_whose_corners_differ_are_told():
    assert ("seam-angles", "bend", "seams.end") in found(collars(130), "seam-angles")


def test_where_there_is_a_neck_for_each_of_two_pieces_their_edges_run_on():
    """As the top of a bag does across its sides: its facing is there once for each."""
    assert ("seam-angles", "bend", "seams.end") in found(collars(cut_twice=True), "seam-angles")
