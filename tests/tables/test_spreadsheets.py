"""CSV files as buyers open them: letters, numbers and words of their language, no code of the pipeline's."""

import csv
import io
import json
import re

import msgspec
import pytest

from pipeline.cutting.strips import CutSize
from pipeline.model.lengths import MM_PER_INCH
from pipeline.model.pattern import BodyMeasure, Material, Notion, Sum, Term, View
from pipeline.model.piece_specs import EdgeSpec
from pipeline.sheets.layout import Page, PagePlan
from pipeline.tables.cloth import ClothRow
from pipeline.tables.cut_list import cut_rows
from pipeline.tables.notions import notion_rows
from pipeline.tables.pages import page_rows
from pipeline.tables.sizes import size_rows
from pipeline.tables.spreadsheets import csv_files, table_files
from pipeline.tables.strips import strip_rows
from pipeline.tables.write import TablesFile, tables_json
from tests.lays.samples import cut, pattern, piece_spec, strip

ZIP = Notion(
    name="zip",
    title={"en": "Zip", "de": "Reißverschluss"},
    length=dict.fromkeys(("38", "40"), Sum("164 mm", (Term(1.0, 164.0),))),
    sold_mm=(160.0, 180.0),
)
BUTTON = Notion(name="button", title={"en": "Buttons", "de": "Knöpfe"}, count={"38": 6, "40": 7})
CHEST = BodyMeasure(name="chest", title={"en": "Chest", "de": "Brustumfang"}, sizes_mm={"38": 1037.0, "40": 1060.0})
SHELL = Material(title={"en": "main cloth", "de": "Oberstoff"}, widths_mm=(1400.0,))


def made(**more):
    front = piece_spec("front", cut(2, 1))
    back = msgspec.structs.replace(piece_spec("back-cb", cut(1), edges={"cb": EdgeSpec(fold=True)}), number=2)
    tie = msgspec.structs.replace(strip("tie", 345.2, cut=(cut(2),)), title={"en": "Tie", "de": "Band"})
    binding = strip("neck-binding", 1250, grain="bias", join_mm=6.0)
    told = {"languages": ("en", "de"), "body": {"chest": CHEST}, "notions": {"zip": ZIP, "button": BUTTON}, **more}
    return pattern([front, back], [tie, binding], SHELL, **told)


def tables_of(whole):
    page = Page(number=2, label="2B", row=2, column=3, window=None, sizes=("38", "40"), views=())
    plan = PagePlan(
        format="by-size/38-a4",
        page_width_mm=210,
        page_height_mm=297,
        margin_mm=10,
        overlap_mm=0,
        rows=2,
        columns=3,
        pages=(page,),
    )
    cloth = ClothRow(
        view=None,
        size="38",
        material="shell",
        width_mm=1400.0,
        fold=True,
        one_way=True,
        lay_length_mm=1702.3,
        length_to_buy_mm=1750.0,
        metric="1.75 m",
        imperial="1 7/8 yd",
        utilisation=0.8123,
    )
    sizes = {"tie": CutSize(40, 345.2), "neck-binding": CutSize(40, 1250)}
    return TablesFile(
        pattern=whole.name,
        version=whole.version,
        cloth=(cloth,),
        cut_list=cut_rows(whole),
        strips=strip_rows(whole, dict.fromkeys(whole.sizes, sizes)),
        notions=notion_rows(whole, {}),
        sizes=size_rows(whole, {}),
        pages=page_rows([plan]),
    )


def read(whole, name):
    """The rows of a file, by heading."""
    text = csv_files(tables_of(whole), whole)[name]
    return list(csv.DictReader(io.StringIO(text.removeprefix("\ufeff")), delimiter=";" if "de/" in name else ","))


def test_the_first_language_has_the_names_of_the_tables_and_a_further_one_a_folder():
    files = csv_files(tables_of(made()), made())
    names = ("cloth", "cut-list", "strips", "notions", "sizes", "pages")
    assert list(files) == [*(f"{name}.csv" for name in names), *(f"de/{name}.csv" for name in names)]
    assert table_files(made()) == (*files, "tables.json")
    assert list(csv_files(tables_of(made()), made(languages=("de",)))) == [f"{name}.csv" for name in names]


def test_every_file_has_a_byte_order_mark_and_headings_in_words_of_its_own_language():
    files = csv_files(tables_of(made()), made())
    for name, text in files.items():
        assert text.encode().startswith(b"\xef\xbb\xbf"), name
        assert "_" not in text, name
        codes = r"\bstrips\.|\b(true|false|shell|warp|bias|cb|back-cb|neck-binding|body|finished)\b(?! measur)"
        if "sizes" not in name:
            assert re.search(codes.replace("bias|", ""), text) is None, (name, re.search(codes, text))
    assert files["notions.csv"].splitlines()[0].startswith("\ufeffNotion,Sizes,How many,")
    assert files["de/notions.csv"].splitlines()[0].startswith("\ufeffZubehör;Größen;Anzahl;")


