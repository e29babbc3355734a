"""Garments with a button too few, or on the side of its buttonhole, are told; as they are nothing is told of them."""

from pathlib import Path

import pytest
from msgspec.structs import replace

from pipeline.checks.buttons import notion_buttons
from pipeline.checks.garment import Garment
from pipeline.checks.sides import cut_sides
from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.sums import parse_marks
from pipeline.model.pattern import Notion
from pipeline.model.pieces import CutPiece
from pipeline.rules.sources import read_source
from pipeline.tables.notions import notion_rows

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


DRESS = ("34", "44")
"""The larger of the two has one buttonhole more."""
MARKED = {"long": {"34": 14, "44": 15}, "short": {"34": 10, "44": 11}}


@pytest.fixture(scope="module")
def dress(tmp_path_factory) -> Garment:
    cuts: dict[str, dict[str, CutPiece]] = {}
    for size in DRESS:
        made = read(GARMENTS / "shirt-dress", size, tmp_path_factory.mktemp(size))
        for piece, by_size in made.cuts.items():
            cuts.setdefault(piece, {}).update(by_size)
    return Garment(replace(made.pattern, sizes=DRESS), cuts)


def test_a_dress_buys_a_button_for_each_of_its_marks_by_view_and_size(dress):
    """Stand 1, front 5 or 6, and of view A skirt 6 and two cuffs, of view B skirt 4."""
    found: dict[str, dict[str, int]] = {}
    for row in notion_rows(dress.pattern, dress.cuts):
        found.setdefault(row.view, {})[row.size] = row.count
    assert found == MARKED
    assert list(notion_buttons(dress)) == []


def test_a_count_that_forgets_a_piece_of_the_row_is_told_and_what_it_counts_is_no_other_s(dress):
    button = dress.pattern.notions["button"]

    def counted(marks: str, **typed: int) -> list[tuple[str | None, str | None, str, str]]:
        small = {}
        for name, count in typed.items():
            said = name.replace("_", "-")
            small[said] = Notion(name=said, title={}, count=dict.fromkeys(DRESS, count))
        notions = {"button": replace(button, marks=parse_marks(marks)), **small}
        made = Garment(replace(dress.pattern, notions=notions), dress.cuts)
        return [(o.where, o.size, o.found, o.allowed) for o in notion_buttons(made)]

    forgets = counted("marks front.buttonhole + collar-stand.buttonhole")
    assert forgets == [("notions.button", "44", "6", "12 or more"), ("notions.button", "34", "5", "9 or more")]
    assert counted("marks front.buttonhole", button_skirt=6) == []
    lacking = [("notions.button-skirt", "34", "9", "11 or more"), ("notions.button-skirt", "44", "10", "12 or more")]
    assert counted("marks front.buttonhole", button_skirt=4) == lacking
