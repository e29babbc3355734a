"""Whatever is read without a fault can be set: no text of a designer is code, or stops the typesetter."""

from collections.abc import Mapping

import hypothesis.strategies as st
import msgspec
import pypdfium2
import pytest
from hypothesis import given, settings

from pipeline.booklet.compose import Material, booklet_document
from pipeline.booklet.folder import read_folder
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import EDITIONS, Head, Text, plain
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.setting.typeset import typeset
from pipeline.model.pattern import Seam
from pipeline.tables.write import TablesFile
from tests.booklet.sample import SVG, files, pattern
from tests.checks import apron
from tests.checks.skirt import seam

LINES = (
    *(
        "# a",
        "## b",
        "#### c",
        "###### d",
        "1. x",
        "2) y",
        "   1. z",
        "- b",
        "  - c",
        "   text",
        "",
        "",
        "---",
        "1.",
        "-",
    ),
    *("| a | b |", "| - | -: |", "| 1 | *2* |", "::: note", "::: caution", "::: view long", ":::", "**bold**", "a\\"),
    *("{{ piece skirt }}", "{{ allowance skirt.hem }}", "{{ table sizes }}", "{{ table notions }}", "#set page()"),
    *("#panic()", "$x$", "@ref", "<label>", "`raw`", "[x](https://example.org)", "// c", "/* d", '"', "\\u{1f600}"),
)


def document_of(text: str, edition: str = "a4", seams: Mapping[str, Seam] | None = None, **drawings: bytes):
    made = pattern() if seams is None else pattern(seams=seams)
    material = Material(
        rows=TablesFile(pattern=made.name, version=made.version),
        folder=read_folder(made, files(text, None, **drawings)),
        signs=frozenset(),
        changes={"en": text},
        drawn=PiecePictures(made, apron.cuts()),
    )
    return booklet_document(Model(made, apron.cuts(), "en"), material, edition)


@settings(max_examples=60)
@given(st.lists(st.sampled_from(LINES), max_size=14))
def test_any_text_can_be_set(lines: list[str]) -> None:
    assert typeset(*document_of("\n".join(lines))).startswith(b"%PDF-")


def test_what_would_read_a_file_is_text() -> None:
    pdf = pypdfium2.PdfDocument(typeset(*document_of('# a\n\n#read("/etc/hostname") and #import "x.typ"\n')))
    text = "".join(page.get_textpage().get_text_range() for page in pdf)
    assert '#read("/etc/hostname") and #import "x.typ"' in text


@pytest.mark.parametrize(
    ("written", "shown"),
    [
        (
            "1. {{ term baste }} it, or **{{ term clip }}** it. {{ term trim }} it.",
            "Baste it, or clip it. Trim it.",
        ),
        (
            "1. {{ seam join }}, then {{ seam join }}. {{ seam join }}!",
            "Waist seam: Skirt (1), then waist seam: Skirt (1). Waist seam: Skirt (1)!",
        ),
    ],
)
def test_what_begins_a_sentence_has_a_capital(written: str, shown: str) -> None:
    seams = {"join": seam("join", ["skirt.waist"], ["skirt.hem"], title={"en": "waist seam"})}
    pdf = pypdfium2.PdfDocument(typeset(*document_of(written, seams=seams)))
    text = "".join(page.get_textpage().get_text_range() for page in pdf)
    assert shown in " ".join(text.split())


@pytest.mark.parametrize(("drawings", "told"), [({}, 1), ({"cover": SVG}, 1), ({"cover": SVG, "logo": SVG}, 2)])
def test_a_cover_has_a_drawing_and_a_logo_where_there_is_one(drawings: dict[str, bytes], told: int) -> None:
    document, _ = document_of("# a", **drawings)
    shown = [figure.alt for figure in (document.cover.logo, document.cover.figure) if figure is not None]
    assert len(shown) == told
    assert shown[-1] == ("Line drawing of Tea apron" if drawings else "The pieces of Tea apron, each with its number")


