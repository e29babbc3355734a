"""A built bundle is held against its pattern; each fault that can be put into its files is told, and nothing else."""

import shutil
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest
from pypdf import PdfReader, PdfWriter, Transformation
from pypdf.generic import ArrayObject, DictionaryObject, FloatObject, NameObject, NumberObject, TextStringObject

from pipeline.bundle.built import Built
from pipeline.bundle.built_files import check_built
from pipeline.model.findings import Finding, blocks
from pipeline.model.pattern import Channel
from tests.bundle.conftest import write_tables

replace = msgspec.structs.replace
Change = Callable[[PdfWriter], object]


class Copy:
    """A copy of the bundle, to be spoilt."""

    def __init__(self, built: Built, folder: Path) -> None:
        self.built = built
        self.folder = folder
        shutil.copytree(built.folder, folder)

    def edit(self, change: Change, path: str = "print/a4.pdf") -> "Copy":
        """Change a PDF; page labels and layers stay as they are."""
        writer = PdfWriter(clone_from=self.folder / path)
        change(writer)
        writer.write(self.folder / path)
        return self

    def tables(self, **rows) -> "Copy":
        """Other rows in the tables, in both forms."""
        write_tables(self.folder, replace(self.built.tables, **rows))
        return self

    def found(self, pattern=None) -> list[Finding]:
        return list(check_built(pattern or self.built.pattern, self.folder))

    def codes(self, pattern=None) -> set[tuple[str, str]]:
        return {(finding.check, finding.code) for finding in self.found(pattern) if blocks(finding)}


@pytest.fixture
def copy(apron: Built, tmp_path: Path) -> Copy:
    return Copy(apron, tmp_path / "bundle")


def test_a_bundle_as_it_is_built_has_nothing_above_info(apron: Built):
    assert [finding.message for finding in check_built(apron.pattern, apron.folder) if finding.severity != "skip"] == []


def test_a_file_that_was_only_written_again_passes(copy: Copy):
    assert copy.edit(lambda writer: None).codes() == set()


# Pages


def _remove(number: int) -> Change:
    return lambda writer: writer.remove_page(writer.pages[number])


def _double(number: int) -> Change:
    return lambda writer: writer.add_page(writer.pages[number])


def _copy_over(source: int, target: int) -> Change:
    def change(writer: PdfWriter) -> None:
        for key in ("/Contents", "/Resources"):
            writer.pages[target][NameObject(key)] = writer.pages[source].raw_get(key)

    return change


def _swap(one: int, other: int) -> Change:
    def change(writer: PdfWriter) -> None:
        for key in ("/Contents", "/Resources"):
            first, second = writer.pages[one].raw_get(key), writer.pages[other].raw_get(key)
            writer.pages[one][NameObject(key)], writer.pages[other][NameObject(key)] = second, first

    return change


def test_a_lost_page(copy: Copy):
    copy.edit(_remove(2))
    (told,) = [finding for finding in copy.found() if finding.check == "built-pages"]
    assert (told.code, told.severity, told.file) == ("page-count", "block", "print/a4.pdf")


def test_a_page_too_many(copy: Copy):
    assert ("built-pages", "page-count") in copy.edit(_double(2)).codes()


def test_a_page_in_the_place_of_another(copy: Copy):
    copy.edit(_copy_over(2, 3))
    (told,) = [finding for finding in copy.found() if finding.check == "built-pages"]
    assert told.code == "doubled"
    assert told.object is not None
    assert told.object.startswith("page 4 (")


def test_two_pages_in_each_others_place(copy: Copy):
    assert copy.edit(_swap(2, 3)).codes() == {("built-pages", "other-page")}


@pytest.mark.parametrize("degrees", [90, 180, 270])
def test_a_turned_page(copy: Copy, degrees: int):
    assert copy.edit(lambda writer: writer.pages[3].rotate(degrees)).codes() == {("built-pages", "turned")}


