"""Two sizes that changed places: each fits in itself, so only the row of sizes tells."""

from pipeline.checks.all import check_garment
from pipeline.checks.causes import places_of
from pipeline.checks.telling import tell
from tests.checks.skirt import PATTERN, SIZES, garment
from tests.checks.skirt_faults import BAGS, bags, drawn_as, longer


def swapped(one: str, two: str, *pieces: str):
    return {(piece, size): drawn_as(other) for piece in pieces for size, other in ((one, two), (two, one))}


def told(faults) -> list[tuple[str | None, str]]:
    found = [f for f in check_garment(garment(faults)) if f.check == "size-swaps"]
    return [(f.size, f.message) for f in found]


def test_two_sizes_that_changed_places_are_told_as_that():
    message = "the drawings of L and XL have probably changed places"
    assert told(swapped("L", "XL", "front", "back", "band")) == [("L", message), ("XL", message)]
    assert [size for size, _ in told(swapped("S", "M", "front", "back", "band"))] == ["S", "M"]


def test_one_piece_whose_sizes_changed_places_is_told_as_that():
    message = "front of L and XL has probably changed places"
    assert told(swapped("L", "XL", "front")) == [("L", message), ("XL", message)]


def test_sizes_that_are_no_neighbours_are_told_too():
    for one, two in (("M", "XL"), ("S", "L")):
        assert told(swapped(one, two, "front")) == [
            (size, f"front of {one} and {two} has probably changed places") for size in (one, two)
        ]
        assert {message for _, message in told(swapped(one, two, "front", "back", "band"))} == {
            f"the drawings of {one} and {two} have probably changed places"
        }


def test_several_pieces_whose_sizes_changed_places_while_others_are_in_order_are_told_each():
    assert {message for _, message in told(swapped("L", "XL", "front", "back"))} == {
        f"{piece} of L and XL has probably changed places" for piece in ("front", "back")
    }


def test_sizes_in_order_and_a_slip_in_one_are_no_swap():
    assert told({}) == []
    assert told({("front", "L"): longer(6)}) == []
    assert told({("front", "L"): longer(6), ("back", "L"): longer(6)}) == []


def test_a_pocket_that_is_the_same_in_groups_of_sizes_is_no_objection():
    """Exchanged within a group it is as it was, and exchanged across groups it is in order once they are put back."""
    groups = bags({"S": 0, "M": 0, "L": 1, "XL": 1, "XXL": 1})
    for one, two in (("L", "XL"), ("M", "L")):
        faults = {**groups, **swapped(one, two, "front", "back", "band")}
        faults |= {(piece, size): groups[piece, other] for piece in BAGS for size, other in ((one, two), (two, one))}
        assert [size for size, _ in told(faults)] == [one, two]


def test_a_swap_is_told_first_with_what_comes_of_it_beneath():
    findings = check_garment(garment(swapped("L", "XL", "front", "back", "band")))
    geometry = [f for f in findings if f.check.startswith(("grading", "size", "finished", "body"))]
    lines = tell(geometry, (SIZES,), places_of(PATTERN))
    assert "have probably changed places" in lines[0]
    assert [line for line in lines if "[grading" in line and not line.startswith("      ")] == []
