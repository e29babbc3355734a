"""On a projector every piece has a name that is read from standing height: in it, else beside it with a leader."""

import re
from pathlib import Path

import numpy as np
import pytest
import shapely

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.pages.projector_names import names_beside
from tests.drawing.demo_nests import SOURCE
from tests.drawing.seen import SeenText, lines, texts
from tests.press.projected import Projected, projected

GARMENTS = Path(__file__).resolve().parents[1] / "garments"
READ_MM = 8.0
FILES = {
    "jacket-fusing": (SOURCE / "work-jacket", "fusing"),
    "pinafore": (SOURCE / "child-pinafore", "shell"),
    "hoodie-rib": (GARMENTS / "child-hoodie", "rib"),
    "trousers-fusing": (GARMENTS / "suit-trousers", "fusing"),
}


@pytest.fixture(scope="module", params=FILES)
def shown(request: pytest.FixtureRequest) -> Projected:
    return projected(*FILES[request.param])


def beside(shown: Projected) -> Drawing:
    """What stands beside the pieces, as a drawing of its own."""
    shapes = tuple(names_beside(shown.pattern, shown.cuts, shown.layout, shown.drawings))
    return Drawing(
        piece="", sizes=(), left_mm=0, top_mm=0, width_mm=shown.layout.width_mm, height_mm=9999, shapes=shapes
    )


def names(shown: Projected) -> list[list[SeenText]]:
    """The rows of each name that stands beside a piece, in the order of their leaders."""
    found: list[list[SeenText]] = []
    for text in texts([beside(shown)]):
        begins = re.match(r"[A-Z]?\d+ ", text.content) is not None
        if begins:
            found.append([])
        found[-1].append(text)
    return found


def in_place(shown: Projected, piece: str) -> tuple[list[SeenText], shapely.Geometry]:
    """The texts of a piece's block, and all of its lines where they lie."""
    (place,) = (place for place in shown.layout.placements if place.piece == piece)
    own = [drawing for drawing in shown.drawings if drawing.piece == piece]
    drawn = shapely.union_all([line.shape for line in lines(own)])
    block = [text for text in texts(own) if text.anchor == "start"]
    return block, shapely.transform(drawn, lambda xy: xy + np.array((place.x_mm, place.y_mm)))


def test_every_piece_has_a_name_that_is_read_from_afar(shown: Projected) -> None:
    named = laid_names(shown.pattern, shown.pattern.languages[0])
    outside = [" ".join(row.content for row in rows) for rows in names(shown) if rows[0].size_mm >= READ_MM]
    for piece in shown.cuts:
        block, _ = in_place(shown, piece)
        name = named.get(piece) or named[f"strips.{piece}"]
        told = [text for text in outside if text.startswith(f"{name.short} {name.title}")]
        assert max(text.size_mm for text in block) >= READ_MM or len(told) == 1, piece


def test_a_name_beside_a_piece_stands_on_free_ground_of_the_sheet(shown: Projected) -> None:
    sheet = shapely.box(0, 0, shown.layout.width_mm, shown.layout.height_mm)
    for text in texts([beside(shown)]):
        assert sheet.covers(text.box)
        for piece in shown.cuts:
            assert in_place(shown, piece)[1].distance(text.box) > 4.0, (text.content, piece)


def test_its_leader_ends_in_its_own_piece_and_passes_no_other(shown: Projected) -> None:
    drawn = beside(shown)
    for leader, (text, *_) in zip(lines([drawn]), names(shown), strict=True):
        short = text.content.split(" ")[0]
        for piece in shown.cuts:
            named = laid_names(shown.pattern, shown.pattern.languages[0])
            own = (named.get(piece) or named[f"strips.{piece}"]).short == short
            assert in_place(shown, piece)[1].intersects(leader.shape) == own, (text.content, piece)