def test_a_page_turned_by_what_it_draws(copy: Copy):
    def change(writer: PdfWriter) -> None:
        writer.pages[3].add_transformation(Transformation().translate(-300, -400).rotate(180).translate(300, 400))

    assert ("built-scale", "scaled") in copy.edit(change).codes()


def test_labels_of_other_pages(copy: Copy):
    def change(writer: PdfWriter) -> None:
        numbers = writer.root_object["/PageLabels"]["/Nums"]
        numbers[5][NameObject("/P")] = TextStringObject("Z9")

    assert copy.edit(change).codes() == {("built-pages", "labels")}


# Scale


@pytest.mark.parametrize("scale", [0.96, 0.973, 0.941, 1.333, 1.067])
def test_a_scaled_page(copy: Copy, scale: float):
    """The whole page made smaller or larger, as a print dialogue does."""
    found = copy.edit(lambda writer: writer.pages[2].scale_by(scale)).codes()
    assert ("built-scale", "page-size") in found


@pytest.mark.parametrize("scale", [0.96, 0.973, 0.941, 1.333, 1.067])
def test_scaled_content_on_a_page_of_the_right_size(copy: Copy, scale: float):
    found = copy.edit(lambda writer: writer.pages[0].add_transformation(Transformation().scale(scale))).codes()
    assert ("built-scale", "scaled") in found


@pytest.mark.parametrize("scale", [0.96, 0.973, 0.941, 1.333, 1.067])
def test_squares_drawn_at_another_scale(copy: Copy, scale: float):
    def change(writer: PdfWriter) -> None:
        form = writer.pages[0]["/Resources"]["/XObject"]["/Overlay"]
        data = form.get_data().replace(
            b"283.465 283.465 re", f"{283.465 * scale:.3f} {283.465 * scale:.3f} re".encode()
        )
        form.set_data(data)

    found = copy.edit(change).found()
    assert [(f.code, f.allowed) for f in found if f.check == "built-scale"] == [("square", "100 ± 0.1 mm")]


@pytest.mark.parametrize("path", ["print/a4.pdf", "print/by-size/S-a4.pdf"])
@pytest.mark.parametrize("scale", [0.96, 1.067])
def test_drawings_at_another_scale(copy: Copy, path: str, scale: float):
    def change(writer: PdfWriter) -> None:
        for form in _drawings(writer):
            form[NameObject("/Matrix")] = ArrayObject(FloatObject(x) for x in (scale, 0, 0, scale, 0, 0))

    assert ("built-sizes", "scaled") in copy.edit(change, path).codes()


def _drawings(writer: PdfWriter) -> list:
    forms = {}
    for page in writer.pages:
        for name, reference in page["/Resources"]["/XObject"].items():
            if name != "/Overlay":
                forms[name] = reference.get_object()
    return list(forms.values())


def test_a_page_longer_than_readers_show(copy: Copy):
    def change(writer: PdfWriter) -> None:
        writer.pages[0][NameObject("/MediaBox")] = ArrayObject(NumberObject(x) for x in (0, 0, 2384, 14500))

    assert ("built-scale", "too-large") in copy.edit(change, "print/a0.pdf").codes()


# Layers


def _layers(writer: PdfWriter) -> list:
    return [group.get_object() for group in writer.root_object["/OCProperties"]["/OCGs"]]


def _shown_by(properties) -> list[str]:
    """The layers of one entry of a page's properties: a layer itself, or a membership of several."""
    return [layer.get_object()["/Name"] for layer in properties.get("/OCGs", [properties])]


def test_a_missing_layer(copy: Copy):
    def change(writer: PdfWriter) -> None:
        groups = writer.root_object["/OCProperties"]["/OCGs"]
        del groups[1]

    found = copy.edit(change).found()
    assert {f.code for f in found if f.check == "built-layers"} == {"layers"}
    assert any("Size M" in f.message for f in found)


