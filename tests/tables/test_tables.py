"""Strips, cut list, notions, sizes and pages as rows, and all of them as files."""

import csv
import io
import json

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.cutting.strips import CutSize
from pipeline.geometry.points import Point
from pipeline.ledger.measure import table_rows
from pipeline.masters.toml.sums import parse_marks
from pipeline.model.lengths import parse_length
from pipeline.model.pattern import BodyMeasure, FinishedMeasure, Notion, Reference, Sum, Term, View
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import CutPiece, MarkPoint
from pipeline.sheets.layout import Page, PagePlan
from pipeline.tables.cut_list import cut_rows
from pipeline.tables.notions import notion_rows
from pipeline.tables.pages import page_rows
from pipeline.tables.sizes import size_rows
from pipeline.tables.spreadsheets import csv_files
from pipeline.tables.strips import bias_square_mm, continuous_bias_length_mm, strip_rows, strip_totals
from pipeline.tables.write import TablesFile, tables_json
from tests.lays.samples import cut, cut_piece, pattern, piece_spec, strip

INCH = 25.4


def test_the_square_that_a_continuous_bias_strip_takes():
    """Common practice, ceil √(L w), tells 23 in for 250 in of 2 in: 8 rounds of √2 x 22 in, 249 in with the ends."""
    assert continuous_bias_length_mm(23 * INCH, 2 * INCH, INCH / 4) < 250 * INCH
    assert bias_square_mm(250 * INCH, 2 * INCH, INCH / 4, INCH) == pytest.approx(24 * INCH)


@pytest.mark.parametrize(
    ("side", "width", "join", "length"),
    [(20 * INCH, 2 * INCH, INCH / 4, (6 * 19 * 2**0.5 - 2) * INCH), (500, 40, 6, 8 * 476 * 2**0.5 - 40)],
)
def test_what_a_square_yields(side, width, join, length):
    """By hand: 20 in / √2 / 2 in = 7.07, 6 sure rounds of √2 x 19 in; 500 / √2 / 40 = 8.8, 8 of √2 x 476 mm."""
    assert continuous_bias_length_mm(side, width, join) == pytest.approx(length)
    assert length < side * side / width, "what common practice tells"


@given(st.floats(100, 9000), st.floats(10, 120), st.floats(0, 15), st.sampled_from([10.0, INCH]))
def test_the_square_that_is_told_yields_the_strip_and_one_a_step_smaller_does_not(length, width, join, step):
    side = bias_square_mm(length, width, join, step)
    assert continuous_bias_length_mm(side, width, join) >= length
    assert continuous_bias_length_mm(side - step, width, join) < length
    assert side / step == pytest.approx(round(side / step))


def test_strips_by_size_with_their_totals():
    """Common practice: a loop for an 80 mm belt is cut 135 mm long, seven of them 945 mm."""
    made = pattern(strips=[strip("loop", 135, width_mm=15.0, cut=(cut(7),))])
    rows = strip_rows(made, {size: {"loop": CutSize(30, 135)} for size in made.sizes})
    assert [(row.size, row.count, row.cut_width_mm, row.cut_length_mm, row.total_length_mm) for row in rows] == [
        ("38", 7, 30, 135, 945),
        ("40", 7, 30, 135, 945),
    ]
    assert [total.total_length_mm for total in strip_totals(rows)] == [945, 945]


def test_a_joined_bias_strip_tells_pieces_joins_and_square():
    made = pattern(strips=[strip("binding", 2500, grain="bias", join_mm=10.0)])
    (row,) = strip_rows(made, {"40": {"binding": CutSize(40, 2500)}})
    assert (row.pieces, row.joins, row.total_length_mm) == (2, 1, 2520)
    assert row.square_mm == 350, "6 rounds of √2 x 310 mm, less 40 mm: 2590 mm; 340 mm yield 2505 mm"


def test_totals_are_by_material():
    made = pattern(
        strips=[strip("loop", 100), strip("tab", 50), strip("binding", 80, grain="bias")],
    )
    rows = strip_rows(made, {"40": {"loop": CutSize(20, 100), "tab": CutSize(20, 50), "binding": CutSize(20, 80)}})
    assert [(total.grain, total.total_length_mm) for total in strip_totals(rows)] == [("along", 150), ("bias", 80)]


def test_the_cut_list_parts_sizes_that_differ():
    front = piece_spec("front", cut(2, 1), edges={"cf": EdgeSpec(fold=False)})
    back = piece_spec("back", cut(1), edges={"cb": EdgeSpec(fold=True)})
    odd = piece_spec("tab", cut(1).__class__("shell", {"38": 1, "40": 2}, {"38": 0, "40": 1}))
    rows = cut_rows(pattern([front, back, odd], strips=[strip("loop", 100)]))
    assert [(row.piece, row.sizes, row.count, row.mirrored, row.on_fold) for row in rows] == [
        ("front", ("38", "40"), 2, 1, False),
        ("back", ("38", "40"), 1, 0, True),
        ("tab", ("38",), 1, 0, False),
        ("tab", ("40",), 2, 1, False),
        ("strips.loop", ("38", "40"), 1, 0, False),
    ]


