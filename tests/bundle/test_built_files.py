"""Pages, scale and layers of a built bundle: each fault that can be put into them is told, and nothing else."""

import pikepdf
import pytest
from pypdf import PdfWriter, Transformation
from pypdf.generic import ArrayObject, FloatObject, NameObject, NumberObject, TextStringObject

from pipeline.bundle.built import Built
from pipeline.bundle.built_files import check_built
from pipeline.model.findings import blocks
from pipeline.work.cache import Answers
from tests.bundle.conftest import CODE, Change, Copy


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


@pytest.mark.parametrize(("path", "lies"), [("print/a0.pdf", True), ("print/a4.pdf", False)])
def test_a_sheet_may_lie_on_its_side_and_a_tile_may_not(copy: Copy, path: str, lies: bool):
    def change(writer: PdfWriter) -> None:
        for page in writer.pages:
            right, top = page.mediabox.upper_right
            page[NameObject("/MediaBox")] = ArrayObject(FloatObject(side) for side in (0, 0, top, right))

    assert (("built-scale", "page-size") not in copy.edit(change, path).codes()) == lies


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


def test_no_file_is_opened_whose_bytes_were_looked_at_before(apron: Built, tmp_path, monkeypatch):
    answers = Answers(tmp_path / "known", CODE)
    found = check_built(apron.pattern, apron.folder, answers)
    monkeypatch.setattr(pikepdf, "open", lambda *_, **__: pytest.fail("a file was opened"))
    assert check_built(apron.pattern, apron.folder, Answers(tmp_path / "known", CODE)) == found
