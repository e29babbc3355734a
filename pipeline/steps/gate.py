"""Findings of every pattern in, the names of those that have nothing that blocks out."""

from pathlib import Path

from pipeline.model.findings import FindingsFile, blocks
from pipeline.work.files import read_json, write_json


def main(checked: list[Path], gate: Path) -> None:
    """Let on what may be built; never fail."""
    clean = [path for path in checked if not any(map(blocks, read_json(path, FindingsFile).findings))]
    write_json(gate, [path.parent.name for path in clean])
