"""What is told of a booklet that was built and then spoilt; nothing of one that was not."""

import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pikepdf
import pytest

from pipeline.booklet.setting.typeset import typeset
from pipeline.bundle.built import Built
from pipeline.bundle.built_booklets import built_booklet_pages, built_booklets
from tests.booklet.sample import GOOD, SVG, pattern
from tests.booklet.test_setting import document_of

TEXT = f"{GOOD}\n## More\n\n![a tie](figures/tie.svg)\n\n| a |\n| - |\n| 1 |\n"
Spoil = Callable[[pikepdf.Pdf], object]


@pytest.fixture(scope="module")
def whole() -> bytes:
    return typeset(*document_of(TEXT, figures__tie=SVG))


def told(data: bytes, place: Path, spoil: Spoil | None = None, name: str = "en-a4") -> list[str]:
    """The codes of what is found in a bundle with this one booklet."""
    file = place / f"booklet/{name}.pdf"
    file.parent.mkdir()
    file.write_bytes(data)
    if spoil is not None:
        with pikepdf.open(file, allow_overwriting_input=True) as pdf:
            spoil(pdf)
            pdf.save(file)
    built = Built(pattern(), place)
    return [outcome.code for check in (built_booklets, built_booklet_pages) for outcome in check(built)]


def elements(pdf: pikepdf.Pdf, kind: str) -> Iterator[pikepdf.Object]:
    for thing in pdf.objects:
        if isinstance(thing, pikepdf.Dictionary) and thing.get("/S") == kind and "/P" in thing:
            yield thing


def rename(kind: str, other: str) -> Spoil:
    def spoil(pdf: pikepdf.Pdf) -> None:
        for element in elements(pdf, kind):
            element.S = pikepdf.Name(other)

    return spoil


def no_alternatives(pdf: pikepdf.Pdf) -> None:
    for element in elements(pdf, "/Figure"):
        del element["/Alt"]


def no_pages(pdf: pikepdf.Pdf) -> None:
    del pdf.pages[:]


def no_tree(pdf: pikepdf.Pdf) -> None:
    del pdf.Root["/StructTreeRoot"]


def other_language(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Lang = "sv"


def file_name(pdf: pikepdf.Pdf) -> None:
    pdf.Root.ViewerPreferences.DisplayDocTitle = False


def other_standard(pdf: pikepdf.Pdf) -> None:
    pdf.Root.Metadata.write(pdf.Root.Metadata.read_bytes().replace(b"<pdfuaid:part>1<", b"<pdfuaid:part>2<"))


def suspects(pdf: pikepdf.Pdf) -> None:
    pdf.Root.MarkInfo.Suspects = True


def no_tab_order(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        if "/Annots" in page:
            del page.obj["/Tabs"]


def silent_links(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        for link in page.get("/Annots", []):
            del link["/Contents"]


def no_scope(pdf: pikepdf.Pdf) -> None:
    for element in elements(pdf, "/TH"):
        del element["/A"]


def not_marked(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].contents_add(b"0 0 9 9 re f", prepend=False)


def moved(right_pt: float, down_pt: float) -> Spoil:
    """The last text of the last page that has several, moved."""

    def spoil(pdf: pikepdf.Pdf) -> None:
        for page in reversed(pdf.pages):
            places = list(
                re.finditer(rb"q 1 0 0 -1 ([\d.]+) ([\d.]+) cm(?=/c\d cs [^q]*BT)", page.Contents.read_bytes())
            )
            if len(places) > 3:
                data, at = page.Contents.read_bytes(), places[2]
                x, y = float(at[1]) + right_pt, float(at[2]) - down_pt
                page.Contents.write(data[: at.start()] + b"q 1 0 0 -1 %f %f cm" % (x, y) + data[at.end() :])
                return

    return spoil


def on_another(pdf: pikepdf.Pdf) -> None:
    """Pages that show their texts twice."""
    for page in pdf.pages:
        data = page.Contents.read_bytes()
        page.Contents.write(b"%s q %s Q" % (data, data))


def test_nothing_is_told_of_one_that_is_whole(whole: bytes, tmp_path: Path) -> None:
    assert told(whole, tmp_path) == []


def test_large_print_is_known_by_its_language_too(whole: bytes, tmp_path: Path) -> None:
    assert told(whole, tmp_path, name="en-large-print") == []


@pytest.mark.parametrize(
    ("spoil", "code"),
    [
        pytest.param(no_pages, "no-pages", id="pages"),
        pytest.param(no_tree, "not-tagged", id="tree"),
        pytest.param(other_language, "language", id="language"),
        pytest.param(file_name, "title", id="title"),
        pytest.param(no_alternatives, "no-alternative", id="alternatives"),
        pytest.param(rename("/TH", "/TD"), "no-headings", id="headings"),
        pytest.param(no_scope, "no-scope", id="scope"),
        pytest.param(other_standard, "standard", id="standard"),
        pytest.param(suspects, "suspects", id="suspects"),
        pytest.param(no_tab_order, "tab-order", id="tabs"),
        pytest.param(silent_links, "silent-links", id="links"),
        pytest.param(not_marked, "not-marked", id="marked"),
        pytest.param(moved(0, 700), "out-of-page", id="over the foot"),
        pytest.param(moved(500, 0), "out-of-page", id="over the edge"),
        pytest.param(on_another, "overprinted", id="overprinted"),
    ],
)
def test_what_is_spoilt_is_told(spoil: Spoil, code: str, whole: bytes, tmp_path: Path) -> None:
    assert told(whole, tmp_path, spoil) == [code]


def test_a_level_that_is_left_out_is_told(whole: bytes, tmp_path: Path) -> None:
    assert "heading-level" in told(whole, tmp_path, rename("/H2", "/H4"))