def test_numbers_have_the_decimal_sign_of_the_language():
    (english, *_), (german, *_) = read(made(), "strips.csv"), read(made(), "de/strips.csv")
    assert (english["Length as cut, each (cm)"], english["Length as cut, each (in)"]) == ("34.6", "13 5/8 in")
    assert (german["Länge im Zuschnitt, je Stück (cm)"], german["Streifen"]) == ("34,6", "Band")
    assert read(made(), "cloth.csv")[0]["To buy (m)"] == "1.75"
    assert read(made(), "de/cloth.csv")[0]["Zu kaufen (m)"] == "1,75"


def test_the_patterns_own_units_come_first():
    metric, imperial = (
        csv_files(tables_of(made()), made(units=units))["sizes.csv"].splitlines() for units in ("metric", "imperial")
    )
    assert [line.split(",")[2] for line in metric] == ["Unit", "cm", "in"]
    assert [line.split(",")[2] for line in imperial] == ["Unit", "in", "cm"]


def test_cloth_is_told_with_how_it_is_laid_and_what_to_buy():
    assert read(made(), "cloth.csv") == [
        {
            "Material": "main cloth",
            "Width of the cloth": "140 cm (55 1/4 in)",
            "Laid": "folded lengthwise, right sides together",
            "Direction": "one way: every piece points the same way",
            "Size": "38",
            "To buy (m)": "1.75",
            "To buy (yd)": "1 7/8 yd",
        }
    ]


@pytest.mark.parametrize(
    ("fold", "laid"),
    [
        (True, "folded lengthwise, right sides together"),
        (False, "open, right side up"),
        ("two-folds", "both selvedges folded to the middle, where they meet, right sides together"),
        (
            "partial-fold",
            "one selvedge folded in as far as needed, right sides together; the rest in one layer, right side up",
        ),
    ],
)
def test_cloth_is_told_as_the_lay_has_it(fold, laid):
    whole = tables_of(made())
    rows = tuple(msgspec.structs.replace(row, fold=fold) for row in whole.cloth)
    told = csv_files(msgspec.structs.replace(whole, cloth=rows), made())["cloth.csv"]
    assert [row["Laid"] for row in csv.DictReader(io.StringIO(told))] == [laid]


def test_measures_have_a_column_a_size_and_a_row_a_unit():
    """104 cm, never 1.04 m: size charts are in centimetres and in eighths of an inch."""
    rows = read(made(), "sizes.csv")
    assert [list(row.values()) for row in rows] == [
        ["the body", "Chest", "cm", "103.7", "106"],
        ["the body", "Chest", "in", "40 7/8 in", "41 3/4 in"],
    ]
    assert list(rows[0])[3:] == ["Size 38", "Size 40"]


def test_a_zip_has_what_is_needed_and_what_is_sold_beside_it():
    zip_row, six, seven = read(made(), "de/notions.csv")
    assert list(zip_row.values()) == ["Reißverschluss", "38, 40", "", "16,4", "6 1/2 in", "16", "6 1/4 in"]
    assert "Handelsübliche Länge, zu kaufen (cm)" in zip_row
    assert [(row["Größen"], row["Anzahl"]) for row in (six, seven)] == [("38", "6"), ("40", "7")]


def test_what_no_row_has_is_no_column():
    whole = made(notions={"button": BUTTON})
    assert list(read(whole, "notions.csv")[0]) == ["Notion", "Sizes", "How many"]
    views = {"long": View("long", {"en": "Long", "de": "Lang"})}
    assert "View" in read(made(notions={"button": BUTTON}, views=views), "notions.csv")[0]


def test_the_cut_list_names_strips_as_lays_do():
    rows = read(made(), "cut-list.csv")
    told = [(row["No."], row["Piece"], row["Sizes"], row["On the fold"], row["Grain"]) for row in rows]
    assert told == [
        ("1", "Front", "38, 40", "no", "along the grain"),
        ("2", "Back-Cb", "38, 40", "yes", "along the grain"),
        ("S1", "Tie", "38, 40", "no", "along the grain"),
        ("S2", "Neck-Binding", "38, 40", "no", "on the bias"),
    ]


def test_a_square_is_never_told_smaller_than_the_strip_needs():
    (row,) = (row for row in read(made(), "strips.csv") if row["Strip"] == "Neck-Binding")
    side_cm = float(row["Or all from a bias square with sides of (cm)"])
    whole, fraction = row["Or all from a bias square with sides of (in)"].removesuffix(" in").split(" ")
    top, bottom = fraction.split("/")
    assert (int(whole) + int(top) / int(bottom)) * MM_PER_INCH >= side_cm * 10
    assert side_cm * 10 == tables_of(made()).strips[-1].square_mm


def test_pages_are_told_with_their_file_and_their_row_as_the_map_has_it():
    assert read(made(), "pages.csv") == [
        {
            "File": "print/by-size/38-a4.pdf",
            "Page": "2",
            "Name on the page": "2B",
            "Row": "B",
            "Column": "3",
            "Sizes": "38, 40",
        }
    ]


@pytest.mark.parametrize("size", ["10-12", "3-6"])
def test_a_size_does_not_become_a_date(size):
    whole = made(sizes=(size,), notions={"hook": Notion(name="hook", title={"en": "Hook"}, count={size: 1})})
    table = TablesFile(pattern="coat", version="1.0.0", notions=notion_rows(whole, {}))
    assert f"Hook,{size.replace('-', '–')},1" in csv_files(table, whole)["notions.csv"]
    assert json.loads(tables_json(table))["notions"][0]["size"] == size
