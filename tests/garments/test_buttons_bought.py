"""Garments with a button too few, or on the side of its buttonhole, are told; as they are nothing is told of them."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from pipeline.checks.buttons import notion_buttons
from pipeline.checks.garment import Garment
from pipeline.checks.sides import cut_sides
from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.rules.sources import read_source

GARMENTS = Path(__file__).parent
JACKET = GARMENTS.parents[1] / "source/work-jacket"


def read(folder: Path, size: str, work: Path) -> Garment:
    """A garment in one of its sizes."""
    source = read_source(folder, work)
    pattern = source.pattern
    drawn, _ = read_size(pattern, source.folder, size)
    return Garment(pattern, {cut.piece: {size: cut} for cut in cut_pieces(pattern, size, drawn)[0]})


def told(made: Garment, notion: str, fewer: int) -> list[tuple[str | None, str, str]]:
    own = made.pattern.notions[notion]
    assert own.count is not None
    bought = replace(own, count={each: count - fewer for each, count in own.count.items()})
    pattern = replace(made.pattern, notions={**made.pattern.notions, notion: bought})
    return [(o.where, o.found, o.allowed) for o in notion_buttons(Garment(pattern, made.cuts))]


@pytest.mark.parametrize(
    ("folder", "size", "notion", "fewer", "found", "marked"),
    [
        (JACKET, "40", "button", 1, "5", 6),
        (JACKET, "52", "button", 2, "5", 7),
        (GARMENTS / "lido-set", "M", "button", 1, "4", 5),
        (GARMENTS / "suit-trousers", "50", "buttons-waistcoat", 2, "3", 5),
        (GARMENTS / "shirt-dress", "40", "button-a", 4, "10", 11),
        (GARMENTS / "winter-coat", "104", "button", 3, "3", 4),
    ],
)
def test_fewer_buttons_than_marks_are_told(folder, size, notion, fewer, found, marked, tmp_path):
    made = read(folder, size, tmp_path)
    assert told(made, notion, 0) == []
    assert told(made, notion, fewer) == [(f"notions.{notion}", found, f"{marked} or more")]


def test_a_button_of_the_side_that_has_its_buttonhole_is_told(tmp_path):
    made = read(GARMENTS / "lido-set", "M", tmp_path)
    assert not [o for o in cut_sides(made) if o.code == "own-hole"]
    front = made.pattern.pieces["front"]
    marks = {**front.point_marks, "button-2": replace(front.point_marks["button-2"], side="left")}
    pattern = replace(made.pattern, pieces={**made.pattern.pieces, "front": replace(front, point_marks=marks)})
    found = [(o.piece, o.where) for o in cut_sides(Garment(pattern, made.cuts)) if o.code == "own-hole"]
    assert found == [("front", "points.button-2")]
