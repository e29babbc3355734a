"""What was measured, laid and planned in; `tables/` and what there is to tell of it out."""

from pathlib import Path

from pipeline.lays.demand import strip_sizes
from pipeline.lays.kept import Chosen
from pipeline.model.findings import FindingsFile
from pipeline.model.pieces import SizeFile
from pipeline.sheets.layout import PagePlan
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
    sizes = {file.size: file.pieces for file in (read_json(path, SizeFile) for path in pieces)}
    cuts = {size: {cut.piece: cut for cut in cut_pieces} for size, cut_pieces in sizes.items()}
    lines = cloth_lines(pattern, read_json(lays, list[Chosen]))
    rows = TablesFile(
        pattern=pattern.name,
        version=pattern.version,
        cloth=tuple(line.row for line in lines),
        cut_list=cut_rows(pattern),
        strips=strip_rows(pattern, {size: strip_sizes(pattern, size, cut) for size, cut in sizes.items()}),
        notions=notion_rows(pattern, cuts),
        sizes=size_rows(pattern, cuts),
        pages=page_rows(plan for path in pages for plan in read_json(path, list[PagePlan])),
    )
    for name, text in csv_files(rows, pattern).items():
        write(tables / name, text.encode())
    write(tables / "tables.json", tables_json(rows))
    write_json(findings, FindingsFile(findings=cloth_findings(pattern, lines)))
