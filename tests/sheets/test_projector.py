import pytest
from shapely.geometry import LineString

from pipeline.geometry.points import Point
from pipeline.model.pieces import GrainLine
from pipeline.sheets.papers import MOST_PAGE_MM
from pipeline.sheets.projector import BORDER_MM, arrange_projector, projector_cuts, projector_stacks
from pipeline.sheets.stacks import moved
from pipeline.sheets.verify import verify_layout
from tests.sheets.samples import cut_piece, pattern, rectangle

UP, DOWN, RIGHT = (
    GrainLine(Point(50, 90), Point(50, 10)),
    GrainLine(Point(50, 10), Point(50, 90)),
    GrainLine(Point(10, 50), Point(90, 50)),
)


def on_the_table(grains, one_way=False, side=(300, 500)):
    names = [f"p{n}" for n in range(len(grains))]
    cut = {
        name: {"38": cut_piece(name, rectangle(*side), grain=grain)} for name, grain in zip(names, grains, strict=True)
    }
    pieces = projector_stacks(pattern(names), cut)
    return pieces, arrange_projector(pieces, 1500.0, one_way)


def grain_runs(pieces, layout):
    runs = []
    for stack, place in zip(pieces, layout.placements, strict=True):
        (x0, y0), (x1, y1) = moved(LineString(stack.grain), place).coords
        runs.append((x1 - x0, y1 - y0))
    return runs


def test_the_grain_runs_along_the_long_side_whichever_way_it_was_drawn():
    pieces, layout = on_the_table([UP, DOWN, RIGHT, UP, RIGHT])
    assert verify_layout(pieces, layout) == ()
    assert all(abs(dx) == pytest.approx(80) and abs(dy) < 1e-9 for dx, dy in grain_runs(pieces, layout))


def test_one_way_turns_all_tops_the_same_way():
    pieces, layout = on_the_table([UP, DOWN, RIGHT, DOWN], one_way=True)
    assert len({dx > 0 for dx, _ in grain_runs(pieces, layout)}) == 1


def test_the_sheet_is_no_wider_than_the_table():
    _, layout = on_the_table([UP] * 6)
    assert layout.height_mm <= 1500 - 2 * BORDER_MM
    assert layout.width_mm < MOST_PAGE_MM


def test_a_sheet_grows_wider_than_the_table_rather_than_longer_than_a_page():
    pieces, layout = on_the_table([UP] * 8, side=(1300, 1400))
    assert verify_layout(pieces, layout) == ()
    assert layout.width_mm <= MOST_PAGE_MM - 2 * BORDER_MM
    assert layout.height_mm > 1500


def test_the_sheet_is_never_longer_across_the_grain_than_along_it():
    _, layout = on_the_table([UP])
    assert layout.width_mm >= layout.height_mm


def test_few_small_pieces_do_not_lie_on_an_empty_table():
    pieces, layout = on_the_table([UP] * 4)
    assert verify_layout(pieces, layout) == ()
    taken = sum(stack.region.envelope.area for stack in pieces)
    assert layout.width_mm * layout.height_mm < 1.7 * taken


def test_what_no_page_holds_is_refused_with_a_way_out():
    with pytest.raises(ValueError, match=r'leave the format "projector" out'):
        on_the_table([UP], side=(5200, 300))


def test_only_the_pieces_of_the_material_lie_there():
    cut = {"p0": {"38": cut_piece("p0", rectangle(100, 100))}}
    assert projector_cuts(pattern(("p0",)), cut, "shell") == cut
    assert projector_cuts(pattern(("p0",)), cut, "lining") == {}