def test_what_one_side_has_stands_in_a_row_of_its_own():
    fly = piece_spec("fly", msgspec.structs.replace(cut(1), side="left"))
    sleeve = [msgspec.structs.replace(cut(1, images), side=side) for side, images in (("left", 0), ("right", 1))]
    rows = cut_rows(pattern([fly, piece_spec("sleeve", *sleeve), piece_spec("back", cut(2, 1))]))
    assert [(row.piece, row.count, row.mirrored, row.side or None) for row in rows] == [
        ("fly", 1, 0, "left"),
        ("sleeve", 1, 0, "left"),
        ("sleeve", 1, 1, "right"),
        ("back", 2, 1, None),
    ]
    written = json.loads(tables_json(TablesFile(pattern="made", version="1.0.0", cut_list=rows)))["cut-list"]
    assert [row.get("side") for row in written] == ["left", "left", "right", None]


def test_a_derived_piece_is_on_the_fold_where_its_source_is():
    back = piece_spec("back", cut(1), edges={"cb": EdgeSpec(fold=True)})
    fusing = piece_spec("back-fusing", cut(1), source="back")
    assert [row.on_fold for row in cut_rows(pattern([back, fusing]))] == [True, True]


def test_a_view_has_its_own_cut_list():
    views = {"long": View("long", {"en": "Long"}), "short": View("short", {"en": "Short"})}
    rows = cut_rows(pattern([piece_spec("front", cut(1)), piece_spec("tab", cut(1), views=("long",))], views=views))
    assert [(row.view, row.piece) for row in rows] == [("long", "front"), ("long", "tab"), ("short", "front")]


BUTTON = Notion(name="button", title={"en": "Buttons"}, count={"38": 6, "40": 7})
ELASTIC = Notion(
    name="elastic",
    title={"en": "Elastic"},
    length=dict.fromkeys(
        ("38", "40"), Sum("0.9 x body.waist + 2 cm", (Term(0.9, Reference("body", "waist")), Term(1.0, 20.0)))
    ),
)
WAIST = BodyMeasure(name="waist", title={"en": "Waist"}, sizes_mm={"38": 700.0, "40": 740.0})
FINISHED = FinishedMeasure(
    name="waist",
    title={"en": "Finished waist"},
    sum=Sum("body.waist + 4 cm", (Term(1.0, Reference("body", "waist")), Term(1.0, 40.0))),
)


def test_notions_by_size():
    """Elastic: 0.9 x waist + 2 cm, 70 → 65 cm (common practice)."""
    rows = notion_rows(pattern(notions={"button": BUTTON, "elastic": ELASTIC}, body={"waist": WAIST}), {})
    assert [(row.notion, row.size, row.count, row.metric) for row in rows] == [
        ("button", "38", 6, None),
        ("button", "40", 7, None),
        ("elastic", "38", None, "65 cm"),
        ("elastic", "40", None, "69 cm"),
    ]
    assert [row.imperial for row in rows[2:]] == ["25 5/8 in", "27 1/8 in"], "never less than 650 and 686 mm"


def test_a_notion_that_counts_marks_is_told_view_by_view():
    """Two fronts with a button on each and, of the long view, a belt with one: in the larger size it has two."""
    views = {name: View(name, {"en": name}) for name in ("long", "short")}
    pieces = [piece_spec("front", cut(2, 1)), piece_spec("belt", cut(1), views=("long",))]
    marks = {("front", "38"): 1, ("front", "40"): 1, ("belt", "38"): 1, ("belt", "40"): 2}
    cuts: dict[str, dict[str, CutPiece]] = {"front": {}, "belt": {}}
    for (name, size), count in marks.items():
        made = cut_piece(name, [(0, 0), (90, 0), (90, 90)])
        points = tuple(MarkPoint(f"button-{n}", Point(9 * n, 9)) for n in range(count))
        drawn = msgspec.structs.replace(made.drawn, size=size, points=points)
        cuts[name][size] = msgspec.structs.replace(made, drawn=drawn)
    button = Notion(name="button", title={"en": "Buttons"}, marks=parse_marks("marks front.button + belt.button"))
    made = pattern(pieces, views=views, notions={"button": button})
    rows = notion_rows(made, cuts)
    assert [(row.view, row.size, row.count) for row in rows] == [
        ("long", "38", 3),
        ("long", "40", 4),
        ("short", "38", 2),
        ("short", "40", 2),
    ]
    told = table_rows(TablesFile(pattern="made-up", version="1.0.0", notions=rows))["notions"]
    assert told == {"long: button": {"38": "3", "40": "4"}, "short: button": {"38": "2", "40": "2"}}, (
        "as the ledger has it"
    )


ZIP = Notion(
    name="zip",
    title={"en": "Zip", "de": "Reißverschluss"},
    length={"38": Sum("164 mm", (Term(1.0, 164.0),)), "40": Sum("17 cm", (Term(1.0, 170.0),))},
    sold_mm=(160.0, 180.0, 200.0),
)


