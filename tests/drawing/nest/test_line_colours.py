"""Colours of nests as they are drawn, on demos and on a garment from outside: neighbours differ, nothing is too thin.

What a line of these colours and widths leaves in one bit at 300 dpi is in `tests/press/test_black_and_white.py`.
"""

from itertools import pairwise
from pathlib import Path

import pytest

from pipeline.drawing.piece.pieces import draw_nest
from pipeline.drawing.styles import BLACK, NESTED, SIZE_COLOURS, WHITE
from tests.drawing.demo_nests import SOURCE, cut_of
from tests.drawing.seen import SeenLine, lines
from tests.press.test_black_and_white import WIDTHS_MM

GARMENTS = Path(__file__).resolve().parents[2] / "garments"
FOLDERS = (
    *(SOURCE / name for name in ("work-jacket", "half-circle-skirt", "child-pinafore")),
    *(GARMENTS / name for name in ("child-hoodie",)),
)
Seen = dict[str, list[SeenLine]]


@pytest.fixture(scope="module", params=FOLDERS, ids=lambda folder: folder.name)
def nests(request: pytest.FixtureRequest) -> tuple[tuple[str, ...], Seen]:
    """The sizes of a pattern in order, and the lines of each piece's nest."""
    pattern, cuts = cut_of(request.param)
    return pattern.sizes, {piece: lines(draw_nest(pattern, sizes, 0, "nested", ())) for piece, sizes in cuts.items()}


def test_neighbouring_sizes_of_a_nest_never_share_a_colour(nests: tuple[tuple[str, ...], Seen]) -> None:
    order, seen = nests
    coloured = 0
    for piece, found in seen.items():
        own: dict[str, set[str]] = {}
        for line in found:
            if len(line.sizes) == 1 and line.width_mm == NESTED.cut_mm:
                own.setdefault(line.sizes[0], set()).add(line.stroke)
        for one, other in pairwise(sorted(own, key=order.index)):
            assert own[one].isdisjoint(own[other]), (piece, one, other)
        coloured += len(own)
    assert coloured > len(order)


def test_coloured_lines_are_as_wide_as_those_that_one_bit_leaves_whole(nests: tuple[tuple[str, ...], Seen]) -> None:
    """But for the dots of seam lines, by which nothing is cut."""
    _, seen = nests
    for piece, found in seen.items():
        for line in found:
            assert line.stroke in {*SIZE_COLOURS, BLACK, WHITE}, (piece, line.stroke)
            if line.stroke not in (BLACK, WHITE) and line.dash_mm != NESTED.seam_dash_mm:
                assert line.width_mm in WIDTHS_MM.values(), (piece, line.width_mm)