def _blocks_of(page, name: str) -> list[bytes]:
    """Where a page's content begins to show what belongs to one layer alone."""
    properties = page["/Resources"].get("/Properties", {})
    return [f"/OC {key} BDC".encode() for key in properties if properties[key].get("/Name") == name]


def test_a_layer_whose_own_lines_are_gone(copy: Copy):
    def change(writer: PdfWriter) -> None:
        for page in writer.pages:
            contents = page["/Contents"].get_object()
            for start in _blocks_of(page, "Size M"):
                before, _, rest = contents.get_data().partition(start)
                contents.set_data(before + rest.partition(b"EMC")[2])

    (told,) = [finding for finding in copy.edit(change).found() if finding.check == "built-layers"]
    assert (told.code, told.severity, told.size) == ("empty", "block", "M")


def test_layers_whose_names_are_swapped(copy: Copy):
    def change(writer: PdfWriter) -> None:
        first, second = _layers(writer)
        first[NameObject("/Name")], second[NameObject("/Name")] = second["/Name"], first["/Name"]

    assert ("built-layers", "layers") in copy.edit(change).codes()


def test_layers_that_show_each_others_lines(copy: Copy):
    def change(writer: PdfWriter) -> None:
        groups = list(writer.root_object["/OCProperties"]["/OCGs"])
        names = [group.get_object()["/Name"] for group in groups]
        for page in writer.pages:
            properties = page["/Resources"].get("/Properties", {})
            for key in list(properties):
                if properties[key].get("/Name") in names:
                    properties[NameObject(key)] = groups[1 - names.index(properties[key]["/Name"])]

    found = [f for f in copy.edit(change).found() if f.check == "built-sizes" and blocks(f)]
    assert {f.code for f in found} >= {"other-label"}
    assert {f.size for f in found} == {"S", "M"}


def test_a_file_of_one_size_with_the_name_of_another(copy: Copy):
    folder = copy.folder / "print/by-size"
    (folder / "S-a4.pdf").rename(folder / "x.pdf")
    (folder / "M-a4.pdf").rename(folder / "S-a4.pdf")
    (folder / "x.pdf").rename(folder / "M-a4.pdf")
    assert {("built-sizes", "other-size"), ("built-names", "title")} <= copy.codes()


def test_a_hidden_layer(copy: Copy):
    def change(writer: PdfWriter) -> None:
        properties = writer.root_object["/OCProperties"]
        properties["/D"][NameObject("/OFF")] = ArrayObject([properties["/OCGs"][0]])

    found = [f for f in copy.edit(change).found() if blocks(f)]
    assert [(f.check, f.code, f.found) for f in found] == [("built-layers", "hidden", "Size S")]


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
        for font in fonts.values():
            del font.get_object()["/FontDescriptor"][NameObject("/FontFile2")]

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


def test_a_count_that_pattern_toml_does_not_have(copy: Copy):
    first, *others = copy.built.tables.cut_list
    copy.tables(cut_list=(replace(first, count=first.count + 1), *others))
    assert copy.codes() == {("built-tables", "count")}


def test_csv_files_that_say_something_else(copy: Copy):
    path = copy.folder / "tables/cut-list.csv"
    path.write_bytes(path.read_bytes().replace(b"band", b"bond"))
    (told,) = [f for f in copy.found() if blocks(f)]
    assert (told.check, told.code, told.file) == ("built-tables", "csv", "tables/cut-list.csv")


def test_a_file_that_cannot_be_read_blocks_and_says_so(copy: Copy):
    (copy.folder / "print/a4.pdf").write_bytes(b"not a PDF")
    assert ("built-pages", "check-failed") in copy.codes()


def test_squares_are_measured_from_what_is_drawn(apron: Built):
    """A second look at the one number that all else hangs on: the square's own operands, in points."""
    form = PdfReader(apron.folder / "print/a4.pdf").pages[0]["/Resources"]["/XObject"]["/Overlay"]
    assert b"283.465 283.465 re" in form.get_data()  # 100 mm x 72 / 25.4
    assert b"288 288 re" in form.get_data()  # 4 in
