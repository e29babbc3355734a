"""Tables of a booklet as they are laid out: which columns share a heading, and how many pages each print file has."""

import msgspec
import pytest

from pipeline.booklet.grids import Column
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import Grid, Head, Pictures, Text
from pipeline.booklet.page_tables import page_counts, pages_needed
from pipeline.booklet.parts import Parts
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.tables import Tables
from pipeline.booklet.unbroken import NO_BREAK
from pipeline.cutting.strips import CutSize
from pipeline.model.outputs import PrintSpec
from pipeline.model.pattern import BodyMeasure, View
from pipeline.model.sizes import product_of, shared_by_values
from pipeline.tables.cut_list import cut_rows
from pipeline.tables.pages import PageRow
from pipeline.tables.sizes import size_rows
from pipeline.tables.strips import strip_rows
from pipeline.tables.write import TablesFile
from pipeline.words import own_languages, say
from tests.booklet.sample import TIE, finished, model, pattern
from tests.checks.apron import counted, cuts, piece


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


def test_what_one_axis_changes_is_told_by_its_values_and_the_rest_by_points() -> None:
    axes = {"size": ("36", "38"), "height": ("petite", "tall")}
    points = product_of(axes)
    titles = {"petite": {"en": "petite (to 163 cm)"}}
    sets = dict(shared_by_values(axes, points))
    made = model(sizes=points, base=points[0], size_axes=axes, size_sets=sets, size_titles=titles)
    told = Tables(made, TablesFile(pattern="a", version="1.0.0"), 10)
    of_size, of_height, of_both, of_none = (
        Column(name, dict(zip(points, values, strict=True)))
        for name, values in (("Waist", "aabb"), ("Height", "cdcd"), ("Length", "efgh"), ("Ease", "xxxx"))
    )
    assert [texts(grid) for grid in told.by_axes([of_size, of_height, of_both, of_none])] == [
        [["36", "a"], ["38", "b"]],
        [["petite (to 163 cm)", "c"], ["tall", "d"]],
        [
            ["36, petite (to 163 cm)", "e"],
            ["36, tall", "f"],
            ["38, petite (to 163 cm)", "g"],
            ["38, tall", "h"],
        ],
        [["36, 38; petite, tall", "x"]],
    ]


def eased(total: str) -> Tables:
    """With an arm that is measured, and what the garment measures there."""
    arm = BodyMeasure(name="arm", title={"en": "Arm"}, sizes_mm={"S": 256.0, "M": 268.0})
    made = model(body={"arm": arm}, finished={"arm": finished("arm", total)})
    return Tables(made, TablesFile(pattern="a", version="1.0.0", sizes=size_rows(made.pattern, {})), 10)


def test_ease_is_the_same_where_a_garment_has_the_same_over_the_body() -> None:
    """25.6 and 26.8 cm with 24 mm each: rounded alone they are 28 and 29, which is 2.5 and 2 more."""
    (ease,) = eased("body.arm + 24 mm").ease_columns()
    assert ease.told == dict.fromkeys(("S", "M"), f"2.5{NO_BREAK}cm\n1{NO_BREAK}in")


@pytest.mark.parametrize(
    ("total", "less"), [("body.arm + 24 mm", False), ("body.arm", False), ("0.95 x body.arm", True)]
)
def test_the_larger_of_two_sizes_is_advised_where_the_garment_is_not_smaller_than_the_body(
    total: str, less: bool
) -> None:
    """One that is smaller stretches to the body: there either size may be meant, and the table has a minus."""
    tables = eased(total)
    drawn = PiecePictures(tables.model.pattern, tables.model.cuts)
    nodes = Parts(tables.model, tables, Pictures(), drawn).sizes()
    words = " ".join(run.text for node in nodes if isinstance(node, Head | Text) for run in node.runs)
    assert ("between two sizes the larger one" in words) is not less
    assert ("of two sizes the smaller one sits closer" in words) is less
    assert ("with a minus" in words) is less


def test_pages_are_counted_for_every_print_file() -> None:
    pages = (page("a4", 1), page("a4", 2), page("by-size/S-a4", 1), page("by-view/long-a4", 1), page("a0", 1))
    (grid,) = (node for node in page_counts(tables(pages=pages)) if isinstance(node, Grid))
    counted = {(row[1], row[0]): row[2:] for row in texts(grid)}
    assert list(counted.values()) == [["2", "1"], ["1", "–"], ["1", "–"]]
    assert [in_name for in_name, _ in counted] == ["–", "long", "S"]


@pytest.mark.parametrize("own", [True, False])
@pytest.mark.parametrize(("second", "key"), [(("S", "M"), "pages-all-view"), (("M",), "pages-some")])
def test_which_pages_a_size_needs_is_said_of_the_file_with_all_sizes(own: bool, second, key: str) -> None:
    """Files of one size have other counts, in the table below."""
    pages = (page("a4", 1), msgspec.structs.replace(page("a4", 2), sizes=second))
    made = Tables(model(print=PrintSpec(by_size=own)), TablesFile(pattern="a", version="1.0.0", pages=pages), 10)
    first = pages_needed(made, 3)[0]
    assert isinstance(first, Text)
    told = "".join(run.text for run in first.runs).replace(NO_BREAK, " ")
    assert say("en", f"booklet.{key}") in told
    assert (say("en", "booklet.pages-own") in told) is own