def test_a_zip_is_told_as_it_is_needed_and_as_it_is_sold():
    """The nearest length; of two as near the longer, which can be made shorter (common practice)."""
    rows = notion_rows(pattern(notions={"zip": ZIP}), {})
    assert [(row.length_mm, row.metric, row.sold_mm, row.sold_metric, row.sold_imperial) for row in rows] == [
        (164.0, "16.4 cm", 160.0, "16 cm", "6 1/4 in"),
        (170.0, "17 cm", 180.0, "18 cm", "7 1/8 in"),
    ]


def chest(*written: str) -> dict[str, BodyMeasure]:
    lengths = dict(zip(("38", "40"), map(parse_length, written), strict=True))
    return {"chest": BodyMeasure(name="chest", title={"en": "Chest"}, sizes_mm=lengths)}


def test_finished_measures_are_told_in_half_centimetres_and_never_in_metres():
    total = Sum("body.chest + 1 mm", (Term(1.0, Reference("body", "chest")), Term(1.0, 1.0)))
    measure = FinishedMeasure(name="chest", title={"en": "Chest"}, sum=total)
    rows = size_rows(pattern(body=chest("103.6 cm", "1.0425 m"), finished={"chest": measure}), {})
    finished = [row for row in rows if row.of == "finished"]
    assert [(row.metric, row.imperial) for row in finished] == [("103.5 cm", "40 7/8 in"), ("104.5 cm", "41 1/8 in")]


@pytest.mark.parametrize(
    ("written", "metric", "imperial"),
    [
        ("20.8 cm", "20.8 cm", "8 1/4 in"),
        ("21.2 cm", "21.2 cm", "8 3/8 in"),
        ("256 mm", "25.6 cm", "10 1/8 in"),
        ("1.037 m", "103.7 cm", "40 7/8 in"),
        ("34.25 cm", "34.25 cm", "13 1/2 in"),
        ("25 in", "63.5 cm", "25 in"),
        ("30 in", "76 cm", "30 in"),
        ("24 in", "61 cm", "24 in"),
        ("33 1/8 in", "84 cm", "33 1/8 in"),
        ("33 1/16 in", "84 cm", "33 1/16 in"),
        ("33.3 in", "84.5 cm", "33 1/4 in"),
    ],
)
def test_a_body_measure_is_told_as_it_was_written(written, metric, imperial):
    """What was written in cm keeps its digits, what was written in inches its fraction."""
    told = pattern(body=chest(written, "31 1/2 in" if "in" in written else "110 cm"))
    row, *_ = rows = size_rows(told, {})
    assert (row.metric, row.imperial) == (metric, imperial)
    files = csv_files(TablesFile(pattern="a", version="1.0.0", sizes=rows), told)
    assert list(csv.reader(io.StringIO(files["sizes.csv"])))[1][3] == metric.removesuffix(" cm")


def test_body_and_finished_measures():
    rows = size_rows(pattern(body={"waist": WAIST}, finished={"waist": FINISHED}), {})
    assert [(row.of, row.size, row.length_mm, row.metric, row.imperial) for row in rows] == [
        ("body", "38", 700.0, "70 cm", "27 1/2 in"),
        ("body", "40", 740.0, "74 cm", "29 1/8 in"),
        ("finished", "38", 740.0, "74 cm", "29 1/8 in"),
        ("finished", "40", 780.0, "78 cm", "30 3/4 in"),
    ]


def plan():
    page = Page(number=2, label="2B", row=2, column=3, window=None, sizes=("38", "40"), views=())
    return PagePlan(
        format="a4", page_width_mm=210, page_height_mm=297, margin_mm=10, overlap_mm=0, rows=2, columns=3, pages=(page,)
    )


def tables():
    made = pattern([piece_spec("front", cut(2, 1))], body={"waist": WAIST}, notions={"elastic": ELASTIC})
    return TablesFile(
        pattern=made.name,
        version=made.version,
        cut_list=cut_rows(made),
        notions=notion_rows(made, {}),
        sizes=size_rows(made, {}),
        pages=page_rows([plan()]),
    )


def test_the_json_file_has_every_table_by_its_name():
    read = json.loads(tables_json(tables()))
    assert list(read) == ["format", "pattern", "version", "cloth", "cut-list", "strips", "notions", "sizes", "pages"]
    assert read["pages"] == [
        {"format": "a4", "page": 2, "label": "2B", "row": 2, "column": 3, "sizes": ["38", "40"], "views": []}
    ]


@pytest.mark.parametrize("begins", ["=", "+", "-", "@", "\t", "\uff1d"])
def test_a_text_is_no_formula_in_a_spreadsheet(begins):
    """OWASP, "CSV Injection": an apostrophe before it."""
    text = f"{begins}HYPERLINK(1)"
    made = pattern(strips=[msgspec.structs.replace(strip("loop", 100), title={"en": text})])
    rows = strip_rows(made, {"40": {"loop": CutSize(20, 100)}})
    table = TablesFile(pattern="coat", version="1.0.0", strips=rows)
    (row,) = csv.DictReader(io.StringIO(csv_files(table, made)["strips.csv"].removeprefix("\ufeff")))
    assert row["Strip"] == f"'{text}"
    assert json.loads(tables_json(table))["strips"][0]["title"]["en"] == text
