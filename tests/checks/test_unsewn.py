"""Edges in no seam are listed: a seam that was forgotten shows nowhere else."""

from pipeline.checks.all import check_garment
from pipeline.model.pattern import Reference, Strip, Sum, Term
from pipeline.model.piece_specs import Cut
from tests.checks.skirt import PATTERN, SIZES, garment, replace


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