def test_what_every_view_has_is_told_as_all_of_them() -> None:
    views = {name: View(name, {"en": f"{name}: with a long title"}) for name in ("A", "B")}
    told = model(views=views, pieces={**pattern().pieces, **piece("band", views=("A",))})
    rows = TablesFile(pattern="a", version="1.0.0", cut_list=cut_rows(told.pattern))
    grid = Tables(told, rows, 10).cut_list()[-1]
    assert isinstance(grid, Grid)
    shown = {row[0][2:].partition(" ")[0]: row[-1] for row in texts(grid)}
    assert (shown["Skirt"], shown["Band"]) == ("all", "A: with a long title")


def test_sizes_that_need_the_same_pages_have_one_row() -> None:
    sizes = {1: (), 2: ("S", "M"), 3: ("L",)}
    pages = tuple(msgspec.structs.replace(page("a4", number), sizes=own) for number, own in sizes.items())
    told = Tables(model(sizes=("S", "M", "L")), TablesFile(pattern="a", version="1.0.0", pages=pages), 10)
    (grid,) = (node for node in pages_needed(told, 3) if isinstance(node, Grid))
    assert texts(grid) == [["S, M", "1, 2"], ["L", "1, 3"]]


def test_the_cut_list_says_below_its_name_which_side_has_a_piece() -> None:
    sided = tuple(msgspec.structs.replace(entry, side="left") for entry in pattern().pieces["band"].cut)
    told = model(pieces=piece("band", cut=sided))
    rows = TablesFile(pattern="a", version="1.0.0", cut_list=cut_rows(told.pattern))
    grid = Tables(told, rows, 10).cut_list()[-1]
    assert isinstance(grid, Grid)
    named = {row[0] for row in texts(grid)}
    assert any("wearer’s left only" in name for name in named if "Band" in name)
    assert not any("wearer’s" in name for name in named if "Band" not in name)


@pytest.mark.parametrize("mirrored", [0, 1])
def test_what_is_mirrored_is_explained_where_something_is(mirrored: int) -> None:
    cut = tuple(msgspec.structs.replace(row, mirrored=mirrored) for row in cut_rows(pattern()))
    nodes = Tables(model(), TablesFile(pattern="a", version="1.0.0", cut_list=cut), 10).cut_list()
    assert [isinstance(node, Text) for node in nodes] == [True, False][1 - mirrored :]


@pytest.mark.parametrize(("name", "shown"), [("band", "–"), ("skirt", "1")])
def test_of_a_piece_that_is_its_own_mirror_image_none_is_told_as_mirrored(name: str, shown: str) -> None:
    """As its label has it; the table keeps what `pattern.toml` says."""
    bare = {
        size: msgspec.structs.replace(cut, slits=(), drawn=msgspec.structs.replace(cut.drawn, notches=()))
        for size, cut in cuts()[name].items()
    }
    told = Model(pattern(pieces=piece(name, cut=counted("shell", 2, mirrored=1))), {name: bare}, "en")
    rows = TablesFile(pattern="a", version="1.0.0", cut_list=cut_rows(told.pattern))
    assert {row.mirrored for row in rows.cut_list if row.piece == name} == {1}
    grid = Tables(told, rows, 10).cut_list()[-1]
    assert isinstance(grid, Grid)
    assert {row[3] for row in texts(grid) if name in row[0].lower()} == {shown}


def strip_table(language: str, columns: int, join_mm: float | None, **length_mm: float) -> list[object]:
    """The table of ties as they are cut of the apron's cloth, and what is said below it."""
    told = model(language, strips={"tie": msgspec.structs.replace(TIE, join_mm=join_mm)})
    rows = strip_rows(told.pattern, {size: {"tie": CutSize(50, length)} for size, length in length_mm.items()})
    return Tables(told, TablesFile(pattern="a", version="1.0.0", strips=rows), columns).strips(3)[2:]


@pytest.mark.parametrize("columns", [10, 3])
def test_a_strip_that_is_joined_says_of_what_and_why_beside_its_length(columns: int) -> None:
    grid, _, parted = strip_table("en", columns, 10.0, S=900.0, M=1600.0)
    assert texts(grid)[0][-1] == "one piece"
    assert texts(grid)[1][-1] == "2 pieces of 81 cm (31 15/16 in)1 join, allowance 1 cm (3/8 in)"
    assert "".join(run.text for run in grid.head[-1].runs) == "Each strip from"
    assert parted.runs[0].text.startswith("Strips are parted so that the pieces fit across the narrowest cloth")


@pytest.mark.parametrize("language", own_languages())
def test_joins_are_told_in_every_language_in_the_words_of_the_file_of_lays(language: str) -> None:
    grid, _, parted = strip_table(language, 10, 10.0, S=3900.0, M=3900.0)
    (row,) = texts(grid)
    pieces = say(language, "strips.several-pieces", count=4, length="")
    assert row[-1].startswith(pieces.strip())
    assert say(language, "strips.joins", count=3, allowance="").split(",")[0] in row[-1]
    assert parted.runs[0].text.replace(NO_BREAK, " ") == say(language, "strips.parted").replace(NO_BREAK, " ")


def test_a_table_of_strips_that_lie_whole_has_no_word_of_joins() -> None:
    for join_mm in (None, 10.0):
        grid, *notes = strip_table("en", 10, join_mm, S=900.0, M=900.0)
        assert len(grid.head) == 4
        assert len(notes) == 1
