"""A bundle of the small pattern, built once by the steps themselves; its copies are spoilt by the tests."""

import shutil
from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest
from pypdf import PdfWriter

from pipeline.bundle.built import Built
from pipeline.bundle.built_files import check_built
from pipeline.bundle.promised import exchange_file
from pipeline.cutting.strips import strip_cut_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import Finding, blocks
from pipeline.model.pieces import in_size
from pipeline.model.sums import lengths_of, sum_mm
from pipeline.sheets.layout import PagePlan
from pipeline.steps import by_size, data, exchange
from pipeline.steps.inputs import cuts_by_piece
from pipeline.tables.cloth import ClothRow
from pipeline.tables.cut_list import cut_rows
from pipeline.tables.notions import notion_rows
from pipeline.tables.pages import page_rows
from pipeline.tables.sizes import size_rows
from pipeline.tables.spreadsheets import csv_files
from pipeline.tables.strips import strip_rows
from pipeline.tables.write import TablesFile, tables_json
from pipeline.work.cache import Answers
from pipeline.work.files import read_json, write
from tests.by_steps import apron_with, cut_sizes, print_all_sizes

FOLDER = Path(__file__).resolve().parents[1] / "patterns/tea-apron"
FORMATS = ("a4", "a0")
MORE = """
[print]
formats = ["a4", "a0"]

[strips.loop]
title = { en = "Loop", de = "Schlaufe" }
cut = [{ material = "tape", count = 2 }]
width = "10 mm"
make = "doubled"
length = "0.5 x skirt.waist"

[materials.tape]
title = { en = "tape cloth", de = "Bandstoff" }
widths = ["110 cm"]

[body.waist]
title = { en = "Waist", de = "Taille" }
sizes = { S = "58 cm", M = "62 cm" }

[finished.waist]
title = { en = "Finished waist", de = "Fertige Taille" }
sum = "2 x skirt.waist"

[notions.button]
title = { en = "Button", de = "Knopf" }
count = { S = 3, M = 4 }

[notions.tape]
title = { en = "Tape", de = "Band" }
length = "2 x skirt.hem"
lengths = ["90 cm", "200 cm"]

[finished.upper]
title = "From the middle to the end"
sum = "2 x skirt.waist[mid-waist..side] + skirt.waist[mid-waist..side] gross"

[channels.shop]
archives = 2
archive_mb = 5
"""
LAY_MM = 700.0
KNOWN = "known-of-the-bundle"
CODE = "pipeline.bundle.built_files"


@pytest.fixture(scope="session")
def apron(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """The whole bundle as it is built, with two tables of cloth whose lays are invented."""
    root = tmp_path_factory.mktemp("built")
    source, work, place = apron_with(root / "tea-apron", MORE), root / "work", root / "bundle"
    pattern, findings = load_pattern(source)
    assert pattern is not None, findings
    files = cut_sizes(source, work, pattern.sizes)
    print_all_sizes(source, work, files, FORMATS, place / "print")
    for size, file in zip(pattern.sizes, files, strict=True):
        alone = place / "print/by-size", place / "project/by-size", work / f"pages-{size}.json"
        by_size.main(source, work, file, [], *alone, work / "laid.json")
    data.main(source, files, place / "data/pieces.json")
    exchange.main(source, files, place / exchange_file(pattern))
    built = Built(pattern, place)
    cuts = cuts_by_piece(files)
    plans = [work / "pages.json", *(work / f"pages-{size}.json" for size in pattern.sizes)]
    strips = {}
    for size in pattern.sizes:
        length_mm = sum_mm(pattern.strips["loop"].length, lengths_of(pattern, size, in_size(cuts, size)))
        strips[size] = {"loop": strip_cut_size(pattern.strips["loop"], length_mm)}
    rows = TablesFile(
        pattern=pattern.name,
        version=pattern.version,
        cloth=tuple(_cloth(built, size, width) for width in (1100.0, 1400.0) for size in pattern.sizes),
        cut_list=cut_rows(pattern),
        strips=strip_rows(pattern, strips),
        notions=notion_rows(pattern, cuts),
        sizes=size_rows(pattern, cuts),
        pages=page_rows(plan for path in plans for plan in read_json(path, list[PagePlan])),
    )
    write_tables(built, rows)
    check_built(pattern, place, Answers(place.with_name(KNOWN), CODE))
    return built


def write_tables(built: Built, rows: TablesFile) -> None:
    """Both forms of the tables, as a build writes them."""
    for name, text in csv_files(rows, built.pattern).items():
        write(built.folder / "tables" / name, text.encode())
    write(built.folder / "tables/tables.json", tables_json(rows))


def _cloth(built: Built, size: str, width_mm: float) -> ClothRow:
    area = sum(piece.cut_area_mm2 * piece.cut[0].count for piece in built.pieces.sizes[size].pieces.values())
    return ClothRow(
        view=None,
        size=size,
        material="shell",
        width_mm=width_mm,
        fold=False,
        one_way=False,
        lay_length_mm=LAY_MM,
        length_to_buy_mm=LAY_MM,
        metric="70 cm",
        imperial="7/8 yd",
        utilisation=round(area / (width_mm * LAY_MM), 4),
    )


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
        write_tables(Built(self.built.pattern, self.folder), replace(self.built.tables, **rows))
        return self

    def found(self, pattern=None) -> list[Finding]:
        """What the checks find; what they knew of the bundle before it was spoilt changes nothing."""
        pattern, known = pattern or self.built.pattern, self.folder.with_name(f"{self.folder.name}-known")
        shutil.copyfile(self.built.folder.with_name(KNOWN), known)
        found = check_built(pattern, self.folder)
        assert check_built(pattern, self.folder, Answers(known, CODE)) == found
        return list(found)

    def codes(self, pattern=None) -> set[tuple[str, str]]:
        return {(finding.check, finding.code) for finding in self.found(pattern) if blocks(finding)}


@pytest.fixture
def copy(apron: Built, tmp_path: Path) -> Copy:
    return Copy(apron, tmp_path / "bundle")
