"""Edges in no seam are listed: a seam that was forgotten shows nowhere else."""

from pipeline.checks.all import check_garment
from pipeline.checks.garment import Garment
from pipeline.model.pattern import Notion, Pattern, Reference, Strip, Sum, Term
from pipeline.model.piece_specs import Cut, EdgePart, EdgeSpec
from tests.checks.skirt import PATTERN, SIZES, garment, pattern_with, replace


def listed(pattern=PATTERN) -> list[str]:
    found = [f for f in check_garment(garment(pattern=pattern)) if f.check == "seams-named"]
    assert [f.severity for f in found] == ["info"] * len(found)
    return found[0].found.split(", ") if found else []


def test_folds_hems_and_what_is_sewn_are_not_listed():
    listed_edges = listed()
    for edge in ("front.cf", "front.hem", "front.side", "back.side", "front.waist"):
        assert edge not in listed_edges


def test_a_seam_that_is_forgotten_leaves_both_its_edges_in_the_list():
    without = replace(PATTERN, seams={name: seam for name, seam in PATTERN.seams.items() if name != "side"})
    assert set(listed(without)) - set(listed()) == {"front.side", "back.side"}


def test_a_lining_is_named_by_the_seam_in_which_it_hangs_and_its_shell_is_not():
    hung = {**PATTERN.seams, "side": replace(PATTERN.seams["side"], kind="lining")}
    assert set(listed(replace(PATTERN, seams=hung))) - set(listed()) == {"back.side"}


def test_what_a_strip_goes_round_is_sewn_to_it():
    round_hem = Sum("2 x pocket.top", (Term(2.0, Reference("pocket", "top")),))
    cut = (Cut("shell", dict.fromkeys(SIZES, 1), dict.fromkeys(SIZES, 0)),)
    tape = Strip(name="tape", title={}, cut=cut, width_mm=20.0, make="flat", length=round_hem, goes_round=round_hem)
    assert set(listed()) - set(listed(replace(PATTERN, strips={"tape": tape}))) == {"pocket.top"}


def test_the_opening_of_a_zip_is_sewn_to_it_and_what_lies_beside_it_is_listed():
    part = Reference("pocket", "right", part=EdgePart("top", "foot"))
    opening = Sum("2 x pocket.top", (Term(2.0, Reference("pocket", "top")), Term(1.0, part)))
    zip_ = Notion(name="zip", title={}, opening=opening)
    assert set(listed()) - set(listed(replace(PATTERN, notions={"zip": zip_}))) == {"pocket.top"}


def test_an_edge_with_a_row_of_its_own_is_sewn_on_by_that():
    rows = pattern_with({("pocket", "top"): EdgeSpec(topstitch_mm=(2.0,))})
    assert set(listed()) - set(listed(rows)) == {"pocket.top"}


def of_fusing(trim_mm: float | None) -> Pattern:
    """The pocket's lining is cut of a second material, as a front derived from the skirt's is."""
    fusing = (Cut("fusing", dict.fromkeys(SIZES, 1), dict.fromkeys(SIZES, 0)),)
    pieces = PATTERN.pieces
    front = replace(pieces["front"], name="front-fusing", cut=fusing, edges={}, source="front", trim_mm=trim_mm)
    pieces = pieces | {"pocket-lining": replace(pieces["pocket-lining"], cut=fusing), "front-fusing": front}
    seams = {name: seam for name, seam in PATTERN.seams.items() if name != "bag"}
    return replace(
        PATTERN, pieces=pieces, seams=seams, materials=PATTERN.materials | {"fusing": PATTERN.materials["shell"]}
    )


def edges_listed(pattern: Pattern) -> set[str]:
    found = [f for f in check_garment(Garment(pattern, garment().cuts)) if f.check == "seams-named"]
    return {name.split(".")[0] for f in found for name in f.found.split(", ")}


def test_an_interfacing_that_is_drawn_is_fused_and_in_no_seam():
    """Which cloth is one, tells a piece of it that takes another's outline, trimmed."""
    assert "pocket-lining" not in edges_listed(of_fusing(trim_mm=4.0))
    assert "pocket-lining" in edges_listed(of_fusing(trim_mm=None))


def test_of_a_cloth_that_is_sewn_elsewhere_nothing_is_taken_as_fused():
    made = of_fusing(trim_mm=4.0)
    sewn = replace(
        made, pieces=made.pieces | {"band": replace(made.pieces["band"], cut=made.pieces["pocket-lining"].cut)}
    )
    assert "pocket-lining" in edges_listed(sewn)
