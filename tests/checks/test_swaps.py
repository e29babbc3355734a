"""Two sizes that changed places: each fits in itself, so only the row of sizes tells."""

from pipeline.checks.all import check_garment
from pipeline.checks.causes import places_of
from pipeline.checks.telling import tell
from tests.checks.skirt import PATTERN, SIZES, garment
from tests.checks.skirt_faults import drawn_as, longer


def swapped(one: str, two: str, *pieces: str):
    return {(piece, size): drawn_as(other) for piece in pieces for size, other in ((one, two), (two, one))}


def told(faults) -> list[tuple[str | None, str]]:
    found = [f for f in check_garment(garment(faults)) if f.check == "size-swaps"]
    return [(f.size, f.message) for f in found]


def test_two_sizes_that_changed_places_are_told_as_that():
    message = "the drawings of L and XL have probably been swapped"
    assert told(swapped("L", "XL", "front", "back", "band")) == [("L", message), ("XL", message)]
    assert [size for size, _ in told(swapped("S", "M", "front", "back", "band"))] == ["S", "M"]


def test_sizes_in_order_a_slip_in_one_and_one_piece_alone_are_no_swap():
    assert told({}) == []
    assert told({("front", "L"): longer(6), ("back", "L"): longer(6)}) == []
    assert told(swapped("L", "XL", "front")) == []


def test_a_swap_is_told_first_with_what_comes_of_it_beneath():
    findings = check_garment(garment(swapped("L", "XL", "front", "back", "band")))
    geometry = [f for f in findings if f.check.startswith(("grading", "size", "finished", "body"))]
    lines = tell(geometry, (SIZES,), places_of(PATTERN))
    assert "have probably been swapped" in lines[0]
    assert [line for line in lines if "[grading" in line and not line.startswith("      ")] == []
