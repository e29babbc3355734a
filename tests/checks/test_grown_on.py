"""What is cut in one with a piece: along it nothing is sewn, and its width is no allowance."""

from pipeline.checks.all import check_garment
from pipeline.model.piece_specs import EdgePart, EdgeSpec, GrownOn
from pipeline.model.pieces import GrownPart
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import notch, replace
from tests.checks.test_seam_parts import joined

LEFT = ring(waist=(0, 0), side=(200, 0), hem=(200, 600), cf=(0, 600))
"""A front whose centre front is walked up: 600 mm, from the hem to the waist."""
BAND = ring(low=(0, 0), side=(200, 0), top=(200, 60), cf=(0, 60))
LEGS = joined("front", ["left.cf[zip..hem]"], ["left.cf[zip..hem]"])
BANDED = joined("waist", ["left.waist"], ["band.top"])
HEM = EdgeSpec(allowance_mm=40, corner="turned", hem=True)


def part(start: str = "waist", end: str = "zip", **more) -> GrownOn:
    return GrownOn(of=EdgePart(start, end), width_mm=40, **more)


FLY = (part(),)


def found(*seams, grown=FLY, shapes=None, edges=None) -> list[tuple[str, str, str]]:
    shapes = shapes or {"left": LEFT}
    said = {"left.cf": EdgeSpec(grown_on=tuple(grown)), "left.hem": HEM, **(edges or {})}
    marks = {"left": (notch(LEFT, "cf", "zip", 450), notch(LEFT, "cf", "low", 300))}
    outcomes = check_garment(sewn(shapes, *seams, edges=said, grain=(40, 90, 10), notches=marks))
    assert [f.check for f in outcomes if f.code == "check-failed"] == []
    return [(f.check, f.code, f.found) for f in outcomes]


def unsewn(outcomes) -> set[str]:
    return {name for check, _, told in outcomes if check == "seams-named" for name in told.split(", ")}


def test_what_is_folded_is_not_told_as_sewn_in_no_seam():
    assert unsewn(found(LEGS)) == {"left.waist", "left.side"}
    assert unsewn(found(LEGS, grown=())) == {"left.waist", "left.side", "left.cf[zip..waist]"}


def test_a_placket_all_along_is_sewn_to_nothing():
    assert "left.cf" not in " ".join(unsewn(found(BANDED, grown=(part("waist", "hem"),), shapes=PAIR)))


def test_what_is_left_beside_it_is_told_by_its_places():
    assert "left.cf[hem..zip]" in unsewn(found(BANDED, shapes=PAIR))


PAIR = {"left": LEFT, "band": BAND}


def test_a_seam_that_runs_on_over_it_is_told_and_one_that_ends_there_or_lies_on_it_is_not():
    on = [joined("front", [side], [side]) for side in ("left.cf", "left.cf[low..waist]")]
    for seam, length in zip(on, ("150.0", "150.0"), strict=True):
        assert ("grown-on-sewn", "runs-on", f"{length} mm of it folded") in found(seam)
    fold = joined("front", ["left.cf[waist..zip]"], ["left.cf[waist..zip]"])
    for seam in (LEGS, fold):
        assert not [told for told in found(seam) if told[0] == "grown-on-sewn"]


def test_allowances_are_compared_beside_it_and_not_along_it():
    narrow = {"band.top": EdgeSpec(allowance_mm=6)}
    lapped = joined("lapped", ["left.cf[waist..zip]"], ["band.cf"])
    band = ring(low=(0, 0), side=(200, 0), top=(200, 150), cf=(0, 150))
    checks = {
        told[0] for told in found(lapped, shapes={"left": LEFT, "band": band}, edges={"band.cf": narrow["band.top"]})
    }
    assert "allowance-pairs" not in checks
    plain = found(lapped, grown=(), shapes={"left": LEFT, "band": band}, edges={"band.cf": narrow["band.top"]})
    assert "allowance-pairs" in {told[0] for told in plain}


def test_at_the_corner_of_a_fold_no_raw_edge_goes_on_across_the_seam():
    """Tops that run on across a centre back, one with a facing grown on: beside it the other may have any allowance."""
    left = ring(top=(0, 0), side=(200, 0), hem=(200, 300), cb=(0, 300))
    right = ring(top=(0, 0), cb=(200, 0), hem=(200, 300), side=(0, 300))

    def ends(*grown: GrownOn) -> list[str]:
        edges = {"left.top": EdgeSpec(allowance_mm=14, grown_on=grown)}
        made = sewn({"left": left, "right": right}, joined("cb", ["left.cb"], ["right.cb"]), edges=edges)
        return [f.code for f in check_garment(made) if f.check == "allowance-ends"]

    assert ends() == ["step"]
    assert ends(part("cb", "side")) == []


def test_its_width_is_neither_a_hem_nor_an_allowance_and_a_hem_beside_it_is_let_be():
    told = {check for check, _, _ in found(LEGS, grown=(part("waist", "hem"),))}
    assert not told & {"hem-said", "hem-turned", "hem-even", "allowance-distance", "allowance-bare"}


def test_a_cut_line_that_does_not_lie_at_its_width_is_told():
    marks = {"left": (notch(LEFT, "cf", "zip", 450),)}
    made = sewn({"left": LEFT}, LEGS, edges={"left.cf": EdgeSpec(grown_on=(part("waist", "hem"),))}, notches=marks)
    assert not [f for f in check_garment(made) if f.check == "allowance-distance"]
    cut = made.cuts["left"]["M"]
    edges = [replace(e, grown_on=(GrownPart(0, 1, 45, 45),)) if e.name == "cf" else e for e in cut.edges]
    made.cuts["left"]["M"] = replace(cut, edges=tuple(edges))
    assert [f.found for f in check_garment(made) if f.check == "allowance-distance"] == [
        "5.00 mm away from where it belongs"
    ]
