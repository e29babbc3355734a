"""Pieces that one master draws for all sizes: symmetric, or plainly not."""

import pytest

from pipeline.model.pieces import DrawnPiece
from tests.checks.skirt import Change, lines, told
from tests.checks.skirt_faults import in_all, with_edges


def pocket(slip_mm: float) -> Change:
    """A rectangular pocket, one upper corner of which lies lower by so much."""

    def change(piece: DrawnPiece) -> DrawnPiece:
        return with_edges(
            piece,
            {
                "top": lines((0, 0), (140, slip_mm)),
                "right": lines((140, slip_mm), (140, 180)),
                "foot": lines((140, 180), (0, 180)),
                "left": lines((0, 180), (0, 0)),
            },
        )

    return change


def found(slip_mm: float) -> list[tuple[str, str, str | None]]:
    findings = told(in_all("pocket", pocket(slip_mm)))
    return [(f.code, f.severity, f.piece) for f in findings if f.check == "nearly-symmetric"]


@pytest.mark.parametrize("slip_mm", [2, 4, -4])
def test_a_corner_that_has_slipped_by_a_few_millimetres_warns(slip_mm: float):
    assert found(slip_mm) == [("nearly", "warn", "pocket")]


@pytest.mark.parametrize("slip_mm", [0, 0.5, 14])
def test_what_is_symmetric_or_plainly_is_not_passes(slip_mm: float):
    assert found(slip_mm) == []
