"""The demos' booklets, read back: every length in every language and edition is one of the tables, pieces or words."""

import re
import subprocess
from collections.abc import Iterator
from html import unescape
from itertools import pairwise
from pathlib import Path

import msgspec
import pypdfium2
import pytest

from pipeline.booklet import parts
from pipeline.booklet.compose import Material, booklet_document
from pipeline.booklet.folder import Folder, read_folder
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import EDITIONS
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.setting.typeset import typeset
from pipeline.booklet.text import FigureOf, Named, TableOf
from pipeline.booklet.values import value_text
from pipeline.booklet.walk import references_within, steps_of
from pipeline.drawing.panels.marks_key import ALL_SIGNS
from pipeline.drawing.wording import in_decimals, length_words
from pipeline.masters.toml.load import load_pattern
from pipeline.model.lengths import cloth_width, imperial_text
from pipeline.model.pattern import Pattern
from pipeline.steps import lays, tables
from pipeline.steps.inputs import booklet_files, changes_text, cuts_by_piece
from pipeline.tables.measures import cm_text
from pipeline.tables.pages import PageRow
from pipeline.tables.strip_blocks import IMPERIAL_STEP_MM, METRIC_STEP_MM, rounded_up
from pipeline.tables.write import TablesFile
from pipeline.words import catalogue
from tests.booklet.conftest import Stroke
from tests.booklet.sample import one_line
from tests.by_steps import cut_sizes
from tests.drawing.demo_nests import DEMOS, SOURCE

UNITS = r"(?:mm|cm|m|in|yd)"
NUMBER = re.compile(rf"(?<![\w.,/])(?:(?:\d+ )?\d+/\d+|\d+(?:[.,]\d+)?) {UNITS}(?! [a-z])(?![\w/])")
"""A length: "Cut 1 in main cloth" is none."""
ENDS_IN_NUMBER = re.compile(r"[0-9]$")
BEGINS_WITH_UNIT = re.compile(rf"(?:[0-9]+/[0-9]+ )?{UNITS}(?! [a-z])(?![\w/])")


class Demo:
    """A demo, and its tables as a build makes them from the lays that are kept."""

    def __init__(self, name: str, work: Path) -> None:
        source = SOURCE / name
        pattern, findings = load_pattern(source)
        assert pattern is not None, findings
        files = cut_sizes(source, work, pattern.sizes)
        lays.main(source, work, files, [source / "lays.json"], work / "lays.json", work / "told.json")
        tables.main(source, files, work / "lays.json", [], work / "tables", work / "tables-told.json")
        self.pattern: Pattern = pattern
        self.cuts = cuts_by_piece(files)
        self.rows = msgspec.json.decode((work / "tables/tables.json").read_bytes(), type=TablesFile)
        self.folder: Folder = read_folder(pattern, booklet_files(source))
        self.changes = dict.fromkeys(pattern.languages, changes_text(source))

    def booklet(self, model: Model, edition: str, **made_of) -> pypdfium2.PdfDocument:
        return pypdfium2.PdfDocument(self.data(model, edition, **made_of))

    def data(self, model: Model, edition: str, **made_of) -> bytes:
        said = {"rows": self.rows, "folder": self.folder, "signs": frozenset(), "changes": self.changes, **made_of}
        material = Material(**said, drawn=PiecePictures(self.pattern, self.cuts))
        return typeset(*booklet_document(model, material, edition))

    def text(self, model: Model, edition: str) -> str:
        return one_line("\n".join(page.get_textpage().get_text_range() for page in self.booklet(model, edition)))


