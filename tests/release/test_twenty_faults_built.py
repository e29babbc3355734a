"""Those of the twenty faults that lie in built files, each put alone into a demo's bundle: what must tell of it does.

Numbers are those of the list of faults; the faults in masters and in pattern.toml are in test_twenty_faults.py.
"""

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest
from pypdf import PdfWriter, Transformation
from pypdf.generic import ArrayObject, NameObject, NumberObject

from pipeline.bundle.built_files import check_built
from pipeline.bundle.manifest import verify
from pipeline.checks.waivers import waive
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import Finding, blocks
from pipeline.model.pattern import Pattern
from pipeline.tables.spreadsheets import csv_files
from pipeline.tables.write import TablesFile, tables_json
from tests.release.conftest import ROOT

PINAFORE = "child-pinafore"
replace = msgspec.structs.replace
SIZES = ("110", "116", "122")


class Bundle:
    """The pinafore in three of its seven sizes, built by the real command; `folder` is a copy to be spoilt."""

    def __init__(self, pattern: Pattern, folder: Path) -> None:
        self.pattern, self.folder = pattern, folder

    def edit(self, change: Callable[[PdfWriter], object], path: str = "print/a4.pdf") -> None:
        writer = PdfWriter(clone_from=self.folder / path)
        change(writer)
        writer.write(self.folder / path)

    def tables(self) -> TablesFile:
        return msgspec.json.decode((self.folder / "tables/tables.json").read_bytes(), type=TablesFile)

    def write_tables(self, rows: TablesFile) -> None:
        for name, text in csv_files(rows, self.pattern).items():
            (self.folder / "tables" / name).write_bytes(text.encode())
        (self.folder / "tables/tables.json").write_bytes(tables_json(rows))

    def blocking(self) -> list[Finding]:
        return [finding for finding in waive(self.pattern, check_built(self.pattern, self.folder)) if blocks(finding)]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Bundle:
    room = tmp_path_factory.mktemp("pinafore")
    folder = room / "source" / PINAFORE
    shutil.copytree(ROOT / "source" / PINAFORE, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    file = folder / "pattern.toml"
    text = file.read_text(encoding="utf-8")
    for size in ("92", "98", "104", "128"):
        text = re.sub(rf'"{size}"( = "[^"]*")?(, |(?= *[\]}}]))', "", text)
        shutil.rmtree(folder / "sizes" / size)
    text = re.sub(r", *([\]}])", r"\1", text).replace('"110 cm", "140 cm"', '"140 cm"')
    file.write_text(re.sub(r"formats = .*", 'formats = ["a4", "a0"]', text), encoding="utf-8")
    where = [f"{key}={room / key}" for key in ("source", "release", "work")]
    command = [sys.executable, "-m", "snakemake", "-s", str(ROOT / "Snakefile"), "--cores", "2", "--config", *where]
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(command, cwd=room, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    return Bundle(pattern, room / "release" / PINAFORE / "1.0.0")


@pytest.fixture
def bundle(built: Bundle, tmp_path: Path) -> Bundle:
    shutil.copytree(built.folder, tmp_path / built.folder.name)
    return Bundle(built.pattern, tmp_path / built.folder.name)


def test_a_clean_bundle_has_nothing_above_info(built: Bundle) -> None:
    assert [f.message for f in check_built(built.pattern, built.folder) if f.severity in ("block", "warn")] == []
    assert verify(PINAFORE, built.folder) == ()


def _lose(writer: PdfWriter) -> None:
    writer.remove_page(writer.pages[2])


def _double(writer: PdfWriter) -> None:
    for key in ("/Contents", "/Resources"):
        writer.pages[3][NameObject(key)] = writer.pages[2].raw_get(key)


def _turn(writer: PdfWriter) -> None:
    writer.pages[3].rotate(180)


def _drop_layer(writer: PdfWriter) -> None:
    del writer.root_object["/OCProperties"]["/OCGs"][1]


def _ink(writer: PdfWriter) -> None:
    form = writer.pages[2]["/Resources"]["/XObject"]["/Overlay"]
    form.set_data(form.get_data() + b"\n12 300 m 40 300 l S\n")


def _too_long(writer: PdfWriter) -> None:
    writer.pages[0][NameObject("/MediaBox")] = ArrayObject(NumberObject(value) for value in (0, 0, 2384, 14500))


def _old_version(writer: PdfWriter) -> None:
    writer.add_metadata({"/Title": "Child's Pinafore 0.9.0 · A4"})


@pytest.mark.parametrize(
    ("change", "path", "check", "code", "place"),
    [
        pytest.param(_lose, "print/a4.pdf", "built-pages", "page-count", None, id="4 a page lost"),
        pytest.param(_double, "print/a4.pdf", "built-pages", "doubled", "page 4", id="4 a page doubled"),
        pytest.param(_turn, "print/a4.pdf", "built-pages", "turned", "page 4", id="4 a page turned"),
        pytest.param(_old_version, "print/a4.pdf", "built-names", "title", None, id="8 an old version string"),
        pytest.param(_ink, "print/a4.pdf", "built-ink", "in-the-edge", "page 3", id="16 ink in the blank margin"),
        pytest.param(_too_long, "print/a0.pdf", "built-scale", "too-large", "page 1", id="19 a page over 14,400 pt"),
    ],
)
def test_a_fault_in_a_print_file(
    change: Callable[[PdfWriter], object], path: str, check: str, code: str, place: str | None, bundle: Bundle
) -> None:
    bundle.edit(change, path)
    blocking = bundle.blocking()
    assert code in {finding.code for finding in blocking}
    for finding in blocking:
        assert (finding.check, finding.file) == (check, path), finding
        assert place is None or (finding.object or "").startswith(place), finding


@pytest.mark.parametrize("scale", [0.96, 0.973, 0.941, 1.333, 1.067])
def test_5_a_print_file_at_another_scale(scale: float, bundle: Bundle) -> None:
    """As a print dialogue does it: the paper stays, what it shows does not."""

    def change(writer: PdfWriter) -> None:
        for page in writer.pages:
            page.add_transformation(Transformation().scale(scale))

    bundle.edit(change)
    blocking = bundle.blocking()
    assert {(finding.check, finding.code, finding.file) for finding in blocking} == {
        ("built-scale", "scaled", "print/a4.pdf")
    }
    assert {finding.found for finding in blocking} == {f"{scale:g} 0 0 {scale:g}"}


def test_6_a_layer_missing(bundle: Bundle) -> None:
    bundle.edit(_drop_layer)
    blocking = bundle.blocking()
    (told,) = [finding for finding in blocking if finding.check == "built-layers"]
    assert (told.code, told.file) == ("layers", "print/a4.pdf")
    assert "Size 116" in told.message
    others = {(finding.check, finding.code, finding.file) for finding in blocking if finding is not told}
    assert others == {("built-pages", "size-not-shown", "print/a4.pdf")}, "every page that should show it"


def test_6_and_8_layers_that_show_each_others_size(bundle: Bundle) -> None:
    def change(writer: PdfWriter) -> None:
        groups = list(writer.root_object["/OCProperties"]["/OCGs"])
        name = [group.get_object()["/Name"] for group in groups]
        other = {name[0]: groups[1], name[1]: groups[0]}
        for page in writer.pages:
            properties = page["/Resources"].get("/Properties", {})
            for key in list(properties):
                if properties[key].get("/Name") in other:
                    properties[NameObject(key)] = other[properties[key]["/Name"]]

    bundle.edit(change)
    blocking = bundle.blocking()
    assert {finding.check for finding in blocking} <= {"built-sizes", "built-outlines", "built-pages"}
    told = [finding for finding in blocking if finding.check == "built-sizes"]
    assert {"other-label", "other-size"} & {finding.code for finding in told}
    assert {finding.size for finding in told} == {"110", "116"}


def test_8_a_file_of_one_size_under_the_name_of_another(bundle: Bundle) -> None:
    folder = bundle.folder / "print/by-size"
    shutil.copyfile(folder / "122-a4.pdf", folder / "116-a4.pdf")
    blocking = bundle.blocking()
    assert {finding.file for finding in blocking} == {"print/by-size/116-a4.pdf"}
    told = [finding for finding in blocking if finding.check == "built-sizes"]
    assert [(finding.code, finding.size) for finding in told] == [("other-size", "116")]


def test_7_cloth_one_step_short(bundle: Bundle) -> None:
    rows = bundle.tables()
    index = next(i for i, row in enumerate(rows.cloth) if row.size == "116")
    row = rows.cloth[index]
    short = replace(row, length_to_buy_mm=row.length_to_buy_mm - 50)
    bundle.write_tables(replace(rows, cloth=(*rows.cloth[:index], short, *rows.cloth[index + 1 :])))
    told = [(finding.check, finding.code, finding.size) for finding in bundle.blocking()]
    assert told == [("built-tables", "cloth-short", "116")]


@pytest.mark.parametrize("table", ["cloth", "strips", "notions", "sizes"])
def test_17_a_table_of_another_size(table: str, bundle: Bundle) -> None:
    rows = bundle.tables()
    other = {"110": "116", "116": "110", "122": "122"}
    swapped = tuple(replace(row, size=other[row.size]) for row in getattr(rows, table))
    bundle.write_tables(replace(rows, **{table: swapped}))
    blocking = bundle.blocking()
    assert {finding.check for finding in blocking} == {"built-tables"}
    assert {finding.size for finding in blocking} == {"110", "116"}


def test_18_a_bad_checksum_and_a_stray_file(bundle: Bundle) -> None:
    file = bundle.folder / "tables/sizes.csv"
    file.write_bytes(file.read_bytes() + b"\n")
    (bundle.folder / "print/note.txt").write_text("left over", encoding="utf-8")
    told = verify(PINAFORE, bundle.folder)
    assert [(finding.code, finding.file) for finding in told] == [
        ("altered", "tables/sizes.csv"),
        ("stray", "print/note.txt"),
    ]
    assert all(map(blocks, told))


def test_3_a_label_with_a_wrong_cut_count(bundle: Bundle) -> None:
    """The count that the cut list gives for a piece is not the one that is declared."""
    rows = bundle.tables()
    wrong = tuple(replace(row, count=row.count + 1) if row.piece == "pocket" else row for row in rows.cut_list)
    bundle.write_tables(replace(rows, cut_list=wrong))
    blocking = bundle.blocking()
    assert {(finding.check, finding.code) for finding in blocking} == {("built-tables", "count")}
    assert {finding.size for finding in blocking} == set(SIZES)
    assert all(finding.message.startswith("tables/tables.json: pocket ") for finding in blocking)
