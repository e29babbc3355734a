"""Tables of a booklet as they are laid out: which columns share a heading, and how many pages each print file has."""

from pipeline.booklet.grids import Column
from pipeline.booklet.nodes import Grid
from pipeline.booklet.page_tables import page_counts
from pipeline.booklet.tables import Tables
from pipeline.booklet.unbroken import NO_BREAK
from pipeline.tables.pages import PageRow
from pipeline.tables.write import TablesFile
from tests.booklet.sample import model


def tables(columns: int = 10, pages: tuple[PageRow, ...] = ()) -> Tables:
    told = model()
    return Tables(told, TablesFile(pattern="a", version="1.0.0", pages=pages), columns)


def page(form: str, number: int) -> PageRow:
    return PageRow(format=form, page=number, label="", row=0, column=0, sizes=("S", "M"), views=())


def texts(grid: Grid) -> list[list[str]]:
    """What cells say, with blanks of one kind."""
    return [["".join(run.text for run in cell.runs).replace(NO_BREAK, " ") for cell in row] for row in grid.rows]


def test_widths_of_a_material_stand_under_its_name() -> None:
    cloth = [Column("110 cm", {"S": "1 m"}, "wool"), Column("140 cm", {"S": "1 m"}, "wool")]
    (grid,) = tables().by_size([*cloth, Column("Buttons", {"S": "2"})])
    assert grid.above == (("", 1), ("wool", 2), ("", 1))


def test_both_systems_stand_in_one_line_where_a_page_is_wide() -> None:
    measure = [Column("Waist", {"S": "70 cm\n27 1/2 in"})]
    assert texts(tables().by_size(measure)[0]) == [["S", "70 cm (27 1/2 in)"]]
    assert texts(tables(3).by_size(measure)[0]) == [["S", "70 cm27 1/2 in"]]


def test_pages_are_counted_for_every_print_file() -> None:
    pages = (page("a4", 1), page("a4", 2), page("by-size/S-a4", 1), page("by-view/long-a4", 1), page("a0", 1))
    (grid,) = (node for node in page_counts(tables(pages=pages)) if isinstance(node, Grid))
    counted = {(row[1], row[0]): row[2:] for row in texts(grid)}
    assert list(counted.values()) == [["2", "1"], ["1", "–"], ["1", "–"]]
    assert [in_name for in_name, _ in counted] == ["–", "view-long", "size-S"]