@pytest.fixture(scope="module", params=DEMOS)
def demo(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Demo:
    return Demo(request.param, tmp_path_factory.mktemp(request.param))


def of_tables(demo: Demo) -> Iterator[str]:
    """Every length of `tables.json` that a booklet tells, in either system."""
    for row in (*demo.rows.cloth, *demo.rows.sizes):
        yield f"{row.metric} {row.imperial}"
    for row in demo.rows.notions:
        yield f"{row.sold_metric or row.metric} {row.sold_imperial or row.imperial}"
    for strip in demo.rows.strips:
        metric, imperial = (rounded_up(strip, step) for step in (METRIC_STEP_MM, IMPERIAL_STEP_MM))
        yield f"{cm_text(metric.cut_length_mm)} {imperial_text(imperial.cut_length_mm)}"
        yield f"{cm_text(strip.cut_width_mm)} {imperial_text(strip.cut_width_mm)}"
        if strip.joins:
            each_mm = (of.total_length_mm / (of.count * of.pieces) for of in (metric, imperial))
            yield " ".join(told(mm) for told, mm in zip((cm_text, imperial_text), each_mm, strict=True))
            yield length_words("en", demo.pattern.strips[strip.strip].join_mm, demo.pattern.units)


def of_the_rest(demo: Demo, model: Model) -> Iterator[str]:
    """What else may be told: widths of cloth, allowances, ease, titles, words of ours, and what the text refers to."""
    pattern, language = demo.pattern, model.language

    def told(length_mm: float) -> str:
        return length_words(language, length_mm, pattern.units)

    yield " ".join(catalogue(language).values())
    for cloth in pattern.materials.values():
        yield from (in_decimals(language, cloth_width(width, pattern.units)) for width in cloth.widths_mm)
    for owners in (pattern.pieces, pattern.strips, pattern.notions, pattern.materials):
        yield from (owner.title[language] for owner in owners.values())
    for cut in (cut for by_size in demo.cuts.values() for cut in by_size.values()):
        yield from (told(edge.allowance_at(share)) for edge in cut.edges for share in (0.0, 1.0))
    yield from (told(mm) for piece in pattern.pieces.values() for mm in (piece.trim_mm, piece.past_seam_mm) if mm)
    body = {(row.measure, row.size): row for row in demo.rows.sizes if row.of == "body"}
    for row in demo.rows.sizes:
        worn = body.get((row.measure, row.size))
        if row.of == "finished" and worn is not None:
            cm = float(row.metric.removesuffix(" cm")) - float(worn.metric.removesuffix(" cm"))
            yield in_decimals(language, f"{cm:g} cm")
            yield imperial_text(10 * cm, 8)
    if language in demo.folder.texts:
        for found in references_within(demo.folder.texts[language].blocks):
            if not isinstance(found.reference, TableOf | FigureOf):
                yield value_text(model, found.reference)


@pytest.mark.parametrize("language", ["en", "de"])
def test_every_length_read_back_is_one_of_the_pattern(demo: Demo, language: str, monkeypatch) -> None:
    monkeypatch.setattr(parts, "drawn_figure", lambda words, model, large: Stroke(words))
    model = Model(demo.pattern, demo.cuts, language)
    tables_say = lengths(in_decimals(language, text) for text in of_tables(demo))
    allowed = tables_say | lengths(of_the_rest(demo, model))
    for edition in EDITIONS:
        text = demo.text(model, edition)
        for row in demo.rows.sizes:
            if row.of == "body" and row.measure == next(iter(demo.pattern.body)):
                lines = (row.metric, row.imperial) if demo.pattern.units == "metric" else (row.imperial, row.metric)
                assert in_decimals(language, f"{row.size} {' '.join(lines)}") in re.sub("[()]", "", text)
        found = lengths([_without_ease(text)])
        assert tables_say <= found
        assert found - allowed == set()


def lines_of_blocks(pdf: bytes) -> Iterator[list[str]]:
    """The lines of every block of text that stands together, as poppler reads them."""
    told = subprocess.run(["pdftotext", "-bbox-layout", "-", "-"], input=pdf, capture_output=True, check=True).stdout
    for block in re.findall(r"<block.*?</block>", told.decode(), re.DOTALL):
        lines = re.findall(r"<line.*?</line>", block, re.DOTALL)
        yield [" ".join(map(unescape, re.findall(r"<word[^>]*>(.*?)</word>", line))) for line in lines]


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("edition", EDITIONS)
def test_no_line_ends_between_a_number_and_its_unit(demo: Demo, language: str, edition: str, monkeypatch) -> None:
    monkeypatch.setattr(parts, "drawn_figure", lambda words, model, large: Stroke(words))
    lengths_read = 0
    for lines in lines_of_blocks(demo.data(Model(demo.pattern, demo.cuts, language), edition)):
        lengths_read += len(NUMBER.findall(" ".join(lines)))
        for above, below in pairwise(lines):
            assert not (ENDS_IN_NUMBER.search(above) and BEGINS_WITH_UNIT.match(below)), (above, below)
    assert lengths_read > 20


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("edition", EDITIONS)
def test_the_contents_take_one_page(demo: Demo, language: str, edition: str, monkeypatch) -> None:
    """With every part that a booklet can have."""
    monkeypatch.setattr(parts, "drawn_figure", lambda words, model, large: Stroke(words))
    page = PageRow(format="a4", page=1, label="1", row=0, column=0, sizes=demo.pattern.sizes, views=())
    rows = msgspec.structs.replace(demo.rows, pages=(page,))
    model = Model(demo.pattern, demo.cuts, language)
    first = next(iter(demo.booklet(model, edition, rows=rows, signs=frozenset(ALL_SIGNS)).get_toc()))
    assert first.get_dest().get_index() == 2, "the first part begins after cover and contents"


def _without_ease(text: str) -> str:
    """Sizes that share a row of ease stand before a fraction, as if they were one number: "12, 14 1/2 in"."""
    return re.sub(r"(?<=\d[,–] )\d+ (?=\d+/\d+ in)", "", re.sub(r"–\d+ (?=\d+/\d+ in)", "– ", text))


def lengths(texts) -> set[str]:
    return {found for text in texts for found in NUMBER.findall(one_line(text))}


def test_thread_is_among_what_is_bought(demo: Demo) -> None:
    assert {row.size for row in demo.rows.notions if row.notion == "thread" and row.count} == set(demo.pattern.sizes)


@pytest.mark.parametrize("language", ["en", "de"])
def test_no_step_names_two_seams_by_the_same_words(demo: Demo, language: str) -> None:
    model = Model(demo.pattern, demo.cuts, language)
    for number, step in enumerate(steps_of(demo.folder.texts[language].blocks), start=1):
        for block in step.blocks:
            seams = {
                one.reference.name
                for one in references_within((block,))
                if isinstance(one.reference, Named) and one.reference.kind == "seam"
            }
            told = {value_text(model, Named("seam", name)) for name in seams}
            assert len(told) == len(seams), (number, seams)