WORDS = "sew " * 3_000
TALL = b'<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="900mm"><path d="M0,0 H9"/></svg>'


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize(
    "text",
    [
        pytest.param(f"::: note\n{WORDS}\n:::", id="note"),
        pytest.param("::: view long\n" + "1. sew\n" * 120 + "\n:::", id="view"),
        pytest.param(f"| a | b |\n| - | - |\n| {WORDS} | x |", id="cell"),
        pytest.param("| a | b |\n| - | - |\n" + f"| {'sew ' * 80} | x |\n" * 20, id="rows"),
        pytest.param(f"1. {WORDS}\n\n   - {WORDS}\n", id="step"),
        pytest.param("# a\n\nsew\n\n![a mast](figures/mast.svg)\n\nsew\n", id="figure"),
    ],
)
def test_nothing_runs_over_a_page_s_foot(text: str, edition: str) -> None:
    pdf = pypdfium2.PdfDocument(typeset(*document_of(text, edition, figures__mast=TALL)))
    for page in pdf:
        written = page.get_textpage()
        boxes = [written.get_charbox(at) for at in range(written.count_chars())]
        assert min(bottom for _, bottom, _, _ in boxes) > 0
        assert max(right for _, _, right, _ in boxes) < page.get_width()
        shown = [part.get_bounds() for part in page.get_objects(filter=[pypdfium2.raw.FPDF_PAGEOBJ_FORM])]
        assert all(bottom > 0 for _, bottom, _, _ in shown)


def test_editions_and_languages_that_share_what_was_worked_out_are_set_as_if_alone() -> None:
    made = pattern()
    material = Material(
        rows=TablesFile(pattern=made.name, version=made.version),
        folder=read_folder(made, files("# a\n\n{{ figure seam waist }}\n", "# a\n\n{{ figure seam waist }}\n")),
        signs=frozenset(),
        changes={},
        drawn=PiecePictures(made, apron.cuts()),
    )
    first = Model(made, apron.cuts(), "en")
    german = first.told_in("de")
    assert german.garment is first.garment
    for model, edition in ((first, "a4"), (first, "letter"), (german, "a4")):
        alone = Model(made, apron.cuts(), model.language)
        assert typeset(*booklet_document(model, material, edition)) == typeset(
            *booklet_document(alone, material, edition)
        )


def test_a_table_that_a_page_does_not_hold_is_parted_between_rows_and_no_row_is_lost() -> None:
    words = "a few words that need a line or two in so narrow a column as this one is here"
    rows = "".join(f"| row{n:02d} | {words} | {words} | {words} |\n" for n in range(24))
    told = document_of(f"# Sew\n\n| a | b | c | d |\n| - | - | - | - |\n{rows}")
    shown = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(typeset(*told))]
    assert [n for n in range(24) if not any(f"row{n:02d}" in page for page in shown)] == []


def test_a_list_of_seams_names_two_that_read_alike_once() -> None:
    told = document_of("# a\n\nSew {{ seam waist }}, {{ seam waist }}, then press {{ seam waist }}.\n")
    text = "".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(typeset(*told)))
    assert " ".join(text.split()).count("Skirt (1) – Band (2)") == 2


@pytest.mark.parametrize(("lines", "pages"), [(3, [0, 1]), (46, [0, 1]), (70, [0, 2])])
def test_a_part_begins_on_a_page_of_its_own_but_below_little_that_went_over(lines: int, pages: list[int]) -> None:
    """3 lines leave most of a page free, 46 go over by few, and 70 fill half of the second page."""
    document, pictures = document_of("# a\n")
    nodes = (
        Head(1, plain("First part"), True),
        *(Text(plain(f"Line {number}")) for number in range(lines)),
        Head(1, plain("Second part"), True),
        Text(plain("The end")),
    )
    pdf = pypdfium2.PdfDocument(typeset(msgspec.structs.replace(document, nodes=nodes), pictures))
    found = [page.get_textpage().get_text_range() for page in pdf]
    first = next(at for at, text in enumerate(found) if "Line 0\r" in text)
    assert [at - first for at, text in enumerate(found) if "First part" in text or "Second part" in text][-2:] == pages
