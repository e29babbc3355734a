"""The table of signs shows what pieces bear, in a file of several sizes and in a file of one."""

import pytest

from pipeline.booklet.nodes import Figure, Grid, Pictures
from pipeline.booklet.parts import Parts
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.signs import Sign, shown_signs_of
from pipeline.booklet.tables import Tables
from pipeline.drawing.drawing import shown_signs
from pipeline.drawing.panels.marks_key import sign_picture
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.model.outputs import PrintSpec
from pipeline.tables.write import TablesFile
from tests.booklet.sample import model, pattern
from tests.checks import apron

SIGNS = ("cut", "seam", "point-small", "blend")
"""Of a pattern whose sizes lie so close that no point of a nest has its circle."""


def signs_of(signs=SIGNS, **said: object) -> dict[str, Sign]:
    return {row.meaning: row for row in shown_signs_of(pattern(**said), apron.cuts(), signs)}


def test_a_seam_line_is_shown_as_either_kind_of_file_draws_it() -> None:
    seam = signs_of()["seam"]
    assert (seam.several, seam.one) == (sign_picture("seam", True), sign_picture("seam", False))
    assert seam.several != seam.one


def test_points_that_crowd_in_a_nest_have_their_circle_in_a_file_of_one_size() -> None:
    point = signs_of()["point"]
    assert (point.several, point.one) == (sign_picture("point-small", True), sign_picture("point", False))


def test_what_joins_two_sizes_is_in_no_file_of_one() -> None:
    assert signs_of()["blend"].one is None


def test_the_signs_of_one_size_are_those_that_its_pieces_bear() -> None:
    """Held against what draws the pieces of a file of one size."""
    drawn = apron.cuts()
    nested = shown_signs(one for cuts in drawn.values() for one in draw_nest(pattern(), cuts, 0))
    rows = shown_signs_of(pattern(), drawn, nested)
    for size in apron.SIZES:
        alone = [{size: cuts[size]} for cuts in drawn.values()]
        borne = shown_signs(one for cuts in alone for one in draw_nest(pattern(), cuts, 0, "plain"))
        assert {row.meaning for row in rows if row.one} == borne


@pytest.mark.parametrize("said", [{"print": PrintSpec(by_size=False)}, {"sizes": ("S",), "base": "S"}])
def test_where_there_is_one_kind_of_file_one_form_is_shown(said: dict[str, object]) -> None:
    assert {row.one for row in signs_of(("cut", "seam", "point"), **said).values()} == {None}


def test_a_pattern_of_one_size_shows_its_form() -> None:
    assert signs_of(("seam",), sizes=("S",), base="S")["seam"].several == sign_picture("seam", False)


@pytest.mark.parametrize(("columns", "heads"), [(10, 6), (3, 3)])
def test_both_forms_stand_beside_each_other(columns: int, heads: int) -> None:
    told, pictures = model(), Pictures()
    tables = Tables(told, TablesFile(pattern="a", version="1.0.0"), columns)
    parts = Parts(told, tables, pictures, PiecePictures(told.pattern, told.cuts))
    grid = parts.signs(shown_signs_of(told.pattern, told.cuts, SIGNS))
    assert isinstance(grid, Grid)
    assert len(grid.head) == heads
    seam = next(row[at : at + 2] for row in grid.rows for at in (0, 3) if "Seam line" in str(row[at + 2 : at + 3]))
    assert all(isinstance(cell.figure, Figure) for cell in seam)
    assert seam[0].figure != seam[1].figure
