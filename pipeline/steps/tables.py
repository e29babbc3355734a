"""What was planned and measured in; `tables/` out."""

from pathlib import Path

from pipeline.masters.load import load_pattern
from pipeline.sheets.layout import PagePlan
from pipeline.steps.run import read_json, run, write
from pipeline.tables.pages import page_rows
from pipeline.tables.write import TablesFile, csv_files, tables_json


def main(folder: Path, pages: Path, tables: Path) -> None:
    """Write every table twice: for people's spreadsheets, and for programs."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    rows = TablesFile(pattern=pattern.name, version=pattern.version, pages=page_rows(read_json(pages, list[PagePlan])))
    for name, text in csv_files(rows, pattern.languages).items():
        write(tables / name, text.encode())
    write(tables / "tables.json", tables_json(rows))


if __name__ == "__main__":
    run(main)
