"""What the steps of the ledger read of a build: what it is, as the ledger keeps it."""

from collections.abc import Mapping
from pathlib import Path

from pipeline.ledger.facts import Measured, measure
from pipeline.ledger.pages import page_digests
from pipeline.model.pattern import Pattern
from pipeline.steps.inputs import cuts_by_piece
from pipeline.tables.write import TablesFile
from pipeline.work.files import read_json


def measured(pattern: Pattern, pieces: list[Path], files: Mapping[str, Path]) -> Measured:
    """The facts of a build; `pieces` are the cut pieces a size, `files` all built ones by their place in the bundle."""
    printed = sorted(name for name in files if name.startswith(("print/", "project/")) and name.endswith(".pdf"))
    pages = {name: page_digests(files[name], pattern.version) for name in printed}
    tables = read_json(files["tables/tables.json"], TablesFile)
    return measure(pattern, cuts_by_piece(pieces), tables, pages)


def files_below(folder: Path) -> dict[str, Path]:
    """Every file of a folder by its place in it."""
    return {path.relative_to(folder).as_posix(): path for path in sorted(folder.rglob("*")) if path.is_file()}
