"""Columns of a booklet's tables are as wide as what is told in them; what is too wide is told in two tables."""

from pipeline.booklet.column_widths import ColumnTexts, Look, column_widths
from pipeline.booklet.grids import Column
from pipeline.booklet.nodes import Grid
from pipeline.booklet.tables import Tables
from pipeline.drawing.fonts import text_width_mm
from pipeline.model.sizes import product_of, shared_by_values
from pipeline.tables.write import TablesFile
from tests.booklet.sample import model

LOOK = Look("plain", page_mm=166.0, head_mm=2.9, cell_mm=3.2, inset_mm=2.6)
AXES = {"size": ("36", "38", "40", "42", "44"), "height": ("petite", "regular", "tall")}
TITLES = {
    "petite": {"en": "petite (to 163 cm)"},
    "regular": {"en": "regular (164 to 171 cm)"},
    "tall": {"en": "tall (from 172 cm)"},
}


def tables(columns: int = 10) -> Tables:
    points = product_of(AXES)
    sets = dict(shared_by_values(AXES, points))
    made = model(sizes=points, base=points[0], size_axes=AXES, size_sets=sets, size_titles=TITLES)
    return Tables(made, TablesFile(pattern="a", version="1.0.0"), columns)


def cloth(count: int, told: str = "1.55 m\n1 3/4 yd") -> list[Column]:
    """More of it in the last size."""
    each = {**dict.fromkeys(product_of(AXES), told), product_of(AXES)[-1]: "1.6 m\n1 3/4 yd"}
    return [Column("140 cm (55 1/4 in) wide", each, f"cloth {at}") for at in range(count)]


def test_of_several_tables_one_that_says_the_same_of_every_size_says_it_once() -> None:
    alike = Column("Thread", dict.fromkeys(product_of(AXES), "2"))
    last = tables(3).by_size([*cloth(3), alike])[-1]
    assert isinstance(last, Grid)
    assert (len(last.head), len(last.rows)) == (3, 15), "beside cloth, every size has its row"
    first, last = tables(1).by_size([*cloth(1), alike])
    assert isinstance(first, Grid)
    assert isinstance(last, Grid)
    assert (len(first.rows), len(last.rows)) == (15, 1)


def test_a_size_with_a_title_has_room_in_two_lines_and_no_word_of_it_is_parted() -> None:
    (grid,) = tables().by_size(cloth(6))
    assert isinstance(grid, Grid)
    assert grid.words_fit == "all"
    assert sum(grid.shares) <= LOOK.page_mm
    longest = text_width_mm("(164 to 171 cm)", 3.175, bold=True)
    assert grid.shares[0] >= longest


def test_what_a_page_does_not_hold_side_by_side_is_told_in_several_tables_with_all_sizes_each() -> None:
    grids = [node for node in tables().by_size(cloth(10, "12.5 m to 13 m")) if isinstance(node, Grid)]
    assert len(grids) == 2
    assert [len(grid.rows) for grid in grids] == [15, 15]
    assert sum(len(grid.head) - 1 for grid in grids) == 10
    assert all(grid.words_fit != "no" for grid in grids)


def test_large_print_gives_sizes_what_their_longest_word_needs() -> None:
    (grid,) = tables(3).by_size(cloth(2))
    assert isinstance(grid, Grid)
    share = 170 * grid.shares[0] / sum(grid.shares)
    assert share >= text_width_mm("regular", 6.0, bold=True)
    assert grid.words_fit == "all"


def test_headings_are_parted_before_a_table_is() -> None:
    columns = [ColumnTexts("Taschenfutterbaumwolle", ("35 cm",)) for _ in range(5)]
    whole = column_widths("Size", ["34"], columns[:3], LOOK)
    parted = column_widths("Size", ["34"], columns, LOOK)
    assert [each.fit for each in (whole, parted) if each is not None] == ["all", "rows"]
    assert column_widths("Size", ["34"], [*columns, *columns, *columns], LOOK) is None


def test_only_as_many_headings_are_parted_as_must_be() -> None:
    """The longest gives most room; short words beside it stay whole, a comma does not make one long."""
    columns = [ColumnTexts(head, ("35 cm",)) for head in ("Taschenfutterbaumwolle", "Oberstoff", "Knöpfe, Buttons,")]
    fitting = column_widths("Size", ["34"], columns, LOOK)
    assert fitting is not None
    narrow = LOOK._replace(page_mm=sum(fitting.widths_mm) - 1)
    found = column_widths("Size", ["34"], columns, narrow)
    assert found is not None
    assert (found.fit, found.parted) == ("rows", (False, True, False, False))
    assert found.widths_mm[2:] == fitting.widths_mm[2:]
    assert sum(found.widths_mm) <= narrow.page_mm
