"""What meets a fold does so square."""

import pytest

from pipeline.geometry.points import Point
from tests.checks.skirt import lines, one, told
from tests.checks.skirt_faults import with_edges


def dipped(by_mm):
    """The waist meets the fold `by_mm` lower than its side, over 160 mm; the fold is shorter."""

    def change(piece):
        waist, fold = piece.edge("waist").path[0], piece.edges[-1]
        low = Point(0, by_mm)
        return with_edges(piece, {"waist": lines(low, waist.end), fold.name: lines(fold.path[0].start, low)})

    return change


@pytest.mark.parametrize("by_mm", [4, -4])
def test_an_edge_within_a_degree_and_a_half_of_square_is_let_be(by_mm):
    assert not [f for f in told({("front", "S"): dipped(by_mm)}) if f.check == "fold-square"]


def test_a_v_in_the_opened_piece_warns():
    finding = one("fold-square", {("front", "S"): dipped(8)})
    assert (finding.code, finding.severity, finding.piece, finding.where) == ("not-square", "warn", "front", "waist")
    assert finding.found == "92.9 degrees"
