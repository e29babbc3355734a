"""Ink, fonts, names, archives and tables of a built bundle: each fault that can be put into them is told."""

import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import DictionaryObject, NameObject

from pipeline.bundle.built import Built
from pipeline.model.findings import blocks
from pipeline.model.outputs import Channel
from tests.bundle.conftest import Copy, replace

# Ink, fonts, names


def test_ink_in_the_edge_that_printers_leave_blank(copy: Copy):
    def change(writer: PdfWriter) -> None:
        form = writer.pages[2]["/Resources"]["/XObject"]["/Overlay"]
        form.set_data(form.get_data() + b"\n12 300 m 40 300 l S\n")  # 12 pt are 4.2 mm

    (told,) = [f for f in copy.edit(change).found() if blocks(f)]
    assert (told.check, told.code, told.object) == ("built-ink", "in-the-edge", "page 3")
    assert told.found == "4.23 mm from the edge"


def test_a_window_that_reaches_into_the_edge(copy: Copy):
    def change(writer: PdfWriter) -> None:
        contents = writer.pages[2]["/Contents"].get_object()
        contents.set_data(contents.get_data().replace(b"q 28.34646 ", b"q 8.34646 ", 1))

    assert copy.edit(change).codes() == {("built-ink", "in-the-edge")}


def test_text_in_the_edge(copy: Copy):
    def change(writer: PdfWriter) -> None:
        form = writer.pages[2]["/Resources"]["/XObject"]["/Overlay"]
        form.set_data(form.get_data() + b"\nBT\n8 0 0 -8 570 400 Tm\n/f-1-0 1 Tf\n(too far right)Tj\nET\n")

    assert copy.edit(change).codes() == {("built-ink", "in-the-edge")}


def test_a_font_that_is_not_ours_or_not_in_the_file(copy: Copy):
    def change(writer: PdfWriter) -> None:
        fonts = writer.pages[0]["/Resources"]["/XObject"]["/Overlay"]["/Resources"]["/Font"]
        fonts[NameObject("/Other")] = DictionaryObject(
            {
                NameObject("/Type"): NameObject("/Font"),
                NameObject("/Subtype"): NameObject("/Type1"),
                NameObject("/BaseFont"): NameObject("/Helvetica"),
            }
        )

    assert copy.edit(change).codes() == {("built-fonts", "other-font")}

    def strip(writer: PdfWriter) -> None:
        fonts = writer.pages[0]["/Resources"]["/XObject"]["/Overlay"]["/Resources"]["/Font"]
        del fonts[NameObject("/Other")]
        for font in (font.get_object() for font in fonts.values()):
            described = font["/DescendantFonts"][0].get_object() if "/DescendantFonts" in font else font
            for key in {"/FontFile2", "/FontFile3"} & set(described["/FontDescriptor"]):
                del described["/FontDescriptor"][NameObject(key)]

    assert copy.edit(strip).codes() == {("built-fonts", "not-embedded")}


def test_a_title_with_an_old_version(copy: Copy):
    copy.edit(lambda writer: writer.add_metadata({"/Title": "Tea apron 0.9.0 · A4"}))
    (told,) = [f for f in copy.found() if blocks(f)]
    assert (told.check, told.code, told.found, told.allowed) == (
        "built-names",
        "title",
        "Tea apron 0.9.0 · A4",
        "Tea apron 1.0.0 · A4",
    )


def test_a_bundle_of_another_version(copy: Copy):
    newer = replace(copy.built.pattern, version="1.1.0")
    assert {("built-names", "title"), ("built-names", "version")} <= copy.codes(newer)


def test_a_file_that_does_not_ask_for_full_size(copy: Copy):
    def change(writer: PdfWriter) -> None:
        del writer.root_object[NameObject("/ViewerPreferences")]

    assert copy.edit(change).codes() == {("built-names", "print-scaling")}


# Archives


@pytest.mark.parametrize(
    ("archives", "archive_mb", "codes"),
    [
        (2, 5.0, set()),
        (1, 0.01, {("built-limits", "file-too-large"), ("built-limits", "too-much")}),
    ],
)
def test_limits_of_a_channel(copy: Copy, archives: int, archive_mb: float, codes: set):
    channels = {"shop": Channel("shop", archives, archive_mb)}
    assert copy.codes(replace(copy.built.pattern, channels=channels)) == codes


