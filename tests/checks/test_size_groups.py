"""A piece that is the same in groups of sizes, drawn in every size's own file: what is drawn tells that it is meant."""

from collections.abc import Mapping

import pytest

from pipeline.checks.all import check_garment
from pipeline.checks.causes import places_of
from pipeline.checks.telling import tell
from pipeline.geometry.points import Point
from pipeline.model.findings import Finding
from pipeline.model.pieces import MarkPoint
from tests.checks.skirt import PATTERN, SIZES, Change, Faults, garment, replace, told
from tests.checks.skirt_faults import bag, bags

TWO = {"S": 0, "M": 0, "L": 1, "XL": 1, "XXL": 1}
OF_GRADING = ("grading-lengths", "grading-steps", "grading-paths", "size-copies", "size-groups")


def marked(groups: Mapping[str, int], slip: Mapping[str, float], step_mm: float = 8.0) -> Faults:
    """The outer end of a pocket's mouth on the front, which goes with the size and with the pocket."""

    def point(size: str) -> Change:
        x = 60 + 3 * SIZES.index(size) + step_mm * groups[size]
        return lambda piece: replace(piece, points=(MarkPoint("pocket-outer", Point(x, 200 + slip.get(size, 0))),))

    return {("front", size): point(size) for size in SIZES}


def grading(faults: Faults) -> list[Finding]:
    return [f for f in told(faults) if f.check in OF_GRADING]


@pytest.mark.parametrize(
    "groups", [TWO, {"S": 0, "M": 0, "L": 1, "XL": 1, "XXL": 2}, {"S": 0, "M": 1, "L": 1, "XL": 2, "XXL": 2}]
)
def test_a_piece_that_is_the_same_in_groups_of_sizes_breaks_no_grading(groups):
    """A first or last size of its own is a group where the steps stay even."""
    assert grading(bags(groups)) == []


def test_a_step_in_a_single_size_and_groups_that_come_again_are_told():
    assert grading(bags({"S": 0, "M": 0, "L": 0, "XL": 0, "XXL": 1})) != []
    assert grading(bags({"S": 0, "M": 0, "L": 1, "XL": 0, "XXL": 0})) != []


@pytest.mark.parametrize("size", ["L", "XL", "XXL"])
def test_one_size_that_is_narrower_than_its_group_is_told_first_and_what_comes_of_it_beneath(size):
    faults = {**bags(TWO), ("pocket", size): bag(8.0, -5)}
    findings = [f for f in check_garment(garment(faults)) if f.check in (*OF_GRADING, "seam-lengths")]
    first, *rest = tell(findings, (SIZES,), places_of(PATTERN))
    other = "XL" if size == "L" else "L"
    assert first.startswith(
        f"BLOCKS: pocket.foot, size {size}: pocket: foot is 5.0 mm shorter than in size {other}, though sizes L to XXL"
        " are meant to have one outline"
    )
    assert [line for line in rest if line.startswith(("BLOCKS", "look at"))] == []
    assert any("[seam-lengths/too-short]" in line for line in rest)


def test_of_two_sizes_that_differ_alone_what_their_seam_says_is_told():
    """Nothing tells whether S or M is wrong, or neither: their lining is the same in both."""
    findings = check_garment(garment({**bags(TWO), ("pocket", "M"): bag(0.0, -5)}))
    assert {f.size for f in findings if f.check == "seam-lengths"} == {"M"}


def test_a_mark_that_is_named_after_such_a_piece_goes_with_it():
    groups = bags(TWO)
    assert grading({**groups, **marked(TWO, {})}) == []
    assert {f.check for f in grading(marked(TWO, {}))} == {"grading-paths"}, "no such piece is drawn"


@pytest.mark.parametrize("size", SIZES)
def test_such_a_mark_that_slips_in_one_size_is_told_there(size):
    found = grading({**bags(TWO), **marked(TWO, {size: 20.0})})
    assert {(f.check, f.code, f.piece, f.size, f.where) for f in found} == {
        ("grading-paths", "off", "front", size, "pocket-outer")
    }
    assert [f.message for f in found] == ["front: pocket-outer, point breaks the path over the sizes by 20.0 mm"]


def test_a_mark_that_steps_farther_than_its_piece_is_told():
    assert {f.check for f in grading({**bags(TWO, 4.0), **marked(TWO, {}, 9.0)})} == {"grading-paths"}
