"""With the layer of one size alone, as the sheet asks for, a projector shows every cut line whole."""

from pathlib import Path

import numpy as np
import pytest

from tests.drawing.demo_nests import SOURCE
from tests.press.projected import Projected, gaps, own_labels, projected, with_one_layer, write_file

GARMENTS = Path(__file__).resolve().parents[1] / "garments"
FILES = {
    "jacket-shell": (SOURCE / "work-jacket", "shell", ("34", "40", "54")),
    "jacket-fusing": (SOURCE / "work-jacket", "fusing", ("38",)),
    "pinafore": (SOURCE / "child-pinafore", "shell", ("104",)),
    "hoodie-rib": (GARMENTS / "child-hoodie", "rib", ("92", "110", "134")),
    "trousers-shell": (GARMENTS / "suit-trousers", "shell", ("48",)),
}
LABEL_MM = 4.0
"""How far a label's room reaches beyond its letters."""
CORNER_MM = 3.0


@pytest.fixture(scope="module", params=FILES)
def shown(request: pytest.FixtureRequest) -> tuple[Projected, tuple[str, ...]]:
    folder, material, sizes = FILES[request.param]
    return projected(folder, material), sizes


def test_each_cut_line_is_unbroken_but_for_its_own_labels(
    shown: tuple[Projected, tuple[str, ...]], tmp_path: Path
) -> None:
    """Labels of hidden sizes left four dots of a facing's edge."""
    drawn, sizes = shown
    file = write_file(drawn, tmp_path / "all.pdf")
    for size in sizes:
        grey = with_one_layer(file, drawn, size, tmp_path / "one.pdf")
        for gap in gaps(drawn, size, grey):
            told = (size, gap.piece, gap.start_mm, gap.end_mm)
            assert any(box.buffer(LABEL_MM).contains(gap.run) for box in own_labels(drawn, size, gap.piece)), told
            assert gap.nearest_corner_mm >= CORNER_MM, told


def test_labels_leave_the_most_of_each_line(shown: tuple[Projected, tuple[str, ...]], tmp_path: Path) -> None:
    """Those of a rib band erased the lines that they named."""
    drawn, sizes = shown
    file = write_file(drawn, tmp_path / "all.pdf")
    for size in sizes:
        grey = with_one_layer(file, drawn, size, tmp_path / "one.pdf")
        lost = [(gap.piece, gap.length_mm, gap.end_mm - gap.start_mm) for gap in gaps(drawn, size, grey)]
        for piece, length in {(piece, length) for piece, length, _ in lost}:
            share = np.sum([own for other, whole, own in lost if (other, whole) == (piece, length)]) / length
            assert share < 0.25, (size, piece, share)
