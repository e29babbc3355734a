"""What was measured, laid and planned in; `tables/` and what there is to tell of it out."""

from pathlib import Path

from pipeline.lays.saved import Chosen
from pipeline.model.findings import FindingsFile
from pipeline.sheets.layout import PagePlan
from pipeline.steps.inputs import cuts_by_piece, strips_by_size
from pipeline.steps.printed import printed_pattern
from pipeline.tables.cloth import cloth_findings, cloth_lines
from pipeline.tables.cut_list import cut_rows
from pipeline.tables.notions import notion_rows
from pipeline.tables.pages import page_rows
from pipeline.tables.sizes import size_rows
from pipeline.tables.spreadsheets import csv_files
from pipeline.tables.strips import strip_rows
from pipeline.tables.write import TablesFile, tables_json
from pipeline.work.files import read_json, write, write_json


def main(folder: Path, pieces: list[Path], lays: Path, pages: list[Path], tables: Path, findings: Path) -> None:
    """Write every table twice: for people's spreadsheets, and for programs."""
    pattern = printed_pattern(folder)
    cuts = cuts_by_piece(pieces)
    lines = cloth_lines(pattern, read_json(lays, list[Chosen]))
    rows = TablesFile(
        pattern=pattern.name,
        version=pattern.version,
        cloth=tuple(line.row for line in lines),
        cut_list=cut_rows(pattern),
        strips=strip_rows(pattern, strips_by_size(pattern, cuts)),
        notions=notion_rows(pattern, cuts),
        sizes=size_rows(pattern, cuts),
        pages=page_rows(plan for path in pages for plan in read_json(path, list[PagePlan])),
    )
    for name, text in csv_files(rows, pattern).items():
        write(tables / name, text.encode())
    write(tables / "tables.json", tables_json(rows))
    write_json(findings, FindingsFile(findings=cloth_findings(pattern, lines)))