def test_archives_past_the_limits(copy: Copy):
    folder = copy.folder / "archives"
    folder.mkdir()
    for number in (1, 2, 3):
        (folder / f"shop-{number}.zip").write_bytes(bytes(6_000_000 if number == 1 else 10))
    assert copy.codes() == {("built-limits", "too-many"), ("built-limits", "archive-too-large")}


# Tables


def _of_the_other_size(rows: tuple) -> tuple:
    return tuple(replace(row, size={"S": "M", "M": "S"}[row.size]) for row in rows)


@pytest.mark.parametrize(
    ("table", "code"),
    [
        ("cloth", "cloth-size"),
        ("strips", "measure"),
        ("notions", "measure"),
        ("notions", "notion"),
        ("sizes", "measure"),
    ],
)
def test_a_table_of_another_size(copy: Copy, table: str, code: str):
    copy.tables(**{table: _of_the_other_size(getattr(copy.built.tables, table))})
    found = [f for f in copy.found() if blocks(f)]
    assert ("built-tables", code) in {(f.check, f.code) for f in found}
    assert {f.check for f in found} == {"built-tables"}
    assert {f.size for f in found} == {"S", "M"}


def test_a_row_that_is_missing(copy: Copy):
    tables = copy.built.tables
    copy.tables(cloth=tables.cloth[1:], notions=tables.notions[1:], sizes=tables.sizes[1:])
    assert copy.codes() == {("built-tables", "cloth-missing"), ("built-tables", "notion"), ("built-tables", "measure")}


def test_cloth_that_is_one_step_short(copy: Copy):
    first, *others = copy.built.tables.cloth
    copy.tables(cloth=(replace(first, length_to_buy_mm=first.length_to_buy_mm - 50), *others))
    (told,) = [f for f in copy.found() if blocks(f)]
    assert (told.check, told.code, told.size) == ("built-tables", "cloth-short", "S")


def test_cloth_that_is_short_of_its_repeat(copy: Copy):
    first, *others = copy.built.tables.cloth
    buy_mm = first.length_to_buy_mm
    told = {"repeat_extra_mm": 80.0, "repeat_to_buy_mm": buy_mm, "repeat_metric": "1 m", "repeat_imperial": "1 yd"}
    copy.tables(cloth=(replace(first, **told), *others))
    assert ("built-tables", "cloth-short") in copy.codes()
    copy.tables(cloth=(replace(first, **told | {"repeat_to_buy_mm": buy_mm + 150}), *others))
    assert ("built-tables", "cloth-short") not in copy.codes()


def test_a_count_that_pattern_toml_does_not_have(copy: Copy):
    first, *others = copy.built.tables.cut_list
    copy.tables(cut_list=(replace(first, count=first.count + 1), *others))
    assert copy.codes() == {("built-tables", "count")}


def test_csv_files_that_say_something_else(copy: Copy):
    path = copy.folder / "tables/de/cut-list.csv"
    path.write_bytes(path.read_bytes().replace(b"S1", b"S2"))
    (told,) = [f for f in copy.found() if blocks(f)]
    assert (told.check, told.code, told.file) == ("built-tables", "csv", "tables/de/cut-list.csv")


def test_a_sold_length_that_is_not_the_nearest(copy: Copy):
    rows = [replace(row, sold_mm=2000.0) if row.sold_mm else row for row in copy.built.tables.notions]
    assert {row.sold_mm for row in copy.built.tables.notions} == {None, 900.0}
    copy.tables(notions=tuple(rows))
    assert copy.codes() == {("built-tables", "measure")}


def test_a_file_that_cannot_be_read_blocks_and_says_so(copy: Copy):
    (copy.folder / "print/a4.pdf").write_bytes(b"not a PDF")
    assert {("built-pages", "check-failed", "print/a4.pdf")} <= {(f.check, f.code, f.file) for f in copy.found()}


def test_squares_are_measured_from_what_is_drawn(apron: Built):
    """A second look at the one number that all else hangs on: the square's own operands, in points."""
    form = PdfReader(apron.folder / "print/a4.pdf").pages[0]["/Resources"]["/XObject"]["/Overlay"]
    assert b"283.465 283.465 re" in form.get_data()  # 100 mm x 72 / 25.4
    assert b"288 288 re" in form.get_data()  # 4 in
