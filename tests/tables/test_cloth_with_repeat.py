"""What is bought of cloth with a repeat, told beside what is bought without matching anything."""

import msgspec
import pytest

from pipeline.booklet.tables import Tables
from pipeline.booklet.unbroken import NO_BREAK
from pipeline.drawing.piece.mark_names import line_words
from pipeline.lays.lay import Lay, Placed
from pipeline.lays.saved import Chosen
from pipeline.ledger.measure import table_rows
from pipeline.model.pattern import Material
from pipeline.tables.cloth import cloth_lines
from pipeline.tables.cloth_page import cloth_pages
from pipeline.tables.spreadsheets import csv_files
from pipeline.tables.write import TablesFile, tables_json
from tests.booklet.sample import model
from tests.drawing.seen import contents
from tests.lays.samples import cut, pattern, piece_spec, rectangle, request

STRIPED = Material(title={"en": "striped cloth"}, widths_mm=(1400.0,), repeat_length_mm=320.0)
PLAIN = msgspec.structs.replace(STRIPED, repeat_length_mm=None)


def made(shell=STRIPED, kind="match"):
    return pattern([piece_spec("front", cut(2), lines={"hip": kind})], shell=shell)


def chosen(size, length_mm=1620.0, behind=False):
    """Two fronts, side by side or one behind the other."""
    second = (600.0, 0.0) if behind else (0.0, 450.0)
    placed = tuple(Placed(item="front", x_mm=x, y_mm=250 + y, angle_deg=0) for x, y in ((0.0, 0.0), second))
    asked = request([rectangle("front", 500, 400, 2)], 1400.0, size=size)
    lay = Lay(folded=False, length_mm=length_mm, placed=placed, seed=1, seconds=1)
    return Chosen(request=asked, lay=lay, kept=True)


def tables(lines):
    return TablesFile(pattern="made-up", version="1.0.0", cloth=tuple(line.row for line in lines))


@pytest.mark.parametrize(("behind", "rows", "metric"), [(False, 1, "1.95 m"), (True, 2, "2.3 m")])
def test_a_repeat_is_added_for_each_row(behind, rows, metric):
    (line,) = cloth_lines(made(), [chosen("38", behind=behind)])
    assert (line.row.metric, line.row.repeat_metric) == ("1.65 m", metric)
    assert line.row.repeat_extra_mm == rows * 320
    assert line.row.lay_length_mm == 1620


@pytest.mark.parametrize("without", [made(PLAIN), made(kind="level")])
def test_without_a_repeat_or_a_matching_line_nothing_is_added_and_no_key_is_told(without):
    (line,) = cloth_lines(without, [chosen("38")])
    assert not [key for key in msgspec.to_builtins(line.row) if key.startswith("repeat")]
    assert b"repeat" not in tables_json(tables([line]))


def test_a_larger_size_is_never_told_less_with_its_repeat_either():
    lines = cloth_lines(made(), [chosen("38", behind=True), chosen("40")])
    assert [(line.row.size, line.row.metric, line.row.repeat_metric) for line in lines] == [
        ("38", "1.65 m", "2.3 m"),
        ("40", "1.65 m", "2.3 m"),
    ]


def test_a_derived_piece_has_the_matching_lines_of_its_source():
    source = piece_spec("whole", cut(2), lines={"hip": "match"})
    derived = piece_spec("front", cut(2), source="whole")
    (line,) = cloth_lines(pattern([source, derived], shell=STRIPED), [chosen("38")])
    assert line.row.repeat_extra_mm == 320


def test_it_stands_in_spreadsheets_on_the_page_in_the_ledger_and_is_explained():
    lines = cloth_lines(made(), [chosen("38")])
    heads, row, *_ = csv_files(tables(lines), made())["cloth.csv"].splitlines()
    assert "To buy with its repeat (m)" in heads
    assert row.count("1.95") == 1
    told = contents(cloth_pages(made(), lines, "en")[0])
    assert {"1.65 m", "1.95 m", "with its repeat"} <= set(told)
    assert any("a repeat more for each row" in text for text in told)
    (rows,) = table_rows(tables(lines))["cloth"].values()
    assert rows["38"] == "1.65 m (1 7/8 yd), with its repeat 1.95 m (2 1/8 yd)"


def test_a_booklet_tells_both_lengths_and_how_lines_are_laid():
    lines = cloth_lines(made(), [chosen("38")])
    told = Tables(model(materials={"shell": STRIPED}), tables(lines), 10)
    columns = told.cloth_columns(None)
    assert [column.title for column in columns] == [wide := "140 cm (55 1/4 in) wide", f"{wide}, with its repeat"]
    firsts = [next(iter(column.told.values())).split("\n")[0].replace(NO_BREAK, " ") for column in columns]
    assert firsts == ["1.65 m", "1.95 m"]
    assert told.matched
    assert not Tables(model(), tables(cloth_lines(made(PLAIN), [chosen("38")])), 10).matched


def test_the_line_is_called_so_on_the_piece():
    assert line_words(made(), "front", "hip", "match") == ("hip line: matching line",)
    assert line_words(made(), "front", "stripe", "match") == ("matching line",)
